"""Search by the bottleneck: the line proposes, the shop disposes."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.schedule import Fixed, Problem, bottleneck_search
from planner.schedule.bottleneck_search import HOPELESS, Led, search_bottleneck
from planner.schedule.compiled import TERMS, Compiled, compile_problem
from planner.schedule.decoder import decode
from planner.schedule.lanes import unheard
from planner.schedule.problem import Term
from planner.schedule.rules import make_rules
from planner.stop import Stop
from tests.benchmarks.weeks import a_week

DAY_MIN = 1440
VIOLATION = TERMS.index(Term.VIOLATION)
LATENESS = TERMS.index(Term.LATENESS)
LATE = compile_problem(a_week(80, 1))
STARTS = make_rules(LATE).starts
BEST = min(start.terms[LATENESS] for start in STARTS)


def led(compiled: Compiled = LATE, seconds: float = 0.1, stop: Stop | None = None) -> Led | None:
    """What it leads to from the rules' starts."""
    starts = STARTS if compiled is LATE else make_rules(compiled).starts
    return search_bottleneck(compiled, starts, seconds, stop or Stop(), 1, unheard, nothing_late)


def nothing_late(terms: tuple[int, ...]) -> bool:
    """Enough."""
    return terms[LATENESS] == 0


def test_a_late_week_becomes_less_late() -> None:
    found = led()
    assert found is not None
    assert found.best.terms[LATENESS] < BEST
    assert found.tried > 0
    assert found.seconds > 0


def test_its_best_is_what_the_decoder_makes_of_it() -> None:
    found = led()
    assert found is not None
    decoder, _ = decode(LATE, found.best.order, list(found.best.modes))
    assert tuple(decoder.terms) == found.best.terms


def test_the_same_seed_gives_the_same_plan() -> None:
    assert led() == led()


def test_it_is_over_when_the_budget_is_spent_or_nothing_is_late() -> None:
    found = led(seconds=0.02)
    assert found is not None
    assert 0.02 <= found.seconds < 0.04
    punctual = led(compile_problem(a_week(40, 2)))
    assert punctual is not None
    assert punctual.tried == 0


def test_a_stop_request_leaves_the_starts() -> None:
    stop = Stop()
    stop.ask()
    found = led(stop=stop)
    assert found is not None
    assert found.tried == 0
    assert found.best.terms[LATENESS] <= BEST


def hurried(week: Problem, share: float) -> Compiled:
    """The week with all due dates at a share of their minutes."""
    jobs = tuple(replace(job, due_min=round(share * job.due_min)) for job in week.jobs)
    return compile_problem(replace(week, jobs=jobs))


def test_a_late_week_with_two_finishers_becomes_less_late() -> None:
    compiled = hurried(a_week(80, 1, finishers=2), 0.9)
    best = min(start.terms[LATENESS] for start in make_rules(compiled).starts)
    found = led(compiled, seconds=0.2)
    assert found is not None
    assert found.best.terms[LATENESS] < 0.85 * best
    decoder, _ = decode(compiled, found.best.order, list(found.best.modes))
    assert tuple(decoder.terms) == found.best.terms
    assert led(compiled, seconds=0.2) == found


def test_a_late_week_with_people_becomes_less_late() -> None:
    compiled = compile_problem(a_week(80, 1, people=True))
    best = min(start.terms[LATENESS] for start in make_rules(compiled).starts)
    found = led(compiled)
    assert found is not None
    assert best > 0
    assert found.best.terms[LATENESS] < best / 10


def test_a_late_week_with_two_finishers_and_people_becomes_less_late() -> None:
    compiled = hurried(a_week(80, 1, finishers=2, people=True), 0.8)
    best = min(start.terms[LATENESS] for start in make_rules(compiled).starts)
    found = led(compiled, seconds=0.4)
    assert found is not None
    assert found.best.terms[LATENESS] < 0.7 * best


def test_a_long_budget_has_rounds_that_begin_from_the_best(monkeypatch: pytest.MonkeyPatch) -> None:
    week = a_week(30, 5, finishers=2, people=True)
    compiled = hurried(week, 0.5)
    several = led(compiled, seconds=0.8)
    monkeypatch.setattr(bottleneck_search, "ROUND_S", 1.0)
    one = led(compiled, seconds=0.8)
    assert several is not None
    assert one is not None
    assert several.best.terms[LATENESS] < one.best.terms[LATENESS]


def test_fixed_work_late_in_the_week_holds_nothing_up() -> None:
    week = a_week(80, 1)
    first, *others = week.operations
    fixed = Fixed(7 * DAY_MIN + 400, 7 * DAY_MIN + 430, "finisher 1")
    held = compile_problem(replace(week, operations=(replace(first, fixed=fixed), *others)))
    best = min(make_rules(held).starts, key=lambda start: held.levels(start.terms))
    found = led(held)
    assert found is not None
    assert found.best.terms[VIOLATION] == 0
    assert found.best.terms[LATENESS] < best.terms[LATENESS] / 2


def test_orders_that_lead_nowhere_are_given_up_early() -> None:
    week = a_week(3, 1)
    now = compile_problem(replace(week, jobs=tuple(replace(j, due_min=0) for j in week.jobs)))
    best = led(now, seconds=0.1)
    assert best is not None
    found = search_bottleneck(now, [best.best], 0.1, Stop(), 2, unheard, nothing_late)
    assert found is not None
    assert HOPELESS * 0.1 <= found.seconds < 2 * HOPELESS * 0.1
    assert found.best == best.best
