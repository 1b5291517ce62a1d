"""Lengths in the shop's unit first, and how everything else that is measured is written."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.hours import DAY_MIN
from planner.shop import House
from planner.tube import TubeSpec, size_name, spec_name
from planner.units import (
    NM_PER_INCH,
    NM_PER_MM,
    Unit,
    format_inch,
    format_length,
    format_mm,
    format_size,
)

_CURRENCY_AFTER = frozenset({"€", "kr", "zł"})


@dataclass(frozen=True)
class Ruler:
    """The shop's unit and the finest mark that it reads on a tape."""

    unit: Unit
    denominator: int = 32

    @classmethod
    def of(cls, house: House) -> Ruler:
        """The ruler of a shop."""
        return cls(house.unit, house.denominator)

    def length(self, nm: int) -> str:
        """A length in the shop's unit."""
        return format_length(nm, self.unit, self.denominator)

    def other(self, nm: int) -> str:
        """The same length in the other unit."""
        return format_inch(nm, self.denominator) if self.unit == "mm" else format_mm(nm)

    def size(self, nm: int) -> str:
        """An OD, wall or radius, never rounded to a fraction that it is not."""
        return format_size(nm, self.unit)

    def tube(self, spec: TubeSpec) -> str:
        """OD and wall, or pipe size and schedule."""
        return size_name(spec, self.unit)

    def spec(self, spec: TubeSpec) -> str:
        """The whole name of a tube spec."""
        return spec_name(spec, self.unit)

    def mark(self, nm: int) -> float:
        """A length as a number, on the finest mark of the shop's tape: decimal inches, or mm."""
        if self.unit == "mm":
            return round(nm / NM_PER_MM, 1)
        return round(nm * self.denominator / NM_PER_INCH) / self.denominator


def day_of(minute: int) -> int:
    """Number of the day, 0 for the plan's first."""
    return minute // DAY_MIN


def money(cents: int, currency: str) -> str:
    """An amount in the shop's currency.

    >>> money(123_456, "$"), money(-50, "€")
    ('$1,234.56', '−0.50 €')
    """
    sign = "−" if cents < 0 else ""
    amount = f"{abs(cents) // 100:,}.{abs(cents) % 100:02d}"
    if currency in _CURRENCY_AFTER:
        return f"{sign}{amount} {currency}"
    return f"{sign}{currency}{amount}"


def per_cent(share: float) -> str:
    """A share in whole per cent.

    >>> per_cent(0.719), per_cent(1.5), per_cent(0.004)
    ('72 %', '150 %', '0.4 %')
    """
    hundred = 100 * share
    return f"{hundred:.0f} %" if hundred >= 1 or not share else f"{hundred:.1g} %"


def plural(count: int, one: str, many: str = "") -> str:
    """A count with its noun.

    >>> plural(1, "piece"), plural(3, "piece")
    ('1 piece', '3 pieces')
    """
    return f"{count} {one if count == 1 else many or one + 's'}"


def some(words: Sequence[str], most: int) -> str:
    """The first few of many, and how many more there are.

    >>> some(["a", "b"], 2), some(["a", "b", "c", "d"], 2)
    ('a, b', 'a, b and 2 more')
    """
    rest = len(words) - most
    return ", ".join(words[:most]) + (f" and {rest} more" if rest > 0 else "")
