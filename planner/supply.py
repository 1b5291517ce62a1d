"""Whether the sticks of a week can be enough: what is told before any cut list is made."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from planner.blank_checks import located
from planner.errors import Finding, Severity
from planner.material import saw_settings
from planner.orders import OrderLine, sawn_first
from planner.records import Blank
from planner.shop import Shop
from planner.sticks import longest_piece_nm, sticks_for
from planner.stock import StockItem
from planner.tube import TubeSpec, spec_name
from planner.units import format_limit


def too_little(
    orders: Sequence[OrderLine],
    blanks: Mapping[str, Blank],
    stock: Sequence[StockItem],
    shop: Shop,
) -> Iterator[Finding]:
    """A warning for each order line of a tube spec whose sticks are shorter, all together, than
    its pieces with their saw cuts. Sticks that are bought as needed are always enough."""
    by_spec: dict[TubeSpec, list[OrderLine]] = {}
    for line in orders:
        if line.key in blanks and not _is_endless(line, blanks[line.key], stock, shop):
            by_spec.setdefault(line.spec, []).append(line)
    for spec, lines in by_spec.items():
        text = _lack(spec, lines, blanks, stock, shop)
        for line in lines if text else ():
            yield located(line, Severity.WARNING, f"Line {line.key}: {text}")


def _items(
    line: OrderLine, blank: Blank, stock: Sequence[StockItem], shop: Shop
) -> tuple[StockItem, ...]:
    return sticks_for(shop, line.spec, line.recipe, sawn_first(blank.steps), stock)


def _is_endless(line: OrderLine, blank: Blank, stock: Sequence[StockItem], shop: Shop) -> bool:
    saw = saw_settings(shop, line.spec)
    return any(
        item.count is None and longest_piece_nm(saw, item.length_nm) >= blank.length_nm
        for item in _items(line, blank, stock, shop)
    )


def _lack(
    spec: TubeSpec,
    lines: Sequence[OrderLine],
    blanks: Mapping[str, Blank],
    stock: Sequence[StockItem],
    shop: Shop,
) -> str:
    """What is too little, in words; empty where the lengths alone say nothing."""
    saw, house = saw_settings(shop, spec), shop.house
    items = {
        item.key: item for line in lines for item in _items(line, blanks[line.key], stock, shop)
    }
    need_nm = sum(
        blanks[line.key].quantity * (blanks[line.key].length_nm + saw.kerf_nm) for line in lines
    )
    have_nm = sum(
        (item.count or 0) * (longest_piece_nm(saw, item.length_nm) + saw.kerf_nm)
        for item in items.values()
    )
    if need_nm <= have_nm:
        return ""
    need, have = (format_limit(nm, house.unit, house.denominator) for nm in (need_nm, have_nm))
    return (
        f"there is too little {spec_name(spec, house.unit)}: the pieces with their saw cuts take "
        f"{need}, and the sticks in Stock give {have}, so that some are left out; enter more in "
        "Stock, or clear Count there for sticks that are bought as needed."
    )
