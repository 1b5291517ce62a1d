"""From lots and cut lists to the operations that the run order is made of."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from planner.changeovers import MountedState, required
from planner.errors import InputError, input_error
from planner.mounting import (
    belt_for,
    bender_state,
    finisher_state,
    notcher_state,
    saw_state,
    takes,
)
from planner.orders import OrderLine, Step
from planner.records import Alternative, Blank, CutList, Lot, Operation
from planner.shop import KIND_OF_STEP, Belt, RecipeStep, Shop, Station, StationKind
from planner.sticks import lengths_to_finish_nm
from planner.times import (
    bend_s,
    finisher_people,
    notch_s,
    pass_s,
    passes,
    planned_minutes,
    saw_s,
    touch_up_s,
)
from planner.wiping import is_oiled, wiping_s


@dataclass(frozen=True, slots=True)
class Need:
    """What an operation needs at one station."""

    state: MountedState
    seconds: float
    people: int


NeedAt = Callable[[Station], Need | None]
"""What an operation needs at a station; None where it cannot be done there."""


@dataclass(frozen=True, slots=True)
class Given:
    """What the builder of operations reads."""

    shop: Shop
    orders: Mapping[str, OrderLine]
    blanks: Mapping[str, Blank]
    release_min: Mapping[str, int]
    """Minute at which sticks of a stock item are there, by its key."""
    oiled: frozenset[str]
    """Keys of stock that is kept in oil."""


def make_operations(
    given: Given, lots: Sequence[Lot], cut_lists: Sequence[CutList]
) -> tuple[Operation, ...]:
    """The operations of all lots, each after those that it must wait for.

    Raises InputError when no station takes a piece of work.
    """
    by_lot = {cut_list.lot: cut_list for cut_list in cut_lists}
    return tuple(
        operation for lot in lots for operation in _lot_operations(given, lot, by_lot[lot.key])
    )


def finals(lots: Sequence[Lot], operations: Sequence[Operation]) -> dict[str, str]:
    """For each order line the operation with which it is complete."""
    last_of_lot: dict[str, str] = {}
    last_of_line: dict[str, str] = {}
    for operation in operations:
        if operation.line is None:
            last_of_lot[operation.lot] = operation.key
        else:
            last_of_line[operation.line] = operation.key
    return {
        line: last_of_line.get(line, last_of_lot[lot.key]) for lot in lots for line in lot.lines
    }


def _lot_operations(given: Given, lot: Lot, cut_list: CutList) -> Iterator[Operation]:
    release = max(given.release_min[stick.stock] for stick in cut_list.sticks)
    saw, passes = _saw(given, lot, cut_list), _passes(given, lot, cut_list)
    chain = _chained([saw, *passes] if lot.saw_first else [*passes, saw], (), release)
    yield from chain
    for key in lot.lines:
        line, blank = given.orders[key], given.blanks[key]
        own = [one for step in blank.steps for one in _of_step(given, lot, line, blank, step)]
        yield from _chained(own, (chain[-1].key,), release)


def _chained(
    operations: Sequence[Operation], after: tuple[str, ...], release: int
) -> list[Operation]:
    made: list[Operation] = []
    for operation in operations:
        update = {"after": after, "release_min": release}
        made.append(operation.model_copy(update=update))
        after = (operation.key,)
    return made


def _passes(given: Given, lot: Lot, cut_list: CutList) -> list[Operation]:
    lengths_nm = lengths_to_finish_nm(lot, cut_list)
    if lot.recipe is None or not lengths_nm:
        return []
    todo = list(passes(given.shop.recipe(lot.recipe), lot.spec.surface))
    oiled = is_oiled(lot, cut_list, given.orders, given.oiled)
    wiping = partial(wiping_s, lot=lot, oiled=oiled, count=len(lengths_nm))
    return [
        Operation(
            key=f"{lot.key}.P{number}",
            step=Step.FINISH,
            lot=lot.key,
            alternatives=_alternatives(
                given,
                Step.FINISH,
                lot,
                _pass_need(
                    given.shop, lot, belt, step, lengths_nm, partial(wiping, pass_no=number)
                ),
            ),
            count=len(lengths_nm),
            pass_no=number,
            passes=len(todo),
            belt=belt.name,
            grade=step.grade.label,
        )
        for number, step in todo
        for belt in [_belt(given.shop, lot, step, coarse=step.grade != todo[-1][1].grade)]
    ]


def _belt(shop: Shop, lot: Lot, step: RecipeStep, coarse: bool) -> Belt:
    belt = belt_for(shop, step.grade, lot.spec.family, coarse)
    if belt is None:
        raise input_error(
            f"Recipe {lot.recipe} needs a {step.grade.label} belt for {lot.spec.family.value} and "
            "the shop has none: add it to the sheet Belts, or choose another recipe.",
            sheet="Belts",
            subject=lot.key,
        )
    return belt


def _pass_need(
    shop: Shop,
    lot: Lot,
    belt: Belt,
    step: RecipeStep,
    lengths_nm: Sequence[int],
    wiping: Callable[[Station], int],
) -> NeedAt:
    longest = max(lengths_nm)

    def need(station: Station) -> Need | None:
        if not takes(station, lot.spec, longest) or longest > station.finisher.longest_nm:
            return None
        seconds = pass_s(shop, station, belt, step, lot.spec, lengths_nm) + wiping(station)
        state = finisher_state(shop, lot.spec, belt)
        return Need(state, seconds, finisher_people(station, longest))

    return need


def _saw(given: Given, lot: Lot, cut_list: CutList) -> Operation:
    longest = max(stick.length_nm for stick in cut_list.sticks)

    def need(station: Station) -> Need | None:
        if not takes(station, lot.spec, longest):
            return None
        return Need(saw_state(lot.spec), saw_s(station, cut_list.sticks), station.people)

    return Operation(
        key=f"{lot.key}.SAW",
        step=Step.SAW,
        lot=lot.key,
        alternatives=_alternatives(given, Step.SAW, lot, need),
        count=len(cut_list.sticks),
    )


def _of_step(
    given: Given, lot: Lot, line: OrderLine, blank: Blank, step: Step
) -> Sequence[Operation]:
    """The operations of an order line at a step; none where the lot does it as a whole."""
    match step:
        case Step.FINISH | Step.SAW:
            return ()
        case Step.NOTCH:
            return _notches(given, lot, line, blank)
        case Step.BEND:
            return _bends(given, lot, line, blank)
        case Step.TOUCH_UP:
            return _touch_ups(given, lot, line)


def _notches(given: Given, lot: Lot, line: OrderLine, blank: Blank) -> list[Operation]:
    """One operation for each OD that saddled ends sit on, as each wants its own cutter."""

    def need_for(saddle_nm: int, ends: int) -> NeedAt:
        def need(station: Station) -> Need | None:
            if not takes(station, lot.spec, blank.length_nm):
                return None
            state = notcher_state(given.shop, station, lot.spec, saddle_nm)
            return Need(state, notch_s(station, ends * blank.quantity), station.people)

        return need

    return [
        _of_line(given, lot, line, f"N{number}", Step.NOTCH, need_for(saddle, ends))
        for number, (saddle, ends) in enumerate(sorted(Counter(blank.saddles_nm).items()), start=1)
    ]


def _bends(given: Given, lot: Lot, line: OrderLine, blank: Blank) -> list[Operation]:
    def need(station: Station) -> Need | None:
        finished = line.recipe is not None
        state = bender_state(given.shop, station, lot.spec, blank.clr_nm, finished)
        if state is None or not takes(station, lot.spec, blank.length_nm):
            return None
        return Need(state, bend_s(given.shop, station, line, blank), station.people)

    return [_of_line(given, lot, line, "B", Step.BEND, need)]


def _touch_ups(given: Given, lot: Lot, line: OrderLine) -> list[Operation]:
    def need(station: Station) -> Need | None:
        return Need({}, touch_up_s(line), station.people)

    if not given.shop.of_kind(StationKind.BENCH):
        return []
    return [_of_line(given, lot, line, "T", Step.TOUCH_UP, need)]


def _of_line(
    given: Given, lot: Lot, line: OrderLine, suffix: str, step: Step, need_at: NeedAt
) -> Operation:
    return Operation(
        key=f"{lot.key}.{line.key}.{suffix}",
        step=step,
        lot=lot.key,
        line=line.key,
        alternatives=_alternatives(given, step, lot, need_at),
        count=line.quantity,
    )


def _alternatives(given: Given, step: Step, lot: Lot, need_at: NeedAt) -> tuple[Alternative, ...]:
    kind = KIND_OF_STEP[step]
    needs = [(station, need_at(station)) for station in given.shop.of_kind(kind)]
    able = tuple(
        Alternative(
            station=station.name,
            minutes=planned_minutes(station, need.seconds),
            people=need.people,
            state=required(need.state, station),
        )
        for station, need in needs
        if need is not None
    )
    if not able:
        raise _nobody(kind, lot)
    return able


def _nobody(kind: StationKind, lot: Lot) -> InputError:
    return input_error(
        f"No {kind.value} takes lot {lot.key} ({', '.join(lot.lines)}): check its OD and length "
        "against the sheets Stations and Tooling, or leave the lines out.",
        sheet="Stations",
        subject=lot.key,
    )
