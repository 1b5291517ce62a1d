"""From lots to cut lists: which sticks each lot may use, and how they are cut."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from planner import cutlist
from planner.material import finish_cents_per_m, remnant_values, saw_settings
from planner.records import Blank, CutList, Lot, Piece, Stick
from planner.shop import Shop
from planner.sticks import sticks_for
from planner.stock import StockItem
from planner.stop import Status
from planner.tube import TubeSpec


@dataclass(frozen=True, slots=True)
class Rack:
    """The stock, what is left of it, and when each item is there."""

    items: tuple[StockItem, ...]
    left: Mapping[str, int]
    """Sticks left, by key, of items with a count."""
    release_min: Mapping[str, int]

    def without(self, sticks: Sequence[Stick]) -> Rack:
        """The rack after these sticks have been taken."""
        return self._changed(sticks, -1)

    def with_back(self, sticks: Sequence[Stick]) -> Rack:
        """The rack after these sticks have been put back."""
        return self._changed(sticks, 1)

    def _changed(self, sticks: Sequence[Stick], each: int) -> Rack:
        left = dict(self.left)
        for stick in sticks:
            if stick.stock in left:
                left[stick.stock] += each
        return Rack(self.items, left, self.release_min)


@dataclass(frozen=True, slots=True)
class Uncut:
    """A lot without a cut list, and why it has none."""

    lot: Lot
    reasons: tuple[cutlist.Reason, ...]


@dataclass(frozen=True, slots=True)
class Cut:
    """The cut lists of a set of lots, and the lots that have none."""

    cut_lists: tuple[CutList, ...]
    uncut: tuple[Uncut, ...]


def rack_of(stock: Sequence[StockItem], release_min: Mapping[str, int]) -> Rack:
    """The full rack."""
    counted = {item.key: item.count for item in stock if item.count is not None}
    return Rack(tuple(stock), counted, release_min)


def usable(shop: Shop, lot: Lot, rack: Rack) -> tuple[StockItem, ...]:
    """The stock items that a lot may be cut from: of its spec, not finished or finished as it
    needs, not too long for its stations, and in time for its due date if any such are."""
    offered = sticks_for(shop, lot.spec, lot.recipe, lot.saw_first, rack.items)
    fits = [item for item in offered if rack.left.get(item.key, 1) > 0]
    in_time = [item for item in fits if rack.release_min[item.key] < lot.due_min]
    return tuple(in_time or fits)


def cut_list_problem(
    shop: Shop, lot: Lot, blanks: Mapping[str, Blank], rack: Rack
) -> cutlist.Problem:
    """The cut-list problem of one lot with what is left on the rack."""
    saw = saw_settings(shop, lot.spec)
    return cutlist.Problem(
        demands=tuple(
            cutlist.Demand(key, blanks[key].length_nm, blanks[key].quantity) for key in lot.lines
        ),
        stock=tuple(_kind(item, rack) for item in usable(shop, lot, rack)),
        kerf_nm=saw.kerf_nm,
        trim_stick_nm=saw.stick_trim_nm,
        trim_end_nm=saw.end_trim_nm,
        clamp_nm=saw.clamp_nm,
        shortest_remnant_nm=shop.house.remnant_nm,
        drop_values=tuple(
            cutlist.DropValue(length, cents)
            for length, cents in remnant_values(shop, rack.items, lot.spec)
        ),
        finish_cents_per_m=finish_cents_per_m(shop, lot),
        leaves_finished=lot.recipe is not None and not lot.saw_first,
        longest_first=shop.house.longest_first,
        label=lot.key,
    )


def _kind(item: StockItem, rack: Rack) -> cutlist.StockKind:
    return cutlist.StockKind(
        label=item.key,
        length_nm=item.length_nm,
        price_cents=item.price_cents,
        count=rack.left.get(item.key),
        lead_days=item.lead_days,
        is_finished=item.finished is not None,
    )


Solve = Callable[[Sequence[cutlist.Problem]], Sequence[cutlist.Result]]
"""How a set of independent cut-list problems is solved."""


def cut_lots(
    shop: Shop, lots: Sequence[Lot], blanks: Mapping[str, Blank], rack: Rack, solve: Solve
) -> Cut:
    """Cut all lots. Lots of one tube spec take from the same sticks, so they are cut one after
    the other in due order; different specs are cut side by side."""
    made: dict[str, CutList] = {}
    uncut: list[Uncut] = []
    for group in _rounds(lots):
        problems = [cut_list_problem(shop, lot, blanks, rack) for lot in group]
        for lot, problem, result in zip(group, problems, solve(problems), strict=True):
            if result.status is Status.NO_PLAN:
                uncut.append(Uncut(lot, result.reasons))
            else:
                made[lot.key] = _record(lot, problem, result)
                rack = rack.without(made[lot.key].sticks)
    return Cut(tuple(made[lot.key] for lot in lots if lot.key in made), tuple(uncut))


def _rounds(lots: Sequence[Lot]) -> Iterator[list[Lot]]:
    """The first lot of every spec, then the second of every spec, and so on."""
    by_spec: dict[TubeSpec, list[Lot]] = defaultdict(list)
    for lot in sorted(lots, key=lambda lot: (lot.due_min, lot.key)):
        by_spec[lot.spec].append(lot)
    for number in range(max(map(len, by_spec.values()), default=0)):
        yield [queue[number] for queue in by_spec.values() if number < len(queue)]


def _record(lot: Lot, problem: cutlist.Problem, result: cutlist.Result) -> CutList:
    sticks = tuple(
        _stick(lot, problem, result, number, stick)
        for number, stick in enumerate(result.sticks, start=1)
    )
    return CutList(
        lot=lot.key,
        sticks=sticks,
        kerf_nm=problem.kerf_nm,
        stick_trim_nm=problem.trim_stick_nm,
        end_trim_nm=problem.trim_end_nm,
        cost_cents=result.cost_cents,
        floor_cents=result.bound_cents,
        status=result.status,
        stage=result.stage,
    )


def _stick(
    lot: Lot, problem: cutlist.Problem, result: cutlist.Result, number: int, stick: cutlist.Stick
) -> Stick:
    pattern = result.patterns[stick.pattern]
    kind = problem.stock[pattern.stock]
    tag = f"{lot.key}-{number:02d}"
    return Stick(
        tag=tag,
        stock=kind.label,
        length_nm=kind.length_nm,
        pieces=tuple(
            Piece(tag=f"{tag}.{place}", line=piece.key, length_nm=piece.length_nm)
            for place, piece in enumerate(stick.pieces, start=1)
        ),
        drop_nm=pattern.drop_nm,
        kept=problem.is_kept(pattern.drop_nm),
        finished=kind.is_finished,
    )
