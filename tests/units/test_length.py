"""Lengths are read exactly as written, or refused with what was read and what was expected."""

from __future__ import annotations

import contextlib
import datetime as dt
import math
from fractions import Fraction
from unicodedata import numeric

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from planner.errors import InputError
from planner.units import NM_PER_INCH, NM_PER_MM, format_inch, format_mm, parse_length
from planner.units.numbers import VULGAR_FRACTIONS
from planner.units.reading import Unit

SIXTY_FOURTH = NM_PER_INCH // 64


@pytest.mark.parametrize(
    "text",
    [
        *('1-1/2"', "1 1/2", "1½", "1-½", "1 ½ in", "1.5", "1.5 inches", "3/2", "1 - 1/2 in."),
        *("1¹⁄₂", "3⁄2 in", "1–1/2″", " 1-1/2\u00a0in ", "0.125'", "1.50"),
    ],
)
def test_one_and_a_half_inches_in_many_hands(text: str) -> None:
    assert parse_length(text).nm == 38_100_000


@pytest.mark.parametrize(
    "text",
    [
        *("5' 2-3/8\"", "5'-2 3/8\"", "5′ 2⅜″", "5’ 2-3/8”", "5 ft 2-3/8 in", "5'2 3/8"),
        *("5 feet, 2.375 inches", "62-3/8", "5ft. 2-3/8in.", "5'2-3/8''", "5 FT 2-3/8 IN"),
    ],
)
def test_feet_and_inches_in_many_hands(text: str) -> None:
    assert parse_length(text).nm == 62 * NM_PER_INCH + 3 * NM_PER_INCH // 8


@pytest.mark.parametrize(
    ("text", "mm"),
    [
        *(("3734 mm", 3734), ("38.1mm", 38.1), ("6 m", 6000), ("2.5 cm", 25), ("6000 MM", 6000)),
        *(("1.5 metres", 1500), ("12 ft 3 in", 3733.8), ("20'", 6096), ("12 1/2 ft", 3810)),
        *(("6 000 mm", 6000), ("1.234,5 mm", 1234.5), ("1,234.5 mm", 1234.5), ("0,5 mm", 0.5)),
    ],
)
def test_metric_and_long_lengths(text: str, mm: float) -> None:
    assert parse_length(text).nm == pytest.approx(mm * NM_PER_MM, abs=0)


def test_a_bare_number_is_in_the_shops_own_unit() -> None:
    assert parse_length("48").nm == parse_length(48).nm == parse_length(48.0).nm
    assert parse_length("48", default="mm").nm == parse_length(48, default="mm").nm == 48_000_000
    assert parse_length('48"', default="mm").nm == 48 * NM_PER_INCH


def test_a_number_cell_is_what_it_shows() -> None:
    assert parse_length(0.065).nm == 1_651_000
    assert parse_length(0.1 + 0.2, default="mm").nm == 300_000


@pytest.mark.parametrize("char", VULGAR_FRACTIONS)
def test_every_unicode_fraction_is_read(char: str) -> None:
    text = char if char != "⅟" else "⅟64"
    if char == "↉":
        with pytest.raises(InputError):
            parse_length(text)
        return
    value = Fraction(1, 64) if char == "⅟" else Fraction(numeric(char)).limit_denominator(10)
    assert parse_length(f"2{text}").nm == round((2 + value) * NM_PER_INCH)


@pytest.mark.parametrize(
    "value",
    [
        *("", " ", "-3", "-1/2", "0", "0'", "nan", "inf", "9**9", "1/0", "1-1/0", "1e3", "0x10"),
        *("1½2", "1 3/2", "1-1/2-", "1/2/3", "--", '"', "'", "5''3", "1,234", "12 ft 3 cm", "ten"),
        *("6'000", "2.5' 3", "5' 2\" 3", "1.2.3", "1,2,3", "(1)", "1+1", "1*1", "__import__", "٣"),
        *("1" * 65, "9" * 20, "1000 m", "0.001 mm", "5 kg", "3 yd", "#REF!", "=1+1", "1 1 1/2"),
        *(None, True, False, math.nan, math.inf, -1, 0, -0.5, 10**20, 1e300, [1], {}),
        *(dt.date(2027, 1, 2), dt.datetime(2027, 1, 2), dt.time(1, 30)),
    ],
)
def test_what_is_no_length_is_refused_with_what_was_read(value: object) -> None:
    with pytest.raises(InputError) as caught:
        parse_length(value)
    (finding,) = caught.value.findings
    assert finding.expected == 'a length such as 1-1/2", 12\' 3-1/4" or 3734 mm'
    assert finding.read is not None
    assert len(finding.read) <= 40


@pytest.mark.parametrize("text", ["5' 4/4", "5' 5/4\"", "1 4/4", "1-5/4", "5' 3 4/4", "1 9/8 mm"])
def test_a_fraction_of_one_or_more_after_something_larger_is_refused(text: str) -> None:
    with pytest.raises(InputError, match="after a larger number is one or more"):
        parse_length(text)


def test_a_fraction_alone_may_be_more_than_one() -> None:
    assert parse_length("5/4").nm == parse_length("1-1/4").nm
    assert parse_length("5/4 ft").nm == parse_length("1' 3").nm


def test_a_number_too_long_to_print_is_refused_in_short() -> None:
    with pytest.raises(InputError, match="a huge number"):
        parse_length(10**5000)


def test_a_cell_that_became_a_date_is_told_so() -> None:
    with pytest.raises(InputError, match="format the cell as text"):
        parse_length(dt.date(2027, 1, 2))


def test_an_allowance_may_be_nothing() -> None:
    assert parse_length("0", zero_ok=True).nm == parse_length(0, zero_ok=True).nm == 0
    with pytest.raises(InputError):
        parse_length("-1", zero_ok=True)


def test_a_fraction_without_unit_is_of_an_inch_in_a_metric_shop_too() -> None:
    reading = parse_length("46-13/16", default="mm")
    assert reading.nm == parse_length("46-13/16").nm
    assert reading.note == "a fraction, so read in inches"
    assert parse_length("46-13/16 mm", default="mm").nm == 46_812_500


def test_a_point_before_a_fraction_joins_it_as_a_dash_does() -> None:
    for text in ("1.1/4", "1. 1/4", '1.1/4"'):
        assert parse_length(text).nm == parse_length("1-1/4").nm
    with pytest.raises(InputError, match="one or more"):
        parse_length("1.5/4")


@pytest.mark.parametrize(
    ("text", "note"),
    [
        ("1,5", "decimal comma read as 1.5"),
        ("6 000 mm", "read as 6000"),
        ("1-1/3", "1/3 is not a fraction of an inch rule"),
        ("0,125", "decimal comma read as 0.125"),
        ("1.1/4", "1.1/4 read as 1-1/4"),
        ("5' 2.3/8\"", "2.3/8 read as 2-3/8"),
        ("1-1/256", "1/256 is not a fraction of an inch rule"),
        ("5' 12\"", "the inches after the feet make a foot or more"),
        ("5' 14\"", "the inches after the feet make a foot or more"),
    ],
)
def test_what_had_to_be_interpreted_says_how(text: str, note: str) -> None:
    reading = parse_length(text)
    assert (reading.literal, reading.note) == (False, note)


@pytest.mark.parametrize("text", ["24/36", "12/24 in", "36/48"])
def test_two_sizes_with_a_bar_between_are_no_fraction(text: str) -> None:
    with pytest.raises(InputError, match="two sizes, or one"):
        parse_length(text)
    assert parse_length("5/4").nm == parse_length("1-1/4").nm


def test_plain_writing_needs_no_note() -> None:
    for text in ("1-1/2", "12' 3-1/4\"", "3734 mm", ".065"):
        assert (parse_length(text).literal, parse_length(text).note) == (True, "")


@given(st.text(max_size=80), st.sampled_from(["inch", "mm"]))
@example("1⁄", "inch")
@example("²/₃", "mm")
@example("⅟⅟", "inch")
@example("0/0", "inch")
def test_no_text_raises_anything_else(text: str, unit: Unit) -> None:
    with contextlib.suppress(InputError):
        assert parse_length(text, default=unit).nm > 0


@given(st.text(alphabet="0123456789 .,/-'\"½ftinm", max_size=20))
def test_no_text_that_looks_like_a_length_raises_anything_else(text: str) -> None:
    with contextlib.suppress(InputError):
        assert parse_length(text).nm > 0


@given(st.integers() | st.floats() | st.booleans() | st.none())
def test_no_cell_raises_anything_else(value: object) -> None:
    with contextlib.suppress(InputError):
        assert parse_length(value).nm > 0


@given(st.integers(1, 64 * 3_900))
def test_sixty_fourths_survive_being_printed_and_read(ticks: int) -> None:
    nm = ticks * SIXTY_FOURTH
    reading = parse_length(format_inch(nm, 64))
    assert (reading.nm, reading.literal) == (nm, True)


@given(st.integers(1, 1_000_000))
def test_tenths_of_millimetres_survive_being_printed_and_read(tenths: int) -> None:
    nm = tenths * NM_PER_MM // 10
    assert parse_length(format_mm(nm)).nm == nm


@given(st.integers(0, 200), st.integers(1, 31), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_a_fraction_means_the_same_however_it_is_joined(whole: int, over: int, under: int) -> None:
    over %= under
    exact = round((whole + Fraction(over, under)) * NM_PER_INCH)
    for text in (
        f"{whole}-{over}/{under}",
        f"{whole} {over}/{under} in",
        f'{whole}–{over}⁄{under}"',
    ):
        if exact:
            assert parse_length(text).nm == exact


@pytest.mark.parametrize("text", ["1'850", "2’450", "1'850,5"])
def test_an_apostrophe_for_thousands_is_not_taken_for_feet(text: str) -> None:
    with pytest.raises(InputError, match="if ' stands for thousands, write"):
        parse_length(text, default="mm")


def test_a_dash_that_could_be_that_of_a_tolerance_is_told() -> None:
    found = parse_length("36 -1/16")
    assert (found.nm, found.literal) == (parse_length("36-1/16").nm, False)
    assert found.note == "read as 36-1/16, and no tolerance"
    assert parse_length("36 - 1/16").literal
