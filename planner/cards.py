"""Set-up cards: what to set for each run, in the order of hands, and what to watch."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby

from planner.cautions import cautions_for
from planner.changeovers import Mounts
from planner.finisher.card import FinisherCard, make_card
from planner.mounting import size_nm
from planner.orders import OrderLine, Step
from planner.records import Blank, Card, CutList, Lot, Operation, Setting, Slot
from planner.shaping import Marks, bend_remarks, shaping
from planner.shop import Shop, Station, StationKind, What
from planner.sticks import lengths_to_finish_nm
from planner.times import step_of_pass
from planner.tube import Family, coating
from planner.units import NM_PER_INCH
from planner.wiping import is_oiled, wipe_each_s

LONG_WHIP_NM = 120 * NM_PER_INCH
"""A turning bar of this length whips at its free end (common practice)."""

TUBE_OD = "tube OD"
"""A station that needs nothing mounted takes several ODs in one run; then it is no setting."""


@dataclass(frozen=True, slots=True)
class Work:
    """What the cards read."""

    shop: Shop
    orders: Mapping[str, OrderLine]
    blanks: Mapping[str, Blank]
    lots: Mapping[str, Lot]
    cut_lists: Mapping[str, CutList]
    oiled: frozenset[str]
    """Keys of stock that is kept in oil."""
    operations: Mapping[str, Operation]


def make_cards(work: Work, slots: Sequence[Slot]) -> tuple[Card, ...]:
    """A card for each run, by station and time; a run whose lots want different tilts gets one
    for each tilt."""
    cards: list[Card] = []
    mounted = Mounts(work.shop)
    for station in work.shop.stations:
        before = _family(mounted.before(station).get(What.FAMILY))
        own = [slot for slot in slots if slot.station == station.name]
        for (run, _), group in groupby(own, key=lambda slot: (slot.run, _tilt(work, slot))):
            cards.append(_card(work, station, run, list(group), before))
            before = _lot(work, cards[-1].operations[-1]).spec.family
    return tuple(cards)


def _family(mounted: str | None) -> Family | None:
    """The family that ran last before the plan, where the shop says so."""
    return next((family for family in Family if family.value == mounted), None)


def finisher_card(
    work: Work, station: Station, operation: Operation, *others: Operation
) -> FinisherCard:
    """The numbers of one pass, or of the first of a run, and the solved circles behind them."""
    belt = next(belt for belt in work.shop.belts if belt.name == operation.belt)
    lot = work.lots[operation.lot]
    step = step_of_pass(work.shop, lot, operation.pass_no)
    specs = (work.lots[each.lot].spec for each in (operation, *others))
    walls_nm = tuple(dict.fromkeys(spec.wall_nm for spec in specs))
    return make_card(work.shop, station, lot.spec, belt, step, walls_nm)


def _lot(work: Work, operation: str) -> Lot:
    return work.lots[work.operations[operation].lot]


def _tilt(work: Work, slot: Slot) -> int:
    operation = work.operations[slot.operation]
    if operation.step is not Step.FINISH:
        return 0
    return finisher_card(work, work.shop.station(slot.station), operation).feed.tilt_mdeg


def _card(
    work: Work, station: Station, run: int, slots: Sequence[Slot], before: Family | None
) -> Card:
    settings, remarks = _settings(work, station, *(work.operations[s.operation] for s in slots))
    if len({_lot(work, slot.operation).spec.od_nm for slot in slots}) > 1:
        settings = tuple(setting for setting in settings if setting.name != TUBE_OD)
    return Card(
        station=station.name,
        run=run,
        operations=tuple(slot.operation for slot in slots),
        settings=settings,
        remarks=(*remarks, *_wiping(work, station, slots), *_shaping(work, slots)),
        cautions=tuple(_cautions(work, station, slots, before)),
    )


def _settings(
    work: Work, station: Station, operation: Operation, *others: Operation
) -> tuple[tuple[Setting, ...], tuple[str, ...]]:
    """What is set for the first operation of a run, and for the others with it."""
    if operation.step is Step.FINISH:
        card = finisher_card(work, station, operation, *others)
        return card.settings, card.remarks
    spec = work.lots[operation.lot].spec
    settings = [Setting(name=TUBE_OD, length_nm=spec.od_nm)]
    remarks: tuple[str, ...] = ()
    state = operation.at(station.name).state
    if operation.step is Step.BEND and operation.line:
        blank = work.blanks[operation.line]
        settings.append(Setting(name="centreline radius", length_nm=blank.clr_nm))
        remarks = bend_remarks(spec, blank.clr_nm)
    settings.extend(
        _tool(what, state[what]) for what in (What.DIE, What.CUTTER, What.ROLLER) if what in state
    )
    if station.speed:
        settings.append(Setting(name="speed", value=station.speed))
    return tuple(settings), remarks


def _tool(what: What, mounted: str) -> Setting:
    """A tool by its name; one that the shop has no name for by the OD that the saddle sits on."""
    od_nm = size_nm(mounted)
    if od_nm is None:
        return Setting(name=what.value, value=mounted)
    return Setting(name="saddle on OD", length_nm=od_nm)


def _wiping(work: Work, station: Station, slots: Sequence[Slot]) -> Iterator[str]:
    """What is planned to take oil or the saw's fluid off before a first pass."""
    for operation in (work.operations[slot.operation] for slot in slots):
        if operation.step is not Step.FINISH or operation.pass_no > 1:
            continue
        lot = work.lots[operation.lot]
        oiled = is_oiled(lot, work.cut_lists[lot.key], work.orders, work.oiled)
        if each_s := wipe_each_s(station, lot, oiled):
            what = "piece dry" if lot.saw_first else "stick free of oil"
            yield f"{lot.key}: wipe each {what} before it is laid in; {each_s} s each are planned."


def _shaping(work: Work, slots: Sequence[Slot]) -> Iterator[str]:
    """How the pieces of each order line of a run are cut, notched and bent."""
    house = work.shop.house
    marks = Marks(house.unit, house.denominator)
    for operation in (work.operations[slot.operation] for slot in slots):
        keys = (operation.line,) if operation.line else work.lots[operation.lot].lines
        for key in keys:
            told = shaping(work.orders[key], work.blanks[key], operation.step, marks)
            if told:
                yield f"{key}: {'; '.join(told)}."


def _cautions(
    work: Work, station: Station, slots: Sequence[Slot], before: Family | None
) -> Iterator[str]:
    operations = [work.operations[slot.operation] for slot in slots]
    lengths = [length for operation in operations for length in _lengths(work, operation)]
    finished = any(work.lots[operation.lot].recipe for operation in operations)
    specs = [work.lots[operation.lot].spec for operation in operations]
    found = cautions_for(
        station.kind,
        [spec.family for spec in specs],
        previous_family=before,
        short_piece=station.kind is StationKind.FINISHER
        and min(lengths) < station.finisher.carry_nm,
        long_stick=max(lengths) > LONG_WHIP_NM,
        changes=tuple(change.what for slot in slots for change in slot.changes),
        finished=finished,
        coated=[name for spec in specs if (name := coating(spec.grade))],
    )
    return (caution.line for caution in found)


def _lengths(work: Work, operation: Operation) -> list[int]:
    """Lengths of what goes through the station."""
    if operation.line is not None:
        return [work.blanks[operation.line].length_nm]
    cut_list = work.cut_lists[operation.lot]
    if operation.step is Step.FINISH:
        return lengths_to_finish_nm(work.lots[operation.lot], cut_list)
    return [stick.length_nm for stick in cut_list.sticks]
