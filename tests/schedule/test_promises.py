"""What the engine promises a shop, each seen in what `solve` returns."""

from __future__ import annotations

from dataclasses import replace

import pytest

from planner.errors import InputError, NoPlanError
from planner.schedule import (
    Alternative,
    Arc,
    Base,
    Fixed,
    Hold,
    Interval,
    Issued,
    Job,
    Operation,
    Person,
    Placed,
    Problem,
    Progress,
    Rule,
    Station,
    Term,
    solve,
)
from planner.stop import Stop
from tests.schedule.audit import assert_schedule_valid
from tests.schedule.shops import a_random_shop


def placed(problem: Problem) -> dict[str, Placed]:
    result = solve(problem, Stop(), seconds=0.05)
    assert_schedule_valid(problem, result)
    return {each.operation: each for each in result.placed}


def work(key: str, minutes: int = 10, od: str = "", **way: int) -> Operation:
    needs = {"od": od} if od else {}
    return Operation(key, (Alternative("m", minutes, crew=way.get("crew", 1),
                                       attended_min=way.get("attended")),), needs)  # fmt: skip


def test_what_stays_mounted_under_an_attachment_is_there_after_a_swap() -> None:
    shop = Problem(
        stations=(
            Station("f", "base", needs={"attachment": "f"}),
            Station("n", "base", needs={"attachment": "n"}),
        ),
        bases=(Base("base", (Rule("attachment", 15), Rule("od", 40))),),
        operations=(
            Operation("1", (Alternative("f", 10),), {"od": "38"}),
            Operation("2", (Alternative("n", 10),)),
            Operation("3", (Alternative("f", 10),), {"od": "38"}),
        ),
        arcs=(Arc("1", "2"), Arc("2", "3")),
    )
    assert [placed(shop)[key].changeover_min for key in "123"] == [55, 15, 15]


def test_what_is_mounted_now_is_the_start() -> None:
    shop = Problem(
        stations=(Station("m"),),
        bases=(Base("m", (Rule("od", 20),), mounted={"od": "2"}),),
        operations=(work("a", od="1"), work("b", od="2")),
    )
    found = placed(shop)
    assert (found["b"].changeover_min, found["a"].changeover_min) == (0, 20)


def test_long_sticks_take_two_different_people() -> None:
    ann, bob = Person("Ann", ("m",)), Person("Bob", ("m",), (Interval(50, 100),))
    shop = Problem(
        stations=(Station("m"),), operations=(work("a", crew=2),), people=(ann, bob),
        horizon_min=100,
    )  # fmt: skip
    found = placed(shop)["a"]
    assert (sorted(found.people), found.start_min) == (["Ann", "Bob"], 50)
    with pytest.raises(InputError, match="not enough people"):
        solve(replace(shop, people=(ann,)), Stop(), seconds=0.05)


def test_a_run_goes_on_without_people_once_it_is_set_up() -> None:
    ann = Person("Ann", ("m", "n"), (Interval(0, 50),))
    shop = Problem(
        stations=(Station("m"), Station("n")),
        operations=(work("a", 60, attended=10), Operation("b", (Alternative("n", 30),))),
        people=(ann,),
        horizon_min=100,
    )
    found = placed(shop)
    assert max(found["a"].end_min, found["b"].end_min) <= 100
    assert found["b"].start_min < found["a"].end_min
    assert found["a"].attended_end_min == found["a"].start_min + 10


def test_done_work_keeps_its_times_and_holds_what_comes_after() -> None:
    done = replace(work("a"), fixed=Fixed(-30, 25, "m", done=True))
    shop = Problem(stations=(Station("m"),), operations=(done, work("b")), arcs=(Arc("a", "b"),))
    found = placed(shop)
    assert (found["a"].start_min, found["a"].end_min, found["b"].start_min) == (-30, 25, 25)


def test_a_rush_order_goes_in_where_the_least_issued_work_moves() -> None:
    issued = [replace(work(f"o{i}", 60), issued=Issued("m", 60 * i)) for i in range(4)]
    rush = work("rush", 60)
    for due, moved in ((300, 0), (240, 1), (180, 1)):
        jobs = (Job("rush", due, ("rush",)),)
        shop = Problem((Station("m"),), (*issued, rush), jobs=jobs)
        found = placed(shop)
        assert found["rush"].end_min <= due
        assert sum(found[f"o{i}"].start_min != 60 * i for i in range(4)) == moved


def test_a_stop_request_on_the_way_returns_the_best_so_far() -> None:
    stop, heard = Stop(), list[tuple[int, ...]]()

    def hear(news: Progress) -> None:
        heard.append(news.figures.levels)
        stop.ask()

    problem = a_random_shop(4, operations=30, fixed=False)
    result = solve(problem, stop, seconds=1000.0, progress=hear)
    assert result.figures.levels <= min(heard)
    assert_schedule_valid(problem, result)


def test_the_weights_of_the_levels_change_the_plan() -> None:
    operations = (work("a", od="1"), work("b", od="2"), work("c", od="1"))
    shop = Problem(
        stations=(Station("m"),),
        bases=(Base("m", (Rule("od", 20),), mounted={"od": "1"}),),
        operations=operations,
        arcs=(Arc("a", "b"),),
        jobs=(Job("b", 40, ("b",)), Job("c", 1000, ("c",))),
    )
    first = ({Term.VIOLATION: 1}, {Term.CHANGEOVER: 1}, {Term.LATENESS: 1})
    punctual = solve(shop, Stop(), seconds=0.05).figures.terms
    grouped = solve(replace(shop, levels=first), Stop(), seconds=0.05).figures.terms
    assert (punctual[Term.LATENESS], punctual[Term.CHANGEOVER]) == (0, 40)
    assert (grouped[Term.LATENESS], grouped[Term.CHANGEOVER]) == (10, 20)


@pytest.mark.parametrize("seed", range(12))
def test_who_held_an_operation_really_ended_then(seed: int) -> None:
    problem = a_random_shop(seed, fixed=False)
    try:
        found = placed(problem)
    except NoPlanError:
        return
    base = {s.key: s.base_key for s in problem.stations}
    for each in found.values():
        if each.why.operation is None or each.why.operation not in found:
            continue
        holder = found[each.why.operation]
        if each.why.hold is Hold.STATION:
            assert base[holder.station] == base[each.station]
            assert holder.end_min <= each.changeover_start_min
        elif each.why.hold is Hold.PERSON:
            assert each.why.person in {*each.people} & {*holder.people}
            assert holder.attended_end_min <= each.changeover_start_min
        elif each.why.hold is Hold.PREDECESSOR:
            ends = {
                (holder.start_min if arc.from_start else holder.end_min) + arc.lag_min
                for arc in problem.arcs
                if (arc.before, arc.after) == (holder.operation, each.operation)
            }
            assert each.start_min in ends
