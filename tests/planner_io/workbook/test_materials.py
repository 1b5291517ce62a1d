"""Materials are read from the words that fabricators use, and say what was inferred."""

from __future__ import annotations

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import InputError
from planner.tube import Family, Surface
from planner_io.workbook.materials import read_family, read_material, read_surface


@pytest.mark.parametrize(
    ("text", "family", "grade"),
    [
        ("A513", Family.CARBON, "A513"),
        ("1020", Family.CARBON, "1020"),
        (1020, Family.CARBON, "1020"),
        ("DOM", Family.CARBON, "DOM"),
        ("1020 DOM", Family.CARBON, "1020"),
        ("A500 Gr B", Family.CARBON, "A500 Gr B"),
        ("a500 grade b", Family.CARBON, "A500 Gr B"),
        ("A106B", Family.CARBON, "A106B"),
        ("S355J2H", Family.CARBON, "S355J2H"),
        *(("P235TR1", Family.CARBON, "P235TR1"), ("P265GH", Family.CARBON, "P265GH")),
        ("6061 Alum", Family.ALUMINIUM, "6061"),
        ("E235+N", Family.CARBON, "E235+N"),
        ("CRS", Family.CARBON, "carbon"),
        ("4130N", Family.ALLOY, "4130"),
        ("4130 cond. N", Family.ALLOY, "4130"),
        ("CM", Family.ALLOY, "4130"),
        ("chromoly 25CrMo4", Family.ALLOY, "25CRMO4"),
        ("Edelstahl", Family.STAINLESS, "stainless"),
        ("acier inoxydable 316L", Family.STAINLESS, "316L"),
        ("acero", Family.CARBON, "carbon"),
        ("aluminio 6082", Family.ALUMINIUM, "6082"),
        ("SS304", Family.STAINLESS, "304"),
        ("304/304L", Family.STAINLESS, "304/304L"),
        ("AL6061-T6", Family.ALUMINIUM, "6061-T6"),
        ("Duplex", Family.STAINLESS, "DUPLEX"),
        ("duplex 2205", Family.STAINLESS, "2205"),
        ("A554 MT304", Family.STAINLESS, "304"),
        ("MT-316L", Family.STAINLESS, "316L"),
        ("mild steel", Family.CARBON, "carbon"),
        ("4130", Family.ALLOY, "4130"),
        ("4130 DOM", Family.ALLOY, "4130"),
        ("A519 4130", Family.ALLOY, "4130"),
        ("chrome moly", Family.ALLOY, "4130"),
        ("304", Family.STAINLESS, "304"),
        (304.0, Family.STAINLESS, "304"),
        ("316l", Family.STAINLESS, "316L"),
        ("TP304 A269", Family.STAINLESS, "304"),
        ("T304 stainless steel", Family.STAINLESS, "304"),
        ("SS", Family.STAINLESS, "stainless"),
        ("1.4404", Family.STAINLESS, "1.4404"),
        ("17-4 stainless", Family.STAINLESS, "17-4 stainless"),
        ("6061-T6", Family.ALUMINIUM, "6061-T6"),
        ("6061 T6", Family.ALUMINIUM, "6061-T6"),
        ("6063", Family.ALUMINIUM, "6063"),
        ("EN AW-6060", Family.ALUMINIUM, "6060"),
        ("aluminum alloy 6061", Family.ALUMINIUM, "6061"),
        ("316 L", Family.STAINLESS, "316L"),
        ("AISI 304 L", Family.STAINLESS, "304L"),
        ("316 Ti", Family.STAINLESS, "316TI"),
        ("316 (1.4401)", Family.STAINLESS, "316/1.4401"),
        ("304 S/S", Family.STAINLESS, "304"),
        ("S.S.", Family.STAINLESS, "stainless"),
        ("M.S.", Family.CARBON, "carbon"),
        ("MS", Family.CARBON, "carbon"),
        ("C/S", Family.CARBON, "carbon"),
        ("cro-moly", Family.ALLOY, "4130"),
        ("Cr-Mo", Family.ALLOY, "4130"),
        ("A513 T5", Family.CARBON, "A513-5"),
        ("ASTM A513 Type 5", Family.CARBON, "A513-5"),
        ("A513-1A", Family.CARBON, "A513-1A"),
        ("1020/1026 DOM", Family.CARBON, "1020/1026"),
    ],
)
def test_grade_words_tell_the_family(text: object, family: Family, grade: str) -> None:
    reading = read_material(text)
    assert (reading.family, reading.grade) == (family, grade)


def test_the_reading_says_what_was_inferred() -> None:
    assert read_material("304").note == "304 taken as stainless"
    assert read_material("304", family="stainless").note == ""
    assert read_material("6061 T6").note == "6061 T6 read as aluminium 6061-T6"
    assert not read_material("6061 T6").literal


def test_a_grade_that_nobody_knows_stands_when_its_family_is_given() -> None:
    reading = read_material("X60", family="carbon")
    assert (reading.family, reading.grade) == (Family.CARBON, "X60")


def test_a_family_alone_is_enough() -> None:
    for empty in ("", None):
        assert read_material(empty, family="SS").grade == "stainless"


@pytest.mark.parametrize("value", ["X60", "", None, "304 6061", "carbon stainless", True, [], 1.5])
def test_what_names_no_family_or_two_is_refused(value: object) -> None:
    with pytest.raises(InputError, match="expected a material"):
        read_material(value)


@pytest.mark.parametrize("value", ["304 or 316", "304/316", "6061 or 6063", "1018 or 1020"])
def test_two_grades_of_which_one_must_be_chosen_are_refused(value: str) -> None:
    with pytest.raises(InputError, match="two grades at once"):
        read_material(value)


def test_a_grade_of_another_family_than_its_row_says_is_refused() -> None:
    with pytest.raises(InputError, match="304 is stainless, the row says carbon"):
        read_material("304", family="carbon")


@pytest.mark.parametrize(
    ("text", "family"),
    [
        ("Aluminum", Family.ALUMINIUM),
        ("stainless steel", Family.STAINLESS),
        ("alloy steel", Family.ALLOY),
        ("CS", Family.CARBON),
        ("4130", Family.ALLOY),
    ],
)
def test_families_are_called_many_names(text: str, family: Family) -> None:
    assert read_family(text) is family


@pytest.mark.parametrize("value", ["", None, "wood", "carbon alloy 304 ss"])
def test_what_is_no_family_is_refused(value: object) -> None:
    with pytest.raises(InputError, match="expected carbon, alloy, stainless or aluminium"):
        read_family(value)


@pytest.mark.parametrize(
    ("text", "surface"),
    [
        ("pickled", Surface.BRIGHT),
        ("scaled", Surface.SCALED),
        ("Hot Rolled", Surface.SCALED),
        ("bright", Surface.BRIGHT),
        ("mill finish", Surface.BRIGHT),
        ("polished", Surface.POLISHED),
    ],
)
def test_surfaces_are_called_many_names(text: str, surface: Surface) -> None:
    reading = read_surface(text)
    assert reading.surface is surface
    assert reading.literal == (text == surface)


@pytest.mark.parametrize(
    ("text", "surface"),
    [
        ("oiled", None),
        ("Lightly oiled", None),
        ("oil", None),
        ("geölt", None),
        ("bright, oiled", Surface.BRIGHT),
        ("Bright (oiled)", Surface.BRIGHT),
        ("oiled bright", Surface.BRIGHT),
        ("hot rolled and oiled", Surface.SCALED),
        ("pickled & oiled", Surface.BRIGHT),
        ("P&O", Surface.BRIGHT),
        ("HRPO", Surface.BRIGHT),
    ],
)
def test_oil_is_kept_apart_from_the_surface_below_it(text: str, surface: Surface | None) -> None:
    reading = read_surface(text)
    assert (reading.surface, reading.oiled) == (surface, True)
    assert text in reading.note


def test_what_is_no_surface_is_refused() -> None:
    for value in ("rusty", "oiled rusty", "", None, 3):
        with pytest.raises(InputError, match=r"bought with.*in the column Finish of Orders"):
            read_surface(value)


@given(st.text(max_size=70) | st.integers() | st.floats())
def test_no_cell_raises_anything_else(value: object) -> None:
    for read in (read_material, read_family, read_surface):
        with contextlib.suppress(InputError):
            read(value)


@pytest.mark.parametrize("text", ["T45", "A4"])
def test_a_grade_that_is_not_known_is_read_behind_its_family(text: str) -> None:
    with pytest.raises(InputError, match="write that before it"):
        read_material(text)
    assert read_material(f"alloy {text}").family == Family.ALLOY


@pytest.mark.parametrize(
    ("text", "family", "grade"),
    [
        ("1.0308", Family.CARBON, "1.0308"),
        ("1.0308+N", Family.CARBON, "1.0308+N"),
        (1.058, Family.CARBON, "1.0580"),
        (1.4301, Family.STAINLESS, "1.4301"),
        (1.441, Family.STAINLESS, "1.4410"),
        ("1,4404", Family.STAINLESS, "1.4404"),
        ("W.-Nr. 1.4571", Family.STAINLESS, "1.4571"),
        ("WNr.1.4462", Family.STAINLESS, "1.4462"),
        ("EN 1.4435", Family.STAINLESS, "1.4435"),
        ("316L/1.4435", Family.STAINLESS, "316L/1.4435"),
        ("X5CrNi18-10", Family.STAINLESS, "X5CRNI18-10"),
        ("X 2 CrNiMo 17 12 2", Family.STAINLESS, "X2CRNIMO17-12-2"),
        ("1.7218", Family.ALLOY, "1.7218"),
        ("AlMgSi0,5", Family.ALUMINIUM, "ALMGSI0.5"),
        ("3.3206", Family.ALUMINIUM, "3.3206"),
        ("St 37.4", Family.CARBON, "ST37.4"),
        ("6061T6", Family.ALUMINIUM, "6061-T6"),
        ("A-500 Gr. B", Family.CARBON, "A500 Gr B"),
    ],
)
def test_european_numbers_and_names_tell_the_family(
    text: object, family: Family, grade: str
) -> None:
    reading = read_material(text)
    assert (reading.family, reading.grade) == (family, grade)


@pytest.mark.parametrize("text", ["304 (1.4404)", "1.4301 / 316L", "E235 (1.0580)"])
def test_a_number_of_another_steel_than_stands_beside_it_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="two grades at once"):
        read_material(text)


@pytest.mark.parametrize("text", ["1.4375", "1.5", 1.75, "1.4903", "1,500"])
def test_a_size_is_no_steel_number_and_no_family_is_guessed(text: object) -> None:
    with pytest.raises(InputError, match="write that before it"):
        read_material(text)
