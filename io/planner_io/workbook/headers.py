"""Match headers to columns by meaning: units taken off, other words and misspellings allowed."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass

from planner_io.workbook.columns import Column, Kind, SheetSpec
from planner_io.workbook.grid import Value
from planner_io.workbook.names import find_name, plain_name

_VAGUE_WORDS = """
    order number name item each ea for from to count amount date time ref reference required spec
    standard size type kind what is condition sheet machine where ship process run used minute day
    price family grade req reqd d
    balance open done made complete completed closed shipped delivered produced remaining
    outstanding backorder percent status state measure sent dispatched despatched
"""
_VAGUE = frozenset(_VAGUE_WORDS.split())
"""Words that say too little when they stand among others: `Order date` is no order number."""

_WEIGHTS = frozenset(["lb", "lbs", "kg", "kgs", "kilo", "pound", "weight", "gewicht"])
"""Words, made plain, that say that a column weighs: `Wt (lb)` is no wall thickness."""
_SIZES = frozenset({Kind.OD, Kind.WALL, Kind.LENGTH, Kind.ALLOWANCE, Kind.OFFSET})

UNITS: Mapping[str, str] = {
    **dict.fromkeys(("mm", "millimeter", "millimetre", "millimeters", "millimetres"), "mm"),
    **dict.fromkeys(("cm", "centimeter", "centimetre"), "cm"),
    **dict.fromkeys(("m", "meter", "metre", "meters", "metres"), "m"),
    **dict.fromkeys(("in", "inch", "inches", '"', "ins"), "in"),
    **dict.fromkeys(("ft", "foot", "feet", "'"), "ft"),
    **dict.fromkeys(
        ("ft-in", "ft in", "ft & in", "ft. in.", "ft+in", "feet-inches", "feet and inches"), "ft-in"
    ),
    **dict.fromkeys(("s", "sec", "secs", "second", "seconds"), "s"),
    **dict.fromkeys(("min", "mins", "minute", "minutes"), "min"),
    **dict.fromkeys(("h", "hr", "hrs", "hour", "hours"), "h"),
    **dict.fromkeys(("/ft", "per ft", "per foot", "a foot", "$/ft"), "/ft"),
    **dict.fromkeys(
        ("/m", "per m", "per metre", "per meter", "a metre", "$/m", "€/m", "£/m"), "/m"
    ),
    **dict.fromkeys(("deg", "degrees", "°"), "deg"),
    **dict.fromkeys(("ft²", "ft2", "sq ft", "square feet"), "ft2"),
    **dict.fromkeys(("m²", "m2", "sq m", "square metres", "square meters"), "m2"),
    **dict.fromkeys(
        ("$", "usd", "€", "eur", "£", "gbp", "each", "ea", "pcs", "rpm", "days", "%"), ""
    ),
}
"""Units that a header may end in; an empty one changes nothing."""

METRIC = frozenset({"mm", "cm", "m"})
"""Units in headers of OD from which millimetres follow for the shop, where no other header and no
setting says otherwise."""

_LONG_UNITS = frozenset(word for word in UNITS if word.isalpha() and len(word) > 1) - {
    *("in", "ins", "foot", "min", "mins", "each", "ea", "pcs", "rpm", "deg", "degrees", "days"),
    *("usd", "eur", "gbp"),
}
"""Units that say so wherever they stand in a header; `in` and `min` are other words, too."""
_PREPOSITION = re.compile(r"\bin (?=(?:mm|cm|m|feet|ft|inch|inches|metres|meters)\b)")
_OF_KIND: Mapping[Kind, frozenset[str]] = {
    **dict.fromkeys(_SIZES, frozenset({"mm", "cm", "m", "in", "ft"})),
    **dict.fromkeys((Kind.SECONDS, Kind.MINUTES), frozenset({"s", "h"})),
}
_TIMES = frozenset({"s", "min", "h"})
_NO_UNITS: Mapping[Kind, frozenset[str]] = {
    **dict.fromkeys((*_SIZES, Kind.TEXT, Kind.LIST, Kind.CHOICE), _TIMES),
    **dict.fromkeys(
        (Kind.WHOLE, Kind.YES_NO, Kind.DATE), _TIMES | METRIC | frozenset({"in", "ft"})
    ),
}
"""Units that no column of a kind has: `Qty (ft)` counts no pieces, and `Wall min` is no wall."""
_UNIT_WORDS = "|".join(re.escape(unit) for unit in sorted(UNITS, key=len, reverse=True))
_BRACKETED = re.compile(rf"^(.+?)\s*[(\[]\s*({_UNIT_WORDS})\.?\s*[)\]]\s*$", re.IGNORECASE)
_TRAILING = re.compile(rf"^(.+?)(?:\s*[,:;-]\s*|\s+|(?=/))({_UNIT_WORDS})\.?\s*$", re.IGNORECASE)
_CAPITAL = re.compile(r"(?<=[a-z])(?=[A-Z])")
_QUOTED = re.compile(r"^(.+?)\s*([\"'])\s*$")


SETS = frozenset({"kits", "sets", "cars", "boats", "hulls", "frames", "assemblies", "assys"})
"""Headers of how many are made of what the rows are parts of: no order, no pieces."""


@dataclass(frozen=True)
class Header:
    """Where a column stands in the sheet and the unit in its header, empty if there is none."""

    column: Column
    index: int
    text: str
    unit: str = ""


@dataclass(frozen=True)
class Guess:
    """A header, and whether its meaning was guessed."""

    header: Header
    guessed: bool
    rank: int = 0
    """How far down the column's names this one stands; the title is 0."""


def match_headers(
    cells: Mapping[int, Value], spec: SheetSpec
) -> tuple[dict[str, Guess], list[Header]]:
    """Columns named by a row of cells, and headers that name a column a second time.

    Names come first, of one column alone before those that several share, then names with other
    words about them, then close misspellings. Of several that are guessed to mean one column the
    leftmost counts.
    """
    texts = {
        index: value
        for index, value in cells.items()
        if isinstance(value, str) and value.strip().lower() not in SETS
    }
    exact = [guess for index in sorted(texts) for guess in _exact(index, texts[index], spec)]
    found: dict[str, Guess] = {}
    doubles: list[Header] = []
    named_by = Counter(guess.header.index for guess in exact)
    for guess in sorted(exact, key=lambda each: (named_by[each.header.index] > 1, each.rank)):
        key = guess.header.column.key
        if key not in found:
            found[key] = guess
        elif found[key].header.index != guess.header.index:
            doubles.append(guess.header)
    named = {guess.header.index for guess in exact}
    for guess_at in (_among_words, _misspelt):
        for index in sorted(texts.keys() - named):
            guess_of = guess_at(index, texts[index], spec)
            if guess_of is None:
                continue
            first = found.setdefault(guess_of.header.column.key, guess_of)
            if first is guess_of:
                named.add(index)
            elif first.guessed:
                doubles.append(guess_of.header)
                named.add(index)
    return found, doubles


def _exact(index: int, text: str, spec: SheetSpec) -> list[Guess]:
    """The columns that a header names: one, or several that share the name."""
    for name, unit in ((_spaced(text), ""), split_unit(text)):
        plain = plain_name(name)
        for squeeze in (_as_it_is, _squeezed):
            exact = [
                (column, names.index(squeeze(plain)))
                for column in spec.columns
                if squeeze(plain) in (names := [squeeze(each) for each in column.plain_names])
                and unit not in _NO_UNITS.get(column.kind, ())
            ]
            if exact:
                return [
                    Guess(Header(column, index, text, unit), False, rank) for column, rank in exact
                ]
    return []


def names_exactly(text: str, spec: SheetSpec) -> bool:
    """Whether a header is the name of a column, with or without a unit."""
    return bool(_exact(0, text, spec))


def _as_it_is(name: str) -> str:
    return name


def _squeezed(name: str) -> str:
    """W.O. and WO are one name."""
    return name.replace(" ", "")


def _among_words(index: int, text: str, spec: SheetSpec) -> Guess | None:
    """The column whose name stands in a header among other words, the longest name if several."""
    name, unit = split_unit(text)
    words = f" {plain_name(name)} "
    every = frozenset(plain_name(_spaced(text)).split())
    inside = {
        column.key: max(lengths)
        for column in spec.columns
        if not _means_other(column, every)
        and (
            lengths := [
                plain.count(" ") + 1
                for plain in column.plain_names
                if f" {plain} " in words and len(plain) > 1 and not _VAGUE.issuperset(plain.split())
            ]
        )
    }
    longest = [key for key, length in inside.items() if length == max(inside.values())]
    if len(longest) != 1:
        return None
    column = spec.column(longest[0])
    return Guess(Header(column, index, text, unit or _unit_inside(text, column)), True)


def _means_other(column: Column, words: frozenset[str]) -> bool:
    """Whether words of a header say that it is no such column: `Inside diameter` is no OD."""
    weighs = column.kind in _SIZES and not _WEIGHTS.isdisjoint(words)
    return weighs or not words.isdisjoint(plain_name(column.never).split())


def _unit_inside(text: str, column: Column) -> str:
    """The only unit of a column's kind among the words of a header, as in `mm length`."""
    words = re.findall(r"[^\W\d_]+", _PREPOSITION.sub(" ", _spaced(text).lower()))
    found = {UNITS[word] for word in words if word in _LONG_UNITS}
    if "in" in words and found - {"in"} <= _OF_KIND[Kind.LENGTH]:
        return ""  # of feet and inches, or of both units
    found &= _OF_KIND.get(column.kind, frozenset())
    return found.pop() if len(found) == 1 else ""


def _misspelt(index: int, text: str, spec: SheetSpec) -> Guess | None:
    """The column whose name is close to a header that says more than `No.` or `Date`."""
    name, unit = split_unit(text)
    if _VAGUE.issuperset(plain_name(name).split()):
        return None
    known = {plain: column for column in spec.columns for plain in column.plain_names}
    match = find_name(name, known)
    if match is None or _means_other(match.value, frozenset(plain_name(_spaced(text)).split())):
        return None
    return Guess(Header(match.value, index, text, unit), True)


def split_unit(text: str) -> tuple[str, str]:
    """A header without its unit, and the unit.

    >>> split_unit("Length (mm)"), split_unit("OD, in"), split_unit("Price/ft"), split_unit("Due")
    (('Length', 'mm'), ('OD', 'in'), ('Price', '/ft'), ('Due', ''))
    """
    name = " ".join(_spaced(text).split())
    for pattern in (_BRACKETED, _TRAILING, _QUOTED):
        if match := pattern.match(name):
            unit = UNITS[match[2].lower()]
            return (match[1], unit) if unit else split_unit(match[1])
    return _spaced(text), ""


def _spaced(text: str) -> str:
    """A header with blanks between its words: `DUE_DT`, `TubeOD` and `CutLengthIn` have none."""
    return _CAPITAL.sub(" ", text.replace("_", " "))
