"""Lengths are printed as the tape shows them, sizes as the catalogue names them."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.units import (
    NM_PER_INCH,
    format_both,
    format_decimal_inch,
    format_inch,
    format_length,
    format_mm,
    format_size,
    parse_length,
)


@pytest.mark.parametrize(
    ("inches", "printed"),
    [
        *(("1.03125", '1-1/32"'), ("0.5", '1/2"'), ("46.834", '46-27/32"'), ("48", '48"')),
        *(("0", '0"'), ("0.01", '0"'), ("119.99", "10' 0\""), ("147.25", "12' 3-1/4\"")),
        *(("119.9", '119-29/32"'), ("240", "20' 0\""), ("1.984375", '2"'), ("-0.75", '-3/4"')),
    ],
)
def test_inches_are_reduced_fractions(inches: str, printed: str) -> None:
    assert format_inch(round(Fraction(inches) * NM_PER_INCH)) == printed


def test_what_lies_half_way_between_two_marks_goes_up() -> None:
    sixty_fourth = parse_length("1/64").nm
    assert format_inch(sixty_fourth) == '1/32"'
    assert format_inch(5 * sixty_fourth) == '3/32"'
    assert format_mm(50_000) == "0.1 mm"


def test_what_is_rounded_to_nothing_has_no_sign() -> None:
    assert (format_inch(-1_000), format_mm(-1_000)) == ('0"', "0 mm")


def test_the_denominator_is_the_shops() -> None:
    nm = round(Fraction("46.834") * NM_PER_INCH)
    assert [format_inch(nm, d) for d in (16, 64)] == ['46-13/16"', '46-53/64"']


@given(st.integers(0, 9 * 10**10), st.sampled_from([8, 16, 32, 64]))
def test_a_printed_length_is_within_half_a_mark(nm: int, denominator: int) -> None:
    back = parse_length(format_inch(nm, denominator), zero_ok=True).nm
    assert abs(back - nm) * 2 * denominator <= NM_PER_INCH


def test_sizes_are_never_rounded_to_a_fraction() -> None:
    printed = [
        format_size(parse_length(t).nm, "inch") for t in (".065", "1.9", "2", "1/64", "1.66")
    ]
    assert printed == ['.065"', '1.900"', '2"', '1/64"', '1.660"']


def test_metric_prints_carry_no_empty_decimals() -> None:
    printed = [format_mm(n) for n in (3_734_000_000, 38_100_000, 49_000, 0)]
    assert printed == ["3734 mm", "38.1 mm", "0 mm", "0 mm"]
    assert format_mm(1_651_000, 2) == "1.65 mm"
    assert format_mm(100_000_000, 0) == "100 mm"
    assert format_mm(-1_500_000) == "-1.5 mm"


def test_a_length_is_printed_in_the_shops_unit_and_in_both() -> None:
    nm = parse_length("1-1/2").nm
    assert (format_length(nm, "inch"), format_length(nm, "mm")) == ('1-1/2"', "38.1 mm")
    assert format_both(nm, "inch") == '1-1/2" (38.1 mm)'
    assert format_both(nm, "mm") == '38.1 mm (1-1/2")'


def test_decimal_inches_drop_the_leading_zero() -> None:
    assert format_decimal_inch(parse_length(".0495").nm) == '.050"'
    assert format_decimal_inch(parse_length("10.9").nm) == '10.900"'
