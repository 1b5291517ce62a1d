"""Work is refused for a long changeover only if no order of the work can do without it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import InputError
from planner.schedule import (
    Alternative,
    Base,
    Fixed,
    Interval,
    Job,
    Operation,
    Problem,
    Rule,
    Station,
    check,
    solve,
)
from planner.schedule.compiled import compile_problem
from planner.schedule.room import find_no_room
from planner.stop import Stop
from tests.schedule.audit import assert_schedule_valid
from tests.schedule.brute import best_of_all_lists
from tests.schedule.shops import a_random_shop

SHIFT = (Interval(0, 300),)
TWO_SHIFTS = (Interval(0, 300), Interval(400, 700))
NEVER = 9999


def an_operation(key: str, od: str, *stations: str) -> Operation:
    return Operation(key, tuple(Alternative(s, 10) for s in stations or ("m",)), {"od": od})


def a_shop(rule: Rule, *operations: Operation, mounted: str | None = "1") -> Problem:
    now = {} if mounted is None else {"od": mounted}
    return Problem(
        bases=(Base("m", (rule,), mounted=now), Base("n", (rule,), mounted=now)),
        stations=(Station("m", hours=SHIFT), Station("n", hours=TWO_SHIFTS)),
        operations=operations,
        jobs=tuple(Job(op.key, 700, (op.key,)) for op in operations),
        horizon_min=1000,
    )


def assert_planned(problem: Problem) -> None:
    assert_schedule_valid(problem, solve(problem, Stop(), seconds=0.02))


def refusal(problem: Problem) -> tuple[str, ...]:
    with pytest.raises(InputError) as refused:
        check(problem)
    return tuple(finding.message for finding in refused.value.findings)


def test_a_row_for_what_the_work_does_not_need_counts_nothing() -> None:
    rule = Rule("od", 20, {("7", "2"): NEVER, ("1", "7"): NEVER})
    assert_planned(a_shop(rule, an_operation("a", "1"), an_operation("b", "2")))


def test_a_change_from_nothing_counts_only_where_nothing_stands_there() -> None:
    rule = Rule("od", 20, from_nothing=NEVER)
    assert_planned(a_shop(rule, an_operation("a", "2")))
    (message,) = refusal(a_shop(rule, an_operation("a", "2"), mounted=None))
    assert f"changing od on m takes {NEVER} min, but its longest stretch" in message
    assert "is 300 min" in message


def test_a_change_that_another_one_avoids_is_not_refused() -> None:
    rule = Rule("od", 20, {("1", "3"): NEVER})
    assert_planned(a_shop(rule, an_operation("a", "3"), an_operation("b", "2")))
    (message,) = refusal(a_shop(rule, an_operation("a", "3")))
    assert "takes 9999 min" in message


def test_the_shortest_change_is_what_does_not_fit() -> None:
    rule = Rule("od", 301, {("1", "3"): NEVER})
    (message,) = refusal(a_shop(rule, an_operation("a", "3"), an_operation("b", "2")))
    assert "changing od on m takes 301 min" in message
    assert_planned(a_shop(replace(rule, minutes=300), an_operation("b", "2", "n")))


def test_what_stands_there_needs_no_change() -> None:
    assert_planned(a_shop(Rule("od", NEVER), an_operation("a", "1")))


def test_work_that_can_be_done_elsewhere_is_not_refused() -> None:
    shop = a_shop(Rule("od", NEVER), an_operation("a", "2", "m", "n"))
    other = replace(shop, bases=(shop.bases[0], Base("n", (Rule("od", 5),))))
    assert_planned(other)
    assert len(refusal(shop)) == 2


def test_what_running_work_has_mounted_stands_there_for_the_rest() -> None:
    running = replace(an_operation("run", "2"), fixed=Fixed(50, 60, "m"))
    rest = an_operation("a", "2")
    shop = a_shop(Rule("od", NEVER), running, rest)
    assert list(find_no_room(shop)) == []
    done = replace(running, fixed=Fixed(50, 60, "m", done=True))
    assert len(list(find_no_room(replace(shop, operations=(done, rest))))) == 1


def test_a_station_on_the_same_base_with_longer_hours_may_mount_it() -> None:
    base = Base("both", (Rule("od", 250),))
    long, short = (Interval(0, 300),), (Interval(0, 100), Interval(310, 410))
    stations = (Station("m", "both", long), Station("n", "both", short))
    alone = Problem(stations, (an_operation("b", "2", "n"),), (base,), horizon_min=1000)
    assert "takes 250 min, but its longest stretch without a break is 100" in refusal(alone)[0]
    assert_planned(replace(alone, operations=(an_operation("a", "2", "m"), *alone.operations)))


def test_whatever_is_refused_has_no_plan_at_all() -> None:
    refused = 0
    for seed in range(60):
        problem = a_random_shop(seed, operations=4, people=False)
        long = tuple(
            replace(
                base,
                rules=tuple(
                    replace(
                        rule,
                        minutes=rule.minutes * 12,
                        from_to={key: m * 12 for key, m in rule.from_to.items()},
                    )
                    for rule in base.rules
                ),
            )
            for base in problem.bases
        )
        problem = replace(problem, bases=long)
        if list(find_no_room(problem)):
            best, _ = best_of_all_lists(compile_problem(problem))
            assert best is not None
            assert best[0] > 0
            refused += 1
    assert refused >= 5
