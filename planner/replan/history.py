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
from itertools import combinations, pairwise

from planner.errors import Finding, InputError
from planner.held import Held, HeldWhy
from planner.progress import TOLD, Progress, State
from planner.records import Plan, Slot
from planner.replan import guesses
from planner.replan.before import Bound, bounds
from planner.replan.clock import Clock
from planner.schedule.calendar import Calendar


def happened(
    issued: Plan, clock: Clock, now_min: int, progress: Sequence[Progress]
) -> tuple[dict[str, Held], tuple[Finding, ...]]:
    """What has ended or begun, by operation, in the order of time; and what was guessed for that.

    Raises InputError with every row that contradicts another, the plan or the clock.
    """
    told = {key: row for row in progress if row.state in TOLD for key in row.operations}
    slots = sorted(issued.slots, key=lambda slot: (slot.start_min, slot.end_min))
    past = _Past(issued, clock, now_min, told)
    past.bounds = bounds(slots, past.operations, past.places, told)
    for slot in slots:
        past.add(slot)
    found = past.in_order()
    if past.wrong:
        raise InputError(past.wrong)
    return found, tuple(past.guessed)


@dataclass(frozen=True, slots=True)
class _Times:
    setup_start: int
    start: int
    end: int


class _Past:
    """The shop as its week goes by."""

    def __init__(self, issued: Plan, clock: Clock, now: int, told: Mapping[str, Progress]) -> None:
        self.clock, self.now, self.told = clock, now, told
        self.known = {person.name for person in clock.shop.people}
        self.operations = {operation.key: operation for operation in issued.operations}
        self.places = {
            station.name: station.base or station.name for station in issued.shop.stations
        }
        self.stations = {slot.operation: slot.station for slot in issued.slots}
        before = issued.replan.held if issued.replan else ()
        self.recorded = {held.operation for held in before if held.actual}
        self.bounds: Mapping[str, Bound] = {}
        self.held: dict[str, Held] = {}
        self.busy: dict[str, list[tuple[int, int]]] = defaultdict(list)
        self.wrong: list[Finding] = []
        self.guessed: list[Finding] = []

    def add(self, slot: Slot) -> None:
        """Let one operation happen, if it does by now."""
        row = self.told.get(slot.operation)
        times = self._expected(slot)
        if row is not None:
            row = self._ended(slot, row)
        if row is None:
            held = self._by_plan(slot, self._in_time(slot, times))
        elif row.state is State.OPEN:
            held = None
        elif row.state is State.SET_UP:
            held = self._set_up(slot, times, row)
        else:
            held = self._as_told(slot, times, row)
        if held is None:
            return
        self.held[held.operation] = held
        self._occupy(self.places[slot.station], slot.end_min, held.end_min)
        stays = self.clock.is_attended(held.station)
        for person in held.people:
            if stays:
                self._occupy(person, slot.end_min, held.end_min)
            else:
                changed = slot.setup_start_min + slot.setup_min
                self._occupy(person, changed, held.setup_start_min + slot.setup_min)

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

    def in_order(self) -> dict[str, Held]:
        """All that happened, each changeover after the work before it on its station or base."""
        places: dict[str, list[Held]] = defaultdict(list)
        for held in sorted(self.held.values(), key=lambda held: (held.start_min, held.end_min)):
            places[self.places.get(held.station, held.station)].append(held)
        for here in places.values():
            for before, after in pairwise(here):
                self._apart(before, after)
                if after.setup_start_min < before.end_min:
                    update = {"setup_start_min": min(before.end_min, after.start_min)}
                    self.held[after.operation] = after.model_copy(update=update)
        self._at_one_thing()
        return dict(sorted(self.held.items(), key=lambda item: _by_time(item[1])))

    def _apart(self, before: Held, after: Held) -> None:
        row = self.told.get(after.operation) or self.told.get(before.operation)
        if before.end_min > after.start_min and row:
            self.wrong.append(
                row.wrong(
                    f"{after.station} cannot begin {after.operation} at "
                    f"{self.clock.words(after.start_min)} while {before.operation} lasts until "
                    f"{self.clock.words(before.end_min)}: correct the times, or give those of both."
                )
            )

    def _at_one_thing(self) -> None:
        """Nobody stays at two things that are running: where both are reported, whoever was to be
        at both is at the one that began later."""
        running = [
            held
            for held in sorted(self.held.values(), key=_by_time)
            if held.why is HeldWhy.STARTED and self.clock.is_attended(held.station)
        ]
        for one, other in combinations(running, 2):
            rows = [self.told.get(each.operation) for each in (other, one)]
            row = rows[0] or rows[1]
            both = sorted(set(one.people) & set(other.people))
            if both and all(rows):
                self._apart_from(one, other, both)
            elif row and both:
                self.wrong.append(
                    row.wrong(
                        f"{both[0]} was to run {one.operation} and {other.operation}, "
                        "and cannot be at both now: report what became of the other one too, done "
                        "or open."
                    )
                )

    def _apart_from(self, one: Held, other: Held, both: Sequence[str]) -> None:
        """Take people off one of two things that both run."""
        first, then = sorted((one, other), key=lambda held: (held.start_min, held.operation))
        left = self.held[first.operation]
        others = tuple(name for name in left.people if name not in both)
        self.held[first.operation] = left.model_copy(update={"people": others})
        row = self.told[first.operation]
        self.guessed.append(guesses.is_at_the_later(row, first.operation, then.operation, both))

    def _ready(self, slot: Slot) -> int | None:
        """When all that it waits for had ended; None while some of it has not begun."""
        before = [self.held.get(key) for key in self.operations[slot.operation].after]
        ends = [held.end_min for held in before if held]
        return max(ends, default=0) if len(ends) == len(before) else None

    def _people(self, slot: Slot) -> tuple[str, ...]:
        """Who does it, of those who are still of the shop."""
        return tuple(name for name in slot.people if name in self.known)

    def _at_it(self, slot: Slot, station: str) -> tuple[str, ...]:
        """Who goes on with what is running: not those who are off for the rest of the day."""
        return tuple(
            name for name in self._people(slot) if not self.clock.is_away(name, station, self.now)
        )

    def _expected(self, slot: Slot) -> _Times | None:
        """When it would have been done in the issued order; None while it had to wait."""
        ready = self._ready(slot)
        if ready is None:
            return None
        free = self._free(slot)
        if free <= slot.setup_start_min and ready <= slot.start_min:
            return _Times(slot.setup_start_min, slot.start_min, slot.end_min)
        calendar = self.clock.calendar(slot.station, slot.people)
        setup_start = calendar.fit(max(free, slot.setup_start_min), slot.setup_min)
        earliest = max(setup_start + slot.setup_min, ready, slot.start_min)
        run = self.clock.running(slot.station, slot.people)
        start = run.fit(earliest, 1)
        end = run.advance(start, slot.minutes)
        if setup_start < self.now < end:
            run = self.clock.running(slot.station, self._at_it(slot, slot.station))
            end = min(end, run.advance(start, slot.minutes))
        return _Times(setup_start, start, end)

    def _in_time(self, slot: Slot, times: _Times | None) -> _Times | None:
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
        return _Times(*(bound.times(slot, max(free, opens), ready) or sooner))

    def _only_set_up(self, slot: Slot, times: _Times) -> bool:
        """Whether its changeover was made ahead and it waits, so that other work may go in."""
        changed = times.setup_start + slot.setup_min
        if not changed <= self.now < times.start:
            return False
        return self.clock.running(slot.station, slot.people).fit(self.now, 1) < times.start

    def _by_plan(self, slot: Slot, times: _Times | None) -> Held | None:
        if times is None or times.setup_start >= self.now or self._only_set_up(slot, times):
            return None
        why = HeldWhy.DONE if times.end <= self.now else HeldWhy.STARTED
        shifted = (times.start, times.end) != (slot.start_min, slot.end_min)
        done = why is HeldWhy.DONE
        return Held(
            operation=slot.operation,
            why=why,
            station=slot.station,
            people=self._people(slot) if done else self._at_it(slot, slot.station),
            setup_start_min=times.setup_start,
            start_min=times.start,
            end_min=times.end,
            actual=shifted or slot.operation in self.recorded,
        )

    def _as_told(self, slot: Slot, times: _Times | None, row: Progress) -> Held | None:
        station = row.station or slot.station
        times = times or _Times(slot.setup_start_min, slot.start_min, slot.end_min)
        done = row.state is State.DONE
        start, end = (self._done if done else self._started)(slot, times, row)
        ready = self._ready(slot)
        problem = next(self._contradictions(slot, row, start, end, ready), "")
        if problem:
            self.wrong.append(row.wrong(problem))
            return None
        same = (start, end, station) == (slot.start_min, slot.end_min, slot.station)
        return Held(
            operation=slot.operation,
            why=HeldWhy.DONE if done else HeldWhy.STARTED,
            station=station,
            people=self._people(slot) if done else self._at_it(slot, station),
            setup_start_min=(
                times.setup_start if start == times.start else max(0, start - slot.setup_min)
            ),
            start_min=start,
            end_min=end,
            actual=not same or slot.operation in self.recorded,
            pieces=None if done else row.pieces,
            note=row.note,
        )

    def _set_up(self, slot: Slot, times: _Times | None, row: Progress) -> Held | None:
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
        calendar = self.clock.calendar(station, self._at_it(slot, station))
        changed = calendar.advance(calendar.fit(setup_start, 1), slot.setup_min)
        run = self.clock.running(station, self._at_it(slot, station))
        start = run.fit(max(changed, self.now + 1, ready or 0), 1)
        found = _Times(setup_start, start, run.advance(start, slot.minutes))
        if ready is None or (ready > self.now and self._only_set_up(slot, found)):
            return None
        return Held(
            operation=slot.operation,
            why=HeldWhy.STARTED,
            station=station,
            people=self._at_it(slot, station),
            setup_start_min=setup_start,
            start_min=start,
            end_min=found.end,
            actual=True,
            note=row.note,
        )

    def _done(self, slot: Slot, times: _Times, row: Progress) -> tuple[int, int]:
        """Start and end of what is done, the one that is not given from the minutes that it took,
        else from the plan's."""
        calendar = self.clock.running(row.station or slot.station, slot.people)
        start, end = row.start_min, row.end_min
        if row.minutes is not None:
            return _took(calendar, row.minutes, times.start if start is None else start, end)
        if start is not None and end is None:
            begun = calendar.fit(start, 1)
            end = min(self.now, calendar.advance(begun, slot.minutes))
        elif end is None:
            end = min(self.now, times.end)
        if start is None:
            start = times.start if times.start < end else max(0, end - slot.minutes)
        return start, end

    def _started(self, slot: Slot, times: _Times, row: Progress) -> tuple[int, int]:
        """Start and expected end of what is running, by the pieces done if they are given."""
        start = min(times.start, self.now) if row.start_min is None else row.start_min
        station = row.station or slot.station
        calendar = self.clock.running(station, self._at_it(slot, station))
        if row.end_min is not None:
            return start, row.end_min
        if row.pieces is None:
            end = calendar.advance(calendar.fit(max(start, 0), 1), slot.minutes)
            return start, end if end > self.now else self._overdue(slot, calendar, row, end)
        count = self.operations[slot.operation].count
        left = -(-slot.minutes * max(0, count - row.pieces) // max(1, count))
        return start, calendar.advance(calendar.fit(self.now, 1), left)

    def _overdue(self, slot: Slot, calendar: Calendar, row: Progress, due: int) -> int:
        """When what should have ended at `due`, and still runs, is taken to end."""
        left = guesses.minutes_left(slot.minutes)
        end = calendar.advance(calendar.fit(self.now, 1), left)
        words = self.clock.words
        self.guessed.append(guesses.runs_on(row, slot.operation, due, end, words))
        return end

    def _ended(self, slot: Slot, row: Progress) -> Progress:
        """What is said of it: that it is done, where it should have ended, says no more than that
        it runs, and something has begun that cannot begin before its end."""
        says_more = row.end_min is not None or row.pieces is not None or row.note
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
                station = row.station or self.stations[key]
                here = self.places[station] == place
                tube = slot.operation in self.operations[key].after
                if (tube and row.state is not State.SET_UP) or here:
                    yield row.start_min, key

    def _contradictions(
        self, slot: Slot, row: Progress, start: int, end: int, ready: int | None
    ) -> Iterator[str]:
        """What speaks against the times of a row, the root of it first."""
        words, key = self.clock.words, slot.operation
        if start < 0:
            yield f"{key} cannot begin at {words(start)}, before the plan's first day: correct it."
        if ready is None:
            names = [name for name in self.operations[key].after if name not in self.held]
            yield f"{key} is said to be {row.state} before {names[0]} has begun: report that too."
        elif start < ready:
            yield (
                f"{key} cannot begin at {words(start)}, before the work that it waits for has "
                f"ended at {words(ready)}: correct the times, or give those of both."
            )
        if row.state is State.DONE and end > self.now:
            yield f"{key} cannot be done at {words(end)}, after now: correct it or say started."
        if start > self.now:
            yield f"{key} cannot have begun at {words(start)}, after now: correct it, or say pin."
        if row.state is State.STARTED and end <= self.now:
            yield (
                f"{key} was expected to end at {words(end)}: give the Pieces that are done or "
                "the End that is expected, or say done."
            )
        if end <= start:
            yield f"{key} ends at {words(end)}, not after it begins at {words(start)}: correct it."


def _took(calendar: Calendar, minutes: int, start: int, end: int | None) -> tuple[int, int]:
    """Start and end of what took so many minutes: until then, or else from then on."""
    if end is not None:
        return end - minutes, end
    return start, calendar.advance(calendar.fit(start, 1), minutes)


def _by_time(held: Held) -> tuple[int, int, str]:
    return held.setup_start_min, held.end_min, held.operation
