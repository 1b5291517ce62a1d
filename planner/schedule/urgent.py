"""Starts for weeks that rules leave late: the work that is due first is planned alone.

Lateness is decided where the work is dense, mostly in the first days. There a few hundred
operations decide, and each has a better place when all work that is due later is out of the way:
moves are several times cheaper, none is spent on work that has time, and nothing that only saves a
changeover stands before something late. So the jobs due first are searched alone, then with them
those due next, and so on until the last that is late; the rules order what is left. Each part
begins from the order of the one before, so that only what is new has to find its place; one that
is not later than that is not searched at all. Most of the budget goes to orders of the bottleneck,
and what they lead to is annealed.

Searches of one part end far apart, and the best of one part is not always what the next is best
built on. So each is searched a few times, from several ends of the one before, and what is left of
the budget goes to the part that made most late.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import partial

from planner.schedule.bottleneck_search import search_bottleneck
from planner.schedule.compiled import TERMS, Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start
from planner.schedule.lanes import LANES, Hear
from planner.schedule.overtime import nothing_late, punctual
from planner.schedule.phases import plan_late_phases
from planner.schedule.problem import Problem, Term
from planner.schedule.rates import iterations_for
from planner.schedule.rules import make_rules
from planner.schedule.search import search
from planner.stop import Stop

SHARE = 0.9
"""Of the budget, at most, for all of it: annealing the whole afterwards hardly makes it less late.
On week 600/24 0.75 left 9,477 weighted minutes late, 0.9 7,317."""
SMALL, SMALL_SHARE = 600, 0.75
"""Operations below which that is the share where people are needed: there it still does. On five
weeks of 80 lots with two finishers and people, all due in 0.7 of their days, 0.75 left 30,700
weighted minutes late in all, 0.9 36,198; on two of 200 lots 88,040 and 84,394."""
PARTS = (0.2, 0.35, 0.5, 0.65, 0.8, 1.0, 1.2)
"""How many jobs are planned one after the other, of those due up to the last late one; what is late
there delays some that the rules had on time."""
LEADING = 0.85
"""Of the budget of a part, for orders of its bottleneck where that is a line."""
TRIES, TRY_S = 2, 0.01
"""How often each part is searched, at least, with an equal share of its budget, and for how many
seconds an operation where there is more; the best is kept. Eight searches of 248 operations came in
2.4 s each to 6,409 weighted minutes late at best, in 0.6 s to 9,407, in 4.8 s to 6,845."""
MOST_SEARCHES = 60
"""Of all parts together, as one that ends at once takes nothing of the budget."""
FEWEST, MOST = 60, 0.75
"""Operations below which a part is left out, and share of all operations above which it is."""
LATENESS = TERMS.index(Term.LATENESS)

Starts = tuple[Start, ...]


@dataclass(frozen=True, slots=True)
class Urgent:
    """Starts with the urgent work in front, and what they took."""

    starts: Starts
    seconds: float
    """Of the budget, that they took."""
    tried: int
    """Moves in all lanes."""


def start_with_urgent(
    compiled: Compiled,
    starts: Sequence[Start],
    seconds: float,
    stop: Stop,
    seed: int,
    hear: Hear,
) -> Urgent:
    """Better starts than the rules' where the best of those is late and there is work that has
    time; `seconds` are those for all of the search."""
    best = min(starts, key=lambda start: compiled.levels(start.terms))
    dues = list(_parts(compiled, best)) if seconds > 0 and not punctual(best) else []

    def heard(spent_s: float) -> None:
        hear(spent_s / seconds, best.terms)

    way = _Way(compiled, dues, _share(compiled) * seconds, stop, seed, heard)
    way.go_on()
    while way.again():
        pass
    if way.best is None:
        return Urgent((), 0.0, 0)
    last = way.best
    return Urgent(_continued(compiled, last.part, last.starts[:1]), way.spent_s, way.tried)


def _share(compiled: Compiled) -> float:
    """Of the budget, at most, for all of it."""
    small = bool(compiled.people_free) and len(compiled.ops) < SMALL
    return SMALL_SHARE if small else SHARE


@dataclass(slots=True)
class _Step:
    """A part of the work, and what has come of it."""

    part: Compiled
    each: list[Starts]
    """Of each search the starts that it came to, its best first; the best search first."""
    try_s: float = 0.0
    """Of the budget, for each search of it; nothing where it was not searched."""
    searches: int = 0
    known: dict[Starts, Starts] = field(default_factory=dict[Starts, Starts])
    """What was searched, by what it goes on from in the step before."""

    @property
    def starts(self) -> Starts:
        """The best of them."""
        return self.each[0]

    @property
    def late(self) -> int:
        """Weighted minutes late."""
        return self.starts[0].terms[LATENESS]

    def keep(self, starts: Starts) -> bool:
        """Add what one more search came to; whether it is the best."""
        self.each.append(starts)
        self.each.sort(key=lambda starts: self.part.levels(starts[0].terms))
        return self.each[0] is starts


class _Way:
    """From part to part of the work, each from what came of the one before."""

    def __init__(
        self,
        compiled: Compiled,
        dues: Sequence[int],
        seconds: float,
        stop: Stop,
        seed: int,
        hear: Callable[[float], None],
    ) -> None:
        self.compiled, self.dues, self.seconds = compiled, dues, seconds
        self.stop, self.seed, self.hear = stop, seed, hear
        self.steps: list[_Step] = []
        self.spent_s, self.searches, self.tried = 0.0, 0, 0
        self.best: _Step | None = None
        """The last part, where it came out best."""

    def go_on(self) -> None:
        """To the last part; one that is no later than the part before is not searched."""
        while len(self.steps) < len(self.dues) and not self.stop():
            at = len(self.steps)
            part = compile_problem(_due_by(self.compiled.problem, self.dues[at]))
            before = self.steps[-1].starts if self.steps else ()
            known = self._known(part, at, before)
            first = min(known, key=lambda start: part.levels(start.terms))
            if self.steps and first.terms[LATENESS] <= self.steps[-1].late:
                self.steps.append(_Step(part, [(first,)]))
            else:
                self.steps.append(self._searched(part, at, {before: known}))
        ways = (self.best, self.steps[-1] if self.steps else None)
        self.best = min((way for way in ways if way), key=_how_far_and_late, default=None)

    def again(self) -> bool:
        """Search the part that made most late for the searches that it had once more, and go on
        from there if it is less late; False where the budget allows none.
        """
        at = max(
            (at for at in range(len(self.steps)) if self._may_gain(at)),
            key=lambda at: self._grown(at) / self.steps[at].searches,
            default=-1,
        )
        if at < 0 or self.stop() or self.searches == MOST_SEARCHES:
            return False
        if self._try(self.steps[at], at):
            del self.steps[at + 1 :]
            self.go_on()
        return True

    def _may_gain(self, at: int) -> bool:
        """Whether a part makes anything late, and may be searched and gone on from."""
        needed_s = sum(step.try_s for step in self.steps[at:])
        affordable = self.spent_s + needed_s <= self.seconds
        return affordable and self.steps[at].searches > 0 and self._grown(at) > 0

    def _grown(self, at: int) -> int:
        """How much later a part is than the one before."""
        return self.steps[at].late - (self.steps[at - 1].late if at else 0)

    def _searched(self, part: Compiled, at: int, known: dict[Starts, Starts]) -> _Step:
        """Search a part a few times, with an equal share for each part; what parts leave is spent
        on searching again, where less is left for each: it is then searched once."""
        full_s = self.seconds / len(self.dues)
        each_s = min(full_s, (self.seconds - self.spent_s) / (len(self.dues) - at))
        tries = max(round(TRIES * each_s / full_s), int(each_s / (TRY_S * len(part.ops))), 1)
        step = _Step(part, [], each_s / tries, known=known)
        for _ in range(tries):
            self._try(step, at)
            if self.stop() or not step.late:
                break
        return step

    def _try(self, step: _Step, at: int) -> bool:
        """Search a part once more, from the better half of what the one before came to in turn;
        whether that is the best so far."""
        each = self.steps[at - 1].each if at else [()]
        before = each[step.searches % max(1, len(each) // 2)]
        if before not in step.known:
            step.known[before] = self._known(step.part, at, before)
        begun_s, seed = self.spent_s, self.seed + self.searches

        def heard(done: float, _: tuple[int, ...]) -> None:
            self.hear(begun_s + done * step.try_s)

        how = (step.known[before], step.try_s, self.stop, seed, heard)
        found = _improved(step.part, *how)
        step.searches += 1
        self.searches += 1
        self.spent_s += found.seconds
        self.tried += found.tried
        return step.keep(found.starts)

    def _known(self, part: Compiled, at: int, before: Starts) -> Starts:
        """What rules make of a part, after what a search of the one before came to."""
        if at == 0:
            return tuple(make_rules(part).starts)
        return _continued(part, self.steps[at - 1].part, before)


def _how_far_and_late(step: _Step) -> tuple[int, ...]:
    """The most work first, and of equal work what is least late."""
    return (-len(step.part.ops), *step.part.levels(step.starts[0].terms))


@dataclass(frozen=True, slots=True)
class _Improved:
    starts: Starts
    """The best; and what its bottleneck led to, if that is another: what annealing has fitted
    together is no order that the shop would make of its lines, and so no place to go on from."""
    seconds: float
    """Of the budget, that both took."""
    tried: int


def _improved(
    part: Compiled, known: Sequence[Start], seconds: float, stop: Stop, seed: int, hear: Hear
) -> _Improved:
    """What its bottleneck leads to, and what annealing makes of that."""
    how = (stop, seed)
    told = partial(_between, 0.0, LEADING, hear)
    led = search_bottleneck(part, known, LEADING * seconds, *how, told, nothing_late)
    begin = LEADING if led else 0.0
    starts = (*known, led.best) if led else known
    rest_s = seconds - (led.seconds if led else 0.0)
    budget = iterations_for(part, rest_s, late=True)
    told = partial(_between, begin, 1.0, hear)
    found = search(part, starts, budget, *how, told, nothing_late, plan_late_phases)
    took_s = rest_s * found.iterations / max(1, LANES * budget)
    if led is None:
        return _Improved((found.best,), took_s, found.iterations)
    both = tuple(dict.fromkeys((found.best, led.best)))
    return _Improved(both, took_s + led.seconds, found.iterations + led.tried)


def _between(begin: float, end: float, hear: Hear, done: float, terms: tuple[int, ...]) -> None:
    """Tell a share of what lies between two shares of all."""
    hear(begin + done * (end - begin), terms)


def _parts(compiled: Compiled, start: Start) -> Iterator[int]:
    """Due dates up to which the work is planned alone, rising."""
    late = decode(compiled, start.order, list(start.modes))[0].late_dues()
    if not late:
        return
    dues = sorted(compiled.due)
    jobs = bisect_right(dues, max(late))
    most = MOST * len(compiled.ops)
    last = -1
    for share in PARTS:
        due = dues[min(round(share * jobs), len(dues)) - 1]
        size = len(_due_by(compiled.problem, due).operations)
        if due > last and FEWEST <= size <= most:
            yield due
            last = due


def _due_by(problem: Problem, due_min: int) -> Problem:
    """Only the jobs due by then, what they wait for, and what is fixed before."""
    jobs = tuple(job for job in problem.jobs if job.due_min <= due_min)
    before: dict[str, list[str]] = {}
    for arc in problem.arcs:
        before.setdefault(arc.after, []).append(arc.before)
    fixed = [o.key for o in problem.operations if o.fixed and o.fixed.start_min <= due_min]
    waiting = [*fixed, *(key for job in jobs for key in job.finals)]
    kept: set[str] = set()
    while waiting:
        key = waiting.pop()
        if key not in kept:
            kept.add(key)
            waiting += before.get(key, [])
    return replace(
        problem,
        jobs=jobs,
        operations=tuple(op for op in problem.operations if op.key in kept),
        arcs=tuple(arc for arc in problem.arcs if arc.after in kept),
    )


def _continued(whole: Compiled, part: Compiled, starts: Sequence[Start]) -> Starts:
    """What the rules make of all the work after a part of it that is in each of these orders."""
    each = (make_rules(whole, _placed(whole, part, start)).starts for start in starts)
    return tuple(start for many in each for start in many)


def _placed(whole: Compiled, part: Compiled, start: Start) -> list[int]:
    """The modes of a start of a part of the work, in its order, as numbered in all of it."""
    number = {op.key: i for i, op in enumerate(whole.ops)}
    modes: list[int] = []
    for i in start.order:
        op = whole.ops[number[part.ops[i].key]]
        modes.append(op.modes[start.modes[i] - part.ops[i].modes[0]])
    return modes
