"""The best of all lists that the engine can express, exactly: forward dynamic programming.

A state is the shop after some operations were placed by the plain decoder: which they are, what
is mounted, until when bases and people are busy, and the times that later operations wait for.
All that comes after depends on the state alone, so of two ways into it only the better counts.

Three more rules leave branches out; none of them can lose the best:

1. **Floor.** What a state has cost so far and a floor of what must still come is compared with
   the value of a known plan. The floor sees each remaining operation alone on its free base, and
   one entry of every value that the remaining work still needs mounted.
2. **Dominance**, only where nobody is named: start and end of an operation then rise with the
   times of the state, so a state with no later times and less cost is never worse. Overtime,
   disturbance and holding do not rise with times; levels that count them, and those after, are
   left to the rule of equal states.
3. **Order of starts**, only where nobody is named, no time is fixed and no arc lets work start
   before what it waits for: bases then do not touch each other, so every schedule is also that of
   a list in order of its starts. The last start is one more of the times of a state.

Operations that take no base are placed as soon as they can be: they stand in nobody's way.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from planner.schedule.compiled import NOWHERE, TERMS, Compiled, Mode
from planner.schedule.decoder import Decoder
from planner.schedule.problem import Term

T = {term: i for i, term in enumerate(TERMS)}
Levels = tuple[int, ...]


def all_orders(compiled: Compiled, order: tuple[int, ...] = ()) -> Iterator[tuple[int, ...]]:
    """Every order that respects precedence, none left out."""
    if len(order) == len(compiled.ops):
        yield order
    for i, op in enumerate(compiled.ops):
        if i not in order and all(p.operation in order for p in op.preds):
            yield from all_orders(compiled, (*order, i))


class TooManyError(RuntimeError):
    """More states than were allowed."""


@dataclass(frozen=True, slots=True)
class State:
    """The shop after `placed`; `pending` holds (start, end) of what later operations wait for."""

    placed: int
    mounted: tuple[int, ...]
    base_free: tuple[int, ...]
    people_free: tuple[int, ...]
    pending: tuple[tuple[int, int], ...]
    last_start: int

    @property
    def times(self) -> tuple[int, ...]:
        """Everything that is no better when later."""
        waits = (time for pair in self.pending for time in pair)
        return (self.last_start, *self.base_free, *self.people_free, *waits)


@dataclass(frozen=True, slots=True)
class Way:
    """What it cost to get into a state, and the list (operation, mode), last first."""

    levels: Levels
    path: tuple[object, ...]


def best_of_all_lists(
    compiled: Compiled, known: Levels | None = None, most_states: int = 10**9
) -> tuple[Levels | None, int]:
    """The best levels better than `known` (None if there are none), and the states looked at.

    Raises `TooManyError` beyond `most_states`.
    """
    enumeration = _Enumeration(compiled, known)
    layer: dict[tuple[object, ...], dict[State, Way]] = {}
    first = State(
        0, compiled.mounted, (0,) * len(compiled.bases), (0,) * len(compiled.people_free), (), 0
    )
    layer[0, first.mounted] = {first: Way((0,) * len(compiled.weights), ())}
    count = 0
    for _ in compiled.ops:
        after: dict[tuple[object, ...], dict[State, Way]] = {}
        for bucket in layer.values():
            for state, way in bucket.items():
                for child, cost in enumeration.children(state, way):
                    _keep(after.setdefault((child.placed, child.mounted), {}), child, cost,
                          enumeration.rising)  # fmt: skip
        layer = after
        count += sum(map(len, layer.values()))
        if count > most_states:
            raise TooManyError
    ends = [way.levels for bucket in layer.values() for way in bucket.values()]
    return min(ends, default=None), count


def _keep(bucket: dict[State, Way], state: State, way: Way, rising: int) -> None:
    """Add it unless it is dominated, and drop what it dominates.

    `rising` is the number of leading levels that count only what rises with the times.
    """
    old = bucket.get(state)
    if old is not None and old.levels <= way.levels:
        return
    if rising:
        cost, full = way.levels[:rising], rising == len(way.levels)
        if any(_dominates(o, w.levels[:rising], state, cost, full) for o, w in bucket.items()):
            return
        worse = [o for o, w in bucket.items()
                 if _dominates(state, cost, o, w.levels[:rising], full)]  # fmt: skip
        for other in worse:
            del bucket[other]
    bucket[state] = way


def _dominates(a: State, costs_a: Levels, b: State, costs_b: Levels, full: bool) -> bool:
    """Whether `a` costs less and is in no time later; as much is enough if all levels are seen."""
    if costs_a > costs_b or (costs_a == costs_b and not full) or a == b:
        return False
    return all(p <= q for p, q in zip(a.times, b.times, strict=True))


class _Enumeration:
    def __init__(self, compiled: Compiled, known: Levels | None) -> None:
        self.c = compiled
        self.known = known
        self.everything = (1 << len(compiled.ops)) - 1
        self.before = [_bits(p.operation for p in op.preds) for op in compiled.ops]
        self.after = [_bits(op.succs) for op in compiled.ops]
        alone = not compiled.people_free
        late_lags = all(p.lag >= 0 for op in compiled.ops for p in op.preds)
        free = all(op.fixed_start < 0 or op.done for op in compiled.ops)
        self.in_order_of_starts = alone and late_lags and free
        self.rising = _rising(compiled) if alone else 0
        self.decoder = Decoder(compiled)
        self.entries = _Entries(compiled)
        self.used: dict[int, tuple[set[int], set[int], set[int]]] = {}

    def children(self, state: State, way: Way) -> Iterator[tuple[State, Way]]:
        """Every state one operation on that can still lead to something better."""
        for number in self._next(state.placed):
            for mode in self.c.ops[number].modes:
                self._load(state)
                step = self.decoder.place(number, mode)
                nowhere = self.c.modes[mode].base == NOWHERE
                if self.in_order_of_starts and not nowhere and step.start < state.last_start:
                    continue
                last = state.last_start if nowhere or not self.in_order_of_starts else step.start
                more = self.c.levels(self.decoder.terms)
                levels = tuple(a + b for a, b in zip(way.levels, more, strict=True))
                child = self._state(state.placed | 1 << number, last)
                if self.known is not None:
                    floor = self._floor(child)
                    if tuple(a + b for a, b in zip(levels, floor, strict=True)) >= self.known:
                        continue
                yield child, Way(levels, ((number, mode), way.path))

    def _next(self, placed: int) -> list[int]:
        open_ = [
            i for i, before in enumerate(self.before)
            if not placed >> i & 1 and before & ~placed == 0
        ]  # fmt: skip
        for i in open_:
            if all(self.c.modes[m].base == NOWHERE for m in self.c.ops[i].modes):
                return [i]
        return open_

    def _load(self, state: State) -> None:
        d = self.decoder
        d.mounted = list(state.mounted)
        d.base_free, d.people_free = list(state.base_free), list(state.people_free)
        d.terms = [0] * len(TERMS)
        for i, pair in zip(self._waited(state.placed), state.pending, strict=True):
            d.start[i], d.end[i] = pair

    def _state(self, placed: int, last_start: int) -> State:
        """The decoder's, with everything forgotten that no remaining operation can ask for."""
        d = self.decoder
        slots, bases, people = self._asked(placed)
        return State(
            placed,
            tuple(v if i in slots else -1 for i, v in enumerate(d.mounted)),
            tuple(v if i in bases else 0 for i, v in enumerate(d.base_free)),
            tuple(v if i in people else 0 for i, v in enumerate(d.people_free)),
            tuple((d.start[i], d.end[i]) for i in self._waited(placed)),
            last_start if placed != self.everything else 0,
        )

    def _asked(self, placed: int) -> tuple[set[int], set[int], set[int]]:
        if placed not in self.used:
            modes = [
                self.c.modes[m]
                for i, op in enumerate(self.c.ops) if not placed >> i & 1
                for m in op.modes
            ]  # fmt: skip
            fixed = {p for i, op in enumerate(self.c.ops) if not placed >> i & 1
                     for p in op.fixed_people}  # fmt: skip
            self.used[placed] = (
                {need.slot for mode in modes for need in mode.needs},
                {mode.base for mode in modes},
                fixed | {p for mode in modes for crew in mode.crews for p in crew.people},
            )
        return self.used[placed]

    def _waited(self, placed: int) -> list[int]:
        return [i for i, after in enumerate(self.after) if placed >> i & 1 and after & ~placed]

    def _floor(self, state: State) -> Levels:
        """What must still come, at least."""
        terms = [0] * len(TERMS)
        known = dict(zip(self._waited(state.placed), state.pending, strict=True))
        for i in self.entries.order:
            op = self.c.ops[i]
            if state.placed >> i & 1:
                continue
            waits = (known[p.operation][not p.from_start] + p.lag for p in op.preds)
            ready = max(op.release, 0, *waits)
            if op.fixed_start >= 0:
                start, end = op.fixed_start, op.fixed_end
            else:
                ways = [self._earliest(self.c.modes[m], ready, state) for m in op.modes]
                start, end = min(way[0] for way in ways), min(way[1] for way in ways)
            known[i] = start, end
            terms[T[Term.VIOLATION]] += 0 if op.done else max(0, end - op.latest_end)
            for job in op.jobs:
                terms[T[Term.LATENESS]] += self.c.weight[job] * max(0, end - self.c.due[job])
                terms[T[Term.COMPLETION]] += max(0, end)
                spare = self.c.spare[job]
                spent = max(0, min(end - self.c.aim[job], spare))
                share = 100 * spent * spent // max(1, spare) ** 2
                terms[T[Term.TIGHTNESS]] += self.c.weight[job] * share
        terms[T[Term.CHANGEOVER]] = self.entries.least(state)
        return self.c.levels(terms)

    def _earliest(self, mode: Mode, ready: int, state: State) -> tuple[int, int]:
        if mode.base == NOWHERE:
            return ready, ready + mode.duration
        free = max(state.base_free[mode.base], self.c.bases[mode.base].free_from, ready)
        if mode.duration == 0:
            return free, free
        own = self.c.calendars[mode.calendar]
        start = own.fit(free, 1)
        return start, own.advance(start, mode.duration)


class _Entries:
    """A floor of the changeovers to come: values that must still be entered on their base."""

    def __init__(self, compiled: Compiled) -> None:
        self.c = compiled
        self.order = topological(compiled)
        self.must = [_must(compiled, i) for i in range(len(compiled.ops))]
        self.cheapest = [
            [
                min((slot.minutes[a * slot.values + b] for a in range(slot.values) if a != b),
                    default=0)
                for b in range(slot.values)
            ]
            for base in compiled.bases
            for slot in base.slots
        ]  # fmt: skip

    def least(self, state: State) -> int:
        """Minutes, by base the sum over its attributes or, where the longest counts, the most."""
        wanted = {
            need
            for i, must in enumerate(self.must) if not state.placed >> i & 1
            for need in must if state.mounted[need[0]] != need[1]
        }  # fmt: skip
        total = 0
        for base in self.c.bases:
            each = [
                sum(self.cheapest[slot][value] for at, value in wanted if at == slot)
                for slot in range(base.first_slot, base.first_slot + len(base.slots))
            ]
            total += max(each, default=0) if base.longest_counts else sum(each)
        return total


def _must(c: Compiled, i: int) -> frozenset[tuple[int, int]]:
    """(slot, value) pairs that the operation needs in every mode."""
    first, *others = ({(n.slot, n.value) for n in c.modes[m].needs} for m in c.ops[i].modes)
    return frozenset(first.intersection(*others))


def _rising(compiled: Compiled) -> int:
    """How many leading levels count only terms that rise with the times of a state."""
    ops = compiled.ops
    priced = any(calendar.priced for calendar in compiled.calendars)
    present: dict[Term, bool] = {
        Term.OVERTIME: priced,
        Term.DISTURBANCE: any(op.issued_start >= 0 for op in ops),
        Term.HOLDING: any(pred.holding for op in ops for pred in op.preds),
    }
    falling = [T[term] for term, there in present.items() if there]
    rows = compiled.weights
    return next((k for k, row in enumerate(rows) if any(row[t] for t in falling)), len(rows))


def _bits(numbers: Iterable[int]) -> int:
    bits = 0
    for number in numbers:
        bits |= 1 << number
    return bits


def topological(compiled: Compiled) -> Sequence[int]:
    order: list[int] = []
    left = list(range(len(compiled.ops)))
    while left:
        i = next(i for i in left if all(p.operation in order for p in compiled.ops[i].preds))
        order.append(i)
        left.remove(i)
    return order
