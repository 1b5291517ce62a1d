"""Build stock items from the rows of the Stock sheet."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date

from planner.errors import InputError
from planner.shop import Recipe
from planner.stock import StockItem, customer_in
from planner.tube import Family, TubeSpec, mass_g
from planner.units import NM_PER_FOOT, NM_PER_M, format_length
from planner.units.reading import refuse
from planner_io.workbook import cells, dates
from planner_io.workbook.cells import Parsed
from planner_io.workbook.examples import is_example
from planner_io.workbook.grid import Value, address
from planner_io.workbook.joined import apart
from planner_io.workbook.names import find_name, listed, plain_name
from planner_io.workbook.oil import without_oil
from planner_io.workbook.owners import kept_for, owner
from planner_io.workbook.report import Place, Report
from planner_io.workbook.rows import Habits, RowReader
from planner_io.workbook.spec import read_spec, walls_missing
from planner_io.workbook.table import Row, Table
from planner_io.workbook.table_told import missing_columns

CENTS_PER_KG = {
    Family.CARBON: 320,
    Family.ALLOY: 900,
    Family.STAINLESS: 850,
    Family.ALUMINIUM: 1_100,
}
"""What tube is taken to cost where Stock gives no price: invented round figures, for comparing
sticks of different lengths only."""

SHORTEST_NM = NM_PER_FOOT * 5 // 2
"""Shorter sticks are remnants, or a slip of the unit: 24 for 24 ft, 6 for 6 m."""

_WITHOUT_LIMIT = frozenset(
    map(
        plain_name,
        (
            *("as needed", "as required", "unlimited", "no limit", "infinite", "any"),
            *("buy", "to buy", "purchase", "order", "to order", "special order", "not stocked"),
            *("zu bestellen", "bestellen", "auf Bestellung", "nach Bedarf"),
            *("à commander", "sur commande", "a pedir", "por pedir", "bajo pedido"),
        ),
    )
)
_NO_PRICE = frozenset(
    map(plain_name, ("as quoted", "quote", "TBD", "tba", "call", "on request", "market", "POA"))
)
_DROP = re.compile(r"\b(?:drop|remnant|rem|off-?cut|cut-?off)s?\b:?", re.IGNORECASE)
"""In a length: that it is of a remnant."""
_SEVERAL = re.compile(
    r"[0-9][^@]*@ ?[0-9]|[0-9] ?['\"]? ?(?:-|–|to) ?[0-9]+ ?(?:ft|m|feet|')"
    r"|\br ?/ ?l\b|\brandom\b|[0-9]['\"]? ?[,;&] ?[0-9]",
    re.IGNORECASE,
)
"""Lengths of several sticks, as `3 @ 20', 2 @ 14'`, `17-24 ft` or `20' R/L` (random lengths)."""


def read_stock(
    table: Table, recipes: Iterable[Recipe], house: Habits, report: Report
) -> tuple[StockItem, ...]:
    """The stock items of a sheet; a row that cannot be used is reported and left out."""
    table = apart(table, house, report)
    if missing_columns(table, report) or _counts_length(table, report):
        return ()
    rows = [row for row in table.rows() if not is_example(row)]
    if walls_missing(table, rows, house, report):
        return ()
    house = replace(house, dates=replace(house.dates, epoch=table.grid.epoch))
    names = {plain_name(recipe.name): recipe.name for recipe in recipes}
    keys: dict[str, Row] = {}
    items: list[StockItem] = []
    for row in table.rows():
        if is_example(row):
            report.note("the example row is left out", row.start)
            continue
        item = _item(RowReader(row, report, house), names, keys)
        if item:
            items.append(item)
    return tuple(items)


def _counts_length(table: Table, report: Report) -> bool:
    """Whether what is there is told by its length in all, which says nothing of sticks."""
    head = table.headers.get("count")
    if head is None or not head.unit:
        return False
    report.error(
        Place(table.grid.name, address(table.header_row, head.index)),
        f"“{head.text}” says how much there is in {head.unit}, and sticks are needed: write how "
        "many there are, under Count",
        head.text,
        "a count of sticks",
    )
    return True


def _item(reader: RowReader, recipes: dict[str, str], keys: dict[str, Row]) -> StockItem | None:
    tube = read_spec(reader)
    spec = tube.spec
    length_nm = _length(reader)
    key = _key(reader, spec, length_nm, keys)
    count = reader.take("count", _count, None)
    arrives = reader.take("arrives", lambda value: _arrives(value, reader.house), None)
    lead_days = reader.whole("lead_days", 0, 0, 730, "a number of days")
    remnant = reader.take("remnant", cells.yes_no, fallback=_is_drop(reader))
    finished = reader.take("finished", lambda value: _finish(value, recipes), _Finished(None))
    location = reader.text("location")
    customer = reader.take("owner", owner, "") or _as_on_its_tag(reader)
    price_cents = reader.take("price", _price, -1)
    if reader.failed or spec is None:
        return None
    return StockItem(
        key=key,
        spec=kept_for(spec, customer),
        oiled=tube.oiled or finished.oiled,
        length_nm=length_nm,
        price_cents=_stick_price(reader, spec, length_nm, price_cents),
        count=1 if remnant and count is None else count,
        arrives=arrives,
        lead_days=lead_days,
        remnant=remnant,
        finished=finished.recipe,
        location=location,
    )


def _as_on_its_tag(reader: RowReader) -> str:
    """The customer whose tube it is, where the grade says so as tags of such remnants do."""
    said = reader.raw("grade") or reader.raw("material")
    name = customer_in(cells.text(said)) if said is not None else ""
    if name:
        reader.report.note(f"kept for {name}, as its grade says", reader.row.place("owner"))
    return name


def _is_drop(reader: RowReader) -> bool:
    """Whether the length says that it is of a remnant, as `drop 63"` does."""
    value = reader.raw("length")
    return isinstance(value, str) and bool(_DROP.search(value))


def _length(reader: RowReader) -> int:
    """The length of a stick, which is refused where it can only be in feet or metres."""

    def parse(value: Value) -> Parsed[int]:
        written = _DROP.sub("", value).strip() if isinstance(value, str) else value
        try:
            found = cells.length(written, reader.unit("length"), reader.house.unit)
        except InputError:
            if not _SEVERAL.search(cells.text(value)):
                raise
            why = "sticks of several lengths are a row each, with how many there are"
            raise refuse(cells.text(value), "the length of one stick", why) from None
        note = f"“{value}” read as a remnant of {written}" if written != value else found.note
        return Parsed(found.value, note)

    length_nm = reader.take("length", parse, 0)
    if 0 < length_nm < SHORTEST_NM and reader.raw("remnant") is None and not _is_drop(reader):
        written = cells.text(reader.row.values["length"])
        other = "ft" if reader.house.unit == "inch" else "m"
        reader.fail(
            "length",
            f"{format_length(length_nm, reader.house.unit)} is no length of a stick; if it is in "
            f"{other}, write {written} {other}, or {other} in the header",
            written,
            "the length of one stick",
        )
    return length_nm


def _key(reader: RowReader, spec: TubeSpec | None, length_nm: int, keys: dict[str, Row]) -> str:
    key = reader.text("key")
    if not key and spec:
        key = f"row {reader.row.number}, {format_length(length_nm, reader.house.unit)}"
        reader.report.note("rows without a name called by their row", reader.row.start)
    first = keys.setdefault(key, reader.row)
    if key and first is not reader.row:
        reader.fail(
            "key",
            f"{key} stands in row {first.number} already; give this row another name",
            key,
            "a name of its own",
        )
    return key


def _count(value: Value) -> Parsed[int | None]:
    if plain_name(cells.text(value)) in _WITHOUT_LIMIT or value == "∞":
        return Parsed(None)
    found = cells.whole(value, 0, 100_000, "a number of sticks, or as needed")
    return Parsed(found.value, found.note)


def _price(value: Value) -> Parsed[int]:
    if plain_name(cells.text(value)) in _NO_PRICE:
        return Parsed(-1, f"“{value}” read as no price")
    return cells.cents(value)


def _arrives(value: Value, house: Habits) -> Parsed[date | None]:
    if isinstance(value, str) and plain_name(value) in {"now", "here", "in stock", "on hand", ""}:
        return Parsed(None)
    found = dates.day(value, house.dates)
    return Parsed(found.value, found.note)


@dataclass(frozen=True)
class _Finished:
    recipe: str | None
    oiled: bool = False


def _finish(value: Value, recipes: dict[str, str]) -> Parsed[_Finished]:
    name = cells.text(value)
    rest, oiled = without_oil(name)
    if oiled and not rest:
        return Parsed(_Finished(None, oiled), f"{name} is no finish by belt: read as none, oiled")
    found = _recipe(rest if oiled else name, recipes)
    return Parsed(_Finished(found.value, oiled), found.note)


def _recipe(name: str, recipes: dict[str, str]) -> Parsed[str | None]:
    if cells.is_nothing(name) or name.lower() == "no":
        return Parsed(None)
    match = find_name(name, recipes)
    if match is None:
        raise refuse(name, f"none or a finish that Recipes has ({listed(recipes.values())})")
    return Parsed(match.value, f"finish “{name}” read as {match.value}" if match.guessed else "")


def _stick_price(reader: RowReader, spec: TubeSpec, length_nm: int, price_cents: int) -> int:
    """The price of one stick, from the price by length or by weight where there is no other."""
    if price_cents < 0:
        reader.report.note(
            "no price: counted by weight, to compare lengths with each other", reader.row.start
        )
        return round(mass_g(spec, length_nm) * CENTS_PER_KG[spec.family] / 1000)
    per_nm = {"/ft": NM_PER_FOOT, "ft": NM_PER_FOOT, "/m": NM_PER_M, "m": NM_PER_M}
    unit = reader.unit("price")
    return round(price_cents * length_nm / per_nm[unit]) if unit in per_nm else price_cents
