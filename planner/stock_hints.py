"""What to do about tube that is not in stock: often it is there under another name."""

from __future__ import annotations

from collections.abc import Sequence

from planner.orders import OrderLine
from planner.stock import StockItem, customer_in
from planner.tube import TubeSpec, spec_name
from planner.units import Unit, format_mm

_ALIKE_OD_NM = 100_000
_ALIKE_WALL_NM = 50_000
"""Tubes closer than this, 0.1 mm and 0.05 mm, are likely the same one written in another unit."""


def stock_hint(line: OrderLine, stock: Sequence[StockItem], unit: Unit) -> str:
    """The end of a sentence about an order line whose tube Stock does not have."""
    alike = [item.spec for item in stock if _alike(line.spec, item.spec)]
    free = [spec for spec in alike if _may_use(line, spec)]
    if free:
        return _written_alike(line.spec, free, unit)
    return _kept(alike, unit) if alike else "add sticks of it, or to buy, to Stock."


def _alike(spec: TubeSpec, other: TubeSpec) -> bool:
    return (
        other.family == spec.family
        and abs(other.od_nm - spec.od_nm) <= _ALIKE_OD_NM
        and abs(other.wall_nm - spec.wall_nm) <= _ALIKE_WALL_NM
    )


def _may_use(line: OrderLine, spec: TubeSpec) -> bool:
    """Whether tube is the shop's own, or of the customer for whom the line is."""
    return customer_in(spec.grade).casefold() in {"", line.customer.casefold()}


def _written_alike(spec: TubeSpec, alike: Sequence[TubeSpec], unit: Unit) -> str:
    names = _names(alike, unit)
    if spec_name(spec, unit) in names:
        exact = (f"{format_mm(s.od_nm, 3)} by {format_mm(s.wall_nm, 3)}" for s in (spec, alike[0]))
        return f"to the micrometre it is {' and in Stock '.join(exact)}: write both alike."
    return (
        f"Stock has {', '.join(names)}: if that is the same tube, write both alike; if it is "
        "another, add sticks of what is ordered to Stock."
    )


def _kept(alike: Sequence[TubeSpec], unit: Unit) -> str:
    """The hint where all tube like it is kept for other customers."""
    return (
        f"Stock has {', '.join(_names(alike, unit))}, which is kept for that customer alone: add "
        "sticks of the shop's own, or to buy, to Stock; or correct Customer in Orders, or Kept for "
        "in Stock."
    )


def _names(specs: Sequence[TubeSpec], unit: Unit) -> list[str]:
    return list(dict.fromkeys(spec_name(spec, unit) for spec in specs))
