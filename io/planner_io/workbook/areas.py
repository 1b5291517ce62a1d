"""Areas of tube that a belt finishes, and factors by material family."""

from __future__ import annotations

import re

from planner.tube import Family
from planner.units import Unit
from planner.units.reading import refuse
from planner_io.workbook import cells
from planner_io.workbook.cells import Parsed
from planner_io.workbook.grid import Value
from planner_io.workbook.materials import read_family

CM2 = {"ft2": 12 * 12 * 2.54 * 2.54, "m2": 10_000.0}
"""Square centimetres in each unit of area."""
MOST_CM2 = 10**8
MOST_FACTOR = 20.0

_UNITS = {
    **dict.fromkeys(("ft²", "ft2", "sq ft", "sqft", "square feet"), "ft2"),
    **dict.fromkeys(("m²", "m2", "sq m", "sqm", "square metres", "square meters"), "m2"),
}
_WITH_UNIT = re.compile(rf"(.*?)\s*({'|'.join(sorted(_UNITS, key=len, reverse=True))})\.?")
_FACTOR = re.compile(r"(.+?)\s*[:=×x*]?\s*([0-9]*\.?[0-9]+)")


def area(value: Value, unit: str, house: Unit) -> Parsed[int]:
    """An area in square centimetres; `unit` is the header's. A bare number is in square feet in a
    shop of inches, in square metres otherwise.

    >>> area("20 m²", "", "inch").value, area(100, "", "inch").value, area(100, "m2", "inch").value
    (200000, 92903, 1000000)
    """
    expected = "an area such as 200 ft² or 20 m²"
    shown = cells.text(value).lower()
    named = _WITH_UNIT.fullmatch(shown)
    own = _UNITS[named[2]] if named else unit if unit in CM2 else ""
    number = cells.decimal(named[1] if named else value, expected)
    found = round(number.value * CM2[own or ("ft2" if house == "inch" else "m2")])
    if not 0 <= found <= MOST_CM2:
        raise refuse(cells.text(value), expected)
    return Parsed(found, number.note)


def factors(value: Value) -> Parsed[dict[Family, float]]:
    """Families, each with how much faster it wears a belt.

    >>> factors("stainless 1.5, aluminum 0.8").value == {
    ...     Family.STAINLESS: 1.5, Family.ALUMINIUM: 0.8}
    True
    """
    found: dict[Family, float] = {}
    for part in cells.split_list(cells.text(value)):
        match = _FACTOR.fullmatch(part)
        factor = float(match[2]) if match else 0.0
        if match is None or not 0 < factor <= MOST_FACTOR:
            raise refuse(cells.text(value), "families with a factor each, such as stainless 1.5")
        found[read_family(match[1])] = factor
    return Parsed(found)


def show_area(cm2: int, unit: Unit) -> str:
    """An area as it is typed, without loss.

    >>> show_area(200_000, "mm"), show_area(92_903, "inch")
    ('20 m²', '100 ft²')
    """
    name, mark = ("ft2", "ft²") if unit == "inch" else ("m2", "m²")
    number = f"{cm2 / CM2[name]:.4f}"
    short = f"{round(float(number), 2):.2f}"
    exact = short if round(float(short) * CM2[name]) == cm2 else number
    return f"{exact.rstrip('0').rstrip('.')} {mark}"
