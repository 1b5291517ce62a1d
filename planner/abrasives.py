"""Abrasive grades on one scale of grain size in micrometres, so that systems can be mixed.

A number alone says little: 320 in one system is as fine as 400 in the other, so grades are
compared by size.  Sizes are the medians of FEPA P (ISO 6344-2, -3) and CAMI (ANSI B74.18); P24 to
P120 and CAMI 24 to 100 as published, the finer ones from memory of the same standards.  Non-woven
grades have no standard: their sizes are common practice and a setting of the shop.

>>> parse_grade("P320").grade.micron, parse_grade("320 CAMI").grade.micron
(46.2, 35.0)
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise
from types import MappingProxyType

from pydantic import Field

from planner.errors import Finding, Severity
from planner.frozen import Frozen
from planner.units.numbers import MAX_TEXT
from planner.units.reading import refuse


class System(StrEnum):
    """Who says what a grade's name means."""

    FEPA_P = "FEPA P"
    CAMI = "CAMI"
    NON_WOVEN = "non-woven"


class Grade(Frozen):
    """A grade of coated or non-woven abrasive."""

    system: System
    label: str
    """As written on the belt: `P120`, `120 CAMI`, `non-woven fine`."""
    micron: float = Field(gt=0)
    """Median grain size, µm."""


FEPA_P_MICRON: Mapping[int, float] = MappingProxyType(
    {
        **{24: 764, 36: 538, 40: 425, 50: 336, 60: 269, 80: 201, 100: 162, 120: 125, 150: 100},
        **{180: 82, 220: 68, 240: 58.5, 280: 52.2, 320: 46.2, 360: 40.5, 400: 35.0, 500: 30.2},
        **{600: 25.8, 800: 21.8, 1000: 18.3, 1200: 15.3, 1500: 12.6, 2000: 10.3, 2500: 8.4},
    }
)
"""Median size in µm by P number; P1500 and finer as before ISO 6344-3:2021."""

CAMI_MICRON: Mapping[int, float] = MappingProxyType(
    {
        **{24: 715, 36: 535, 40: 428, 50: 351, 60: 268, 80: 192, 100: 141, 120: 116, 150: 93},
        **{180: 82, 220: 68, 240: 52, 280: 42, 320: 35, 360: 28, 400: 22, 500: 18, 600: 15},
    }
)
"""Median size in µm by CAMI number."""

NON_WOVEN_P_RANGE: Mapping[str, tuple[int, int]] = MappingProxyType(
    {"coarse": (60, 80), "medium": (80, 120), "fine": (120, 240), "very fine": (220, 320)}
)
"""P numbers between which a non-woven grade's scratch lies (common practice, no standard)."""


def _middle(p_coarse: int, p_fine: int) -> float:
    return round(math.sqrt(FEPA_P_MICRON[p_coarse] * FEPA_P_MICRON[p_fine]), 1)


NON_WOVEN_MICRON: Mapping[str, float] = MappingProxyType(
    {word: _middle(*ends) for word, ends in NON_WOVEN_P_RANGE.items()}
)
"""Sizes taken for non-woven grades unless the shop says otherwise: the middle of the range, µm."""

EXPECTED = "a grade such as P120, 120 CAMI or non-woven fine"
_COATED = re.compile(
    r"(?:(?P<p>p ?|fepa ?p? ?)|(?P<cami>cami ?|ansi ?))?#?(?P<number>[0-9]{2,4}) ?(?:grit|gr\.?|#)?"
    r" ?(?:(?P<cami_after>\(?cami\)?|\(?ansi\)?)|(?P<p_after>\(?fepa(?: p)?\)?))?",
    re.ASCII,
)
_NON_WOVEN = re.compile(
    r"(?:non-? ?woven|nw)[ :,-]*(?P<word>[a-z ]+)"
    r"|(?P<first>[a-z ]+?) (?:non-? ?woven|nw)",
    re.ASCII,
)
_WORDS = {
    **{"coarse": "coarse", "crs": "coarse", "medium": "medium", "med": "medium", "fine": "fine"},
    **{"fin": "fine", "very fine": "very fine", "vfn": "very fine", "vf": "very fine"},
}


@dataclass(frozen=True)
class GradeReading:
    """A grade, and how it was read when the text left a choice."""

    grade: Grade
    literal: bool = True
    note: str = ""


def parse_grade(
    value: object,
    *,
    bare: System = System.FEPA_P,
    non_woven: Mapping[str, float] = NON_WOVEN_MICRON,
) -> GradeReading:
    """Read a grade; a number alone belongs to the system `bare`, and the reading says so.

    `non_woven` gives the shop's own sizes in µm by word.  Raises InputError for any other text.
    """
    text = str(value) if isinstance(value, (str, int)) and not isinstance(value, bool) else ""
    if isinstance(value, float) and value.is_integer():
        text = f"{value:.0f}"
    words = " ".join(text.lower().split()) if len(text) <= MAX_TEXT else ""
    if match := _COATED.fullmatch(words):
        return _coated(value, match, bare)
    if match := _NON_WOVEN.fullmatch(words):
        return _soft(value, match["word"] or match["first"], non_woven)
    raise refuse("" if value is None else value, EXPECTED)


def _coated(value: object, match: re.Match[str], bare: System) -> GradeReading:
    is_p = bool(match["p"] or match["p_after"])
    is_cami = bool(match["cami"] or match["cami_after"])
    if is_p and is_cami:
        raise refuse(value, EXPECTED, "two systems at once")
    system = System.FEPA_P if is_p else System.CAMI if is_cami else bare
    number = int(match["number"])
    table = CAMI_MICRON if system == System.CAMI else FEPA_P_MICRON
    if number not in table:
        raise refuse(value, EXPECTED, f"{system} has no grade {number}")
    label = f"{number} CAMI" if system == System.CAMI else f"P{number}"
    grade = Grade(system=system, label=label, micron=float(table[number]))
    if is_p or is_cami:
        return GradeReading(grade)
    return GradeReading(grade, literal=False, note=f"{number} read as {label}")


def _soft(value: object, word: str, sizes: Mapping[str, float]) -> GradeReading:
    name = _WORDS.get(word.strip(), word.strip())
    if name not in sizes:
        raise refuse(value, EXPECTED, f"non-woven grades here are {', '.join(sizes)}")
    grade = Grade(system=System.NON_WOVEN, label=f"non-woven {name}", micron=sizes[name])
    note = f"{grade.label} taken as {grade.micron:g} µm, common practice"
    return GradeReading(grade, literal=False, note=note)


MOST_RATIO = 2.0
"""Largest ratio of sizes from one belt to the next before the old marks stay (common practice)."""
NON_WOVEN_LEEWAY = 1.5
"""Half the span of a non-woven range, as a ratio: its size is known no better than that."""


def _leeway(before: Grade, after: Grade) -> float:
    return NON_WOVEN_LEEWAY if System.NON_WOVEN in {before.system, after.system} else 1.0


def in_order(before: Grade, after: Grade) -> bool:
    """Whether `after` may follow `before`: finer, or as fine as a non-woven's range lets it be."""
    ratio = before.micron / after.micron
    leeway = _leeway(before, after)
    return ratio >= 1 / leeway if leeway > 1 else ratio > 1


def check_steps(
    grades: Iterable[Grade], *, most_ratio: float = MOST_RATIO, subject: str | None = None
) -> tuple[Finding, ...]:
    """What is wrong with belts used one after another: out of order, or a step too coarse.

    >>> [str(f) for f in check_steps([parse_grade("P60").grade, parse_grade("P180").grade])]
    ['From P60 to P180 the grain gets 3.3 times smaller, and marks of P60 may stay; put a belt
      between them.']
    """
    found: list[Finding] = []
    for before, after in pairwise(grades):
        ratio = before.micron / after.micron
        if not in_order(before, after):
            text = (
                f"{after.label} is not finer than {before.label}; order the belts coarse to fine."
            )
            found.append(Finding(severity=Severity.ERROR, message=text, subject=subject))
        elif ratio > most_ratio * _leeway(before, after):
            text = (
                f"From {before.label} to {after.label} the grain gets {ratio:.1f} times smaller, "
                f"and marks of {before.label} may stay; put a belt between them."
            )
            found.append(Finding(severity=Severity.WARNING, message=text, subject=subject))
    return tuple(found)
