"""The shape of a part from its Length, Length is and Bends: cut, axis to axis, or bent by the rows
of Bends or from a blank."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from planner.errors import InputError
from planner.orders import AxisToAxis, BentBlank, CutLength, EndCut, EndKind, Shape
from planner.tube import TubeSpec
from planner.units.reading import refuse
from planner_io.workbook import cells
from planner_io.workbook.bends import Parts
from planner_io.workbook.cells import Parsed
from planner_io.workbook.grid import Value
from planner_io.workbook.names import listed, plain_name
from planner_io.workbook.radii import read_radius
from planner_io.workbook.rows import RowReader

MOST_BENDS = 99
CUT, AXIS, BENT, BLANK = "cut", "axis", "bent", "blank"

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
    BLANK: (
        "blank",
        "blank length",
        "length of blank",
        "before bending",
        "developed",
        "developed length",
        "dev length",
        "dev'd length",
        "unbent length",
        "gestreckte Länge",
        "longueur développée",
        "flat",
        "flat length",
    ),
}
_SAWN = frozenset(
    map(plain_name, (*_WORDS[BLANK], "cut", "cut length", "cut to", "cut at", "cut size"))
)
"""What the length that a saw cuts may be called, also of a part that is bent afterwards."""
LENGTH_IS: Mapping[str, str] = {
    plain_name(word): kind for kind, words in _WORDS.items() for word in words
}
"""What a length may be called, by plain name."""


_NOT_BENT: int | None = 0


@dataclass(frozen=True)
class _Length:
    """What the Length and Length is cells say together."""

    kind: str | None
    length_nm: int | None


def read_shape(
    reader: RowReader,
    part: str,
    parts: Parts,
    ends: tuple[EndCut, EndCut],
    spec: TubeSpec | None,
) -> Shape | None:
    """The shape of a row's part, of tube of that spec; None when a cell fails, which is
    reported."""
    od_nm = spec.od_nm if spec else 0
    length = _length(reader)
    if length is None:
        return None
    if open_ := reader.left_open("bent"):
        reader.refuse("bent", open_)
    bends = reader.take("bent", _bends, _NOT_BENT)
    clr_nm = read_radius(reader, "clr", od_nm)
    if parts.find(part)[0] and length.kind not in (CUT, AXIS):
        return _from_bends(reader, part, parts, length, od_nm)
    if bends != 0 or length.kind == BENT:
        return _by_number(reader, part, parts, length, bends, clr_nm)
    if clr_nm:
        reader.report.warn(
            reader.row.place("clr"),
            "not used, as nothing says that the part is bent; write how many bends under Bent, or "
            "clear it",
        )
    if length.length_nm is None:
        _no_length(reader, part)
        return None
    if length.kind == AXIS:
        return _axis(reader, length.length_nm, ends)
    return CutLength(length_nm=length.length_nm)


def _bends(value: Value) -> Parsed[int | None]:
    """How often a part is bent, None where a yes does not say."""
    try:
        found = cells.whole(value, 0, MOST_BENDS, "yes, no or a number of bends")
        return Parsed(found.value, found.note)
    except InputError:
        return Parsed(None if _is_yes(value) else 0)


def _is_yes(value: Value) -> bool:
    try:
        return cells.yes_no(value).value
    except InputError as problem:
        why = "write how many, and their radius under CLR"
        raise refuse(cells.text(value), "a number of bends, yes or no", why) from problem


def _from_bends(
    reader: RowReader, part: str, parts: Parts, length: _Length, od_nm: int
) -> Shape | None:
    if length.length_nm is not None and length.kind != BENT:
        reader.report.warn(
            reader.row.place("length"),
            f"not used, since part {part} is in Bends; clear it, or write cut beside it "
            "under Length is",
            cells.text(reader.row.values["length"]),
        )
    bent = parts.find(part)[1]
    if bent is None:
        reader.fail("part", f"the rows of part {part} in Bends have errors; correct them", part)
        return None
    return bent.of(od_nm)


def _by_number(
    reader: RowReader, part: str, parts: Parts, length: _Length, bends: int | None, clr_nm: int
) -> Shape | None:
    """A part that is bent, but not in Bends: by its blank and the number of its bends."""
    sawn = length.length_nm is not None and _is_sawn(reader, length)
    if bends and sawn and length.length_nm is not None:
        return BentBlank(length_nm=length.length_nm, bends=bends, clr_nm=clr_nm)
    known, under = listed(parts.names) or "none yet", reader.header("bent") or "Bent"
    number = "" if bends else f"how many bends under {under}"
    if length.length_nm is None:
        size = "the length of its blank under Length, and blank under Length is"
    else:
        size = "" if sawn else "blank under Length is, if its length is that of the blank"
    reader.fail(
        "part",
        f"part {part or 'without a name'} is bent, but Bends has no rows for it (it has {known}); "
        f"{'' if part else 'name it, and '}write its straights and bends there; or, to plan its "
        f"time without them, write {' and '.join(filter(None, (number, size)))}; or no under "
        f"{under}, and it is planned without bending",
        part,
        "a part of the Bends sheet, or its blank and how many bends",
    )
    return None


def _is_sawn(reader: RowReader, length: _Length) -> bool:
    """Whether a length is said to be what the saw cuts, by its kind or by the column's header."""
    if length.kind not in (CUT, None):
        return length.kind == BLANK
    said = (cells.text(reader.raw("length_is") or ""), reader.header("length"))
    sawn = any(f"{plain_name(each)} ".startswith(f"{word} ") for each in said for word in _SAWN)
    if sawn:
        text = "the length of a bent part read as that of its blank, before bending"
        reader.report.note(text, reader.row.place("length"))
    return sawn


def _no_length(reader: RowReader, part: str) -> None:
    if open_ := reader.left_open("length"):
        reader.refuse("length", open_)
        return
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
        if head.count("(") != head.count(")"):
            continue
        if plain_name(head.rstrip(":")) in LENGTH_IS:
            return LENGTH_IS[plain_name(head.rstrip(":"))], tail
        if plain_name(tail) in LENGTH_IS:
            return LENGTH_IS[plain_name(tail)], head
    return None, value
