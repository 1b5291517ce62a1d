"""Units against their legal definitions and a general-purpose units library."""

from __future__ import annotations

from typing import Any, cast

import pint
import pytest

from planner.units import NM_PER_FOOT, NM_PER_INCH, NM_PER_MM, format_inch, parse_length
from tests.checks.table import Check

NIST = "NIST SP 811 / international yard and pound agreement of 1959: 1 in = 25.4 mm"


# Any, as the registry's own types are partly unknown to a strict checker
UNITS = cast("Any", pint).UnitRegistry()


def _pint_nm(value: float, unit: str) -> float:
    return float(UNITS.Quantity(value, unit).to("nanometer").magnitude)


@pytest.mark.parametrize(
    ("text", "value", "unit"),
    [
        ("1.5 in", 1.5, "inch"),
        ("12' 3-1/4\"", 147.25, "inch"),
        ("5' 2-3/8\"", 62.375, "inch"),
        ("3734 mm", 3734, "mm"),
        ("2.5 cm", 2.5, "cm"),
        ("6 m", 6, "m"),
        ("20 ft", 20, "foot"),
        ("1/64 in", 1 / 64, "inch"),
    ],
)
def test_lengths_agree_with_pint(text: str, value: float, unit: str) -> None:
    """Source: pint, a general-purpose units library, tag L; it is handed numbers, never text."""
    assert parse_length(text).nm == pytest.approx(_pint_nm(value, unit), abs=0.5)


CHECKS = [
    Check("an inch", lambda: NM_PER_INCH / NM_PER_MM, 25.4, 0, NIST, "P"),
    Check("a foot", lambda: NM_PER_FOOT / NM_PER_MM, 304.8, 0, NIST, "P"),
    Check("1/64 in", lambda: parse_length("1/64").nm, 396_875, 0, NIST, "C"),
    Check("20 ft", lambda: parse_length("20 ft").nm / NM_PER_MM, 6096, 0, NIST, "C"),
    Check("6 m", lambda: parse_length("6 m").nm / NM_PER_INCH, 236.2205, 1e-4, NIST, "C"),
    Check("24 ft", lambda: parse_length("24'").nm / NM_PER_MM, 7315.2, 0, NIST, "C"),
]


@pytest.mark.parametrize("check", CHECKS, ids=str)
def test_lengths_agree_with_their_definitions(check: Check) -> None:
    check.hold()


@pytest.mark.parametrize(
    ("decimal", "printed"),
    [
        *((0.0313, '1/32"'), (0.0625, '1/16"'), (0.1094, '7/64"'), (0.3281, '21/64"')),
        *((0.4844, '31/64"'), (0.6719, '43/64"'), (0.8438, '27/32"'), (0.9531, '61/64"')),
    ],
)
def test_fractions_agree_with_the_decimal_equivalents_chart(decimal: float, printed: str) -> None:
    """Source: the decimal equivalents chart of every machinist's handbook, tag M."""
    assert format_inch(round(decimal * NM_PER_INCH), 64) == printed
