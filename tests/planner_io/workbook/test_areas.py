"""Areas and factors of the Belts sheet."""

import pytest

from planner.errors import InputError
from planner.tube import Family
from planner.units import Unit
from planner_io.workbook.areas import area, factors, show_area


@pytest.mark.parametrize(
    ("value", "unit", "house", "cm2"),
    [
        ("1 sq ft", "", "mm", 929),
        ("20 m2", "ft2", "inch", 200_000),
        (2.5, "m2", "inch", 25_000),
        ("1000", "", "inch", 929_030),
        ("0.5 M²", "", "inch", 5_000),
    ],
)
def test_an_area_is_read_by_its_own_unit_then_the_headers_then_the_shops(
    value: str | float, unit: str, house: Unit, cm2: int
) -> None:
    # 1 ft² is 929.0304 cm² exactly, as the inch is 25.4 mm (NIST SP 811, appendix B).
    assert area(value, unit, house).value == cm2


@pytest.mark.parametrize("cm2", [1, 929, 92_903, 123_457, 200_000])
def test_an_area_is_shown_as_it_is_read(cm2: int) -> None:
    assert area(show_area(cm2, "inch"), "", "inch").value == cm2
    assert area(show_area(cm2, "mm"), "", "mm").value == cm2


@pytest.mark.parametrize("value", ["many", "20 kg", "-3 m²", "1e9 m²"])
def test_what_is_no_area_is_refused(value: str) -> None:
    with pytest.raises(InputError):
        area(value, "", "inch")


def test_factors_are_read_by_family_and_refused_without_one() -> None:
    assert factors("304 stainless: 1.5; carbon ×0.8").value == {
        Family.STAINLESS: 1.5,
        Family.CARBON: 0.8,
    }
    for wrong in ("stainless", "stainless 0", "wood 2", "stainless 90"):
        with pytest.raises(InputError):
            factors(wrong)
