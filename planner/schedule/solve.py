"""The one way in: check, compile, order, report."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from planner.schedule.compiled import TERMS, Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start, rules
from planner.schedule.floors import completions_alone, prove
from planner.schedule.issued import as_issued
from planner.schedule.overtime import compiled_without, punctual, trim, windows
from planner.schedule.problem import Problem, Term
from planner.schedule.rates import iterations_for
from planner.schedule.refusal import refuse_violation
from planner.schedule.report import Outcome, figures, make_result
from planner.schedule.result import Floor, Progress, Result
from planner.schedule.search import Found, Hear, search
from planner.schedule.validate import check
from planner.stop import Status, Stop

USUAL_SHARE = 0.4
"""Of the budget, for the search without overtime where overtime is offered."""


def solve(
    problem: Problem,
    stop: Stop,
    seed: int = 0,
    *,
    seconds: float = 5.0,
    progress: Callable[[Progress], None] | None = None,
) -> Result:
    """The best run order that the budget finds.

    `seconds` (of two cores) become a number of iterations by a table, so that the same
    problem, seed and version give the same result on any machine; only `stop` looks at a
    clock. `progress` hears of the best so far.

    Raises
    ------
    InputError
        The problem is unsound; all of it is listed.
    NoPlanError
        Fixed times contradict each other, or the work does not fit before the horizon.
    """
    check(problem)
    compiled = compile_problem(problem)
    floors = prove(compiled)

    def hear(done: float, terms: tuple[int, ...]) -> None:
        if progress is not None:
            progress(Progress(done, figures(compiled, terms), floors))

    compiled, starts, found = _searched(
        compiled, iterations_for(compiled, seconds), stop, seed, hear
    )
    refuse_violation(compiled, found.best)
    return make_result(
        compiled,
        Outcome(
            best=found.best,
            rules=starts,
            floors=floors,
            alone=completions_alone(compiled),
            status=_status(compiled, found, floors),
            iterations=found.iterations,
        ),
    )


def _starts(compiled: Compiled) -> dict[str, Start]:
    return as_issued(compiled) | rules(compiled)


def _searched(
    compiled: Compiled, iterations: int, stop: Stop, seed: int, hear: Hear
) -> tuple[Compiled, dict[str, Start], Found]:
    """Search, without overtime first where there is any; what is compiled has what was used."""
    offered = windows(compiled.problem)
    starts = _starts(compiled)
    usual = compiled_without(compiled.problem, offered) if offered else None
    if usual is None:
        found = search(compiled, list(starts.values()), iterations, stop, seed, hear)
        return compiled, starts, found
    plain = search(
        usual,
        list(_starts(usual).values()),
        round(iterations * USUAL_SHARE),
        stop,
        seed,
        lambda done, terms: hear(done * USUAL_SHARE, terms),
    )
    if punctual(plain.best):
        return usual, starts, plain
    rest = iterations - round(iterations * USUAL_SHARE)
    terms = tuple(decode(compiled, plain.best.order, list(plain.best.modes))[0].terms)
    again = replace(plain.best, terms=terms)
    found = search(
        compiled,
        [*starts.values(), again],
        rest,
        stop,
        seed,
        lambda done, terms: hear(USUAL_SHARE + done * (1 - USUAL_SHARE), terms),
    )
    tried = plain.iterations + found.iterations
    if compiled.levels(plain.best.terms) <= compiled.levels(found.best.terms):
        return usual, starts, replace(plain, iterations=tried)
    trimmed, best = trim(compiled, found.best)
    return trimmed, starts, replace(found, best=best, iterations=tried)


def _status(compiled: Compiled, found: Found, floors: Sequence[Floor]) -> Status:
    """Proven where every term that any level counts is at its floor."""
    counted = {
        term for row in compiled.weights for term, weight in zip(TERMS, row, strict=True) if weight
    }
    proven = {term for term in counted if _at_floor(found.best, term, floors)}
    if proven == counted:
        return Status.PROVEN
    return Status.GAP if found.finished else Status.LIMIT


def _at_floor(best: Start, term: Term, floors: Sequence[Floor]) -> bool:
    floor = max((each.value for each in floors if each.term == term), default=0)
    return best.terms[TERMS.index(term)] <= floor
