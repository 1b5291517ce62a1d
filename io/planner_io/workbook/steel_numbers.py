"""Grades by the numbers of European standards, and what else the same tube is called.

Numbers go by EN 10027-2, names by EN 10027-1. Those of stainless are of EN 10088-1, of carbon and
alloy steel of EN 10210-1, 10216, 10217, 10305 and 10083; aluminium has its old numbers of DIN
17007 (all from memory). Other names stand only where the two are bought as one tube (common
practice): 1.4435 is sold as 316L, but has more molybdenum than that needs, so it has none here.
"""

from __future__ import annotations

import re

from planner.tube import Family

_STAINLESS = """
    1.4016 X6Cr17 430
    1.4301 X5CrNi18-10 304
    1.4303 X4CrNi18-12
    1.4305 X8CrNiS18-9
    1.4306 X2CrNi19-11
    1.4307 X2CrNi18-9 304L
    1.4310 X10CrNi18-8
    1.4362 X2CrNiN23-4 2304
    1.4401 X5CrNiMo17-12-2 316
    1.4404 X2CrNiMo17-12-2 316L
    1.4410 X2CrNiMoN25-7-4 2507
    1.4432 X2CrNiMo17-12-3
    1.4435 X2CrNiMo18-14-3
    1.4436 X3CrNiMo17-13-3
    1.4438 X2CrNiMo18-15-4
    1.4439 X2CrNiMoN17-13-5
    1.4462 X2CrNiMoN22-5-3 2205
    1.4509 X2CrTiNb18 441
    1.4510 X3CrTi17 439
    1.4512 X2CrTi12 409
    1.4521 X2CrMoTi18-2
    1.4539 X1NiCrMoCu25-20-5
    1.4541 X6CrNiTi18-10 321
    1.4550 X6CrNiNb18-10 347
    1.4571 X6CrNiMoTi17-12-2 316TI
    1.4828 X15CrNiSi20-12
    1.4841 X15CrNiSi25-21
    1.4845 X8CrNi25-21
"""
_CARBON = """
    1.0034 E195
    1.0037 St37-2
    1.0038 S235JR
    1.0039 S235JRH
    1.0044 S275JR
    1.0045 S355JR
    1.0138 S275J2H
    1.0149 S275J0H
    1.0254 P235TR1
    1.0255 P235TR2
    1.0258 P265TR1
    1.0259 P265TR2
    1.0308 E235
    1.0345 P235GH
    1.0425 P265GH
    1.0503 C45
    1.0547 S355J0H
    1.0576 S355J2H
    1.0570 St52-3
    1.0577 S355J2
    1.0580 E355
    1.1191 C45E
"""
_ALLOY = """
    1.7218 25CrMo4
    1.7220 34CrMo4
    1.7225 42CrMo4
    1.7734 15CDV6
"""
_ALUMINIUM = """
    3.2315 AlMgSi1 6082
    3.3206 AlMgSi0.5 6060
    3.3535 AlMg3 5754
    3.3547 AlMg4.5Mn 5083
"""
_ROWS = {
    Family.STAINLESS: _STAINLESS,
    Family.CARBON: _CARBON,
    Family.ALLOY: _ALLOY,
    Family.ALUMINIUM: _ALUMINIUM,
}
_STEELS = [
    (family, tuple(line.upper().split()))
    for family, rows in _ROWS.items()
    for line in rows.strip().splitlines()
]
FAMILY_OF = {name: family for family, names in _STEELS for name in names}
"""The family of every number and name, in capitals."""
_NUMBER_OF = {name: names[0] for _, names in _STEELS for name in names}
_USUAL = {name: names[-1] for _, names in _STEELS for name in names}
_COMMA = re.compile(r"\b([13]),([0-9]{4})\b")
_NAME = re.compile(r"\bX ?[0-9]{1,2} ?(?:[A-Z]{2} ?)+[0-9]+(?:[ -][0-9]+)*\b|\bALMG[A-Z]*[0-9.,]*")
_SPELT = {re.sub(r"\W", "", name): name for name in FAMILY_OF}


def spelt_numbers(text: str) -> str:
    """A text in capitals with numbers and names as the standards write them.

    >>> spelt_numbers("1,4301"), spelt_numbers("X 5 CRNI 18 10"), spelt_numbers("ALMGSI0,5")
    ('1.4301', 'X5CRNI18-10', 'ALMGSI0.5')
    """
    whole = _COMMA.sub(r"\1.\2", text)
    return _NAME.sub(lambda name: _SPELT.get(re.sub(r"\W", "", name[0]), name[0]), whole)


def number_typed(value: float) -> str:
    """A number with the zeros at its end that a spreadsheet drops: 1.058 is 1.0580.

    >>> number_typed(1.058), number_typed(1.5)
    ('1.0580', '1.5')
    """
    whole = f"{value:.4f}"
    return whole if whole in FAMILY_OF and float(whole) == value else str(value)


def steels(grade: str) -> frozenset[str]:
    """What a grade is, by number where it has one: the same for grades that are one tube.

    >>> steels("304/1.4301") == steels("X5CRNI18-10") == steels("304") == {"1.4301"}
    True
    >>> steels("304/304L") == steels("304"), steels("DOM")
    (False, frozenset({'DOM'}))
    """
    return frozenset(_NUMBER_OF.get(part.upper(), part) for part in grade.split("/"))


def usual_name(grade: str) -> str:
    """What a grade is called where it has several names; itself where it has none else.

    >>> usual_name("1.4301"), usual_name("1.0308"), usual_name("1.4435"), usual_name("A513")
    ('304', 'E235', 'X2CRNIMO18-14-3', 'A513')
    """
    return _USUAL.get(grade.upper(), grade)


def is_european(grade: str) -> bool:
    """Whether a grade is a number of EN 10027-2, or the name of a stainless steel by EN 10027-1."""
    return grade in FAMILY_OF and (grade[1] == "." or grade[0] == "X")
