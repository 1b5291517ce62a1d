"""The pick list: what a station does on a day, in order, with the changeovers between."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from planner.changeovers import setup_minutes
from planner.hours import clock, day_name, how_late, when_minute
from planner.records import Card, Operation, Slot
from planner.shop import What
from planner.tube import TubeSpec
from planner_io.drawing.lay import Lay
from planner_io.views import places, standing, words
from planner_io.views.index import Index
from planner_io.views.losses import Losses
from planner_io.views.notes import notes
from planner_io.views.onward import onward
from planner_io.views.ruler import day_of, some

MOST_LINES = 5
"""How many order lines are named before the rest are counted."""
KEY_SETTINGS = 4
"""How many set-up values a pick list repeats; all of them are on the card."""


@dataclass(frozen=True)
class Changeover:
    """The gap before a step: how long, from when, and what changes."""

    minutes: int
    start: str
    changes: tuple[str, ...]
    kinds: tuple[str, ...]
    """What changes, in a word each, the longest change first."""
    early: bool
    """It is made on a day before the one on which the work begins; `start` then names the day."""


@dataclass(frozen=True)
class PickStep:
    """One line of a pick list."""

    number: int
    operation: str
    what: str
    spec: TubeSpec
    tube: str
    material: str
    lot: str
    lines: tuple[str, ...]
    parts: tuple[str, ...]
    notes: tuple[str, ...]
    """What the order lines say to the floor."""
    place: str
    onward: str
    """Where it goes after the step."""
    count: str
    to_do: str
    """The same, of what is left: `16 of 28 sticks`."""
    lengths: str
    tooling: tuple[str, ...]
    """Belt, die, cutter: what is mounted, in words."""
    lay: Lay | None
    card: int
    """Number of the set-up card at its station; 0 when there is none."""
    settings: tuple[tuple[str, str], ...]
    """Number and name of the first set-up values; only on the first step of a card."""
    minutes: int
    start_min: int
    end_min: int
    start: str
    end: str
    people: tuple[str, ...]
    """Who does it, or sets it up."""
    care: str
    late: str
    changeover: Changeover | None
    held_by: str
    stands: str
    """`done`, `started, 4 done` and so on, when the week was planned again."""
    done: bool
    was: str
    """Where it had been issued, if it moved since."""
    short: str
    """What does not come to it, as it was lost before the week was planned again."""


@dataclass(frozen=True)
class Ahead:
    """A changeover that is made before the day on which its step begins."""

    changeover: Changeover
    step: str
    """Which step it is for, and when that begins."""


@dataclass(frozen=True)
class PickList:
    """The steps that begin on one station and day."""

    station: str
    day: date
    carried_on: str
    """The step that the day begins in the middle of; empty when there is none."""
    steps: tuple[PickStep, ...]
    ahead: tuple[Ahead, ...]
    """Changeovers of this day for steps of later days."""
    parts: tuple[str, ...] = ()
    """What was done on this day of runs that gave way."""
    parts_changeover_min: int = 0
    """What was changed on this day for those."""

    @property
    def work_min(self) -> int:
        """Minutes of the steps' work."""
        return sum(step.minutes for step in self.steps)

    @property
    def changeover_min(self) -> int:
        """Minutes of changeovers that are made on this day."""
        own = (step.changeover for step in self.steps)
        made = [found for found in own if found and not found.early]
        made += [ahead.changeover for ahead in self.ahead]
        return sum(found.minutes for found in made) + self.parts_changeover_min


def pick_lists(index: Index) -> tuple[PickList, ...]:
    """All pick lists: by station, then by day."""
    return tuple(found for station in index.by_station for found in of_station(index, station))


def of_station(index: Index, station: str) -> Iterator[PickList]:
    """The pick lists of one station, by day."""
    slots = index.by_station[station]
    before: Slot | None = None
    parts = [part for ones in index.parts.values() for part in ones if part.station == station]
    days = {day for slot in slots for day in (_set_up_day(slot), _day(slot))}
    for number in sorted(days | {day_of(part.setup_start_min) for part in parts}):
        of_day = [slot for slot in slots if _day(slot) == number]
        later = [s for s in slots if _set_up_day(s) == number < _day(s)]
        then = [part for part in parts if day_of(part.setup_start_min) == number]
        yield PickList(
            station,
            index.day(number),
            _carried_on(index, before, number),
            tuple(pick_step(index, slot) for slot in of_day),
            tuple(found for slot in later for found in _ahead(index, slot)),
            tuple(standing.part_done(index, part) for part in then),
            sum(setup_minutes(part.changes) for part in then),
        )
        before = of_day[-1] if of_day else before


def _day(slot: Slot) -> int:
    return day_of(slot.start_min)


def _set_up_day(slot: Slot) -> int:
    return day_of(slot.setup_start_min) if slot.setup_min else day_of(slot.start_min)


def _ahead(index: Index, slot: Slot) -> Iterator[Ahead]:
    found = changeover(index, slot)
    if found:
        number = index.step_numbers[slot.operation]
        yield Ahead(found, f"step {number}, {when_minute(slot.start_min, index.start)}")


def _carried_on(index: Index, before: Slot | None, day: int) -> str:
    if before is None or day_of(before.end_min - 1) < day:
        return ""
    number = index.step_numbers[before.operation]
    began = day_name(index.day(day_of(before.start_min)))
    return f"Step {number} from {began} goes on until {clock(before.end_min)}."


def pick_step(index: Index, slot: Slot) -> PickStep:
    """The line of one slot."""
    operation = index.operations[slot.operation]
    lot = index.lots[operation.lot]
    lines = index.lines_of(operation)
    number, card = index.cards.get(operation.key, (0, None))
    is_first = card is not None and card.operations[0] == operation.key
    return PickStep(
        number=index.step_numbers[operation.key],
        operation=operation.key,
        what=words.step_name(operation),
        spec=lot.spec,
        tube=index.ruler.tube(lot.spec),
        material=f"{lot.spec.grade} {lot.spec.surface.value}",
        lot=lot.key,
        lines=lines,
        parts=tuple(dict.fromkeys(p for line in lines if (p := index.orders[line].part))),
        notes=notes(index, lines),
        place=places.where(index, operation),
        onward=onward(index, operation),
        count=places.count(index, operation),
        to_do=places.to_do(index, operation),
        lengths=places.lengths(index, operation),
        tooling=tooling(index, slot),
        lay=index.lay(operation),
        card=number,
        settings=key_settings(index, card) if is_first else (),
        minutes=slot.minutes,
        start_min=slot.start_min,
        end_min=slot.end_min,
        start=clock(slot.start_min),
        end=clock_on(index, slot.end_min - 1, day_of(slot.start_min), 1),
        people=_people(index, slot),
        care=places.care(index, operation),
        late=late_words(index, operation),
        changeover=changeover(index, slot),
        held_by=slot.held_by,
        stands=standing.stands(index, operation.key),
        done=standing.is_done(index, operation.key),
        was=standing.was(index, operation.key),
        short=Losses(index, index.plan.scrap).told(operation),
    )


def _people(index: Index, slot: Slot) -> tuple[str, ...]:
    """Who does it; at a station that runs by itself people only set it up."""
    if index.plan.shop.station(slot.station).is_attended:
        return slot.people
    return tuple(f"{name} (sets it up)" for name in slot.people)


def clock_on(index: Index, minute: int, day: int, later: int = 0) -> str:
    """The time `later` minutes after a minute, with the name of its day when that is not `day`.

    The end of a day belongs to that day, so an end is asked for by its last minute.
    """
    name = "" if day_of(minute) == day else f"{day_name(index.day(day_of(minute)))} "
    return f"{name}{clock(minute + later)}"


def tooling(index: Index, slot: Slot) -> tuple[str, ...]:
    """What must be mounted, but for the OD and the family that the tube itself shows, and for
    the station itself as an attachment."""
    state = index.state(slot)
    return tuple(
        words.called(what, value, index.ruler)
        for what, value in state.items()
        if what not in (What.OD, What.FAMILY) and value != slot.station
    )


def key_settings(index: Index, card: Card | None) -> tuple[tuple[str, str], ...]:
    """The first values of a card that hands set, as number and name."""
    if card is None:
        return ()
    measured = [setting for setting in card.settings if words.is_set_by_hand(setting)]
    return tuple(
        (words.setting_number(setting, index.ruler), setting.name)
        for setting in measured[:KEY_SETTINGS]
    )


def changeover(index: Index, slot: Slot) -> Changeover | None:
    """The changeover of a slot, or None when nothing changes."""
    if not slot.changes and not slot.setup_min:
        return None
    return Changeover(
        slot.setup_min,
        clock_on(index, slot.setup_start_min, _day(slot)),
        tuple(
            f"{words.change(found, index.ruler)} ({found.minutes} min)" for found in slot.changes
        ),
        tuple(found.what.value for found in sorted(slot.changes, key=lambda it: -it.minutes)),
        early=_set_up_day(slot) < _day(slot),
    )


def late_words(index: Index, operation: Operation) -> str:
    """`LATE 2 h 10: 1187/2` for the lines that this step completes too late."""
    late = index.late_by(operation)
    if not late:
        return ""
    worst = max(row.late_min for row in late)
    return f"LATE {how_late(worst)}: {some([row.line for row in late], MOST_LINES)}"
