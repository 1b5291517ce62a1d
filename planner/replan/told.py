"""When an operation began and ended, or is expected to, as a row of progress says it.

What the row leaves open follows from the minutes of the plan.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from planner.errors import Finding
from planner.held import Paused
from planner.progress import Progress, State
from planner.records import Operation, Slot
from planner.replan import guesses
from planner.replan.clock import Clock, worked
from planner.replan.paused import all_minutes, minutes_left, part_left
from planner.replan.turned import Turn
from planner.schedule.calendar import Calendar


@dataclass(frozen=True, slots=True)
class Times:
    """When a changeover and its run began, and when the run ended or will."""

    setup_start: int
    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Told:
    """Reads rows against the plan and the clock. Slots have the people of their rows."""

    clock: Clock
    now: int
    operations: Mapping[str, Operation]
    paused: Mapping[str, Paused]
    """What stood still when the issued plan was made."""
    guessed: list[Finding] = field(default_factory=list[Finding])

    def span(self, slot: Slot, times: Times, row: Progress) -> tuple[int, int]:
        """Start and end of what is done, runs or stands still."""
        read: Mapping[State, Callable[[Slot, Times, Progress], tuple[int, int]]] = {
            State.DONE: self._done,
            State.PAUSED: self._stood,
        }
        return read.get(row.state, self._started)(slot, times, row)

    def stood(
        self, slot: Slot, row: Progress, span: tuple[int, int], turn: Turn | None
    ) -> tuple[Progress, int]:
        """Since when a run stands still that gave way to another one, and its row with no more
        minutes than that: a station does not go on with it beside the other."""
        start, end = span
        late = turn is not None and turn.here and turn.begun_min < end
        if turn is None or not (row.end_min is None or late):
            return row, end
        since, words = min(turn.minute, end), self.clock.words
        self.guessed.append(
            guesses.stood_still(row, slot.operation, turn.to, turn.begun_min, since, words)
        )
        if row.minutes is None:
            return row, since
        calendar = self.clock.running(row.station or slot.station, slot.people)
        return replace(row, minutes=min(row.minutes, worked(calendar, start, since))), since

    def part(self, slot: Slot, row: Progress, start: int, since: int) -> tuple[int, int]:
        """Of all its minutes, how much is left of a run that stands still."""
        ran = row.minutes
        if ran is None:
            calendar = self.clock.running(row.station or slot.station, slot.people)
            ran = worked(calendar, start, since)
        count = self.operations[slot.operation].count
        return part_left(slot, count, row, ran, self.paused.get(slot.operation))

    def goes_on(self, slot: Slot, row: Progress, part: tuple[int, int]) -> int:
        """When what stands still ends, if it goes on now."""
        left = minutes_left(slot, part, self.paused.get(slot.operation))
        return self._from_now(self._calendar(slot, row), left)

    def _done(self, slot: Slot, times: Times, row: Progress) -> tuple[int, int]:
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

    def _stood(self, slot: Slot, times: Times, row: Progress) -> tuple[int, int]:
        """When it began, and since when it stands still."""
        start = min(times.start, self.now) if row.start_min is None else row.start_min
        return start, self.now if row.end_min is None else row.end_min

    def _started(self, slot: Slot, times: Times, row: Progress) -> tuple[int, int]:
        """Start and expected end of what is running, by the pieces that are done or the minutes
        that it has worked if they are given."""
        start = min(times.start, self.now) if row.start_min is None else row.start_min
        calendar = self._calendar(slot, row)
        if row.end_min is not None:
            return start, row.end_min
        if row.pieces is not None:
            count, all_of_it = self.operations[slot.operation].count, self._all(slot)
            left = -(-all_of_it * max(0, count - row.pieces) // max(1, count))
            return start, self._from_now(calendar, left)
        if row.minutes is not None and row.minutes < slot.minutes:
            return start, self._from_now(calendar, slot.minutes - row.minutes)
        end = calendar.advance(calendar.fit(max(start, 0), 1), slot.minutes)
        if row.minutes is None and end > self.now:
            return start, end
        return start, self._overdue(slot, calendar, row, min(end, self.now))

    def _all(self, slot: Slot) -> int:
        return all_minutes(slot, self.paused.get(slot.operation))

    def _calendar(self, slot: Slot, row: Progress) -> Calendar:
        """Working minutes of a run that goes on, without those who are off by now."""
        station = row.station or slot.station
        return self.clock.running(station, self.clock.there(slot.people, station, self.now))

    def _from_now(self, calendar: Calendar, minutes: int) -> int:
        return calendar.advance(calendar.fit(self.now, 1), minutes)

    def _overdue(self, slot: Slot, calendar: Calendar, row: Progress, due: int) -> int:
        """When what should have ended at `due`, and still runs, is taken to end."""
        end = self._from_now(calendar, guesses.minutes_left(slot.minutes))
        words = self.clock.words
        self.guessed.append(guesses.runs_on(row, slot.operation, due, end, words))
        return end

    def wrong(
        self, slot: Slot, row: Progress, times: tuple[int, int], ready: int | None, open_: str
    ) -> Iterator[str]:
        """What speaks against the times of a row, the root of it first. It could begin from
        `ready` on; None where `open_`, which it waits for, has not ended."""
        words, key, (start, end) = self.clock.words, slot.operation, times
        if start < 0:
            yield f"{key} cannot begin at {words(start)}, before the plan's first day: correct it."
        if ready is None:
            yield f"{key} is said to be {row.state} before {open_}: report that too."
        elif start < ready:
            yield (
                f"{key} cannot begin at {words(start)}, before the work that it waits for has "
                f"ended at {words(ready)}: correct the times, or give those of both."
            )
        if row.state is State.DONE and end > self.now:
            yield f"{key} cannot be done at {words(end)}, after now: correct it or say started."
        if row.state is State.PAUSED and end > self.now:
            yield f"{key} cannot stand still from {words(end)} on, after now: correct it."
        if start > self.now:
            yield f"{key} cannot have begun at {words(start)}, after now: correct it, or say pin."
        if row.state is State.STARTED and end <= self.now:
            yield (
                f"{key} was expected to end at {words(end)}: give the Pieces that are done or "
                "the End that is expected, or say done."
            )
        if row.state is State.PAUSED and row.pieces == self.operations[key].count:
            yield f"{key} is said to be paused, and all its {row.pieces} are done: say done."
        if end <= start:
            yield f"{key} ends at {words(end)}, not after it begins at {words(start)}: correct it."


def _took(calendar: Calendar, minutes: int, start: int, end: int | None) -> tuple[int, int]:
    """Start and end of what took so many minutes: until then, or else from then on."""
    if end is not None:
        return end - minutes, end
    return start, calendar.advance(calendar.fit(start, 1), minutes)
