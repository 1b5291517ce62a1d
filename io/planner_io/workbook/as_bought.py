"""What a material says beside its grade of how tube is bought: its surface, oil, or a coating.

>>> surface_in("304 polished"), surface_in("1020 cold drawn, oiled"), surface_in("DOM")
((<Surface.POLISHED: 'polished'>, False), (<Surface.BRIGHT: 'bright'>, True), (None, False))
>>> without_coating("A53 galv"), without_coating("4130 chrome moly")
(('A53', 'galvanised'), ('4130 chrome moly', ''))
"""

from __future__ import annotations

import re

from planner.tube import COATINGS, Surface
from planner_io.workbook.oil import without_oil

_SURFACES = (
    ("hot rolled pickled|pickled|bright annealed|bright|cold drawn|cold rolled", Surface.BRIGHT),
    ("pre-?polished|polished|brushed|satin", Surface.POLISHED),
    ("scaled|mill scale|hot rolled|hot finished", Surface.SCALED),
)
"""Words that stand beside grades for a surface only, as a longer phrase first."""

_COATED = (
    r"(?:hot[ -]?dip(?:ped)?[ ,-]*)?(?:pre-?|electro-?)?galv(?:ani[sz]ed|d|\.)?"
    r"|hot[ -]?dip(?:ped)?|hdg|zinc(?:[ -](?:coated|plated))?|verzinkt|galvanisé|galvanizado",
    r"alumini[sz]ed",
    r"painted|primed|powder[ -]?coat(?:ed)?",
    r"(?:chrome|nickel)[ -]plated|chromed|plated",
)
_COATINGS = tuple(zip(_COATED, COATINGS, strict=True))


def surface_in(text: str) -> tuple[Surface | None, bool]:
    """The surface that the words about a material name, and whether they say that it is oiled;
    None where they name none, or more than one."""
    words, oiled = without_oil(text)
    found: set[Surface] = set()
    for pattern, surface in _SURFACES:
        words, times = re.subn(rf"(?<![\w-])(?:{pattern})(?![\w-])", " ", words)
        found |= {surface} if times else set()
    return (found.pop() if len(found) == 1 else None), oiled


def without_coating(text: str) -> tuple[str, str]:
    """A text without words for a coating, and the coating; empty where it has none."""
    for pattern, coating in _COATINGS:
        rest, times = re.subn(rf"(?i)(?<![\w-])(?:{pattern})(?![\w-])", " ", text)
        if times:
            return " ".join(rest.split()).strip(" ,;/()-"), coating
    return text, ""


def coating_doubt(grade: str) -> str:
    """What to warn of for tube of a grade with a coating; empty for bare tube.

    Zinc and chromium in dust and fume do harm, and paint clogs a belt (common practice).
    """
    coating = without_coating(grade)[1]
    if not coating:
        return ""
    return (
        f"{coating} tube: its coating must be stripped before it goes on a belt, for dust and fume "
        "of a coating do harm (zinc, chromium) or clog the belt, and stripping is not planned; it "
        f"is kept apart as {grade}. If it comes in bare, leave the word out"
    )
