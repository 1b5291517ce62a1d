"""Where locked and pinned operations must lie."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations

from planner.changeovers import Mounts, changes, setup_minutes
from planner.errors import Finding, InputError
from planner.held import Held, HeldWhy
from planner.progress import Progress, State
from planner.records import Alternative, Operation, Slot
from planner.replan.clock import Clock
from planner.shop import Shop


@dataclass(frozen=True, slots=True)
class Scene:
    """The shop now: what was issued, what has happened, and what is mounted."""

    shop: Shop
    clock: Clock
    now_min: int
    slots: Mapping[str, Slot]
    """Issued slots by operation."""
    operations: Mapping[str, Operation]
    """Operations of the lots that stay, by key."""
    past: Mapping[str, Held]


def place_pins(scene: Scene, progress: Sequence[Progress]) -> dict[str, Held]:
    """What is held because a row says so, by operation.

    Operations that have begun by now are passed over where a row names a whole lot. Raises
    InputError with every row that asks for what cannot be.
    """
    found: dict[str, Held] = {}
    wrong: list[Finding] = []
    bench = _Bench(scene, found)
    rows = [row for row in progress if row.state in (State.LOCK, State.PIN)]
    for row in sorted(rows, key=lambda row: row.state is State.PIN):  # pins mind locks
        gone = [key for key in row.operations if key not in scene.operations]
        wrong.extend(
            row.wrong(f"{key} is no work of the shop any more: delete it.") for key in gone
        )
        open_ones = [key for key in row.operations if key not in (*scene.past, *gone)]
        if not open_ones and not gone:
            done = f"{row.operations[0]} has begun by now: delete the row, or correct its times."
            wrong.extend([row.wrong(done)] if len(row.operations) == 1 else [])
        for key in open_ones[:1] if row.next else open_ones:
            held = bench.hold(scene.operations[key], row)
            if isinstance(held, str):
                wrong.append(row.wrong(held))
            else:
                found[key] = held
    if wrong:
        raise InputError(wrong)
    return found


class _Bench:
    """Works out one hold after the other, on top of what is held already."""

    def __init__(self, scene: Scene, found: Mapping[str, Held]) -> None:
        self.scene, self.found = scene, found
        self.operations = scene.operations
        self.queue: list[Held] = []
        """Operations that are next on their stations, after what has begun."""

    def hold(self, operation: Operation, row: Progress) -> Held | str:
        """Where the operation must lie, or why it cannot."""
        if row.state is State.LOCK:
            return self._locked(operation, row)
        if row.next:
            return self._next(operation, row)
        if row.start_min is None:
            return (
                f"{operation.key} is pinned, but to no time: give a Start such as next or Tuesday."
            )
        if row.span:
            return self._span(operation, row, row.start_min)
        return self._at(operation, row, row.start_min)

    def _locked(self, operation: Operation, row: Progress) -> Held | str:
        slot, words = self.scene.slots[operation.key], self.scene.clock.words
        if slot.start_min < self.scene.now_min:
            return (
                f"{operation.key} was issued for {words(slot.start_min)}, which has passed: pin it "
                "to another time, or report what became of it."
            )
        ways = {way.station: way for way in operation.alternatives}
        calendar = self.scene.clock.running(slot.station, slot.people)
        way = ways.get(slot.station)
        if (
            way is None
            or calendar.fit(slot.start_min, 1) != slot.start_min
            or calendar.advance(slot.start_min, way.minutes) != slot.end_min
            or not set(slot.people) <= {person.name for person in self.scene.shop.people}
        ):
            return (
                f"{operation.key} cannot stay at {words(slot.start_min)} on {slot.station}: its "
                "station, people, hours or minutes are others now; unlock it or pin it."
            )
        return _held(operation, HeldWhy.LOCKED, row, slot.station, slot.people,
                     slot.start_min, slot.end_min)  # fmt: skip

    def _span(self, operation: Operation, row: Progress, first: int) -> Held | str:
        start, end = max(first, self.scene.now_min), row.end_min or 0
        if end <= start:
            words = self.scene.clock.words(first)
            return f"{operation.key} is pinned to {words}, which has passed: give a time to come."
        return _held(operation, HeldWhy.PINNED, row, row.station, (), start, end, exact=False)

    def _at(self, operation: Operation, row: Progress, start: int) -> Held | str:
        """Exactly at a time, with the people who are done first and held nowhere else till then."""
        words = self.scene.clock.words
        if start < self.scene.now_min:
            return (
                f"{operation.key} is pinned to {words(start)}, which has passed: give a later time."
            )
        slot = self.scene.slots[operation.key]
        way = self._way(operation, row.station or slot.station)
        ends = {
            crew: self.scene.clock.running(way.station, crew).advance(start, way.minutes)
            for crew in self._crews(way, slot.people)
            if self.scene.clock.running(way.station, crew).fit(start, 1) == start
        }
        free = {crew: end for crew, end in ends.items() if not self._busy(crew, start, end)}
        if not free:
            return (
                f"{operation.key} cannot begin at {words(start)}: {way.station} or everybody who "
                "may run it is off or held then; give another time."
            )
        crew = min(free, key=lambda crew: free[crew])
        return _held(operation, HeldWhy.PINNED, row, way.station, crew, start, free[crew])

    def _next(self, operation: Operation, row: Progress) -> Held | str:
        """As soon as what is running lets it, where it is complete first."""
        pasts = [self.scene.past.get(key) or self.found.get(key) for key in operation.after]
        if not all(pasts):
            return f"{operation.key} cannot be next: {operation.after[0]} has not begun; pin that."
        ready = max([operation.release_min, *(past.end_min for past in pasts if past)])
        slot = self.scene.slots[operation.key]
        ways = [w for w in operation.alternatives if row.station in ("", w.station)]
        tries = [
            (*self._soonest(way, crew, ready), way, crew)
            for way in ways
            for crew in self._crews(way, slot.people)
        ]
        if not tries:
            return f"{operation.key} cannot be next: nobody may run its station."
        start, end, way, crew = min(tries, key=lambda each: each[1])
        self.queue.append(_held(operation, HeldWhy.PINNED, row, way.station, crew, start, end))
        return self.queue[-1]

    def _soonest(self, way: Alternative, crew: tuple[str, ...], ready: int) -> tuple[int, int]:
        """Earliest start and end at a station, changeover first."""
        calendar = self.scene.clock.calendar(way.station, crew)
        free = max([self.scene.now_min, *(held.end_min for held in self._at_place(way, crew))])
        change = self._change(way)
        changed = calendar.fit(free, change) + change if change else free
        run = self.scene.clock.running(way.station, crew)
        start = run.fit(max(changed, ready), 1)
        return start, run.advance(start, way.minutes)

    def _at_place(self, way: Alternative, crew: tuple[str, ...]) -> Iterator[Held]:
        """What has to end first: work that has begun, and what is next already."""
        place = self._place(way.station)
        for held in (*self.scene.past.values(), *self.queue):
            if self._place(held.station) == place or set(held.people) & set(crew):
                yield held

    def _change(self, way: Alternative) -> int:
        """Changeover minutes after all that is before it on the station or its base."""
        mounts = Mounts(self.scene.shop)
        for held in (*self.scene.past.values(), *self.queue):
            station = self.scene.shop.station(held.station)
            mounts.mount(station, self.operations[held.operation].at(held.station).state)
        station = self.scene.shop.station(way.station)
        found = changes(mounts.before(station), way.state, station, self.scene.shop)
        return setup_minutes(found)

    def _crews(self, way: Alternative, usual: tuple[str, ...]) -> list[tuple[str, ...]]:
        """Who may do it, those who were to do it first; nobody where the shop names no people."""
        able = [p.name for p in self.scene.shop.people if way.station in p.stations]
        able.sort(key=lambda name: name not in usual)
        if not self.scene.shop.people:
            return [()]
        return list(combinations(able, way.people))

    def _busy(self, crew: tuple[str, ...], start: int, end: int) -> bool:
        """Whether one of them is held elsewhere in that time."""
        return any(
            set(held.people) & set(crew) and held.start_min < end and start < held.end_min
            for held in (*self.scene.past.values(), *self.found.values())
        )

    def _place(self, name: str) -> str:
        return self.scene.shop.station(name).base or name

    def _way(self, operation: Operation, station: str) -> Alternative:
        ways = {way.station: way for way in operation.alternatives}
        return ways.get(station, operation.alternatives[0])


def _held(
    operation: Operation,
    why: HeldWhy,
    row: Progress,
    station: str,
    people: tuple[str, ...],
    start: int,
    end: int,
    exact: bool = True,
) -> Held:
    return Held(
        operation=operation.key,
        why=why,
        station=station,
        people=people,
        setup_start_min=start,
        start_min=start,
        end_min=end,
        exact=exact,
        note=row.note or ("next" if row.next else ""),
    )
