"""The steps of a station's list: how far each is, and the days on which they lie."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby

from planner.hours import day_name, duration
from planner.records import Slot
from planner_io.taps import NOT_BEGUN, Stands
from planner_io.views.losses import lost_words
from planner_io.views.pick_lists import PickStep
from planner_io.views.ruler import plural

LEAST_SHOWN = 8
"""Once so many steps are in sight, later days are folded up."""


@dataclass(frozen=True)
class Job:
    """One step of a station's list, and how far it is."""

    step: PickStep
    slot: Slot
    day: str
    stands: Stands

    @property
    def scrap(self) -> str:
        """`2 sticks (L03-04, L03-05) scrapped`; empty where nothing was entered."""
        lost = lost_words(self.stands.report.scrap) if self.stands.report else ""
        return f"{lost} scrapped" if lost else ""

    @property
    def people(self) -> tuple[str, ...]:
        """Who does it, or did: whom somebody tapped, else who is planned."""
        return self.stands.who or self.step.people

    @property
    def done(self) -> bool:
        """Tapped done, or done before the week was planned again."""
        untouched = self.stands == NOT_BEGUN
        return self.stands.done_at is not None or (untouched and self.step.done)

    @property
    def state(self) -> str:
        """How far it is, in words."""
        if self.stands.done_at:
            return ", ".join(filter(None, (f"done {_when(self.stands.done_at)}", self.scrap)))
        if self.stands.paused_at:
            return f"paused since {_when(self.stands.paused_at)}"
        if self.stands.start_at:
            return f"running since {_when(self.stands.start_at)}"
        if self.stands.set_up_at:
            return f"set-up since {_when(self.stands.set_up_at)}"
        return self.step.stands


@dataclass(frozen=True)
class Day:
    """Steps of a list that begin on one day."""

    name: str
    jobs: tuple[Job, ...]
    is_folded: bool
    """Whether it stands behind its heading until somebody opens it."""

    @property
    def words(self) -> str:
        """How many steps it has, and their minutes: `18 steps, 5 h 20; changeovers 32 min`."""
        work = sum(job.step.minutes for job in self.jobs)
        changes = sum(job.step.changeover.minutes for job in self.jobs if job.step.changeover)
        lost = f"; changeovers {duration(changes)}" if changes else ""
        return f"{plural(len(self.jobs), 'step')}, {duration(work)}{lost}"


def by_day(jobs: Sequence[Job]) -> tuple[Day, ...]:
    """Steps in their order by day: all of a day at least, and some to look ahead to."""
    return tuple(_days(jobs))


def _days(jobs: Sequence[Job]) -> Iterator[Day]:
    shown = 0
    for name, found in groupby(jobs, key=lambda job: job.day):
        of_day = tuple(found)
        yield Day(name, of_day, shown >= LEAST_SHOWN)
        shown += len(of_day)


@dataclass(frozen=True)
class StationList:
    """The one list of a station."""

    name: str
    first: tuple[Job, ...]
    """What has begun, or else the next step."""
    later: tuple[Day, ...]
    done: tuple[Job, ...]
    behind_min: int
    """Working minutes by which it is behind the plan, where somebody taps."""

    @property
    def last_done(self) -> Job | None:
        """What was tapped done last; None when nothing was."""
        times = [(job.stands.done_at, n) for n, job in enumerate(self.done) if job.stands.done_at]
        return self.done[max(times)[1]] if times else None

    @property
    def progress(self) -> str:
        """How many of its steps are done."""
        later = sum(len(day.jobs) for day in self.later)
        all_of_it = len(self.first) + later + len(self.done)
        return f"{len(self.done)} of {plural(all_of_it, 'step')} done"


def _when(at: datetime) -> str:
    """A time of the week: `Mon 7:05`."""
    return f"{day_name(at.date())[:3]} {at.hour}:{at.minute:02d}"
