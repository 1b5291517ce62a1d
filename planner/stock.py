"""What there is to cut from: sticks on the rack, sticks to buy, remnants."""

from __future__ import annotations

from datetime import date

from pydantic import Field

from planner.frozen import Frozen
from planner.tube import TubeSpec

FOR_CUSTOMER = " for "
"""Between the grade of tube that a customer brought and whose it is, as papers print it."""


def customer_in(grade: str) -> str:
    """The customer in a grade; empty for tube of the shop's own.

    >>> customer_in("304L for Brewery"), customer_in("304L")
    ('Brewery', '')
    """
    return grade.partition(FOR_CUSTOMER)[2]


class StockItem(Frozen):
    """Sticks of one tube spec and length that cost the same and are there at the same time."""

    key: str
    """Name within the stock list, unique; a remnant's tag."""
    spec: TubeSpec
    oiled: bool = False
    """Kept from rust by oil, which comes off before the belt."""
    length_nm: int = Field(gt=0)
    price_cents: int = Field(ge=0)
    """Price of one stick; for a remnant the shop's own price of using it."""
    count: int | None = Field(default=None, ge=0)
    """How many there are; None means that it is bought as needed, without limit."""
    arrives: date | None = None
    """First day on which sticks that are not there yet can be used; None means now."""
    lead_days: int = 0
    """For sticks to buy: days from the start of the plan until they are there."""
    remnant: bool = False
    finished: str | None = None
    """Recipe to which the stick is finished already (a finished remnant), or None."""
    location: str = ""
