"""The weeks of several plan folders: one that was planned again counts once."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from planner.records import Plan
from planner.standing import issued_at
from planner_io.plan_file import read_plan
from planner_io.tapped import taps_of
from planner_io.taps import RunReport, Tap, stands


@dataclass(frozen=True)
class Folder:
    """A plan, the name of its folder, and what was tapped on it; None where nobody did."""

    name: str
    plan: Plan
    taps: tuple[Tap, ...] | None = None

    @property
    def made(self) -> tuple[date, bool, int]:
        """Its week, and from when of it on it was planned."""
        options = self.plan.options
        return options.start, self.plan.replan is not None, options.start_min

    def replaces(self, other: Folder) -> bool:
        """Whether its plan was made from the other one by planning the rest of its week again."""
        again = self.plan.replan
        if again is None or self.made[0] != other.made[0] or self.made <= other.made:
            return False
        there = {slot.operation: issued_at(slot) for slot in other.plan.slots}
        return all(there.get(at.operation) == at for at in again.issued)


@dataclass(frozen=True)
class Timed:
    """A changeover that was timed on a tablet."""

    station: str
    planned_min: int
    took_min: int


@dataclass(frozen=True)
class Week:
    """A week, and what of its changeovers was timed; `before` are its plans until it was planned
    again, first to last."""

    label: str
    plan: Plan
    before: tuple[Folder, ...] = ()
    timed: tuple[Timed, ...] = ()


def read_folders(paths: Sequence[Path]) -> list[Folder]:
    """The plans of some folders, in the order of their weeks and of when they were made."""
    found = [Folder(_name(path), read_plan(path), taps_of(path)) for path in paths]
    return sorted(found, key=lambda it: it.made)


def _name(path: Path) -> str:
    return (path if path.is_dir() else path.parent).resolve().name


def weeks(folders: Sequence[Folder]) -> tuple[Week, ...]:
    """A week for each plan that none of the others replaces; those that begin on one day are told
    apart by their folders. `folders` are in the order of `made`."""
    last = [one for one in folders if not any(other.replaces(one) for other in folders)]
    days = Counter(one.plan.options.start for one in last)
    found: list[Week] = []
    for one in last:
        start = one.plan.options.start
        label = f"{start} {one.name}" if days[start] > 1 else start.isoformat()
        before = tuple(_before(one, folders))
        found.append(Week(label, one.plan, before, tuple(_timed((*before, one)))))
    return tuple(found)


def _before(one: Folder, folders: Sequence[Folder]) -> Iterator[Folder]:
    """The plans that it came from, first to last."""
    known = [other for other in folders if one.replaces(other)]
    if known:
        yield from _before(known[-1], folders)
        yield known[-1]


def _timed(folders: Sequence[Folder]) -> Iterator[Timed]:
    """Each changeover of which minutes were entered, as the last plan that has them says."""
    found: dict[str, tuple[Plan, RunReport]] = {}
    for folder in folders:
        for key, it in stands(folder.taps or ()).items():
            if it.report and it.report.setups:
                found[key] = folder.plan, it.report
    for key, (plan, report) in found.items():
        slot = next(slot for slot in plan.slots if slot.operation == key)
        yield Timed(slot.station, slot.setup_min, sum(minutes for _, minutes in report.setups))
