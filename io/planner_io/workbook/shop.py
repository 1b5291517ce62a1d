"""Build the shop from its own sheets, the starter shop filling in for those that are missing."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import TypeVar

from planner.errors import InputError
from planner.shop import Person, Recipe, Shop, Station, StationKind
from planner.units import Unit
from planner_io.workbook.columns import SheetSpec
from planner_io.workbook.find import find_sheet, find_table
from planner_io.workbook.grid import Grid, address
from planner_io.workbook.house import Settings, read_settings, with_settings
from planner_io.workbook.kinds import build, choice_of, read_fields
from planner_io.workbook.names import listed, plain_name
from planner_io.workbook.recipe_rows import read_recipes
from planner_io.workbook.report import Place, Report
from planner_io.workbook.rows import Habits, RowReader
from planner_io.workbook.shop_rows import (
    Names,
    belt,
    changeovers,
    hours,
    mounted,
    person,
    rail,
    tool,
    wheels,
)
from planner_io.workbook.shop_sheets import (
    CHANGEOVERS,
    HOURS,
    PEOPLE,
    SETTINGS,
    SHOP_SHEETS,
    STATIONS,
)
from planner_io.workbook.starting import Starter, starter_for
from planner_io.workbook.table import Table
from planner_io.workbook.table_told import missing_columns
from planner_io.workbook.tooling_sheets import BELTS, MOUNTED, RAILS, RECIPES, TOOLING, WHEELS

T = TypeVar("T")

_OF_HOURS = frozenset(
    map(plain_name, ("Hours", "Shift", "Time", "Times", "Working hours", "Days", "Available"))
)
"""Headers of what the sheet Hours holds."""


@dataclass(frozen=True)
class ShopReading:
    """The shop, and how its cells and those of the orders are to be read."""

    shop: Shop
    house: Habits
    starter: Starter
    """What fills in for sheets that are missing."""


def read_shop(
    files: Sequence[Sequence[Grid]],
    report: Report,
    start: date | None = None,
    unit: Unit = "inch",
    orders: Sequence[Table] = (),
    today: date | None = None,
) -> ShopReading:
    """The shop of the first file that has each sheet; the starter shop's where none has it.

    Dates are read for a plan that begins on `start`, or as the sheet Settings says if None, else
    near `today`; bare numbers are in `unit` unless it says another. `orders` tell which starter
    shop goes with them.
    """
    return _Builder(files, report, start, Habits(unit).read_on(today), orders).shop()


class _Builder:
    """Builds sheet after sheet, since later ones refer to earlier ones."""

    def __init__(
        self,
        files: Sequence[Sequence[Grid]],
        report: Report,
        start: date | None,
        unwritten: Habits,
        orders: Sequence[Table],
    ) -> None:
        self.report = report
        self.unwritten = unwritten
        self.start = start
        self.orders = orders
        self.starting = starter_for(unwritten.unit, orders)
        found = {spec.title: tables_of(files, spec, report) for spec in SHOP_SHEETS}
        self.tables: Mapping[str, list[Table]] = found
        self.house = Habits()
        self.own_stations = bool(found[STATIONS.title])
        self.missing: list[str] = []

    def shop(self) -> ShopReading:
        """The whole shop."""
        kinds = self._kinds()
        tables = self.tables[SETTINGS.title][::-1]
        settings = read_settings(tables, kinds, self.unwritten, self.report)
        self.starting = starter_for(settings.habits.unit, self.orders)
        self.house = settings.habits.planned_from(self.start)
        stations, side = with_settings(self._stations(), settings)
        if not any(self.tables.values()):
            self.report.note(f"no sheets of the shop's own: {self._which()} is taken")
        shop = self._sheets(Names({s.name: s.kind for s in stations}, _bases(stations)), stations)
        shop = shop.model_copy(
            update={
                "house": settings.house(self.starter.house),
                "longest_of": side or self._side(settings),
            }
        )
        self._tell(shop)
        return ShopReading(shop, self.house, self.starting)

    @property
    def starter(self) -> Shop:
        """The shop that fills in for sheets that are missing."""
        return self.starting.shop

    def _which(self) -> str:
        metric = " with metric sizes" if self.starting.is_metric else ""
        return f"the built-in starter shop{metric}"

    def _side(self, settings: Settings) -> tuple[str, ...]:
        return () if self.own_stations or settings.rows else self.starter.longest_of

    def _kinds(self) -> dict[str, StationKind]:
        """Names and kinds of stations, before their rows are read in full."""
        if not self.own_stations:
            return {station.name: station.kind for station in self.starter.stations}
        found: dict[str, StationKind] = {}
        for row in self.tables[STATIONS.title][0].rows():
            with contextlib.suppress(InputError):
                kind = choice_of(row.values.get("kind", ""), STATIONS.column("kind")).value
                found[str(row.values.get("name", ""))] = StationKind(kind)
        return found

    def _stations(self) -> tuple[Station, ...]:
        if not self.own_stations:
            self.missing.append(STATIONS.title)
            return self.starter.stations
        found: list[Station] = []
        names: set[str] = set()
        for reader in self._readers(STATIONS):
            station = build(reader, Station, read_fields(reader))
            if station and plain_name(station.name) in names:
                reader.fail("name", f"{station.name} stands above already; delete one of the rows")
            elif station:
                names.add(plain_name(station.name))
                found.append(station)
        return tuple(found) or self.starter.stations

    def _sheets(self, known: Names, stations: tuple[Station, ...]) -> Shop:
        starter, names = self.starter, {station.name for station in stations}
        people = self._people(known)
        known = Names(known.stations, known.bases, tuple(each.name for each in people))
        of = {*names, *known.bases, *(str(kind) for kind in StationKind)}
        return Shop(
            stations=stations,
            people=people,
            hours=self._rows(HOURS, hours, known, starter.hours),
            changeovers=self._rows(
                CHANGEOVERS,
                changeovers,
                known,
                tuple(row for row in starter.changeovers if row.station in of),
            ),
            belts=self._rows(BELTS, belt, known, starter.belts),
            recipes=self._recipes(),
            rails=self._rows(RAILS, rail, known, starter.rails),
            tools=self._rows(
                TOOLING, tool, known, tuple(each for each in starter.tools if each.station in names)
            ),
            wheels=self._rows(
                WHEELS, wheels, known, tuple(w for w in starter.wheels if w.station in names)
            ),
            mounted=self._rows(
                MOUNTED,
                mounted,
                known,
                () if self.own_stations else starter.mounted,
            ),
        )

    def _people(self, known: Names) -> tuple[Person, ...]:
        """Each person once; what several rows say that somebody runs is put together."""
        otherwise = () if self.own_stations else self.starter.people
        found: dict[str, Person] = {}
        sheet = next((table.grid.name for table in self.tables[PEOPLE.title][:1]), "")
        for each in self._rows(PEOPLE, person, known, otherwise):
            before = found.setdefault(plain_name(each.name), each)
            runs = tuple(dict.fromkeys((*before.stations, *each.stations)))
            if before is not each:
                text = f"{before.name} has several rows, and runs {listed(runs)}"
                self.report.note(text, Place(sheet))
            found[plain_name(each.name)] = before.model_copy(update={"stations": runs})
        for table in self.tables[PEOPLE.title][:1]:
            _tell_hours(table, self.report)
        return tuple(found.values())

    def _rows(
        self,
        spec: SheetSpec,
        make: Callable[[RowReader, Names], list[T]],
        known: Names,
        otherwise: tuple[T, ...],
    ) -> tuple[T, ...]:
        if not self.tables[spec.title]:
            self.missing.extend([spec.title] if otherwise else [])
            return otherwise
        return tuple(item for reader in self._readers(spec) for item in make(reader, known))

    def _recipes(self) -> tuple[Recipe, ...]:
        if not self.tables[RECIPES.title]:
            self.missing.append(RECIPES.title)
            return self.starter.recipes
        return tuple(read_recipes(self._readers(RECIPES)))

    def _readers(self, spec: SheetSpec) -> list[RowReader]:
        table = self.tables[spec.title][0]
        if missing_columns(table, self.report):
            return []
        return [RowReader(row, self.report, self.house) for row in table.rows()]

    def _tell(self, shop: Shop) -> None:
        if any(self.tables.values()) and self.missing:
            self.report.warn(
                Place(self.missing[0]),
                f"the starter shop's are taken for missing sheets: {listed(self.missing)}; their "
                "times and set-up values are not yours: fill in those that matter",
            )
        if not self.tables[CHANGEOVERS.title] and not shop.changeovers:
            self.report.warn(
                Place(CHANGEOVERS.title),
                "there is no such sheet, and the starter shop's is for stations of other names, so "
                "that all changes count as no minutes: write what yours take",
            )


def _tell_hours(people: Table, report: Report) -> None:
    """Warn of hours beside people, which are not read there."""
    used = {head.index for head in people.headers.values()}
    for index, title in people.grid.rows[people.header_row].items():
        if index not in used and plain_name(str(title)) in _OF_HOURS:
            report.warn(
                Place(people.grid.name, address(people.header_row, index)),
                f"the column {title} is not read; write when people work into the sheet "
                "Hours, with their names under Who",
            )


def _bases(stations: Sequence[Station]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(station.base for station in stations if station.base))


def tables_of(files: Sequence[Sequence[Grid]], spec: SheetSpec, report: Report) -> list[Table]:
    """The tables that mean `spec`, one of each file that has it."""
    found: list[Table] = []
    for grids in files:
        grid, guessed = find_sheet(grids, spec)
        table = find_table(grid, spec, report) if grid else None
        if grid and guessed:
            report.note(f"sheet “{grid.name}” read as {spec.title}")
        if table:
            found.append(table)
    return found
