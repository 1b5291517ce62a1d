"""Where the tube goes: length and money by tube spec, and why lines share lots."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.advice import LotsTried
from planner.hours import duration
from planner.material import Prices
from planner.records import CutList
from planner.tube import TubeSpec
from planner_io.views.index import Index
from planner_io.views.ruler import money, plural, some


@dataclass(frozen=True)
class Material:
    """What becomes of the sticks of one tube spec, or of all; lengths in nm, money in cents.

    `sticks_nm` is pieces, chips, kept drops and scrap; `paid_cents` is used, kept and scrapped.
    """

    spec: TubeSpec | None
    sticks: int = 0
    sticks_nm: int = 0
    pieces_nm: int = 0
    chips_nm: int = 0
    kept_nm: int = 0
    paid_cents: int = 0
    kept_cents: int = 0
    scrapped_cents: int = 0

    @property
    def scrap_nm(self) -> int:
        """End trims and drops too short to keep."""
        return self.sticks_nm - self.pieces_nm - self.chips_nm - self.kept_nm

    @property
    def used_cents(self) -> int:
        """What the pieces cost."""
        return self.paid_cents - self.kept_cents - self.scrapped_cents

    @property
    def yield_percent(self) -> float:
        """Length in pieces of the length that is not kept."""
        gone = self.sticks_nm - self.kept_nm
        return 100 * self.pieces_nm / gone if gone else 0.0

    def plus(self, other: Material) -> Material:
        """Both together."""
        return Material(
            self.spec,
            self.sticks + other.sticks,
            self.sticks_nm + other.sticks_nm,
            self.pieces_nm + other.pieces_nm,
            self.chips_nm + other.chips_nm,
            self.kept_nm + other.kept_nm,
            self.paid_cents + other.paid_cents,
            self.kept_cents + other.kept_cents,
            self.scrapped_cents + other.scrapped_cents,
        )


def by_spec(index: Index) -> tuple[Material, ...]:
    """One row for each tube spec, in the order of the lots, and one for all at the end."""
    rows: dict[TubeSpec, Material] = {}
    total = Material(None)
    for cut_list in index.plan.cut_lists:
        spec = index.lots[cut_list.lot].spec
        for row in _sticks(index, cut_list, spec):
            rows[spec] = rows.get(spec, Material(spec)).plus(row)
            total = total.plus(row)
    return (*rows.values(), total)


def _sticks(index: Index, cut_list: CutList, spec: TubeSpec) -> Iterator[Material]:
    prices = Prices(index.plan.shop, index.plan.stock, index.lots[cut_list.lot])
    for stick in cut_list.sticks:
        cents = prices.of(stick)
        pieces = sum(piece.length_nm for piece in stick.pieces)
        kept = stick.drop_nm if stick.kept else 0
        trims = cut_list.stick_trim_nm + cut_list.end_trim_nm
        chips = stick.length_nm - pieces - stick.drop_nm - trims
        gone = stick.length_nm - kept
        scrapped = cents.cost_cents * (gone - pieces) // gone if gone else 0
        yield Material(
            spec,
            1,
            stick.length_nm,
            pieces,
            chips,
            kept,
            cents.paid_cents,
            cents.kept_cents,
            scrapped,
        )


def material_words(index: Index) -> str:
    """The week's material in a sentence."""
    total = by_spec(index)[-1]
    coin = index.plan.shop.house.currency
    return (
        f"{plural(total.sticks, 'stick')}, {money(total.paid_cents, coin)} with their finishing: "
        f"{money(total.used_cents, coin)} in pieces, {money(total.kept_cents, coin)} kept as "
        f"remnants, {money(total.scrapped_cents, coin)} scrapped; yield "
        f"{total.yield_percent:.1f} %, {index.ruler.length(total.chips_nm)} of tube sawn to chips."
    )


def merger_words(index: Index) -> tuple[str, ...]:
    """What cutting two lots as one would save and delay, the largest saving first."""
    coin = index.plan.shop.house.currency
    return tuple(
        f"Lots {row.early} and {row.late} cut as one would save {money(row.saves_cents, coin)}, "
        f"and put {duration(row.delays_min)} of work before {row.early} is sawn (they are due "
        f"{plural(row.days_apart, 'day')} apart)."
        for row in index.plan.mergers
    )


TOLD = 4
"""Other ways to share lots that a paper names at most."""
NAMED = 4
"""Order lines of a lot that it names at most."""


def lots_words(index: Index) -> tuple[str, ...]:
    """What other ways to share lots, tried in the run order, would have cost; the dearest first."""
    return tuple(
        f"Tried instead of {' and '.join(row.lots)}: "
        f"{' and '.join(f'a lot of {some(lines, NAMED)}' for lines in row.instead)}; "
        f"{_dearer(index, row)}."
        for row in _not_mergers(index)[:TOLD]
    )


def _not_mergers(index: Index) -> list[LotsTried]:
    """What was tried, but for two lots that were tried as one and are known to be cheaper so: the
    others left them other sticks then."""
    merged = {frozenset((row.early, row.late)) for row in index.plan.mergers}
    tried = index.plan.lots_tried
    return [one for one in tried if len(one.instead) > 1 or frozenset(one.lots) not in merged]


def _dearer(index: Index, row: LotsTried) -> str:
    """What it would cost in all, and of what that is made up."""
    coin = index.plan.shop.house.currency
    parts = (
        (row.material_cents, f"tube {money(abs(row.material_cents), coin)}"),
        (row.changeover_min, f"changeovers {duration(abs(row.changeover_min))}"),
        (row.late_min, f"lateness {duration(abs(row.late_min))}"),
    )
    words = [f"{what} {'more' if amount > 0 else 'less'}" for amount, what in parts if amount]
    made_up = f" ({', '.join(words)})" if words else ""
    return f"{money(row.cost_cents, coin)} dearer{made_up}" if row.cost_cents else "no cheaper"
