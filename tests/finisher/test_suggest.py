"""The quarter rule and what is done where it does not fit."""

import random
from dataclasses import replace

import pytest

from planner.finisher.set_up import solve
from planner.finisher.suggest import suggest_set_up, thickest_rail_nm
from tests.finisher.balance import balance
from tests.finisher.builders import a_belt, a_machine, a_problem, inch


def test_every_suggested_setting_holds_the_tube_down_on_the_rail() -> None:
    rng = random.Random(5)
    for _ in range(400):
        problem = a_problem(
            od=rng.uniform(0.5, 4),
            rail=rng.uniform(0.05, 0.3),
            machine=a_machine(rng.uniform(8, 20), rng.uniform(6, 16)),
            belt=a_belt(rng.uniform(0.02, 0.6)),
        )
        made = suggest_set_up(problem)
        value = made.result.value
        if problem.rail.thickness_nm + problem.margins.least_gap_nm > problem.od_nm // 2:
            continue
        assert value is not None
        assert made.result.usable, made.result.findings
        assert min(value.belt_hold_mdeg, value.brake_hold_mdeg) > 0
        assert value.rest_into_rail
        assert value.clearance_nm > 0
        assert 0 < value.stop_nm < value.wheel_gap_nm
        pushes = balance(value)
        assert min(pushes.belt, pushes.rail) > 0


def test_offset_and_drop_are_on_the_marks_of_a_rule() -> None:
    made = suggest_set_up(a_problem(od=1.9)).result.value
    assert made is not None
    assert made.rail_front_nm == made.drop_nm == inch(15 / 32)


@pytest.mark.parametrize("od", [0.5, 0.75, 1, 1.5, 2, 3, 4])
@pytest.mark.parametrize("off", [-1 / 64, 1 / 64])
def test_a_rail_set_to_the_nearest_mark_still_holds_the_tube(od: float, off: float) -> None:
    made = suggest_set_up(a_problem(od=od, rail=1 / 16))
    value = made.result.value
    assert value is not None
    top = value.rail_top_drop_nm + inch(off)
    near = solve(replace(made.problem, drop_nm=None, rail_top_drop_nm=top))
    assert near.usable
    assert near.value is not None
    assert near.value.belt_hold_mdeg > 0


@pytest.mark.parametrize(("od", "closed"), [(1.0, True), (0.9, True), (1.1, False)])
def test_a_rail_too_thick_for_the_quarter_rule_is_named_with_the_thickest_that_works(
    od: float, closed: bool
) -> None:
    made = suggest_set_up(a_problem(od=od, rail=1 / 4))
    texts = [finding.message for finding in made.result.findings]
    assert any("thickest rail that works is" in text for text in texts)
    assert any("leaves no gap" in text for text in texts) is closed
    assert made.result.usable


def test_the_rail_front_moves_out_to_the_next_mark_that_leaves_the_least_gap() -> None:
    # A quarter of 3/4 in is 3/16; 0.2 in of rail and 1/16 of gap want 0.2625, so 9/32.
    made = suggest_set_up(a_problem(od=0.75, rail=0.2))
    assert made.problem.rail_front_nm == inch(9 / 32)
    assert made.problem.drop_nm == inch(3 / 16)


def test_a_rail_that_leaves_just_the_least_gap_is_thin_enough() -> None:
    made = suggest_set_up(a_problem(od=1.5, rail=5 / 16))
    assert made.problem.rail_front_nm == inch(3 / 8)
    assert made.result.findings == ()


def test_a_tube_too_small_for_any_rail_says_so() -> None:
    texts = [f.message for f in suggest_set_up(a_problem(od=0.375, rail=0.05)).result.findings]
    assert thickest_rail_nm(inch(1 / 4), inch(1 / 16)) == 0
    assert not any("no rail is thin enough" in text for text in texts)
    tiny = suggest_set_up(a_problem(od=0.2, rail=0.05)).result
    assert any("no rail is thin enough" in f.message for f in tiny.findings)
    assert not tiny.usable
