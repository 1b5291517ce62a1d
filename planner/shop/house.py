"""The shop's general habits: units, money, and what it would rather have."""

from __future__ import annotations

from datetime import date

from pydantic import Field

from planner.frozen import Frozen
from planner.units import NM_PER_INCH, NM_PER_MM, Unit


class House(Frozen):
    """The shop's general habits."""

    name: str = "Starter shop"
    unit: Unit = "inch"
    """What bare numbers mean and what papers print first."""
    denominator: int = 32
    """Fractions of an inch are printed to 1/denominator."""
    currency: str = "$"
    paper: str = "letter"
    """`letter` or `a4`."""
    remnant_nm: int = 609_600_000
    """Shortest drop worth keeping, nm."""
    remnant_share: float = Field(default=0.5, ge=0, le=1)
    """Value of a kept remnant as a share of its length's price."""
    longest_first: bool = True
    """Within a stick the longest piece is cut first."""
    worn_first: bool = False
    """Of several belts of one grade, the most worn takes the coarse work and the least worn the
    last passes."""
    minute_cents: int = 100
    """What a minute of the finisher costs, for finishing wasted on scrap, cents."""
    late_cents_h: int = 2_000
    """What an hour late costs for each unit of weight, cents; weighed when lots are formed."""
    spare_min: int = Field(default=120, ge=0)
    """Working minutes by which order lines are wanted ahead of their due times."""
    spare_worth_min: int = Field(default=0, ge=0)
    """Changeover minutes that may be spent to give all of them to a line that would otherwise end
    just when it is due; 0: time to spare decides only where changeovers are equal."""
    start: date | None = None
    """First day of the plan, if the workbook says so."""

    @property
    def mark_nm(self) -> int:
        """The finest mark of the rule that rails are set with: half a millimetre, or the fraction
        of an inch that is printed; nm."""
        return NM_PER_MM // 2 if self.unit == "mm" else NM_PER_INCH // self.denominator
