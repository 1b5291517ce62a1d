"""What a column and a sheet are: the one description that reading, template and docs share."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from functools import cache

from planner_io.workbook.names import plain_name


class Kind(Enum):
    """What the cells of a column hold; the value is how the reference names it."""

    TEXT = "text"
    LIST = "names, separated by commas"
    WHOLE = "whole number"
    DECIMAL = "number"
    SHARE = "share, 0 to 1 or per cent"
    LENGTH = "length"
    ALLOWANCE = "length, 0 allowed"
    OFFSET = "length, minus for the other way"
    OD = "outside diameter or pipe size"
    WALL = "wall, gauge or schedule"
    ANGLE = "degrees"
    TURN = "degrees, either way round"
    SECONDS = "time"
    MINUTES = "minutes"
    MONEY = "money"
    DATE = "date"
    CLOCK = "time of day"
    YES_NO = "yes or no"
    CHOICE = "one of the words listed"
    GRADE = "abrasive grade"
    FAMILIES = "material families"
    FEED = "feed a minute"
    AREA = "area, ft² or m²"
    FACTORS = "families, each with a factor"


@dataclass(frozen=True)
class Column:
    """One column: the field it fills, its title, what it holds and its other names."""

    key: str
    title: str
    kind: Kind
    help: str
    names: str = ""
    """Other headers that mean the same, separated by commas."""
    required: bool = False
    choices: tuple[str, ...] = ()
    """Words for a drop-down; for CHOICE the only ones allowed, but for those in `meant`."""
    meant: tuple[tuple[str, str], ...] = ()
    """A choice and other words for it, separated by commas, that are read as it and told."""
    example: str = ""
    """What the template's example row says."""
    never: str = ""
    """Words, apart by blanks, beside which a name of it means something else: an `included angle`
    is none of a bend."""
    or_else: str = ""
    """Key of the column that will do instead of this one."""

    @property
    def plain_names(self) -> tuple[str, ...]:
        """Every name, made plain."""
        return _plain(self.title, self.names)


@dataclass(frozen=True)
class SheetSpec:
    """One sheet: its title, what it is for, its columns and its other names."""

    title: str
    help: str
    columns: tuple[Column, ...]
    names: str = ""

    def column(self, key: str) -> Column:
        """The column that fills a field; KeyError when there is none."""
        return {column.key: column for column in self.columns}[key]

    @property
    def plain_names(self) -> tuple[str, ...]:
        """Every name of the sheet, made plain."""
        return _plain(self.title, self.names)


@cache
def _plain(title: str, names: str) -> tuple[str, ...]:
    every = (title, *names.split(","))
    return tuple(plain for name in every if (plain := plain_name(name)))
