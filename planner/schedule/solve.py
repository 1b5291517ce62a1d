"""The one way in: check, compile, order, report."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from planner.schedule.budget import Budget
from planner.schedule.compiled import Compiled, compile_problem
from planner.schedule.dispatch import Start
from planner.schedule.floors import completions_alone
from planner.schedule.issued import as_issued
from planner.schedule.lanes import Enough, Found, Hear, ranked, unheard
from planner.schedule.line import as_line
from planner.schedule.line_search import search_line
from planner.schedule.mend import mend
from planner.schedule.overtime import (
    compiled_without,
    nothing_late,
    placed_in,
    punctual,
    trim,
    windows,
)
from planner.schedule.problem import Problem
from planner.schedule.proving import Proving
from planner.schedule.rates import (
    after_parts,
    after_preparing,
    after_telling,
    iterations_for,
)
from planner.schedule.refusal import Words, bare, refuse_violation
from planner.schedule.report import Outcome, figures, make_result, placed_by
from planner.schedule.result import Floor, Progress, Result
from planner.schedule.rules import Rules, make_rules
from planner.schedule.settle import Settled, Turns, as_given, turns_of
from planner.schedule.unstaffed import is_worth_it, search_unstaffed
from planner.schedule.urgent import start_with_urgent
from planner.schedule.validate import check
from planner.stop import Status, Stop

Named = Mapping[str, Start]
"""Schedules by the names of rules."""
TRIAL = 0.1
"""Of the budget, at most, for the first punctual order where the rules have none."""
FRESH = 0.5
"""Of the budget, at least, for a search that begins by ordering the work as if nobody were needed:
it does not go on from what has been found."""
USUAL_SHARE = 0.4
"""Of the budget, for the search without overtime where overtime is offered."""


def solve(
    problem: Problem,
    stop: Stop,
    seed: int = 0,
    *,
    seconds: float = 5.0,
    progress: Callable[[Progress], None] | None = None,
    start: Turns = (),
    words: Words = bare,
) -> Result:
    """The best run order that the budget finds.

    `seconds` (of two cores), less what rules and floors take, become a number of iterations by
    a table, so that the same problem, seed and version give the same result on any machine; only
    `stop` looks at a clock. `progress` hears of the best so far. `start` is an order to begin
    from as well. `words` says a minute in a refusal.

    Raises
    ------
    InputError
        The problem is unsound; all of it is listed.
    NoPlanError
        Fixed times contradict each other, or the work does not fit before the horizon.
    """
    check(problem)
    compiled = compile_problem(problem)
    with Proving(compiled) as proving:
        news = _News(compiled, proving, progress)
        left_s = _for_search(compiled, seconds)
        task = _Task(left_s, stop, seed, proving.reached, news.hear, start)
        compiled, named, found = _searched(compiled, task)
        proving.wait()
        news.end(found.best.terms)
        refuse_violation(compiled, found.best, words)
        floors = proving.of(found.best, stop)
        outcome = Outcome(
            best=found.best,
            rules=named,
            floors=proving.so_far(found.best.terms),
            alone=completions_alone(compiled),
            status=_status(found, proving),
            iterations=found.iterations,
        )
        return replace(make_result(compiled, outcome), floors=floors.result())


def order(
    problem: Problem, stop: Stop, seed: int = 0, *, seconds: float, words: Words = bare
) -> Settled:
    """The run order that `solve` finds, alone: no floor is proven, nothing is told of late jobs,
    and what the rules make of the work is not described. Raises as `solve` does."""
    check(problem)
    compiled = compile_problem(problem)
    task = _Task(_for_search(compiled, seconds), stop, seed, _never_enough, unheard, ())
    compiled, _, found = _searched(compiled, task)
    refuse_violation(compiled, found.best, words)
    return Settled(figures(compiled, found.best.terms), turns_of(placed_by(compiled, found.best)))


def _for_search(compiled: Compiled, seconds: float) -> float:
    """What of all seconds is left for the search."""
    return seconds if as_line(compiled) else after_preparing(compiled, seconds)


def _never_enough(_: Sequence[int]) -> bool:
    """Where no floor is known the search takes its whole budget."""
    return False


class _News:
    """Tells the best so far of all searches: one with overtime begins from worse than it is to
    improve on, and one without ends early where nothing is late."""

    def __init__(
        self, compiled: Compiled, proving: Proving, progress: Callable[[Progress], None] | None
    ) -> None:
        self.compiled, self.proving, self.progress = compiled, proving, progress
        self.told: tuple[float, tuple[int, ...], tuple[Floor, ...]] | None = None

    def hear(self, done: float, terms: tuple[int, ...]) -> None:
        """Tell what it is worth, if nothing better has been told; where a search ended early, the
        next one may begin before its end."""
        if self.told is not None:
            done = max(self.told[0], done)
            terms = min(self.told[1], terms, key=self.compiled.levels)
        floors = self.proving.so_far(terms)
        self.told = done, terms, floors
        if self.progress is not None:
            self.progress(Progress(done, figures(self.compiled, terms), floors))

    def end(self, terms: tuple[int, ...]) -> None:
        """Tell the end, unless it has been told."""
        if self.told != (1.0, terms, self.proving.so_far(terms)):
            self.hear(1.0, terms)


def _rules(compiled: Compiled) -> Rules:
    made = make_rules(compiled)
    return Rules(as_issued(compiled) | made.named, made.more)


@dataclass(frozen=True, slots=True)
class _Task:
    """What a search may spend, and whom it tells."""

    seconds: float
    stop: Stop
    seed: int
    enough: Enough
    hear: Hear
    known: Turns
    part: float = 1.0
    """Of all the seconds."""

    def share(self, begin: float, end: float) -> _Task:
        """The part of the budget between two shares of it."""

        def hear(done: float, terms: tuple[int, ...]) -> None:
            self.hear(begin + done * (end - begin), terms)

        part = end - begin
        return replace(self, seconds=part * self.seconds, part=part * self.part, hear=hear)

    def search(self, compiled: Compiled, starts: Sequence[Start]) -> Found:
        """Spend it, or stop where nothing is left to gain."""
        known = [as_given(compiled, self.known)] if self.known else []
        line = as_line(compiled)
        starts = [*starts, *known]
        how = (self.stop, self.seed, self.hear)
        if line is not None:
            moves = iterations_for(compiled, self.seconds)
            return search_line(compiled, line, starts, moves, *how, self.enough)
        starts += [mend(compiled, issued) for issued in as_issued(compiled).values()]
        for_parts_s = after_parts(compiled, self.seconds)
        urgent = start_with_urgent(compiled, starts, for_parts_s, *how)
        left_s = for_parts_s - urgent.seconds if urgent.starts else self.seconds
        rest = self.share(urgent.seconds / for_parts_s, 1) if urgent.starts else self
        budget = Budget(left_s, self.stop, self.seed, rest.hear, self.enough, tried=urgent.tried)
        best = self._spend(budget, compiled, [*starts, *urgent.starts])
        return Found(best, budget.tried, finished=not self.stop())

    def _spend(self, budget: Budget, compiled: Compiled, starts: Sequence[Start]) -> Start:
        """The best that is found from these starts; first a punctual one, if they are late."""
        best = ranked(compiled, starts)[0]
        if not punctual(best):
            telling_s = budget.total_s - after_telling(compiled, budget.total_s, self.part)
            trial_s = TRIAL * (budget.total_s - telling_s)
            best = budget.search(compiled, starts, trial_s, late=True, enough=nothing_late)
            starts = [*starts, best]
            if not punctual(best):
                return budget.search(compiled, starts, budget.left_s - telling_s, late=True)
        if is_worth_it(compiled) and budget.left_s >= FRESH * self.seconds:
            return search_unstaffed(compiled, starts, budget)
        return budget.search(compiled, starts, budget.left_s)


def _searched(compiled: Compiled, task: _Task) -> tuple[Compiled, Named, Found]:
    """Search, without overtime first where there is any; what is compiled has what was used, and
    what the rules make of the work is made in the same hours."""
    offered = windows(compiled.problem)
    usual = compiled_without(compiled.problem, offered) if offered else None
    rules = _rules(compiled)
    if usual is None:
        return compiled, rules.named, task.search(compiled, rules.starts)
    usual_rules = _rules(usual)
    plain = task.share(0, USUAL_SHARE).search(usual, usual_rules.starts)
    if punctual(plain.best):
        return usual, usual_rules.named, plain
    again = placed_in(compiled, usual, plain.best)
    found = task.share(USUAL_SHARE, 1).search(compiled, [*rules.starts, again])
    tried = plain.iterations + found.iterations
    if compiled.levels(plain.best.terms) <= compiled.levels(found.best.terms):
        return usual, usual_rules.named, replace(plain, iterations=tried)
    trimmed, best = trim(compiled, found.best)
    named = rules.named if trimmed is compiled else _rules(trimmed).named
    best = ranked(trimmed, (best, *named.values()))[0]
    return trimmed, named, replace(found, best=best, iterations=tried)


def _status(found: Found, proving: Proving) -> Status:
    if proving.reached(found.best.terms):
        return Status.PROVEN
    return Status.GAP if found.finished else Status.LIMIT
