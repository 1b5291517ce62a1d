"""The run order: each station's runs in time, with the changeover before each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby, pairwise

from planner.hours import how_late
from planner.mounting import size_nm
from planner.orders import Step
from planner.records import Slot
from planner.shop import What
from planner.tube import TubeSpec
from planner_io.drawing.lay import Lay
from planner_io.views import words
from planner_io.views.index import Index
from planner_io.views.pick_lists import Changeover, changeover


@dataclass(frozen=True)
class Run:
    """Consecutive operations of a station with nothing to change between them."""

    station: str
    number: int
    step: Step
    title: str
    """Tube and grade or tool, such as `1-1/2" × .065" P80`."""
    short: str
    """The same as short as can be: `1-1/2" P80`."""
    spec: TubeSpec
    one_size: bool
    """Whether all its tubes have the same OD, so that one ring stands for them."""
    lay: Lay | None
    operations: tuple[str, ...]
    steps: tuple[int, ...]
    lots: tuple[str, ...]
    lines: tuple[str, ...]
    changeover: Changeover | None
    setup_start_min: int
    start_min: int
    end_min: int
    pieces: tuple[tuple[int, int], ...]
    """When it works; in between it pauses."""
    minutes: int
    people: tuple[str, ...]
    late: str
    held_by: str


def runs(index: Index) -> tuple[Run, ...]:
    """All runs, by station and then by time."""
    return tuple(
        run(index, list(slots))
        for of_station in index.by_station.values()
        for _, slots in groupby(of_station, key=lambda slot: slot.run)
    )


def stretches(index: Index) -> tuple[Run, ...]:
    """The runs, each in parts where its station stands still in between."""
    return tuple(
        run(index, part)
        for of_station in index.by_station.values()
        for _, slots in groupby(of_station, key=lambda slot: slot.run)
        for part in _without_waits(list(slots))
    )


def _without_waits(slots: list[Slot]) -> Iterator[list[Slot]]:
    part = slots[:1]
    for before, slot in pairwise(slots):
        if slot.start_min > before.end_min:
            yield part
            part = []
        part.append(slot)
    yield part


def run(index: Index, slots: list[Slot]) -> Run:
    """The run that consists of these slots."""
    operations = [index.operations[slot.operation] for slot in slots]
    first = operations[0]
    specs = [index.lots[operation.lot].spec for operation in operations]
    late = [row for operation in operations for row in index.late_by(operation)]
    worst = max((row.late_min for row in late), default=0)
    return Run(
        station=slots[0].station,
        number=slots[0].run,
        step=first.step,
        title=" ".join([_tubes(index, specs), *_with(index, slots[0])]),
        short=" ".join([_sizes(index, specs), *_with(index, slots[0])]),
        spec=specs[0],
        one_size=len({spec.od_nm for spec in specs}) == 1,
        lay=index.lay(first),
        operations=tuple(operation.key for operation in operations),
        steps=tuple(index.step_numbers[operation.key] for operation in operations),
        lots=tuple(dict.fromkeys(operation.lot for operation in operations)),
        lines=tuple(
            dict.fromkeys(line for operation in operations for line in index.lines_of(operation))
        ),
        changeover=changeover(index, slots[0]),
        setup_start_min=slots[0].setup_start_min,
        start_min=slots[0].start_min,
        end_min=slots[-1].end_min,
        pieces=tuple(piece for slot in slots for piece in slot.pieces),
        minutes=sum(slot.minutes for slot in slots),
        people=tuple(dict.fromkeys(person for slot in slots for person in slot.people)),
        late=f"LATE {how_late(worst)}" if late else "",
        held_by=_held_by(index, slots),
    )


def _held_by(index: Index, slots: list[Slot]) -> str:
    """What held a run: of one that goes on after it was planned again, its first open step."""
    again = index.plan.replan
    rest = [slot for slot in slots if again and slot.operation not in again.past]
    if not rest or rest[0] is slots[0]:
        return slots[0].held_by
    return f"goes on with step {index.step_numbers[rest[0].operation]}: {rest[0].held_by}"


def _tubes(index: Index, specs: list[TubeSpec]) -> str:
    tubes = list(dict.fromkeys(index.ruler.tube(spec) for spec in specs))
    if len(tubes) == 1:
        return tubes[0]
    is_one_size = len({spec.od_nm for spec in specs}) == 1
    return _sizes(index, specs) + (f", {len(tubes)} walls" if is_one_size else "")


def _sizes(index: Index, specs: list[TubeSpec]) -> str:
    tubes = {index.ruler.tube(spec) for spec in specs}
    if len(tubes) == 1 and " sch " in (pipe := tubes.pop()):
        return pipe
    sizes = list(dict.fromkeys(index.ruler.size(spec.od_nm) for spec in specs))
    return sizes[0] if len(sizes) == 1 else f"{len(sizes)} sizes"


def _with(index: Index, slot: Slot) -> list[str]:
    """The grade of a pass, or the first tool of any other step."""
    if grade := index.operations[slot.operation].grade:
        return [grade]
    state, tools = index.state(slot), (What.DIE, What.CUTTER, What.ROLLER)
    names = [words.mounted(what, state[what], index.ruler) for what in tools if what in state]
    is_size = any(size_nm(state.get(what, "")) for what in (What.CUTTER, What.ROLLER))
    return [f"on {names[0]}" if is_size else names[0]] if names else []
