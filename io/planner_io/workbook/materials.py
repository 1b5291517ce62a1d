"""Read a material: the grade's usual name, its family, and the surface that tube comes in with.

Only words that the tables know decide; they are usual grades of round tube (common practice).

>>> read_material("SS 316l tube")
MaterialReading(family=<Family.STAINLESS: 'stainless'>, grade='316L', literal=False,
    note='SS 316l tube read as stainless 316L')
>>> read_material(4130).family.value, read_material("6061 T6").grade
('alloy', '6061-T6')
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from planner.tube import Family, Surface
from planner.units.numbers import MAX_TEXT
from planner.units.reading import refuse, shown
from planner_io.workbook.as_bought import without_coating
from planner_io.workbook.oil import without_oil
from planner_io.workbook.steel_numbers import (
    FAMILY_OF,
    is_european,
    number_typed,
    spelt_numbers,
    usual_name,
)

EXPECTED = "a material such as A513, 1020 DOM, 4130, 304, 316L, 6061-T6 or stainless"

_GRADES = {
    Family.CARBON: (
        "A513 A500 A501 A53 A106 A519 A787 A36 1008 1010 1015 1018 1020 1025 1026 1035 1045 DOM "
        "CDS HREW CREW ERW E195 E220 E235 E275 E355 S235 S275 S355 ST35 ST37 ST37.0 ST37.4 ST52 "
        "ST52.0 ST52.4 P195 P235 P265 P355 Q235"
    ),
    Family.ALLOY: "4130 4135 4140 4340 8620 25CRMO4 34CRMO4 15CDV6 42CRMO4",
    Family.STAINLESS: (
        "201 202 301 303 304 304L 304H 309 310 316 316L 316TI 317 317L 321 347 409 410 430 439 441 "
        "V2A V4A 2205 2304 2507 DUPLEX A269 A270 A312 A554 A249"
    ),
    Family.ALUMINIUM: "1100 2024 3003 5052 5083 5086 6005 6005A 6060 6061 6063 6082 7005 7075",
}
_FAMILY_OF = FAMILY_OF | {grade: family for family, row in _GRADES.items() for grade in row.split()}
_CALLED = {
    Family.CARBON: "CARBON MILD MS CS CRS HRS HSS STEEL STAHL ACIER ACERO BLACK BLK",
    Family.ALLOY: "ALLOY CHROMOLY",
    Family.STAINLESS: "STAINLESS SS SST INOX INOXYDABLE INOXIDABLE EDELSTAHL NIRO",
    Family.ALUMINIUM: "ALUMINIUM ALUMINUM ALUMINIO ALUM ALU AL",
}
_FAMILY_CALLED = {word: family for family, row in _CALLED.items() for word in row.split()}
_STEEL = frozenset({"STEEL", "STAHL", "ACIER", "ACERO"})

_SPECIFICATIONS = """
    A513 A500 A501 A53 A106 A519 A787 A269 A270 A312 A554 A249 DOM CDS HREW CREW ERW DUPLEX
"""
SPECIFICATIONS = frozenset(_SPECIFICATIONS.split())
"""Tube standards and ways of making: beside a grade number they do not name the grade."""

_TEMPER = re.compile(r"[TOHF][0-9]{0,4}")
_PREFIX = re.compile(r"^(?:ASTM|AISI|SAE|AA|EN|AW|TYPE|TP|MT|T|GR|GRADE|W\.?-?NR\.?)-?(?=A?[0-9])")
_STUCK = re.compile(r"^(SS|AL|ALU|INOX)-?(?=[0-9])")
"""A family written onto its grade: `SS304`."""
_GRADED = re.compile(r"\b(A[0-9]{2,4}) (?:GR|GRADE)\.? ?([A-D])\b")
_LETTERS = re.compile(r"\b([SMC])[./] ?S\b\.?")
"""`S/S`, `M.S.` and `C/S` for stainless, mild and carbon steel."""
_CHROMOLY = re.compile(r"\b(?:CM|CHROMO|(?:CHROME?|CRO|CR)[ -]?MO(?:LY)?)\b")
"""Chromoly tube is 4130 where no other grade is named (common practice)."""
_NORMALISED = re.compile(r"\b4130[ -]?(?:COND(?:ITION)?\.? ?)?N\b")
"""4130 is sold normalised (common practice): N says nothing more."""
_TYPED = re.compile(r"\bA513[ -]+(?:T|TY|TYPE)?\.?[ -]*([1-6][AB]?)\b")
"""A513 by its type, 5 being drawn over a mandrel."""
_TEMPERED = re.compile(r"\b([1-7][0-9]{3}A?)(T[0-9]{1,4})\b")
"""An aluminium grade with its temper stuck to it: `6061T6`."""
_DASHED = re.compile(r"\bA-(?=[0-9]{2,3}\b)")
"""A standard with a dash in its number: `A-500`."""
_EXTENDED = re.compile(
    r"([SEP][0-9]{3}|1[.][0-9]{4})(?:J[R0-9]|[+]|N|GH|TR[12]).*|(A[0-9]{2,3})_?[A-D]"
)
"""A grade with its delivery condition or strength grade: `S355J2H`, `A106B`."""
_FILLERS = "ASTM AISI SAE AA EN AW TYPE TP GR GRADE TUBE TUBING PIPE ROUND WELDED SEAMLESS"
_FILLER = frozenset(_FILLERS.split())


@dataclass(frozen=True)
class MaterialReading:
    """Family and grade, and whether the text named both in just this way."""

    family: Family
    grade: str
    literal: bool = True
    note: str = ""


def read_material(value: object, *, family: object = None) -> MaterialReading:
    """Read a grade cell, and the family cell beside it if there is one.

    A grade that the tables do not know stands as written when the family is given.  Raises
    InputError when no family can be told, or when two are named at once.
    """
    written = _text(value)
    text, coating = without_coating(written)
    told = read_family(family) if family not in (None, "") else None
    words = _words(text)
    found = _families(words) or ({told} if told else set[Family]())
    if len(found) != 1:
        family_first = "if it is carbon, alloy, stainless or aluminium, write that before it"
        raise refuse(
            written, EXPECTED, "two materials at once" if found else family_first * bool(written)
        )
    (meant,) = found
    if _several(words):
        raise refuse(written, EXPECTED, "two grades at once")
    if told and told != meant:
        raise refuse(value, EXPECTED, f"{_grade(words) or text} is {meant}, the row says {told}")
    grade = " ".join(filter(None, (_grade(words) or _own(text, words) or meant.value, coating)))
    return _reading(written or shown(family), meant, grade, told)


def read_family(value: object) -> Family:
    """Read a family cell: `SS`, `Aluminum`, `mild steel` and the like, or any grade of it."""
    words = _words(_text(value))
    found = _called(words) or {f for word in words if (f := _FAMILY_OF.get(word))}
    if len(found) != 1:
        raise refuse("" if value is None else value, "carbon, alloy, stainless or aluminium")
    return next(iter(found))


def is_steel(value: object) -> bool:
    """Whether a family cell says steel and no more: beside 4130 it is alloy, beside 304 stainless.

    >>> is_steel("Steel"), is_steel("mild steel"), is_steel("SS")
    (True, False, False)
    """
    return isinstance(value, str) and {*_words(value)} in ({word} for word in _STEEL)


SURFACE_EXPECTED = (
    "the surface that tube is bought with: scaled (hot rolled, black), bright (cold drawn, mill) or"
    " polished; one to be made goes in the column Finish of Orders"
)
_SURFACES = {
    Surface.SCALED: "scaled|scale|mill scale|hot rolled|hr|hrew|black|hot finished|as welded",
    Surface.BRIGHT: "bright|cold drawn|cold rolled|cr|crew|cds|dom|mill|mill finish|pickled"
    "|hot rolled pickled|hr pickled|bright annealed|ba|2b|clean|extruded|plain",
    Surface.POLISHED: "polished|pre-polished|prepolished|pol|#4|no. 4|no 4|satin|brushed",
}
_SURFACE_OF = {word: surface for surface, row in _SURFACES.items() for word in row.split("|")}


@dataclass(frozen=True)
class SurfaceReading:
    """An incoming surface, and whether it was named by its own word."""

    surface: Surface | None
    """None where nothing is said but that it is oiled."""
    oiled: bool = False
    literal: bool = True
    note: str = ""


def read_surface(value: object) -> SurfaceReading:
    """Read an incoming surface; InputError when it is none of the three.

    >>> read_surface("hot rolled").surface
    <Surface.SCALED: 'scaled'>
    >>> read_surface("pickled and oiled").note
    'pickled and oiled read as bright, oiled'
    """
    text = _text(value)
    word, oiled = without_oil(text)
    if oiled and not word:
        note = f"{text} says nothing of scale, so the surface is read as if it were blank"
        return SurfaceReading(None, oiled=True, literal=False, note=note)
    if word not in _SURFACE_OF:
        raise refuse(text, SURFACE_EXPECTED)
    surface = _SURFACE_OF[word]
    meant = f"{surface}, oiled" if oiled else surface
    note = "" if text.lower() == surface else f"{text} read as {meant}"
    return SurfaceReading(surface, oiled, literal=not note, note=note)


def _text(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool) or not isinstance(value, (str, int, float)):
        raise refuse(value, EXPECTED)
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e9:
        value = int(value)
    known = number_typed(value) if isinstance(value, float) else value
    text = shown(known) if isinstance(known, int) else known
    if len(text) > MAX_TEXT:
        raise refuse(text, EXPECTED, "too long")
    return " ".join(text.split())


def _words(text: str) -> list[str]:
    """The words that say something, upper case, tempers joined on (`6061 T6` is `6061-T6`)."""
    words: list[str] = []
    for raw in re.split(r"[\s,;/()]+", _spelt(text)):
        if words and _TEMPER.fullmatch(raw) and _FAMILY_OF.get(words[-1]) == Family.ALUMINIUM:
            words[-1] += f"-{raw}"
            continue
        if words and raw and f"{words[-1]}{raw}" in _FAMILY_OF:
            words[-1] += raw
            continue
        stuck = _STUCK.match(raw)
        rest = raw[stuck.end() :] if stuck else raw
        every = (stuck[1] if stuck else "", _PREFIX.sub("", rest.strip(".-")))
        words.extend(word for word in every if word and word not in _FILLER)
    return words


def _spelt(text: str) -> str:
    """A text in capitals, with what is written in several ways in one of them."""
    whole = _DASHED.sub("A", _TEMPERED.sub(r"\1-\2", spelt_numbers(text.upper())))
    whole = _CHROMOLY.sub("CHROMOLY", _LETTERS.sub(r"\1S", whole))
    whole = _NORMALISED.sub("4130", whole)
    return _GRADED.sub(r"\1_\2", _TYPED.sub(r"A513-\1", whole))


def _base(word: str) -> str:
    """A grade without its temper, delivery condition or strength grade."""
    if word in _FAMILY_OF:
        return word
    match = _EXTENDED.fullmatch(word)
    found = match and next((group for group in match.groups() if group), None)
    return found or word.partition("-")[0]


def _called(words: list[str]) -> set[Family]:
    """Families called by name; `steel` counts for carbon only when it stands without another."""
    named = {f for word in words if (f := _FAMILY_CALLED.get(word))}
    strong = {f for word in words if word not in _STEEL and (f := _FAMILY_CALLED.get(word))}
    if Family.ALUMINIUM in strong:
        return strong - {Family.ALLOY}
    return strong or named


def _families(words: list[str]) -> set[Family]:
    """Families of the grades named, else of the families named."""
    if _of_alloy_by_a_carbon_standard(words):
        return {Family.ALLOY}
    graded = {f for word in words if (f := _FAMILY_OF.get(_base(word)))}
    return graded or _called(words)


def _of_alloy_by_a_carbon_standard(words: list[str]) -> bool:
    """A519 and DOM are made of alloy steels too: the number decides (`4130 DOM`)."""
    bases = {_base(word) for word in words}
    families = {_FAMILY_OF[base] for base in bases if base in _FAMILY_OF}
    made = {base for base in bases if _FAMILY_OF.get(base) == Family.CARBON}
    return families == {Family.CARBON, Family.ALLOY} and made <= SPECIFICATIONS


def _several(words: list[str]) -> bool:
    """Whether grades are named of which only one can be meant: `304/316` or `304 (1.4404)`, but not
    `304/304L`, not `304 (1.4301)`, which is one in two countries, and not `1020/1026`, which mills
    sell as one."""
    bases = {base for word in words if (base := _base(word)) in _FAMILY_OF} - SPECIFICATIONS
    names = {usual_name(base) for base in bases}
    numbers = {name for name in names if not is_european(name)}
    first = min(numbers, key=len, default="")
    mixed = {_FAMILY_OF[base] for base in numbers} == {Family.CARBON} and bases == names
    return not (mixed and "OR" not in words) and any(not n.startswith(first) for n in numbers)


def _grade(words: list[str]) -> str | None:
    """The grade numbers, two of them as dual-marked tube says it: `304/304L`."""
    known = [word for word in words if _base(word) in _FAMILY_OF]
    numbers = [word for word in known if _base(word) not in SPECIFICATIONS]
    chosen = dict.fromkeys(word.replace("_", " Gr ") for word in numbers or known)
    return ("/" if numbers else " ").join(chosen) or ("4130" if "CHROMOLY" in words else None)


def _own(text: str, words: list[str]) -> str | None:
    """A grade in the shop's own words, unless it only names a family."""
    return text if any(word not in _FAMILY_CALLED for word in words) else None


def _reading(text: str, family: Family, grade: str, told: Family | None) -> MaterialReading:
    if text.upper() in {grade.upper(), f"{family} {grade}".upper()}:
        inferred = told is None and grade != family and text.upper() == grade.upper()
        note = f"{grade} taken as {family}" if inferred else ""
        return MaterialReading(family, grade, literal=True, note=note)
    note = f"{text} read as {family} {grade}".removesuffix(f" {family}")
    return MaterialReading(family, grade, literal=False, note=note)
