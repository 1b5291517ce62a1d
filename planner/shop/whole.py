"""The shop as a whole."""

from __future__ import annotations

from planner.frozen import Frozen
from planner.shop.changes import ChangeoverRow, Mounted, Tool
from planner.shop.finishing import Belt, GoodSetting, Rail, Recipe
from planner.shop.hours import HoursRow, Person
from planner.shop.house import House
from planner.shop.stations import Station, StationKind, Wheels


class Shop(Frozen):
    """Everything about the shop that a plan rests on."""

    house: House = House()
    stations: tuple[Station, ...]
    wheels: tuple[Wheels, ...] = ()
    hours: tuple[HoursRow, ...]
    people: tuple[Person, ...] = ()
    """Empty: every station has its own person."""
    changeovers: tuple[ChangeoverRow, ...] = ()
    longest_of: tuple[str, ...] = ()
    """Names or kinds of stations whose changes are done side by side: the longest one counts
    instead of the sum."""
    belts: tuple[Belt, ...] = ()
    recipes: tuple[Recipe, ...] = ()
    rails: tuple[Rail, ...] = ()
    tools: tuple[Tool, ...] = ()
    mounted: tuple[Mounted, ...] = ()
    good: tuple[GoodSetting, ...] = ()
    """Settings logged as good, oldest first."""

    def of_kind(self, kind: StationKind) -> tuple[Station, ...]:
        """The stations of one kind, in the order of the shop."""
        return tuple(station for station in self.stations if station.kind == kind)

    def station(self, name: str) -> Station:
        """The station called `name`; KeyError when there is none."""
        return {station.name: station for station in self.stations}[name]

    def recipe(self, name: str) -> Recipe:
        """The recipe called `name`; KeyError when there is none."""
        return {recipe.name: recipe for recipe in self.recipes}[name]
