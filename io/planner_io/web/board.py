"""A plan and its taps, as the pages show them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property, lru_cache
from itertools import combinations

from markupsafe import Markup

from planner.hours import day_name
from planner.records import Slot
from planner.tube import TubeSpec
from planner_io.drawing.cut_bar import Bar, cut_bar
from planner_io.drawing.gap import broken_line
from planner_io.drawing.ink import svg
from planner_io.drawing.lay import Lay, lay_strip
from planner_io.drawing.ring import ring, ring_scale
from planner_io.packet.pictures import Pictures
from planner_io.packet.side import side_picture
from planner_io.packet.sizes import RING_MM
from planner_io.taps import NOT_BEGUN, Stands
from planner_io.views.belts import new_belts
from planner_io.views.cards import SetUpCard, set_up_cards
from planner_io.views.cuts import CutSheet, cut_sheets
from planner_io.views.index import Index
from planner_io.views.pick_lists import PickStep, clock_on, key_settings, pick_step
from planner_io.views.ruler import day_of
from planner_io.views.summary import dates
from planner_io.web.form import all_minutes
from planner_io.web.hours import minutes_open
from planner_io.web.jobs import Job, StationList, by_day
from planner_io.web.losable import losses
from planner_io.web.week import Week, week

BAR_MM = 186.0
LAY_MM = 24.0
GAP_MM = 2.6
"""A minute of a changeover."""
LONGEST_GAP_MM = 170.0
LEAST_BEHIND_MIN = 10
"""Less is not told: nobody taps to the minute."""


@dataclass(frozen=True)
class Coming:
    """What comes to a step."""

    take: str
    """How many: `7 of 8 sticks` where one was lost before."""
    told: tuple[str, ...]
    """What is not tapped done before it, and what was lost there."""
    lost: frozenset[str]
    """Tags of the sticks that do not come."""


class Board:
    """A plan with its pictures; everything that does not change while the week goes on."""

    def __init__(self, index: Index) -> None:
        self.index = index
        self.cards = {(card.station, card.number): card for card in set_up_cards(index)}
        self.new_belts = new_belts(index)
        self.cuts = {(cut.station, cut.step_number): cut for cut in cut_sheets(index)}
        self._scale = ring_scale((lot.spec.od_nm for lot in index.plan.lots), RING_MM)
        self._side = lru_cache(maxsize=None)(self._draw_side)

    @cached_property
    def _steps(self) -> Mapping[str, tuple[PickStep, Slot]]:
        slots = self.index.plan.slots
        return {slot.operation: (pick_step(self.index, slot), slot) for slot in slots}

    @cached_property
    def whole(self) -> Week:
        """All of the week, for whoever plans it."""
        return week(self.index)

    @property
    def shop(self) -> str:
        """The shop's name."""
        return self.index.plan.shop.house.name

    @property
    def week(self) -> str:
        """The week and its days, and when it was planned again."""
        words = (self.index.week_name, dates(self.index), self.index.as_of)
        return ", ".join(filter(None, words))

    @property
    def stations(self) -> tuple[str, ...]:
        """Stations with something to do."""
        return tuple(self.index.by_station)

    def job(self, operation: str, now: Mapping[str, Stands]) -> Job | None:
        """The step of an operation; None when the plan has none."""
        if operation not in self._steps:
            return None
        step, slot = self._steps[operation]
        day = day_name(self.index.day(day_of(slot.start_min)))
        return Job(step, slot, day, now.get(operation, NOT_BEGUN))

    def station_list(
        self, name: str, now: Mapping[str, Stands], at: datetime
    ) -> StationList | None:
        """The list of a station at a time; None when it has nothing to do in this plan."""
        if name not in self.index.by_station:
            return None
        slots = self.index.by_station[name]
        jobs = [job for slot in slots if (job := self.job(slot.operation, now))]
        open_jobs = [job for job in jobs if not job.done]
        first = _first(open_jobs)
        return StationList(
            name,
            tuple(first),
            by_day([job for job in open_jobs if job not in first]),
            tuple(job for job in jobs if job.done),
            self._behind(first, at) if any(job.stands != NOT_BEGUN for job in jobs) else 0,
        )

    def next_of(self, card: SetUpCard, now: Mapping[str, Stands]) -> Job | None:
        """The step of a card that has begun, or else the next one; None when all are done."""
        jobs = [job for step in card.steps if (job := self.job(step.operation, now))]
        return min(
            (job for job in jobs if not job.done),
            key=lambda job: not job.stands.begun,
            default=None,
        )

    def _behind(self, first: Sequence[Job], at: datetime) -> int:
        """The most by which any of some steps has begun or ends too late, if it is worth a word."""
        found = max((self._too_late(job, at) for job in first), default=0)
        return found if found >= LEAST_BEHIND_MIN else 0

    def _too_late(self, job: Job, at: datetime) -> int:
        planned, found = job.slot, job.stands
        if found.start_at and not found.set_up_at:
            due, began = planned.start_min, found.start_at
        else:
            due, began = planned.setup_start_min, found.set_up_at or at
        begins = minutes_open(self.index, self.index.moment(due), began)
        return max(begins, minutes_open(self.index, self.index.moment(planned.end_min), at))

    def coming(self, job: Job, now: Mapping[str, Stands]) -> Coming:
        """What comes to a step, and what the steps before it mean for it."""
        operation, lost = self.index.operations[job.slot.operation], losses(self.index, now)
        before = [found for key in operation.after if (found := self.job(key, now))]
        told = () if job.done else (_waiting(before), self._still(job, now), lost.told(operation))
        return Coming(
            lost.take(operation), tuple(filter(None, told)), frozenset(lost.sticks(operation))
        )

    def crews(self, job: Job) -> tuple[tuple[str, ...], ...]:
        """Who may do a step, one or two at once as it needs; none where the shop names nobody."""
        way = self.index.operations[job.slot.operation].at(job.slot.station)
        people = self.index.plan.shop.people
        able = [person.name for person in people if job.slot.station in person.stations]
        return tuple(combinations(able, way.people)) if people else ()

    def others(self, job: Job) -> tuple[tuple[int, str], ...]:
        """Who may do a step that has begun, but for those who do it: number and names."""
        if not job.stands.begun:
            return ()
        now = set(job.stands.who or job.slot.people)
        crews = enumerate(self.crews(job))
        return tuple((number, " and ".join(crew)) for number, crew in crews if set(crew) != now)

    def settings(self, job: Job) -> tuple[tuple[str, str], ...]:
        """The first values of a step's card; on a list on paper they stand at its first step."""
        _, card = self.index.cards.get(job.slot.operation, (0, None))
        return key_settings(self.index, card)

    def all_min(self, job: Job) -> int:
        """Planned minutes of all of a run, of which the plan has the rest; 0 where it has all."""
        return all_minutes(self.index, job) if job.slot.operation in self.index.paused else 0

    def set_for(self, job: Job) -> str:
        """The step that a step's values were set for; empty where it is the step itself."""
        _, card = self.index.cards.get(job.slot.operation, (0, None))
        first = card.operations[0] if card else job.slot.operation
        return "" if first == job.slot.operation else f"step {self.index.step_numbers[first]}"

    def _still(self, job: Job, now: Mapping[str, Stands]) -> str:
        """What still runs at a station, or on its base, where a step has not begun."""
        if job.stands.begun:
            return ""
        place = self.index.place(job.slot.station)
        others = [found for key in now if (found := self.job(key, now)) and found.stands.runs]
        running = [each for each in others if self.index.place(each.slot.station) == place]
        is_here = all(each.slot.station == job.slot.station for each in running)
        return _not_done("here" if is_here else "on the same base", running)

    def takes(self, steps: Iterable[PickStep], now: Mapping[str, Stands]) -> Mapping[str, str]:
        """How many come to each of some steps, in words, by operation."""
        lost, operations = losses(self.index, now), self.index.operations
        return {step.operation: lost.take(operations[step.operation]) for step in steps}

    def begins(self, card: SetUpCard, step: PickStep) -> str:
        """When a step of a card begins, with its day where that is not the card's."""
        return clock_on(self.index, step.start_min, day_of(card.run.start_min))

    def ring(self, spec: TubeSpec) -> Markup:
        """The ring of a tube, to the plan's one scale."""
        return _picture(ring(spec.od_nm, spec.wall_nm, self._scale, RING_MM))

    def lay(self, lay: Lay | None) -> Markup:
        """The strip of a belt; empty for work without one."""
        return _picture(lay_strip(lay, LAY_MM) if lay else "")

    def gap(self, minutes: int) -> Markup:
        """A changeover as a broken line as long as its minutes; empty for one of none."""
        width = min(LONGEST_GAP_MM, minutes * GAP_MM)
        drawn = broken_line(GAP_MM / 2, width, GAP_MM / 2)
        return _picture(svg(width + GAP_MM, GAP_MM, [drawn]) if minutes else "")

    def cut(self, job: Job) -> CutSheet | None:
        """The cut list of a step at a saw; None for other steps."""
        return self.cuts.get((job.slot.station, job.step.number))

    def bar(self, bar: Bar) -> Markup:
        """A stick's cut bar, to one scale for all sticks of the plan."""
        longest = max(stick.length_nm for cut in self.index.plan.cut_lists for stick in cut.sticks)
        return _picture(cut_bar(bar, BAR_MM, (BAR_MM - 1) / longest))

    def drawn(self, picture: str) -> Markup:
        """A picture that is drawn already."""
        return _picture(picture)

    def side(self, card: SetUpCard) -> Markup:
        """The side view of a finisher's card; empty for other cards."""
        return self._side((card.station, card.number))

    def _draw_side(self, which: tuple[str, int]) -> Markup:
        pictures = Pictures(self._scale)
        name = side_picture(self.index, self.cards[which], pictures)
        return _picture(pictures.svg[name] if name else "")


def _first(open_jobs: Sequence[Job]) -> list[Job]:
    """What runs, or else the step that is next; and what stands still."""
    begun = [job for job in open_jobs if job.stands.begun]
    paused = [job for job in begun if job.stands.paused_at]
    runs = [job for job in begun if job not in paused] or open_jobs[:1]
    return [*runs, *(job for job in paused if job not in runs)]


def _waiting(before: Sequence[Job]) -> str:
    return _not_done("before it", [job for job in before if not job.done])


def _not_done(where: str, jobs: Sequence[Job]) -> str:
    names = [f"{job.slot.station} step {job.step.number}, {job.step.what}" for job in jobs]
    return f"Not tapped done {where}: {'; '.join(names)}" if names else ""


def _picture(drawn: str) -> Markup:
    """SVG of `planner_io.drawing`, which escapes all words in it."""
    return Markup(drawn)
