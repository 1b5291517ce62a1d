"""What a cut-list question is made of: pieces wanted, sticks on offer, and the saw.

Every length is a whole number of nanometres and all money whole cents, but nothing here
depends on the unit: any integers do.

How a stick is used up, from its first end::

    trim | piece kerf piece kerf ... piece kerf | drop

The trim at the first end is `trim_stick_nm + trim_end_nm` (its own kerf included). Every
piece costs one kerf, except that the last kerf may fall into the far end's trim, or into
nothing when the last piece ends with the stick. What lies behind the last cut is the drop;
it is never shorter than the far end's trim or than the clamp's dead length.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from planner.errors import Finding, InputError, Severity

NM_PER_M = 1_000_000_000


@dataclass(frozen=True, slots=True)
class Demand:
    """`quantity` equal pieces of `length_nm` for the order line `key`."""

    key: str
    length_nm: int
    quantity: int


@dataclass(frozen=True, slots=True)
class StockKind:
    """Sticks that do not differ: a stock length on the rack, one to buy, or one remnant.

    `price_cents` is what using one stick costs; for a remnant its own price of use.
    `count` None means as many as wanted (to buy); `lead_days` is then how long that takes.
    `is_finished`: the stick already carries the recipe of this group and skips its passes.
    """

    label: str
    length_nm: int
    price_cents: int
    count: int | None = None
    lead_days: int = 0
    is_finished: bool = False


@dataclass(frozen=True, slots=True)
class DropValue:
    """A drop of at least `length_nm` is worth `value_cents`: one step of a step function."""

    length_nm: int
    value_cents: int


@dataclass(frozen=True, slots=True)
class Problem:
    """One group to cut: a tube spec, a recipe and a lot.

    `drop_values` is the worth of a kept drop, a non-decreasing step function; a drop shorter
    than `shortest_remnant_nm` is scrap and worth nothing. `finish_cents_per_m` is the cost of
    finishing a metre of stick that is not finished yet; a kept drop keeps that worth, so that
    what remains is the finishing spent on scrap. `max_lengths_per_stick` caps how many
    different lengths one stick may yield. `leaves_finished`: sticks of this group are finished
    before they are sawn, so that kept drops go back as finished remnants.
    """

    demands: tuple[Demand, ...]
    stock: tuple[StockKind, ...]
    kerf_nm: int = 0
    trim_stick_nm: int = 0
    trim_end_nm: int = 0
    clamp_nm: int = 0
    shortest_remnant_nm: int | None = None
    drop_values: tuple[DropValue, ...] = ()
    finish_cents_per_m: int = 0
    leaves_finished: bool = False
    max_lengths_per_stick: int | None = None
    longest_first: bool = True
    label: str = ""

    def __post_init__(self) -> None:
        faults = tuple(_faults(self))
        if faults:
            raise InputError(faults)

    @property
    def head_nm(self) -> int:
        """What is cut off at the first end of every stick, its kerf included."""
        return self.trim_stick_nm + self.trim_end_nm

    def room_nm(self, kind: StockKind) -> int:
        """The room for pieces, each counted with one kerf; below 0 for a useless stick."""
        behind_head = kind.length_nm - self.head_nm
        to_far_end = behind_head - self.trim_end_nm + self.kerf_nm
        return min(to_far_end, behind_head - self.clamp_nm) if self.clamp_nm else to_far_end

    def drop_nm(self, kind: StockKind, used_nm: int) -> int:
        """The drop behind pieces that take `used_nm`, a kerf for each included."""
        return max(0, kind.length_nm - self.head_nm - used_nm)

    def stick_cents(self, kind: StockKind) -> int:
        """What one stick costs before any credit for its drop: price and finishing."""
        finish = 0 if kind.is_finished else self.finish_cents_per_m
        return kind.price_cents + (finish * kind.length_nm + NM_PER_M // 2) // NM_PER_M

    def credits_cents(self, drops_nm: Sequence[int]) -> list[int]:
        """The worth of each drop: its step value and the finishing it keeps; 0 for scrap."""
        drops = np.array(drops_nm, np.int64)
        steps = sorted((step.length_nm, step.value_cents) for step in self.drop_values)
        lengths = np.array([length for length, _ in steps], np.int64)
        values = np.array([0, *(cents for _, cents in steps)], np.int64)
        worth = values[np.searchsorted(lengths, drops, side="right")]
        worth += self.finish_cents_per_m * drops // NM_PER_M
        kept = np.array([self.is_kept(drop) for drop in drops_nm], np.bool_)
        found: list[int] = np.where(kept, worth, 0).tolist()
        return found

    def is_kept(self, drop_nm: int) -> bool:
        """Whether a drop of this length goes back to stock."""
        return self.shortest_remnant_nm is not None and drop_nm >= self.shortest_remnant_nm

    def costs_cents(self, kind: StockKind, used_nm: Sequence[int]) -> list[int]:
        """The cost of a stick cut for each of these lengths: never below 0, as no drop is worth
        more than the stick it comes from.
        """
        whole = self.stick_cents(kind)
        worth = self.credits_cents([self.drop_nm(kind, used) for used in used_nm])
        return [max(0, whole - credit) for credit in worth]


def _faults(problem: Problem) -> list[Finding]:
    wrong: list[tuple[str, str]] = []
    for demand in problem.demands:
        if demand.length_nm <= 0 or demand.quantity < 0:
            wrong.append((demand.key, "needs a length above 0 and a quantity of 0 or more"))
    for kind in problem.stock:
        if kind.length_nm <= 0 or kind.price_cents < 0 or (kind.count or 0) < 0:
            wrong.append((kind.label, "needs a length above 0, a price and a count of 0 or more"))
    saw = (problem.kerf_nm, problem.trim_stick_nm, problem.trim_end_nm, problem.clamp_nm)
    if min(saw) < 0 or problem.finish_cents_per_m < 0 or (problem.shortest_remnant_nm or 0) < 0:
        wrong.append(
            (problem.label, "kerf, trims, clamp, remnant and finishing cannot be negative")
        )
    if problem.max_lengths_per_stick is not None and problem.max_lengths_per_stick < 1:
        wrong.append((problem.label, "must allow at least one length per stick"))
    steps = sorted((step.length_nm, step.value_cents) for step in problem.drop_values)
    values = [0, *(value for _, value in steps)]
    if any(later < earlier for earlier, later in pairwise(values)):
        wrong.append((problem.label, "a longer drop cannot be worth less: check the drop values"))
    return [
        Finding(
            severity=Severity.ERROR, subject=subject, message=f"{subject or 'cut list'}: {text}"
        )
        for subject, text in wrong
    ]
