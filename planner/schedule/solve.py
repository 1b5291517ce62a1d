"""The one way in: check, compile, order, report."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from planner.errors import Finding, NoPlanError, Severity
from planner.schedule.compiled import TERMS, Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.dispatch import Start, rules
from planner.schedule.floors import completions_alone, prove
from planner.schedule.issued import as_issued
from planner.schedule.problem import Problem, Term
from planner.schedule.rates import iterations_for
from planner.schedule.report import Outcome, figures, make_result
from planner.schedule.result import Floor, Progress, Result
from planner.schedule.search import Found, search
from planner.schedule.validate import check
from planner.stop import Status, Stop


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
    starts = as_issued(compiled) | rules(compiled)
    floors = prove(compiled)

    def hear(done: float, start: Start) -> None:
        if progress is not None:
            progress(Progress(done, figures(compiled, start.terms), floors))

    found = search(
        compiled, list(starts.values()), iterations_for(compiled, seconds), stop, seed, hear
    )
    _refuse_violation(compiled, found.best)
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


def _refuse_violation(compiled: Compiled, best: Start) -> None:
    if best.terms[0] == 0:
        return
    decoder, steps = decode(compiled, best.order, list(best.modes))
    findings: list[Finding] = []
    for step in steps:
        op = compiled.ops[step.operation]
        if (
            op.fixed_start >= 0
            and not op.done
            and max(step.free + step.change, step.ready) > step.start
        ):
            message = (
                f"operation {op.key} is fixed at minute {step.start}, but its station, people and "
                f"tube are free only at {max(step.free + step.change, step.ready)}; move it or "
                "what is before it"
            )
        elif step.end > op.latest_end:
            message = (
                f"operation {op.key} ends at minute {decoder.end[step.operation]}, after its "
                f"limit {op.latest_end}; give more hours, a later limit or less work"
            )
        else:
            continue
        findings.append(Finding(severity=Severity.ERROR, message=message, subject=op.key))
    raise NoPlanError(findings)
