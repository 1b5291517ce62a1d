"""The shape of a part from its Length, Length is and Bends: cut, axis to axis, or bent."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from planner.errors import InputError
from planner.orders import AxisToAxis, CutLength, EndCut, EndKind, Shape
from planner_io.workbook import cells
from planner_io.workbook.bends import Parts
from planner_io.workbook.cells import Parsed
from planner_io.workbook.grid import Value
from planner_io.workbook.names import listed, plain_name
from planner_io.workbook.rows import RowReader

MOST_BENDS = 99
CUT, AXIS, BENT = "cut", "axis", "bent"

_WORDS: Mapping[str, tuple[str, ...]] = {
    CUT: (
        "cut",
        "cut length",
        "overall",
        "overall length",
        "OAL",
        "finished length",
        "end to end",
        "long point",
        "tip to tip",
        "long point to long point",
        "LP to LP",
        "LP",
        "out to out",
        "straight",
        "length",
        "long",
        "lg",
        "lgth",
    ),
    AXIS: (
        "axis",
        "axis to axis",
        "axes",
        "between axes",
        "C to C",
        "C-C",
        "CC",
        "c/c",
        "center to center",
        "center center",
        "centers",
        "centerline",
        "CL to CL",
        "CL",
        "on centers",
        "OC",
        "O/C",
        "CTC",
        "theoretical",
    ),
    BENT: (
        "bent",
        "bends",
        "see bends",
        "bend",
        "from bends",
        "bent part",
        "per bends",
        "see bend sheet",
    ),
}
LENGTH_IS: Mapping[str, str] = {
    plain_name(word): kind for kind, words in _WORDS.items() for word in words
}
"""What a length may be called, by plain name."""


@dataclass(frozen=True)
class _Length:
    """What the Length and Length is cells say together."""

    kind: str | None
    length_nm: int | None


def read_shape(
    reader: RowReader, part: str, parts: Parts, ends: tuple[EndCut, EndCut]
) -> Shape | None:
    """The shape of a row's part; None when a cell fails, which is reported."""
    length = _length(reader)
    if length is None:
        return None
    has_bends, bent = parts.find(part)
    is_bent = reader.take("bent", _is_bent, fallback=has_bends)
    kind = length.kind or (BENT if has_bends or is_bent else CUT)
    if kind == BENT:
        if has_bends and length.length_nm is not None and length.kind is None:
            reader.report.warn(
                reader.row.place("length"),
                f"not used, since part {part} is in Bends; clear it, or write cut beside it "
                "under Length is",
                cells.text(reader.row.values["length"]),
            )
        return bent if _bent(reader, part, parts, has_bends) else None
    if length.length_nm is None:
        _no_length(reader, part)
        return None
    if kind == CUT:
        return CutLength(length_nm=length.length_nm)
    return _axis(reader, length.length_nm, ends)


def _is_bent(value: Value) -> Parsed[bool]:
    """Whether a part is bent, by yes or no or by the number of its bends."""
    try:
        return Parsed(cells.whole(value, 0, MOST_BENDS, "yes, no or a number of bends").value > 0)
    except InputError:
        return cells.yes_no(value)


def _bent(reader: RowReader, part: str, parts: Parts, has_bends: bool) -> bool:
    bent = parts.find(part)[1]
    if has_bends and bent is None:
        reader.fail("part", f"the rows of part {part} in Bends have errors; correct them", part)
    elif bent is None:
        known, under = listed(parts.names) or "none yet", reader.header("bent") or "Bent"
        reader.fail(
            "part",
            f"part {part or 'without a name'} is bent, but Bends has no rows for it (it has "
            f"{known}); {'' if part else 'name it, and '}write its straights and bends there, or "
            f"no under {under}, and it is planned without bending",
            part,
            "a part of the Bends sheet",
        )
    return bent is not None


def _no_length(reader: RowReader, part: str) -> None:
    expected = "a length such as 46-13/16, 5' 2-3/8\" or 1190 mm, or rows for the part in Bends"
    named = f" and part {part} is not in Bends" if part else ""
    reader.fail("length", f"nothing is written here{named}, expected {expected}", "", expected)


def _axis(reader: RowReader, length_nm: int, ends: tuple[EndCut, EndCut]) -> Shape | None:
    if reader.failed:
        return None
    if not any(end.kind == EndKind.SADDLE for end in ends):
        reader.fail(
            "length_is",
            "axis to axis needs a saddle at one end at least; write the tube that it sits on "
            "under End 1 or End 2, or give the cut length",
            expected="a saddled end",
        )
        return None
    return AxisToAxis(length_nm=length_nm)


def _length(reader: RowReader) -> _Length | None:
    said = reader.choice("length_is", LENGTH_IS, None)
    value = reader.raw("length")
    if value is None:
        return _Length(said, None)
    try:
        if problem := reader.unusable("length", value):
            raise problem
        kind, rest = _split(value)
        found = None
        if rest is not None:
            found = cells.length(rest, reader.unit("length"), reader.house.unit)
    except InputError as problem:
        reader.refuse("length", problem)
        return None
    reader.tell("length", value, found.note if found else "")
    if said and kind and said != kind:
        reader.fail(
            "length_is",
            "the Length column says otherwise; correct one of them",
            reader.raw("length_is"),
            cells.text(value),
        )
        return None
    return _Length(said or kind, found.value if found else None)


def _split(value: Value) -> tuple[str | None, Value | None]:
    """The word for the kind of length that a cell carries, and the rest of it.

    >>> _split("c-c 48"), _split('46 in overall'), _split("see Bends"), _split(12)
    (('axis', '48'), ('cut', '46 in'), ('bent', None), (None, 12))
    """
    if not isinstance(value, str):
        return None, value
    words = value.split()
    if plain_name(value) in LENGTH_IS:
        return LENGTH_IS[plain_name(value)], None
    for cut in range(1, len(words)):
        head, tail = " ".join(words[:cut]), " ".join(words[cut:])
        if plain_name(head.rstrip(":")) in LENGTH_IS:
            return LENGTH_IS[plain_name(head.rstrip(":"))], tail
        if plain_name(tail) in LENGTH_IS:
            return LENGTH_IS[plain_name(tail)], head
    return None, value
