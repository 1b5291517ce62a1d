"""Feeds in the units that shops write."""

import pytest

from planner_io.conversions import FEEDS, feed_mm_min


@pytest.mark.parametrize(
    ("value", "unit", "expected"),
    [
        (11.24, "ft/min", 3425.952),  # exact: 1 ft = 304.8 mm (NIST SP 811)
        (30, "in/min", 762.0),  # exact: 1 in = 25.4 mm (NIST SP 811)
        (2.5, "m/min", 2500.0),
        (10, "mm/s", 600.0),
    ],
)
def test_feeds_convert(value: float, unit: str, expected: float) -> None:
    assert feed_mm_min(value, unit) == pytest.approx(expected)


def test_only_units_of_the_table_are_taken() -> None:
    assert "9**9" not in FEEDS
    with pytest.raises(KeyError):
        feed_mm_min(1, "9**9 mm/min")
