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
from planner.schedule.bottleneck import (
    FOLLOWING,
    TOGETHER_MIN,
    Bottleneck,
    Branch,
    as_bottleneck,
)
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


def only(neck: Bottleneck) -> Branch:
    """Its one line."""
    (found,) = neck.branches
    return found


def due_of(neck: Bottleneck) -> dict[str, tuple[int, int]]:
    """Due minute and weight of what is due on the line."""
    branch = only(neck)
    line = branch.line
    return {
        op.key: (line.due[i], line.weight[i])
        for i, op in enumerate(branch.alone.ops)
        if line.counted[i]
    }


def test_the_busiest_base_is_taken_with_its_order_of_passes() -> None:
    branch = only(taken(a_shop(Job("1", 5 * DAY_MIN, ("saw 1",)))))
    keys = [op.key for op in branch.alone.ops]
    assert keys == ["fine", "coarse", "other"]
    assert [pred.operation for pred in branch.alone.ops[0].preds] == [keys.index("coarse")]
    assert branch.line.change[1 + 0].tolist() == [0, 0, 20]


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


def test_a_line_has_its_work_in_its_order_without_what_is_fixed() -> None:
    problem = a_shop(Job("1", 5 * DAY_MIN, ("saw 1",)), fixed=Fixed(400, 430, "finisher"))
    neck = taken(problem)
    fine, coarse = only(neck).mode
    lines = neck.lines(((coarse, fine),))
    keys = [op.key for op in problem.operations]
    assert lines == {0: [keys.index("coarse"), keys.index("fine")]}
    assert list(neck.ranks(((coarse, fine),), range(5))) == [0, 1, 2, 3, 4]


def test_what_the_line_waits_for_is_ranked_with_it() -> None:
    problem = a_shop(Job("1", 5 * DAY_MIN, ("saw 1",)))
    cuts = tuple(Operation(f"cut {key}", (Alternative("saw", 5),)) for key in ("other", "coarse"))
    fed = replace(
        problem,
        operations=(*problem.operations, *cuts),
        arcs=(*problem.arcs, Arc("cut other", "other"), Arc("cut coarse", "coarse")),
    )
    neck = taken(fed)
    fine, coarse, other = only(neck).mode
    ranks = neck.ranks(((coarse, fine, other),), range(7))
    assert ranks == [0, 1, 2, 3, 4, -1, -3]


def test_an_order_of_all_work_has_one_of_the_line() -> None:
    compiled = compile_problem(a_week(12, 3))
    neck = as_bottleneck(compiled, 50)
    assert neck is not None
    for start in make_rules(compiled).starts:
        mine = tuple(i for i in start.order if i in only(neck).mode)
        assert neck.orders_in(start) == (mine,)


def test_bases_that_can_do_the_same_work_are_lines_of_which_each_has_its_part() -> None:
    compiled = compile_problem(a_week(12, 3, finishers=2))
    neck = as_bottleneck(compiled, 50)
    assert neck is not None
    first, second = neck.branches
    assert list(first.mode) == list(second.mode)
    assert {compiled.modes[m].station for m in second.mode.values()} == {"finisher 2"}
    for start in make_rules(compiled).starts:
        one, other = neck.orders_in(start)
        assert sorted(one + other) == list(first.mode)
        assert all(start.modes[i] == second.mode[i] for i in other)


def two_ways(problem: Problem, *also: str) -> Problem:
    """The same with a second finisher, which can do what is named too."""
    return replace(
        problem,
        bases=(*problem.bases, replace(problem.bases[0], key="second")),
        stations=(*problem.stations, Station("second", hours=HOURS)),
        operations=tuple(
            replace(op, alternatives=(*op.alternatives, Alternative("second", 70)))
            if op.key in also
            else op
            for op in problem.operations
        ),
    )


def test_work_that_only_one_base_can_do_is_in_its_line_alone() -> None:
    problem = a_shop(Job("1", 5 * DAY_MIN, ("saw 1",)))
    neck = taken(two_ways(problem, "coarse", "other"))
    assert [[op.key for op in branch.alone.ops] for branch in neck.branches] == [
        ["fine", "coarse", "other"],
        ["coarse", "other"],
    ]
    assert [branch.line.minutes for branch in neck.branches] == [(100, 90, 30), (70, 70)]


def test_passes_wait_for_all_before_them_where_one_between_may_be_elsewhere() -> None:
    problem = a_shop(Job("1", 2 * DAY_MIN + 840, ("saw 1",)))
    finest = Operation("finest", (Alternative("finisher", 50),), {"od": "38"})
    longer = replace(
        problem,
        operations=(*problem.operations, finest),
        arcs=(Arc("coarse", "fine"), Arc("fine", "finest"), Arc("finest", "saw 1")),
    )
    for also, before in ((("coarse", "other"), ["fine"]), (("fine", "other"), ["coarse", "fine"])):
        alone = taken(two_ways(longer, *also)).branches[0].alone
        last = next(op for op in alone.ops if op.key == "finest")
        assert sorted(alone.ops[pred.operation].key for pred in last.preds) == before


def test_a_pass_is_due_for_one_after_it_that_may_be_elsewhere() -> None:
    problem = a_shop(Job("1", 2 * DAY_MIN + 840, ("saw 1",), 3))
    saw, fine = round(FOLLOWING * 20), round(FOLLOWING * 70)
    for also, coarse in ((("coarse", "other"), None), (("fine", "other"), 3 * 465 - saw - fine)):
        branch = taken(two_ways(problem, *also)).branches[0]
        number = [op.key for op in branch.alone.ops].index("coarse")
        due = branch.line.due[number] if branch.line.counted[number] else None
        assert due == coarse


def test_work_that_may_be_done_outside_is_no_bottleneck() -> None:
    problem = a_shop(Job("1", 5 * DAY_MIN, ("saw 1",)))
    outside = Station("outside", unlimited=True)
    coarse = problem.operations[3]
    either = replace(coarse, alternatives=(*coarse.alternatives, Alternative("outside", 900)))
    more = replace(
        problem,
        stations=(*problem.stations, outside),
        operations=(*problem.operations[:3], either, *problem.operations[4:]),
    )
    assert as_bottleneck(compile_problem(more), 50) is None


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
