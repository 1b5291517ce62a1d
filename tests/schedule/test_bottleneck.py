"""The bottleneck of a problem as a line of its own."""

from __future__ import annotations

from dataclasses import replace

from planner.schedule import (
    Alternative,
    Arc,
    Base,
    Fixed,
    Interval,
    Job,
    Operation,
    Problem,
    Rule,
    Station,
)
from planner.schedule.bottleneck import FOLLOWING, TOGETHER_MIN, Bottleneck, as_bottleneck
from planner.schedule.compiled import compile_problem
from planner.schedule.rules import make_rules
from tests.benchmarks.weeks import a_week

DAY_MIN = 1440
HOURS = tuple(
    Interval(day * DAY_MIN + start, day * DAY_MIN + end)
    for day in range(30)
    for start, end in ((360, 600), (615, 840))
)
"""465 minutes a day."""


def a_shop(*jobs: Job, fixed: Fixed | None = None) -> Problem:
    """Two passes of one lot, of which both order lines are then sawn, and a lot of one pass."""
    needs = {"od": "38"}
    return Problem(
        bases=(Base("finisher", (Rule("od", 20),)),),
        stations=(Station("finisher", hours=HOURS), Station("saw", hours=HOURS)),
        operations=(
            Operation("saw 1", (Alternative("saw", 20),)),
            Operation("saw 2", (Alternative("saw", 40),)),
            Operation("fine", (Alternative("finisher", 100),), needs),
            Operation("coarse", (Alternative("finisher", 90),), needs),
            Operation("other", (Alternative("finisher", 30),), {"od": "51"}, fixed=fixed),
        ),
        arcs=(Arc("coarse", "fine"), Arc("fine", "saw 1"), Arc("fine", "saw 2")),
        jobs=jobs,
        horizon_min=30 * DAY_MIN,
    )


def taken(problem: Problem, earlier_min: int = 0) -> Bottleneck:
    """Its bottleneck, which there must be."""
    found = as_bottleneck(compile_problem(problem), earlier_min)
    assert found is not None
    return found


def due_of(neck: Bottleneck) -> dict[str, tuple[int, int]]:
    """Due minute and weight of what is due on the line."""
    line = neck.line
    return {
        op.key: (line.due[i], line.weight[i])
        for i, op in enumerate(neck.alone.ops)
        if line.counted[i]
    }


def test_the_busiest_base_is_taken_with_its_order_of_passes() -> None:
    neck = taken(a_shop(Job("1", 5 * DAY_MIN, ("saw 1",))))
    keys = [op.key for op in neck.alone.ops]
    assert keys == ["fine", "coarse", "other"]
    assert [pred.operation for pred in neck.alone.ops[0].preds] == [keys.index("coarse")]
    assert neck.line.change[1 + 0].tolist() == [0, 0, 20]


def test_work_is_due_in_working_minutes_before_what_follows_it() -> None:
    due_min = 2 * DAY_MIN + 840
    neck = taken(a_shop(Job("1", due_min, ("saw 1",), 3)), earlier_min=50)
    assert due_of(neck) == {"fine": (3 * 465 - round(FOLLOWING * 20) - 50, 3)}
    night = taken(a_shop(Job("1", 2 * DAY_MIN + 300, ("saw 1",))), earlier_min=50)
    assert due_of(night) == {"fine": (2 * 465, 1)}


def test_jobs_of_one_operation_that_are_due_together_count_as_one() -> None:
    first = Job("1", DAY_MIN + 840, ("saw 1",), 3)
    near = Job("2", first.due_min + TOGETHER_MIN, ("saw 2",), 2)
    far = replace(near, due_min=near.due_min + 40)
    due_min = 2 * 465 - round(FOLLOWING * 20)
    assert due_of(taken(a_shop(first, near))) == {"fine": (due_min, 5)}
    assert due_of(taken(a_shop(first, far))) == {"fine": (due_min, 3)}


def test_work_of_the_line_is_ranked_by_its_order_and_before_all_other() -> None:
    fixed = Fixed(400, 430, "finisher")
    problem = a_shop(Job("1", 5 * DAY_MIN, ("saw 1",)), fixed=fixed)
    neck = taken(problem)
    ranks = neck.ranks([1, 0], range(5))
    keys = [op.key for op in problem.operations]
    assert sorted(keys, key=lambda key: ranks[keys.index(key)]) == [
        "coarse",
        "fine",
        "saw 1",
        "saw 2",
        "other",
    ]


def test_what_the_line_waits_for_is_ranked_with_it() -> None:
    problem = a_shop(Job("1", 5 * DAY_MIN, ("saw 1",)))
    cuts = tuple(Operation(f"cut {key}", (Alternative("saw", 5),)) for key in ("other", "coarse"))
    fed = replace(
        problem,
        operations=(*problem.operations, *cuts),
        arcs=(*problem.arcs, Arc("cut other", "other"), Arc("cut coarse", "coarse")),
    )
    neck = taken(fed)
    assert [op.key for op in neck.alone.ops] == ["fine", "coarse", "other"]
    ranks = neck.ranks([1, 0, 2], range(7))
    assert ranks == (3, 4, 1, 0, 2, 2, 0)


def test_an_order_of_all_work_has_one_of_the_line() -> None:
    compiled = compile_problem(a_week(12, 3))
    neck = as_bottleneck(compiled, 50)
    assert neck is not None
    for start in make_rules(compiled).starts:
        order = neck.order_in(start)
        mine = [i for i in start.order if i in neck.operations]
        assert [neck.operations[i] for i in order] == mine


def test_work_that_can_be_done_elsewhere_is_no_bottleneck() -> None:
    assert as_bottleneck(compile_problem(a_week(12, 3, finishers=2)), 50) is None


def test_work_that_leaves_something_mounted_is_no_line() -> None:
    problem = a_shop(Job("1", 5 * DAY_MIN, ("saw 1",)))
    *others, last = problem.operations
    bare = replace(problem, operations=(*others, replace(last, needs={})))
    assert as_bottleneck(compile_problem(bare), 50) is None


def test_work_that_is_all_fixed_is_none() -> None:
    fixed = Fixed(400, 430, "finisher")
    problem = a_shop(fixed=fixed)
    only = replace(problem, operations=problem.operations[-1:], arcs=())
    assert as_bottleneck(compile_problem(only), 50) is None


def test_a_shop_without_bases_has_none() -> None:
    problem = Problem(
        bases=(),
        stations=(Station("outside", unlimited=True),),
        operations=(Operation("1", (Alternative("outside", 20),)),),
        arcs=(),
        jobs=(Job("1", 10, ("1",)),),
    )
    assert as_bottleneck(compile_problem(problem), 50) is None
