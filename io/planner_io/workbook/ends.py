"""How an end is cut, as people write it.

>>> end_cut("saddle 1-1/2 @ 90", "inch", 0).value
EndCut(kind=<EndKind.SADDLE: 'saddle'>, angle_mdeg=90000, on_od_nm=38100000)
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from planner.errors import InputError
from planner.orders import EndCut, EndKind
from planner.units import Unit, format_angle, format_size, parse_angle, parse_od
from planner.units.reading import refuse
from planner_io.workbook.cells import Parsed, is_nothing, is_open, text, turn
from planner_io.workbook.grid import Value
from planner_io.workbook.names import plain_name

EXPECTED: Final = "square, mitre 45, or saddle 1-1/2 @ 90"
RIGHT_ANGLE: Final = 90_000
STEEPEST_MITRE: Final = 75_000
FLATTEST_SADDLE: Final = 15_000

TWIST_EXPECTED: Final = "same side, opposite sides, or degrees such as 90"
TWISTS: Final[Mapping[str, int]] = {
    plain_name(word): mdeg
    for mdeg, words in (
        (0, ("same side", "one side", "same", "frame", "trapezoid", "in line")),
        (180_000, ("opposite sides", "opposite", "other side", "parallel", "parallelogram")),
    )
    for word in words
}
"""How two mitres stand to each other, by plain word."""

_SQUARE = frozenset(
    {
        "square",
        "sq",
        "straight",
        "plain",
        "90",
        "cut",
        "none",
        "plain end",
        "square cut",
        "straight cut",
        "deburr",
        "pe",
        *("gerade", "rechtwinklig", "droit", "droite", "coupe droite", "recto", "corte recto"),
    }
)
_FLAT = frozenset(
    {
        *("flat", "flat end", "flat cut", "flatten", "flattened", "flattened end", "end flattened"),
        *("squashed", "crushed", "pinched"),
    }
)
"""Sawn square to some, pressed flat to others: to bolt through, as on boats and awnings."""
_MITRE = re.compile(
    r"(?:mitre|miter|mitred|mitered|mtr|bevel|angle|ang|gehrung|gehrungsschnitt|onglet|inglete)\b"
)
WELD_BEVELS: Final = frozenset({30_000, 37_500})
"""Angles to which the wall of pipe is bevelled to be welded (common practice), in mdeg."""
_SADDLE = re.compile(
    r"(?:saddle|saddled|cope|coped|fishmouth|fish-mouth|fish mouth|notch|notched|tee"
    r"|sattel|ausklinkung|ausgeklinkt|gueule de loup|boca de pez)\b"
)
_BARE_SADDLE = re.compile(r"[0-9][0-9 ./-]*(?:\"|in\b|mm\b)? ?@ ?[0-9].*")
"""A size at an angle, as `1-1/2 @ 45`: nothing else is said so."""
LEAST_BARE_MITRE: Final = 5_000
"""A smaller number without a word may be a size in inches."""
_ONE_END = re.compile(r"(?i)\b(?:(?:on )?(?:one|1) end|1e|o\.?e\.?|einseitig)(?: only)?\s*$")
_ONE_END_FIRST = re.compile(r"(?i)^(?:(?:on )?(?:one|1) end|einseitig)(?: only)?(?: ?[:,]| )\s*")
_ANGLES = re.compile(r"([0-9]{2}(?:\.5)?)\s*/\s*([0-9]{2}(?:\.5)?)")
"""Angles of both ends, as 45/45; no fraction has two figures before the bar."""
_ANGLE = r"([0-9]+(?:[.,][0-9]+)?)"
_BARE_ANGLE = re.compile(rf"{_ANGLE}\s*(?:°|deg\w*)?", re.IGNORECASE)
_AT = re.compile(rf"(?:@|\bat\b|/|,(?=\s)|(?<![0-9]),|<|∠|[x×])\s*{_ANGLE}\s*(?:°|deg\w*)?\s*$")
_ON_A_RULE = frozenset({"2", "4", "8", "16", "32", "64"})
"""Below the bar of a fraction of an inch; any other number behind a bar is an angle."""
_DEGREES = re.compile(rf"{_ANGLE}\s*(?:°|deg\w*)\s*$")
_ON = re.compile(r"\b(?:on|to|onto|of|for|x)\b|tube|header|\bod\b|ø")


def is_for_saddles(header: str) -> bool:
    """Whether a header such as `Cope 1` says that its ends are saddled, so that a size will do."""
    return bool(_SADDLE.search(plain_name(header)))


def as_headed(value: str, header: str) -> str:
    """An end as its header means it: 45 under `Cope angle` is a saddle at 45 degrees.

    >>> as_headed("45", "Cope angle"), as_headed("45", "Cope 1")
    ('saddle @ 45', '45')
    """
    angled = is_for_saddles(header) and "angle" in plain_name(header).split()
    return f"saddle @ {value}" if angled and _BARE_ANGLE.fullmatch(value.strip()) else value


def is_flat(value: str) -> bool:
    """Whether an end is said to be flat, which may be flattened; it is read as sawn square."""
    return plain_name(value) in _FLAT


def end_cut(
    value: str, house: Unit, own_od_nm: int | None, *, saddled: bool = False
) -> Parsed[EndCut]:
    """The cut of one end; a saddle without an OD sits on tube of `own_od_nm`
    (None when the row's own OD could not be read, which is reported elsewhere). Where the
    column is for saddles, `saddled`, a size alone is one at a right angle.

    Raises InputError for a text that is no end cut and for angles that cannot be cut.
    """
    words = " ".join(value.lower().split())
    if is_open(words):
        raise refuse(value, EXPECTED, "how is it cut? Decide, or leave it blank for square")
    if saddled and words in {"90", "90°"}:
        raise refuse(value, EXPECTED, "a saddle at 90 degrees, or square? Write which")
    if (
        is_nothing(words)
        or plain_name(words) in _SQUARE | _FLAT
        or words in {"0", "0°", "90°", "no"}
    ):
        return Parsed(EndCut())
    if match := _SADDLE.search(words):
        return _saddle(
            value, (words[: match.start()] + words[match.end() :]).strip(), house, own_od_nm
        )
    if match := _MITRE.search(words):
        found = _mitre(value, (words[: match.start()] + words[match.end() :]).strip())
        if match[0] == "bevel" and found.value.angle_mdeg in WELD_BEVELS:
            at = format_angle(found.value.angle_mdeg).removesuffix("°")
            why = (
                f"a bevel to weld on, or a mitre? Write mitre {at}, or square and a bevel in Notes"
            )
            raise refuse(value, EXPECTED, why)
        return found
    if _BARE_SADDLE.fullmatch(words) or (saddled and words[:1].isdigit()):
        found = _saddle(value, words, house, own_od_nm)
        on = format_size(found.value.on_od_nm, house)
        at = format_angle(found.value.angle_mdeg)
        return Parsed(found.value, f"“{value}” read as saddle {on} @ {at}")
    if _BARE_ANGLE.fullmatch(words):
        found = _mitre(value, words)
        if 0 < found.value.angle_mdeg < LEAST_BARE_MITRE:
            why = f"a mitre of {words}, or a saddle on {words}? Write which"
            raise refuse(value, EXPECTED, why)
        return Parsed(
            found.value, f"“{value}” read as mitre {format_angle(found.value.angle_mdeg)}"
        )
    raise refuse(value, EXPECTED)


def _mitre(value: str, rest: str) -> Parsed[EndCut]:
    mdeg = _angle(value, rest.strip("@ ").removeprefix("at "))
    if mdeg in {0, RIGHT_ANGLE}:
        return Parsed(EndCut(), f"“{value}” read as square")
    if mdeg > STEEPEST_MITRE:
        raise refuse(value, EXPECTED, "a mitre is given off square, up to 75 degrees")
    return Parsed(EndCut(kind=EndKind.MITRE, angle_mdeg=mdeg))


def _angle(value: str, rest: str) -> int:
    try:
        return parse_angle(rest)
    except InputError as problem:
        handed = re.search(r"\b(?:[lr]h|left|right)\b", rest)
        why = "write left or right under Part or Notes" if handed else "the angle cannot be read"
        raise refuse(value, EXPECTED, why) from problem


def _saddle(value: str, rest: str, house: Unit, own_od_nm: int | None) -> Parsed[EndCut]:
    notes: list[str] = []
    size, mdeg = _split_angle(value, rest)
    size = " ".join(_ON.sub(" ", size).split()).strip(" ,@")
    if mdeg is None:
        mdeg = RIGHT_ANGLE
        notes.append("at 90°")
    if mdeg > RIGHT_ANGLE:
        mdeg = 2 * RIGHT_ANGLE - mdeg
        notes.append(f"at {format_angle(mdeg)}")
    if mdeg < FLATTEST_SADDLE:
        raise refuse(value, EXPECTED, "the angle between the tubes is 15 to 90 degrees")
    pipe, on_od_nm = _size(value, size, house) if size else ("", own_od_nm or 0)
    if on_od_nm and (pipe or not size):
        notes.insert(0, f"on {format_size(on_od_nm, house)}")
    cut = EndCut(kind=EndKind.SADDLE, angle_mdeg=mdeg, on_od_nm=on_od_nm)
    return Parsed(cut, f"“{value}” read as saddle {' '.join(notes)}" if notes else "")


def _split_angle(value: str, rest: str) -> tuple[str, int | None]:
    for pattern in (_AT, _DEGREES):
        if match := pattern.search(rest):
            below = rest[: match.start()][-1:].isdigit() and match[1] in _ON_A_RULE
            on_a_rule = match[0].startswith("/") and below
            if not on_a_rule:
                return rest[: match.start()], _angle(value, match[1])
    return rest, None


def _size(value: str, size: str, house: Unit) -> tuple[str, int]:
    """The OD that an end sits on, after how it was read if that left a choice."""
    try:
        found = parse_od(size, default=house)
    except InputError as problem:
        raise refuse(value, EXPECTED, f"“{size}” is no size of the tube it sits on") from problem
    return found.note, found.nm


def twist(value: Value) -> Parsed[int]:
    """The turn of end 2 against end 1 in thousandths of a degree, by word or by degrees.

    >>> twist("opposite sides").value, twist(-90).value
    (180000, -90000)
    """
    known = TWISTS.get(plain_name(value)) if isinstance(value, str) else None
    if known is not None:
        return Parsed(known)
    try:
        return turn(value)
    except InputError as problem:
        raise refuse(text(value), TWIST_EXPECTED) from problem


def _alike(one: str, two: str) -> tuple[str, str]:
    """The two ends; `mitre 22.5 & 45` says mitre once for both."""
    cut = _MITRE.match(one.lower())
    return one, f"{cut[0]} {two}" if cut and two[:1].isdigit() else two


def both_ends(value: str, *, saddled: bool = False) -> tuple[str, str]:
    """The two texts of a cell for both ends: one for each, or the same twice. Where the column is
    for saddles, `saddled`, it need not say that they are.

    Raises InputError for a number that may be how many ends there are, or a size.

    >>> both_ends("square / mitre 45"), both_ends("saddle 1-1/2")
    (('square', 'mitre 45'), ('saddle 1-1/2', 'saddle 1-1/2'))
    >>> both_ends("SQ/COPE"), both_ends("cope 1 end")
    (('SQ', 'COPE'), ('cope', 'square'))
    >>> both_ends("one end saddle 25.4"), both_ends("einseitig: Gehrung 45")
    (('saddle 25.4', 'square'), ('Gehrung 45', 'square'))
    >>> both_ends("1 end", saddled=True)
    ('saddle', 'square')
    """
    if saddled and value.strip() in {"1", "2"}:
        why = f"ends, or the size of the tube? Write one end, both ends, or saddle {value} @ 90"
        raise refuse(value, EXPECTED, why)
    parts = re.split(
        r"\s+/\s+|\s*[;|]\s*|\s+(?:and|&)\s+|(?<=[a-z°])/(?=[a-z0-9])|(?<=[0-9])/(?=[a-z])",
        value.strip(),
        flags=re.I,
    )
    if len(parts) == 2:
        return _alike(*parts)
    if match := _ANGLES.fullmatch(value.strip()):
        return match[1], match[2]
    unsaid = "saddle" if saddled else value
    if match := _ONE_END.search(value):
        return value[: match.start()].strip(" ,") or unsaid, "square"
    if match := _ONE_END_FIRST.match(value):
        return value[match.end() :], "square"
    same = re.sub(r"(?i)\b(?:both ends?|both|each end|beidseitig|b\.?e\.?)\b", "", value).strip(
        " ,"
    )
    return same or unsaid, same or unsaid
