"""`solve` from a problem to a result."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import InputError, NoPlanError
from planner.schedule import (
    Alternative,
    Arc,
    Base,
    Fixed,
    Interval,
    Job,
    Operation,
    Person,
    Problem,
    Rule,
    Station,
    Term,
    order,
    solve,
    turns_of,
)
from planner.stop import Stop
from tests.benchmarks.odd import an_odd_shop
from tests.schedule.audit import assert_schedule_valid
from tests.schedule.shops import a_random_shop

DAY = (Interval(420, 720), Interval(780, 960))


def an_operation(key: str, od: str, minutes: int = 60) -> Operation:
    return Operation(key, (Alternative("finisher", minutes),), needs={"od": od})


def a_shop(*operations: Operation, hours: tuple[Interval, ...] = DAY, od_min: int = 20) -> Problem:
    return Problem(
        bases=(Base("finisher", (Rule("od", od_min),)),),
        stations=(Station("finisher", hours=hours),),
        operations=operations,
        jobs=tuple(Job(op.key, 960, (op.key,)) for op in operations),
        horizon_min=1440,
    )


def test_a_lone_operation_is_done_where_that_is_best() -> None:
    a = Operation("a", (Alternative("slow", 30), Alternative("fast", 10)))
    shop = Problem((Station("slow"), Station("fast")), (a,), jobs=(Job("a", 10, ("a",)),))
    (placed,) = solve(shop, Stop(), seconds=0.01).placed
    assert (placed.station, placed.end_min) == ("fast", 10)


def test_equal_states_are_done_in_one_run() -> None:
    shop = a_shop(an_operation("a", "1"), an_operation("b", "2"), an_operation("c", "1"))
    result = solve(shop, Stop(), seconds=0.1)
    assert result.figures.terms[Term.CHANGEOVER] == 40
    assert result.placed[1].operation != "b"


def test_of_orders_with_equal_changeovers_the_one_with_time_to_spare_wins() -> None:
    shop = a_shop(an_operation("a", "1"), an_operation("b", "1"))
    loose, tight = shop.jobs[0], replace(shop.jobs[1], due_min=600)
    for key, job in (("b", tight), ("a", loose)):
        aimed = replace(job, spare_min=120)
        jobs = tuple(aimed if each.key == key else each for each in (loose, tight))
        result = solve(replace(shop, jobs=jobs), Stop(), seconds=0.1)
        assert result.placed[0].operation == key
        assert result.figures.terms[Term.LATENESS] == 0


def test_the_last_minutes_before_a_due_date_weigh_most() -> None:
    spent = {560: 44, 500: 2, 480: 0, 600: 100, 700: 100}
    for end, tightness in spent.items():
        shop = a_shop(an_operation("a", "1", end - 440))
        jobs = (Job("a", 620, ("a",), spare_min=120, aim_min=480),)
        result = solve(replace(shop, jobs=jobs), Stop(), seconds=0.01)
        assert result.placed[0].end_min == end
        assert result.figures.terms[Term.TIGHTNESS] == tightness


def test_an_aim_after_the_due_date_is_refused() -> None:
    shop = replace(a_shop(an_operation("a", "1")), jobs=(Job("a", 600, ("a",), aim_min=601),))
    with pytest.raises(InputError, match="job a has its aim at 601 min"):
        solve(shop, Stop())


def test_a_run_pauses_over_a_break_and_a_changeover_does_not_split() -> None:
    shop = a_shop(an_operation("a", "1", 290), an_operation("b", "2", 30))
    result = solve(shop, Stop(), seconds=0.1)
    by_key = {placed.operation: placed for placed in result.placed}
    assert by_key["a"].pieces == ((440, 720), (780, 790)) or by_key["b"].start_min == 440
    for placed in result.placed:
        assert any(
            piece.start_min <= placed.changeover_start_min
            and placed.changeover_start_min + placed.changeover_min <= piece.end_min
            for piece in DAY
        )


def test_a_changeover_longer_than_any_piece_of_a_shift_is_refused() -> None:
    with pytest.raises(InputError, match="takes 301 min, but its longest stretch"):
        solve(a_shop(an_operation("a", "1"), od_min=301), Stop())


def two_changes(minutes: int) -> Problem:
    """Work that needs an OD (200 min) and a belt, then more work behind it."""
    a = Operation("a", (Alternative("finisher", 10),), needs={"od": "1", "belt": "x"})
    b = Operation("b", (Alternative("finisher", 10),), needs={"od": "1", "belt": "x"})
    shop = a_shop(a, b)
    return replace(shop, bases=(Base("finisher", (Rule("od", 200), Rule("belt", minutes))),))


def test_changes_that_fit_alone_and_not_together_are_refused_by_station() -> None:
    solve(two_changes(100), Stop(), seconds=0.05)
    with pytest.raises(NoPlanError) as refused:
        solve(two_changes(101), Stop(), seconds=0.05)
    (found,) = refused.value.findings
    assert found.subject == "finisher"
    assert "takes 301 min (od 200 min, belt 101 min)" in found.message
    assert "is 300 min" in found.message


def test_a_changeover_that_does_not_fit_into_the_peoples_hours_is_refused_by_station() -> None:
    shop = two_changes(0)
    for end, fits in ((620, True), (619, False)):
        ann = Person("Ann", ("finisher",), (Interval(420, end), Interval(780, 900)))
        staffed = replace(shop, people=(ann,))
        if fits:
            solve(staffed, Stop(), seconds=0.05)
            continue
        with pytest.raises(NoPlanError) as refused:
            solve(staffed, Stop(), seconds=0.05)
        (found,) = refused.value.findings
        assert found.subject == "finisher"
        assert "takes 200 min (od 200 min), but" in found.message
        assert "is 199 min" in found.message


def test_a_stretch_counts_from_when_the_station_can_be_used() -> None:
    shop = two_changes(0)
    for free, fits in ((520, True), (521, False)):
        busy = replace(shop, bases=(replace(shop.bases[0], free_from_min=free),))
        if fits:
            solve(busy, Stop(), seconds=0.05)
            continue
        with pytest.raises(NoPlanError, match="is 199 min, and a changeover is not split"):
            solve(busy, Stop(), seconds=0.05)


def test_fixed_work_beyond_the_horizon_is_named_and_not_its_changeover() -> None:
    late = replace(an_operation("late", "1"), fixed=Fixed(1500, 1560, "finisher"))
    with pytest.raises(NoPlanError) as refused:
        solve(two_changes_with(late), Stop(), seconds=0.05)
    (found,) = refused.value.findings
    assert found.subject == "late"
    assert found.message.startswith(
        "operation late ends at minute 1560, after its limit, minute 1440"
    )


def two_changes_with(late: Operation) -> Problem:
    """Fixed work with a changeover that fits into no shift."""
    return replace(a_shop(late), bases=(Base("finisher", (Rule("od", 301),)),))


def test_a_full_week_is_not_blamed_on_its_changeovers() -> None:
    shop = a_shop(an_operation("a", "1", 400), an_operation("b", "2", 400), od_min=60)
    with pytest.raises(NoPlanError) as refused:
        solve(shop, Stop(), seconds=0.05)
    assert {found.subject for found in refused.value.findings} <= {"a", "b"}


def test_a_change_that_no_work_here_needs_may_take_as_long_as_it_likes() -> None:
    shop = a_shop(an_operation("a", "1"))
    base = replace(shop.bases[0], rules=(*shop.bases[0].rules, Rule("never", 9999)))
    solve(replace(shop, bases=(base, *shop.bases[1:])), Stop(), seconds=0.1)


def test_work_that_does_not_fit_before_the_horizon_is_refused_by_name() -> None:
    with pytest.raises(NoPlanError, match="operation b ends at minute"):
        solve(a_shop(an_operation("a", "1", 400), an_operation("b", "1", 400)), Stop(), seconds=0.1)


def test_precedence_of_any_shape_holds() -> None:
    shop = Problem(
        stations=(Station("m"), Station("rack", unlimited=True)),
        operations=(
            Operation("a", (Alternative("m", 10),)),
            Operation("b", (Alternative("rack", 5),)),
            Operation("c", (Alternative("m", 10),)),
        ),
        arcs=(Arc("a", "b"), Arc("a", "c", lag_min=7), Arc("b", "c", lag_min=3)),
        jobs=(Job("j", 0, ("b", "c")),),
    )
    result = solve(shop, Stop(), seconds=0.1)
    assert {p.operation: p.start_min for p in result.placed} == {"a": 0, "b": 10, "c": 18}
    assert result.figures.terms[Term.LATENESS] == 28
    assert result.floor(Term.LATENESS) == 28


@pytest.mark.parametrize("seed", range(40))
def test_every_plan_of_an_odd_shop_is_valid_or_refused_with_a_reason(seed: int) -> None:
    problem = an_odd_shop(seed)
    try:
        result = solve(problem, Stop(), seed, seconds=0.02)
    except (InputError, NoPlanError) as refusal:
        assert refusal.findings  # noqa: PT017 - either end is right
        return
    assert_schedule_valid(problem, result)


@pytest.mark.parametrize("seed", range(6))
def test_the_order_alone_is_that_of_the_whole_answer(seed: int) -> None:
    problem = a_random_shop(seed, 12, fixed=False)
    found = order(problem, Stop(), seed, seconds=0.05)
    answer = solve(problem, Stop(), seed, seconds=0.05)
    assert found.turns == turns_of(answer.placed)
    assert found.figures == answer.figures


def test_the_order_alone_is_refused_as_the_whole_answer_is() -> None:
    shop = replace(a_shop(an_operation("a", "1", minutes=900)), horizon_min=1440)
    with pytest.raises(NoPlanError) as refused:
        order(shop, Stop(), seconds=0.01, words=lambda minute: f"{minute} o'clock")
    with pytest.raises(NoPlanError) as same:
        solve(shop, Stop(), seconds=0.01, words=lambda minute: f"{minute} o'clock")
    assert refused.value.findings == same.value.findings
