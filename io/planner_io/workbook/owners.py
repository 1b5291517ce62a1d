"""Tube that customers brought: it is cut for their own order lines, and for nobody else's.

Such tube is told from the shop's own by its grade, `304L for Brewery`, so that whatever plans, cuts
and prints keeps the two apart.
"""

from __future__ import annotations

from collections.abc import Iterable

from planner.orders import OrderLine
from planner.stock import FOR_CUSTOMER, StockItem, customer_in
from planner.tube import TubeSpec
from planner.units.reading import refuse
from planner_io.workbook import cells
from planner_io.workbook.cells import Parsed
from planner_io.workbook.grid import Value
from planner_io.workbook.names import listed, plain_name
from planner_io.workbook.report import Place, Report

_NOBODY = frozenset(
    map(plain_name, ("own", "ours", "us", "house", "stock", "shop", "all", "any", "anybody", "no"))
)
_SOMEBODY = frozenset(
    map(
        plain_name,
        ("yes", "y", "x", "customer", "customer's", "customers", "cust", "theirs", "customer own"),
    )
)


def owner(value: Value) -> Parsed[str]:
    """Whose tube it is; empty for the shop's own.

    Raises InputError for a cell that says no more than that a customer brought it.
    """
    name = cells.text(value)
    plain = plain_name(name)
    if plain in _SOMEBODY:
        raise refuse(name, "the customer's name as in Orders, or blank for tube of the shop's own")
    return Parsed("" if cells.is_nothing(name) or plain in _NOBODY else name)


def kept_for(spec: TubeSpec, customer: str) -> TubeSpec:
    """Tube that this customer brought; the spec itself where nobody did."""
    return (
        spec.model_copy(update={"grade": f"{spec.grade}{FOR_CUSTOMER}{customer}"})
        if customer
        else spec
    )


def seen_by(stock: Iterable[StockItem], customer: str) -> tuple[StockItem, ...]:
    """The stock of which an order of this customer may be cut, each item with its plain grade."""
    every = ((item, *_parted(item.spec)) for item in stock)
    return tuple(
        item.model_copy(update={"spec": spec})
        for item, spec, name in every
        if not name or plain_name(name) == plain_name(customer)
    )


def as_brought(spec: TubeSpec, stock: Iterable[StockItem], customer: str) -> tuple[TubeSpec, str]:
    """The spec of the tube that this customer brought for it, and how that is told; the spec itself
    where the customer brought none."""
    for item in stock:
        plain, name = _parted(item.spec)
        if name and plain == spec and plain_name(name) == plain_name(customer):
            return item.spec, f"cut from the tube that {name} brought, as in Stock"
    return spec, ""


def tell_idle_tube(stock: Iterable[StockItem], orders: Iterable[OrderLine], report: Report) -> None:
    """Warn of tube kept for somebody for whom no order line is."""
    customers = {plain_name(line.customer) for line in orders}
    names = dict.fromkeys(name for item in stock if (name := _parted(item.spec)[1]))
    idle = [name for name in names if plain_name(name) not in customers]
    if idle:
        report.warn(
            Place("Stock"),
            f"tube is kept for {listed(idle)}, for whom no order line is; write the name as under "
            "Customer in Orders if one is",
        )


def _parted(spec: TubeSpec) -> tuple[TubeSpec, str]:
    """A spec with its plain grade, and whose tube it is; empty for the shop's own."""
    name = customer_in(spec.grade)
    return spec.model_copy(update={"grade": spec.grade.partition(FOR_CUSTOMER)[0]}), name
