"""What has happened by now: operations that have ended or begun, with their times.

What the floor has reported counts. Everything else is taken to have gone as issued, in the
issued order: an operation begins when the plan said, or later if its station, its people or the
operation before it on the tube were still busy then, and ends in time for what is reported after
it. One that would not have begun by now is open.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from planner.errors import Finding, InputError
from planner.held import Held, HeldWhy, Paused
from planner.progress import TOLD, Progress, State
from planner.records import Plan, Slot
from planner.replan import guesses
from planner.replan.at_once import in_order
from planner.replan.before import Bound, bounds
from planner.replan.clock import Clock
from planner.replan.paused import is_told_again, paused_before
from planner.replan.told import Times, Told
from planner.replan.turned import Turns


@dataclass(frozen=True, slots=True)
class History:
    """What has happened, by operation, in the order of time, and what was guessed for that."""

    held: dict[str, Held]
    """What has ended or goes on."""
    paused: dict[str, Paused]
    """What stands still, and whose rest is to be planned again."""
    resumed: tuple[Paused, ...]
    """Parts of what stood still before, and went on or gave way once more."""
    guessed: tuple[Finding, ...]


def happened(issued: Plan, clock: Clock, now_min: int, progress: Sequence[Progress]) -> History:
    """What has happened by now.

    Raises InputError with every row that contradicts another, the plan or the clock.
    """
    told = {key: row for row in progress if row.state in TOLD for key in row.operations}
    slots = sorted(issued.slots, key=lambda slot: (slot.start_min, slot.end_min))
    past = _Past(issued, clock, now_min, told)
    past.bounds = bounds(slots, past.operations, past.places, told, past.recorded)
    for slot in slots:
        past.add(slot)
    found = in_order(past.held, told, past.places, clock, (*past.paused.values(), *past.resumed()))
    if wrong := [*past.wrong, *found.wrong]:
        raise InputError(wrong)
    parts = sorted(found.parts, key=lambda part: (part.end_min, part.operation))
    last = {part.operation: part for part in parts if part.operation in past.paused}
    resumed = tuple(part for part in parts if last.get(part.operation) is not part)
    return History(found.held, last, resumed, (*past.guessed, *found.guessed))


class _Past:
    """The shop as its week goes by."""

    def __init__(self, issued: Plan, clock: Clock, now: int, told: Mapping[str, Progress]) -> None:
        self.clock, self.now, self.told = clock, now, told
        self.operations = {operation.key: operation for operation in issued.operations}
        self.places = {
            station.name: station.base or station.name for station in issued.shop.stations
        }
        self.issued = {slot.operation: slot for slot in issued.slots}
        self.replanned = issued.replan
        before = issued.replan.held if issued.replan else ()
        self.recorded = {held.operation for held in before if held.actual}
        self.bounds: Mapping[str, Bound] = {}
        self.before = paused_before(issued)
        self.held: dict[str, Held] = {}
        self.paused: dict[str, Paused] = {}
        self.busy: dict[str, list[tuple[int, int]]] = defaultdict(list)
        self.wrong: list[Finding] = []
        self.guessed: list[Finding] = []
        self.rows = Told(clock, now, self.operations, self.before, self.guessed)
        begun = {one.operation: one for one in before if one.why in (HeldWhy.DONE, HeldWhy.STARTED)}
        self.turns = Turns(clock.shop, now, self.operations, self.issued, self.places, told, begun)

    def add(self, slot: Slot) -> None:
        """Let one operation happen, if it does by now."""
        row = self.told.get(slot.operation)
        if row is not None:
            slot = _with_people(slot, row)
            row = self._ended(slot, row)
        held = self._held(slot, row)
        if held is None:
            self._stands_still(slot)
            return
        self.held[held.operation] = held
        off = [name for name in self.clock.known(slot.people) if name not in held.people]
        if off and held.why is HeldWhy.STARTED:
            self.guessed.append(guesses.goes_on_without(row, slot.operation, off))
        self._occupy(self.places[slot.station], slot.end_min, held.end_min)
        stays = self.clock.is_attended(held.station)
        for person in held.people:
            if stays:
                self._occupy(person, slot.end_min, held.end_min)
            else:
                changed = slot.setup_start_min + slot.setup_min
                self._occupy(person, changed, held.setup_start_min + slot.setup_min)

    def resumed(self) -> list[Paused]:
        """Parts of what stood still when the issued plan was made, or before, and has gone on. What
        is told to have begun before a part ended has that part in it."""
        begun = {key: one.start_min for key, one in self.held.items()}
        begun |= {key: one.start_min for key, one in self.paused.items()}
        before = (*(self.replanned.resumed if self.replanned else ()), *self.before.values())
        return [part for part in before if part.end_min <= begun.get(part.operation, 0)]

    def _held(self, slot: Slot, row: Progress | None) -> Held | None:
        """Where it is done or runs; None where it has not begun, or is to be planned again."""
        times = self._expected(slot)
        if row is None:
            return self._by_plan(slot, self._in_time(slot, times))
        match row.state:
            case State.OPEN:
                return None
            case State.SET_UP:
                return self._set_up(slot, times, row)
            case State.PAUSED if is_told_again(row, self.before.get(slot.operation)):
                return None
            case _:
                return self._as_told(slot, times, row)

    def _stands_still(self, slot: Slot) -> None:
        """What has not begun has worked for a while all the same, if it stands still."""
        known = self.before.get(slot.operation)
        if known:
            self.paused.setdefault(slot.operation, known)
        part = self.paused.get(slot.operation)
        if part:
            issued = part.end_min if part is known else slot.end_min
            for who in (self.places[part.station], *part.people):
                self._occupy(who, issued, part.end_min)

    def _occupy(self, who: str, issued_min: int, until_min: int) -> None:
        """A station, base or person is busy until then, and was to be until `issued_min`."""
        self.busy[who].append((issued_min, until_min))

    def _free(self, slot: Slot) -> int:
        """When station and people were through with all that was issued before."""
        return max(
            (
                until
                for who in (self.places[slot.station], *slot.people)
                for issued, until in self.busy[who]
                if issued <= slot.setup_start_min
            ),
            default=0,
        )

    def _ready(self, slot: Slot) -> int | None:
        """When all that it waits for had ended; None while some of it has not begun."""
        before = [self.held.get(key) for key in self.operations[slot.operation].after]
        ends = [held.end_min for held in before if held]
        return max(ends, default=0) if len(ends) == len(before) else None

    def _expected(self, slot: Slot) -> Times | None:
        """When it would have been done in the issued order; None while it had to wait."""
        ready = self._ready(slot)
        if ready is None:
            return None
        free = self._free(slot)
        if free <= slot.setup_start_min and ready <= slot.start_min:
            return Times(slot.setup_start_min, slot.start_min, slot.end_min)
        calendar = self.clock.calendar(slot.station, slot.people)
        setup_start = calendar.fit(max(free, slot.setup_start_min), slot.setup_min)
        earliest = max(setup_start + slot.setup_min, ready, slot.start_min)
        run = self.clock.running(slot.station, slot.people)
        start = run.fit(earliest, 1)
        end = run.advance(start, slot.minutes)
        if setup_start < self.now < end:
            there = self.clock.there(slot.people, slot.station, self.now)
            run = self.clock.running(slot.station, there)
            end = min(end, run.advance(start, slot.minutes))
        return Times(setup_start, start, end)

    def _in_time(self, slot: Slot, times: Times | None) -> Times | None:
        """The times that are expected, or earlier or quicker ones by which what is reported to have
        begun later could begin, within hours if they do; the first where none would do."""
        bound, ready = self.bounds.get(slot.operation), self._ready(slot)
        if times is None or bound is None or ready is None:
            return times
        if times.end <= bound.begun_min - bound.after:
            return times
        free = self._free(slot)
        sooner = bound.times(slot, free, ready)
        if sooner is None:
            return times
        opens = self.clock.calendar(slot.station, slot.people).fit(sooner[0], 1)
        return Times(*(bound.times(slot, max(free, opens), ready) or sooner))

    def _only_set_up(self, slot: Slot, times: Times) -> bool:
        """Whether its changeover was made ahead and it waits, so that other work may go in."""
        changed = times.setup_start + slot.setup_min
        if not changed <= self.now < times.start:
            return False
        return self.clock.running(slot.station, slot.people).fit(self.now, 1) < times.start

    def _by_plan(self, slot: Slot, times: Times | None) -> Held | None:
        if times is None or times.setup_start >= self.now or self._only_set_up(slot, times):
            return None
        why = HeldWhy.DONE if times.end <= self.now else HeldWhy.STARTED
        shifted = (times.start, times.end) != (slot.start_min, slot.end_min)
        done = why is HeldWhy.DONE
        return Held(
            operation=slot.operation,
            why=why,
            station=slot.station,
            people=self._people(slot, slot.station, done),
            setup_start_min=times.setup_start,
            start_min=times.start,
            end_min=times.end,
            actual=shifted or slot.operation in self.recorded,
        )

    def _as_told(self, slot: Slot, times: Times | None, row: Progress) -> Held | None:
        station = row.station or slot.station
        times = times or Times(slot.setup_start_min, slot.start_min, slot.end_min)
        start, end = self.rows.span(slot, times, row)
        ready = self._ready(slot)
        open_ = "" if ready is not None else self._open(slot)
        problem = next(self.rows.wrong(slot, row, (start, end), ready, open_), "")
        if problem:
            self.wrong.append(row.wrong(problem))
            return None
        if row.state is State.PAUSED:
            turn = self.turns.after(slot, row, start)
            row, end = self.rows.stood(slot, row, (start, end), turn)
            part = self.rows.part(slot, row, start, end)
            if turn:
                setup_start = _setup_start(slot, times, start)
                self.paused[slot.operation] = _paused(slot, row, (setup_start, start, end), part)
                return None
            end = self.rows.goes_on(slot, row, part)
        same = (start, end, station) == (slot.start_min, slot.end_min, slot.station)
        done = row.state is State.DONE
        return Held(
            operation=slot.operation,
            why=HeldWhy.DONE if done else HeldWhy.STARTED,
            station=station,
            people=self._people(slot, station, done),
            setup_start_min=_setup_start(slot, times, start),
            start_min=start,
            end_min=end,
            actual=not same or slot.operation in self.recorded,
            pieces=None if done else row.pieces,
            note=row.note,
        )

    def _people(self, slot: Slot, station: str, done: bool) -> tuple[str, ...]:
        """Who did it, or goes on with it: not those who are off for the rest of the day."""
        if done:
            return self.clock.known(slot.people)
        return self.clock.there(slot.people, station, self.now)

    def _open(self, slot: Slot) -> str:
        """What it waits for, and how far that is, where that has not ended."""
        key = next(key for key in self.operations[slot.operation].after if key not in self.held)
        return f"{key} has {'ended' if key in self.paused else 'begun'}"

    def _set_up(self, slot: Slot, times: Times | None, row: Progress) -> Held | None:
        """What is being changed over to: it runs as soon as that is through and its tube is there.
        None where it has to wait for its tube then, so that other work may go in."""
        setup_start = row.start_min
        if setup_start is None:
            setup_start = min(times.setup_start if times else slot.setup_start_min, self.now)
        if not 0 <= setup_start <= self.now:
            why = f"cannot have begun at {self.clock.words(setup_start)}: correct it."
            self.wrong.append(row.wrong(f"The set-up of {slot.operation} {why}"))
            return None
        station, ready = row.station or slot.station, self._ready(slot)
        people = self.clock.there(slot.people, station, self.now)
        calendar = self.clock.calendar(station, people)
        changed = calendar.advance(calendar.fit(setup_start, 1), slot.setup_min)
        run = self.clock.running(station, people)
        start = run.fit(max(changed, self.now + 1, ready or 0), 1)
        found = Times(setup_start, start, run.advance(start, slot.minutes))
        if ready is None or (ready > self.now and self._only_set_up(slot, found)):
            return None
        return Held(
            operation=slot.operation,
            why=HeldWhy.STARTED,
            station=station,
            people=people,
            setup_start_min=setup_start,
            start_min=start,
            end_min=found.end,
            actual=True,
            note=row.note,
        )

    def _ended(self, slot: Slot, row: Progress) -> Progress:
        """What is said of it: that it is done, where it should have ended, says no more than that
        it runs, and something has begun that cannot begin before its end."""
        says_more = row.note or any(
            said is not None for said in (row.end_min, row.pieces, row.minutes)
        )
        if row.state is not State.STARTED or says_more or row.start_min is None:
            return row
        run = self.clock.running(row.station or slot.station, slot.people)
        due = run.advance(run.fit(max(row.start_min, 0), 1), slot.minutes)
        after = min(self._begun_after(slot, row.start_min), default=None)
        if after is None or due > self.now:
            return row
        end, key = after
        words = self.clock.words
        self.guessed.append(guesses.has_ended(row, slot.operation, key, end, words))
        return replace(row, state=State.DONE, end_min=end)

    def _begun_after(self, slot: Slot, minute: int) -> Iterator[tuple[int, str]]:
        """What is reported to have begun later at its station, or with its tube."""
        place = self.places[slot.station]
        for key, row in self.told.items():
            if row.start_min is not None and row.start_min > minute:
                station = row.station or self.issued[key].station
                here = self.places[station] == place
                tube = slot.operation in self.operations[key].after
                if (tube and row.state is not State.SET_UP) or here:
                    yield row.start_min, key


def _with_people(slot: Slot, row: Progress) -> Slot:
    """An issued slot with those who are reported to do it."""
    return slot.model_copy(update={"people": row.people}) if row.people else slot


def _setup_start(slot: Slot, times: Times, start: int) -> int:
    """When the changeover of what began then is taken to have begun."""
    return times.setup_start if start == times.start else max(0, start - slot.setup_min)


def _paused(slot: Slot, row: Progress, span: tuple[int, int, int], part: tuple[int, int]) -> Paused:
    return Paused(
        operation=slot.operation,
        station=row.station or slot.station,
        people=slot.people,
        setup_start_min=span[0],
        start_min=span[1],
        end_min=span[2],
        left=part[0],
        of=part[1],
        pieces=row.pieces,
        note=row.note,
    )
