"""The form of a run that is done: what it offers, and what was entered in it.

It offers what was measured: minutes between the taps within the shop's hours, the set-up shared
out among its changes as the plan shares it. Hands correct what they know better.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime

from planner.errors import Finding, InputError, Severity, input_error
from planner.orders import Step
from planner.records import Operation
from planner.scrap import Scrap
from planner.shop import StationKind, What
from planner_io.logbook_sheet import SETUP_COLUMNS
from planner_io.taps import RunReport
from planner_io.views.index import Index
from planner_io.views.losses import Losses
from planner_io.views.places import fed
from planner_io.web.hours import minutes_in
from planner_io.web.jobs import Job
from planner_io.web.losable import losable
from planner_io.workbook.cells import angle, whole

TILT = "tilt of the brake wheel"
LONGEST_TEXT = 200
LONGEST_MIN = 24 * 60


@dataclass(frozen=True)
class Field:
    """One field: its name in the form, what it is called, and what stands in it."""

    name: str
    label: str
    value: str
    hint: str = ""
    number: bool = False
    choices: tuple[str, ...] = ()
    rare: bool = False
    """It is seldom filled in and stands apart."""


def fields(lost: Losses, job: Job, ended: datetime) -> tuple[Field, ...]:
    """The fields for a run that ended at `ended`."""
    index = lost.index
    operation = index.operations[job.slot.operation]
    at_finisher = is_finisher(index, job)
    took = minutes_in(index, job.stands.running(ended))
    return (
        _count(lost, operation),
        *_scrap(lost, operation),
        Field("minutes", "Minutes of the run", str(max(1, took)), _planned(index, job), True),
        *(_of_finisher(index, job, operation) if at_finisher else ()),
        *_setups(index, job, ended),
        Field("who", "Who", ", ".join(job.stands.who or job.slot.people)),
        *(_spring() if at_finisher else ()),
        Field("note", "Note", ""),
    )


def _count(lost: Losses, operation: Operation) -> Field:
    planned = f"planned {operation.count}"
    return Field("pieces", _fed(lost, operation), str(lost.coming(operation)), planned, True)


def _fed(lost: Losses, operation: Operation) -> str:
    """What the step counts: Sticks, Blanks or Pieces."""
    return f"{fed(lost.index, operation)}s".capitalize()


def _scrap(lost: Losses, operation: Operation) -> Iterator[Field]:
    for number, each in enumerate(losable(lost, operation)):
        yield Field(_scrap_name(number), each.label, "", each.hint, number=True)


def _scrap_name(number: int) -> str:
    return f"scrap-{number}"


def _planned(index: Index, job: Job) -> str:
    return f"planned {all_minutes(index, job)}, pauses left out"


def all_minutes(index: Index, job: Job) -> int:
    """The planned minutes of a run, with those of a part that was done before the plan."""
    part = index.paused.get(job.slot.operation)
    return job.slot.minutes * part.of // part.left if part else job.slot.minutes


def is_finisher(index: Index, job: Job) -> bool:
    """Whether a step is a pass, which the log learns from."""
    return index.plan.shop.station(job.slot.station).kind is StationKind.FINISHER


def _of_finisher(index: Index, job: Job, operation: Operation) -> tuple[Field, ...]:
    family = index.lots[operation.lot].spec.family
    belts = [belt.name for belt in index.plan.shop.belts if family in belt.families]
    _, card = index.cards.get(operation.key, (0, None))
    tilts = [s.angle_mdeg for s in card.settings if s.name == TILT] if card else []
    tilt = f"{tilts[0] / 1000:g}" if tilts and tilts[0] is not None else ""
    return (
        Field("tilt", "Tilt, degrees", tilt, "as it was set", True),
        Field("belt", "Belt", operation.belt or "", choices=tuple(belts)),
    )


def _spring() -> tuple[Field, ...]:
    return (Field("spring", "Spring", "", "how it stood, if it was good"),)


def setup_kinds(index: Index, job: Job) -> tuple[What, ...]:
    """What may have been changed before a step."""
    planned = [change.what for change in job.slot.changes]
    known = SETUP_COLUMNS.values() if is_finisher(index, job) else ()
    return tuple(dict.fromkeys([*planned, *known]))


def _setups(index: Index, job: Job, ended: datetime) -> list[Field]:
    """Set-up minutes by what was changed; blank where the set-up was for a part of the run that
    was done before the plan, which changed something else."""
    planned = {change.what: change.minutes for change in job.slot.changes}
    found = job.stands
    total = 0
    if found.set_up_at and job.slot.operation not in index.paused:
        total = minutes_in(index, [(found.set_up_at, found.start_at or ended)])
    shares = shared_out(total, planned)
    return [
        Field(
            f"setup-{what.name.lower()}",
            f"Set-up minutes: {what.value}",
            str(shares[what]) if shares.get(what) else "",
            f"planned {planned[what]}" if what in planned else "not planned",
            number=True,
            rare=what not in planned,
        )
        for what in setup_kinds(index, job)
    ]


def shared_out(total: int, planned: Mapping[What, int]) -> dict[What, int]:
    """Whole minutes that add up to `total`, in the proportion of the planned ones.

    >>> shared_out(20, {What.OD: 12, What.BELT: 5})
    {<What.OD: 'OD'>: 14, <What.BELT: 'belt'>: 6}
    """
    whole_of_it, before, done = sum(planned.values()), 0, 0
    found: dict[What, int] = {}
    for what, minutes in planned.items():
        done += minutes
        until = round(total * done / whole_of_it) if whole_of_it else 0
        found[what], before = until - before, until
    return found


def read_form(lost: Losses, job: Job, form: Mapping[str, str]) -> RunReport:
    """What was entered; InputError with every field that cannot be right."""
    reader, index = _Reader(form), lost.index
    at_finisher = is_finisher(index, job)
    pieces, scrap = _pieces(reader, lost, index.operations[job.slot.operation])
    report = RunReport(
        pieces=pieces,
        scrap=scrap,
        minutes=reader.whole("minutes", "Minutes of the run", 1, LONGEST_MIN) or 1,
        who=reader.text("who", "Who"),
        note=reader.text("note", "Note"),
        tilt_mdeg=reader.tilt() if at_finisher else None,
        belt=reader.belt(index) if at_finisher else "",
        spring=reader.text("spring", "Spring"),
        setups=tuple(
            (what, minutes)
            for what in setup_kinds(index, job)
            if (minutes := reader.whole(*_setup_name(what), 0, LONGEST_MIN, blank=True))
        ),
    )
    if reader.problems:
        raise InputError(
            tuple(Finding(severity=Severity.ERROR, message=text) for text in reader.problems)
        )
    return report


def _pieces(reader: _Reader, lost: Losses, operation: Operation) -> tuple[int, tuple[Scrap, ...]]:
    """How many went through, and what of all that came does not go on."""
    label = _fed(lost, operation)
    pieces = reader.whole("pieces", label, 0, operation.count)
    found = [
        (each, reader.whole(_scrap_name(number), each.label, 0, each.most, blank=True) or 0)
        for number, each in enumerate(losable(lost, operation))
    ]
    coming, count = lost.coming(operation), sum(count for _, count in found)
    explained = coming if operation.step is Step.SAW and count else count
    if pieces is not None and pieces + explained < coming:
        reader.problems.append(
            f"{label}: {coming} came and {pieces} are done; enter the others as scrap, or tap Not "
            "yet."
        )
    return pieces or 0, tuple(one for each, count in found for one in each.scrap(count))


def _setup_name(what: What) -> tuple[str, str]:
    return f"setup-{what.name.lower()}", f"Set-up minutes: {what.value}"


class _Reader:
    """Reads fields one by one and keeps what is wrong with them."""

    def __init__(self, form: Mapping[str, str]) -> None:
        self.form = form
        self.problems: list[str] = []

    def text(self, name: str, label: str) -> str:
        words = " ".join(self.form.get(name, "").split())
        if len(words) > LONGEST_TEXT:
            self.problems.append(f"{label}: it is longer than {LONGEST_TEXT} letters; shorten it.")
        return words

    def whole(
        self, name: str, label: str, least: int, most: int, *, blank: bool = False
    ) -> int | None:
        words = self.text(name, label)
        if blank and not words:
            return None
        expected = f"a whole number from {least} to {most}"
        return self._parse(
            label, words, lambda: whole(words, least, most, expected).value, expected
        )

    def tilt(self) -> int | None:
        words, expected = self.text("tilt", "Tilt"), "an angle above 0 and up to 30 degrees"
        found = self._parse("Tilt", words, lambda: angle(words).value, expected)
        if found is not None and not 0 < abs(found) <= 30_000:
            self.problems.append(f"Tilt: read “{words}”, expected {expected}.")
        return found

    def belt(self, index: Index) -> str:
        belt = self.form.get("belt", "")
        if belt not in {each.name for each in index.plan.shop.belts}:
            self.problems.append("Belt: choose one of the shop's belts.")
        return belt

    def _parse(self, label: str, words: str, parse: Callable[[], int], expected: str) -> int | None:
        try:
            return parse()
        except InputError:
            self.problems.append(f"{label}: read “{words}”, expected {expected}.")
            return None


def read_ended(job: Job, words: str, now: datetime) -> datetime:
    """When Done was tapped, as the form says; InputError when that cannot be."""
    try:
        ended = datetime.fromisoformat(words)
    except ValueError:
        ended = None
    if ended is None or ended.tzinfo or not (job.stands.start_at or now) <= ended <= now:
        raise input_error("This page is out of date: go back to the list and tap Done again.")
    return ended
