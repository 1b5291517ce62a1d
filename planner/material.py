"""What sticks cost a lot: price, finishing, and the worth of a remnant that is kept.

A stick costs its price and the finishing of its whole length, less the worth of a kept drop:
the shop's share of its price, and the finishing that it carries already.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.mounting import belt_for, takes
from planner.records import Lot, Stick
from planner.shop import SawSettings, Shop, StationKind
from planner.stock import StockItem
from planner.times import feed_setting, passes
from planner.tube import TubeSpec
from planner.units import NM_PER_M

REMNANT_STEP_NM = 150_000_000
"""A kept remnant is worth more by whole steps of this length; less than that is of little use."""


def saw_settings(shop: Shop, spec: TubeSpec) -> SawSettings:
    """Kerf, trims and clamp for a tube spec: the most that any saw takes that the tube may go to,
    so that a cut list holds at each of them; nothing is lost without a saw."""
    saws = [saw.saw for saw in shop.of_kind(StationKind.SAW) if takes(saw, spec, 0)]
    if not saws:
        return SawSettings(kerf_nm=0)
    return saws[0].model_copy(
        update={
            "kerf_nm": max(saw.kerf_nm for saw in saws),
            "stick_trim_nm": max(saw.stick_trim_nm for saw in saws),
            "end_trim_nm": max(saw.end_trim_nm for saw in saws),
            "clamp_nm": max(saw.clamp_nm for saw in saws),
        }
    )


def finish_cents_per_m(shop: Shop, lot: Lot) -> int:
    """What finishing a metre of stick costs, cents, from the minutes of all passes on the first
    finisher that takes the tube, without handling; 0 for lots that are not finished as sticks."""
    finishers = [one for one in shop.of_kind(StationKind.FINISHER) if takes(one, lot.spec, 0)]
    if lot.recipe is None or lot.saw_first or not finishers:
        return 0
    minutes = 0.0
    for _, step in passes(shop.recipe(lot.recipe), lot.spec.surface):
        belt = belt_for(shop, step.grade, lot.spec.family)
        if belt is not None:
            setting = feed_setting(shop, finishers[0], belt, step, lot.spec.od_nm)
            minutes += 1000 / setting.feed_mm_min
    return round(minutes * shop.house.minute_cents)


def remnant_values(
    shop: Shop, stock: Sequence[StockItem], spec: TubeSpec
) -> Iterator[tuple[int, int]]:
    """Length (nm) from which a remnant of a spec has a worth, and that worth (cents), rising:
    the shop's share of the lowest price per length."""
    whole = [item for item in stock if item.spec == spec and not item.remnant]
    priced = [item for item in whole if item.price_cents]
    if not priced:
        return
    cents_per_nm = min(item.price_cents / item.length_nm for item in priced)
    longest = max(item.length_nm for item in whole)
    for length in range(shop.house.remnant_nm, longest, REMNANT_STEP_NM):
        yield length, int(cents_per_nm * length * shop.house.remnant_share)


@dataclass(frozen=True, slots=True)
class StickMoney:
    """What one stick is paid for, and what of it a kept drop is worth, cents."""

    paid_cents: int
    kept_cents: int

    @property
    def cost_cents(self) -> int:
        """What the stick costs its lot."""
        return self.paid_cents - self.kept_cents


class Prices:
    """What the sticks of one lot cost: price and finishing, less the worth of kept drops."""

    def __init__(self, shop: Shop, stock: Sequence[StockItem], lot: Lot) -> None:
        self._items = {item.key: item for item in stock}
        self._values = list(remnant_values(shop, stock, lot.spec))
        self._finish = finish_cents_per_m(shop, lot)

    def of(self, stick: Stick) -> StickMoney:
        """The money of one stick; no drop is worth more than the stick that it comes from."""
        paid = self._items[stick.stock].price_cents
        if not stick.finished:
            paid += (self._finish * stick.length_nm + NM_PER_M // 2) // NM_PER_M
        if not stick.kept:
            return StickMoney(paid, 0)
        worth = [cents for length, cents in self._values if length <= stick.drop_nm]
        kept = max(worth, default=0) + self._finish * stick.drop_nm // NM_PER_M
        return StickMoney(paid, min(paid, kept))

    def cost_cents(self, sticks: Sequence[Stick]) -> int:
        """What all of some sticks cost."""
        return sum(self.of(stick).cost_cents for stick in sticks)
