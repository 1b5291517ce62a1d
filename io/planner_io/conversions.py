"""Conversions between known units, by pint.

Only names from the table below reach the library; what somebody typed is matched against it
first, because a unit library evaluates whatever text it is given.
"""

from __future__ import annotations

from functools import cache
from typing import Any

FEEDS = {
    "mm/min": "millimeter / minute",
    "mm/s": "millimeter / second",
    "m/min": "meter / minute",
    "m/s": "meter / second",
    "in/min": "inch / minute",
    "ipm": "inch / minute",
    "ft/min": "foot / minute",
    "fpm": "foot / minute",
}
"""Units of a feed as shops write them."""


@cache
def _registry() -> Any:  # pint types its quantities as unknown
    import pint  # noqa: PLC0415 - only feeds with a unit need it

    library: Any = pint
    return library.UnitRegistry()


def feed_mm_min(value: float, unit: str) -> float:
    """A feed in millimetres a minute; KeyError for a unit that is not in `FEEDS`.

    >>> round(feed_mm_min(10, "ft/min"), 3)
    3048.0
    """
    return float(_registry().Quantity(value, FEEDS[unit]).to(FEEDS["mm/min"]).magnitude)
