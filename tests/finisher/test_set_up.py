"""The numbers of a set-up against a second way of solving it, and every refusal."""

import random
from dataclasses import replace
from math import atan2, degrees, hypot
from typing import Any

import pytest

from planner.errors import Severity
from planner.finisher.geometry import Rest, SetUp, SetUpProblem
from planner.finisher.set_up import solve
from planner.units import parse_length
from tests.finisher import independent
from tests.finisher.balance import balance
from tests.finisher.builders import a_belt, a_machine, a_problem, inch


def random_problem(rng: random.Random) -> SetUpProblem:
    """Anything a shop could set and much that it could not."""
    od = rng.uniform(0.4, 4)
    rail = rng.uniform(0.07, 0.5)
    return a_problem(
        od=od,
        rail=rail,
        front=rng.uniform(0.01, 1.2) * od,
        drop=rng.uniform(-0.3, 0.8) * od,
        edge=rng.choice([0, 0.02, 0.06]),
        machine=a_machine(rng.uniform(6, 20), rng.uniform(6, 16), rng.uniform(-1, 1)),
        belt=a_belt(rng.uniform(0.02, 0.6)),
    )


def solved(problem: SetUpProblem) -> SetUp:
    value = solve(problem).value
    assert value is not None
    return value


def errors(problem: SetUpProblem) -> list[str]:
    return [f.message for f in solve(problem).findings if f.severity is Severity.ERROR]


def warnings(problem: SetUpProblem) -> list[str]:
    return [f.message for f in solve(problem).findings if f.severity is Severity.WARNING]


def told(problem: SetUpProblem) -> list[str]:
    return [finding.message for finding in solve(problem).findings]


def test_every_number_agrees_with_root_finding_to_a_micrometre() -> None:
    rng = random.Random(20)
    compared = 0
    for _ in range(150):
        problem = random_problem(rng)
        reference = independent.solve(problem)
        value = solve(problem).value
        assert (value is None) == (reference is None), problem
        if reference is not None:
            off = independent.differences(problem, reference, value)
            assert max(off.values()) < 1e-3, (problem, off)
            compared += 1
    assert compared > 100


def test_a_rail_at_the_computed_height_gives_back_the_same_drop() -> None:
    rng = random.Random(21)
    back = 0
    for _ in range(300):
        problem = random_problem(rng)
        value = solve(problem).value
        if value is None or not solve(problem).usable:
            continue
        by_rail = replace(problem, drop_nm=None, rail_top_drop_nm=value.rail_top_drop_nm)
        again = solved(by_rail)
        assert again.rest is value.rest
        # the rail's height is rounded to a nanometre, which a steep touch magnifies
        assert abs(again.drop_nm - value.drop_nm) < 100
        assert again.rail_top_drop_nm == value.rail_top_drop_nm
        back += 1
    assert back > 20


def test_the_usual_tube_on_the_usual_rail() -> None:
    value = solved(a_problem(od=1.5))
    assert (value.rail_front_nm, value.gap_nm) == (inch(3 / 8), inch(1 / 8))
    assert value.drop_nm == inch(3 / 8)
    assert value.rest is Rest.FRONT_EDGE
    assert value.rest_into_rail
    assert value.stop_nm < value.wheel_gap_nm < value.od_nm
    assert value.rail_top_above_base_nm == inch(9) - value.rail_top_drop_nm


def test_belt_and_rail_push_against_the_brake_wheel_when_the_tube_is_below_the_line() -> None:
    held = balance(solved(a_problem(drop=3 / 8)))
    assert held.belt > 0
    assert held.rail > 0
    assert balance(solved(a_problem(drop=-0.2))).rail < 0


def test_a_worn_contact_wheel_brings_the_belt_face_in() -> None:
    new, worn = solved(a_problem()), solved(a_problem(machine=a_machine(contact=13)))
    assert new.tube_centre_nm[0] - worn.tube_centre_nm[0] == pytest.approx(inch(0.5), rel=0.01)


def test_a_non_woven_belt_moves_the_belt_face_by_its_thickness() -> None:
    thin, thick = solved(a_problem()), solved(a_problem(belt=a_belt(0.45)))
    assert thick.tube_centre_nm[0] - thin.tube_centre_nm[0] == pytest.approx(inch(0.4), rel=0.01)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"drop": -0.1}, "climbs out"),
        ({"drop": 0}, "climbs out"),
        ({"od": 0.3}, "outside the finisher's range"),
        ({"od": 6}, "outside the finisher's range"),
        ({"front": 1 / 8}, "leaves no gap"),
        ({"front": 1.3}, "in front of the tube's centre"),
        ({"front": 0}, "inside the belt"),
        ({"front": 2.6, "rail": 0.1}, "beyond the tube's side"),
        ({"rail": 0}, "rail thickness"),
        ({"edge": 0.3}, "edge radius"),
        ({"machine": a_machine(rise=-1)}, "lifts the tube"),
        ({"machine": replace(a_machine(), stop_min_nm=inch(2))}, "cannot be set closer"),
        ({"machine": replace(a_machine(), stop_min_nm=0, stop_max_nm=inch(0.03))}, "stay"),
        ({"belt": a_belt(-0.1)}, "cannot be negative"),
    ],
)
def test_what_cannot_work_is_refused_with_what_to_change(change: dict[str, Any], says: str) -> None:
    problem = a_problem(**change)
    assert any(says in message for message in errors(problem)), errors(problem)
    assert not solve(problem).usable


@pytest.mark.parametrize(
    ("change", "says", "to", "fix"),
    [
        ({"front": 2.6, "rail": 0.1}, "beyond the tube's side", "of the OD, ", ("front", "drop")),
        ({"drop": -0.1}, "climbs out", "until the centre is ", ("drop",)),
        ({"front": 1.3}, "in front of the tube's centre", "move the rail front to ", ("front",)),
        ({"front": 0.1, "rail": 0.02}, "ride over", "towards ", ("front",)),
        ({"front": 1 / 8}, "leaves no gap", "rail of at most ", ("rail",)),
        ({"front": 0.3}, "less than the shop's", "the shop's ", ("gap",)),
    ],
)
def test_who_does_what_a_message_says_hears_it_no_more(
    change: dict[str, Any], says: str, to: str, fix: tuple[str, ...]
) -> None:
    (message,) = [text for text in told(a_problem(**change)) if says in text]
    size = parse_length(message.partition(to)[2].partition(" (")[0]).nm / inch(1)
    wanted: dict[str, Any] = dict.fromkeys(fix, size)
    if "gap" in wanted:
        wanted = {"rail": change["front"] - size}
    assert not [text for text in told(a_problem(**{**change, **wanted})) if says in text]


def test_a_steep_rest_is_told_by_the_angle_from_the_tube_s_centre_to_the_rail_s_edge() -> None:
    problem = a_problem(front=0.1, rail=0.02)
    value = solved(problem)
    # A sharp edge touches the tube where it stands itself.
    across = value.tube_centre_nm[0] - value.rail_front_x_nm
    lean = degrees(atan2(across, value.tube_centre_nm[1] + value.rail_top_drop_nm))
    (message,) = [text for text in warnings(problem) if "ride over" in text]
    assert f"at {abs(lean):.0f}° from straight down" in message
    assert abs(lean) > problem.margins.steep_rest_mdeg / 1000


def test_a_feeler_finds_a_gap_just_where_a_rule_does_and_never_a_wider_one() -> None:
    rng = random.Random(22)
    values = [value for _ in range(200) if (value := solve(random_problem(rng)).value)]
    apart = [value for value in values if value.clearance_nm > 0]
    assert 20 < len(apart) < len(values)
    assert all(value.clearance_nm <= value.gap_nm + 1 for value in apart)
    assert all(value.gap_nm <= 0 for value in values if value.clearance_nm <= 0)


def test_a_set_up_needs_the_drop_or_the_rail_height_and_not_both() -> None:
    problem = a_problem()
    assert errors(replace(problem, drop_nm=None)) == errors(
        replace(problem, rail_top_drop_nm=inch(1))
    )


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"front": 0.1, "rail": 0.02}, "ride over"),
        ({"front": 0.3}, "less than the shop's"),
        ({"machine": replace(a_machine(), stop_max_nm=inch(1))}, "cannot be set 1/8"),
    ],
)
def test_what_is_doubtful_is_warned_of(change: dict[str, Any], says: str) -> None:
    problem = a_problem(**change)
    assert any(says in message for message in warnings(problem)), solve(problem).findings


def test_the_stop_never_lets_the_brake_wheel_touch_belt_or_rail() -> None:
    machine = replace(a_machine(), stop_min_nm=0)
    small = a_problem(od=0.5, rail=0.05, front=0.15, machine=machine)
    usual = solved(small)
    greedy = solved(replace(small, margins=replace(small.margins, stop_closer_nm=inch(1))))
    clear = small.margins.stop_clear_nm
    assert usual.stop_nm == usual.wheel_gap_nm - small.margins.stop_closer_nm
    assert greedy.stop_nm >= clear
    assert greedy.brake_clearance_nm >= clear - 1


def test_the_stop_stays_clear_of_the_belt_where_the_rail_does_not_keep_the_wheel_away() -> None:
    # 3/8 in tube under a risen brake wheel is held with the wheels 0.162 in apart: 1/8 in closer
    # would leave 0.037 in, less than the 1/16 in that the wheel must stay clear of the belt.
    machine = replace(a_machine(brake=6, rise=1), stop_min_nm=0)
    value = solved(a_problem(od=3 / 8, rail=1 / 8, front=0.206, drop=0.256, machine=machine))
    assert 0.16 * inch(1) < value.wheel_gap_nm < 0.165 * inch(1)
    assert value.stop_nm == inch(1 / 16)


def test_a_risen_brake_wheel_on_its_stop_is_measured_from_where_it_stands() -> None:
    # 7.05 in to the belt face, 5 in of brake wheel and a stop of 0.45 in are 12.5 in between the
    # centres: risen by 3.5 in, the brake wheel's stands 12 in to the right (3.5² + 12² = 12.5²).
    machine = replace(a_machine(rise=3.5), stop_min_nm=inch(0.45), stop_max_nm=inch(0.45))
    value = solved(a_problem(machine=machine))
    across, up = inch(12) - value.rail_front_x_nm, inch(3.5) + value.rail_top_drop_nm
    assert value.brake_clearance_nm == pytest.approx(hypot(across, up) - inch(5), abs=10)


@pytest.mark.parametrize("rise", [0, 0.25, -0.25])
def test_a_stop_that_could_reach_the_rail_is_set_just_clear_of_it(rise: float) -> None:
    problem = a_problem(machine=replace(a_machine(rise=rise), stop_min_nm=0))
    margins = replace(problem.margins, stop_closer_nm=inch(2))
    value = solved(replace(problem, margins=margins))
    assert value.stop_nm > margins.stop_clear_nm
    assert value.brake_clearance_nm == pytest.approx(margins.stop_clear_nm, abs=2)


def test_a_stop_at_which_the_brake_wheel_touches_the_rail_is_refused() -> None:
    # The tube holds the wheels 1.479 in apart; on the stop of 1/16 in the wheel is in the rail.
    for stop, touches in ((1 / 16, True), (1 / 4, False)):
        machine = replace(a_machine(), stop_min_nm=inch(stop), stop_max_nm=inch(stop))
        problem = a_problem(machine=machine)
        assert (solved(problem).brake_clearance_nm <= 0) is touches
        assert any("would touch the rail" in text for text in errors(problem)) is touches


def test_a_stop_just_where_the_tube_holds_the_wheel_is_too_far_out() -> None:
    held = solved(a_problem()).wheel_gap_nm
    for least, refused in ((held, True), (held - 1, False)):
        problem = a_problem(machine=replace(a_machine(), stop_min_nm=least))
        assert any("cannot be set closer" in text for text in errors(problem)) is refused


def test_a_gap_just_as_wide_as_the_shop_wants_is_no_warning() -> None:
    # A quarter of 1-1/2 in is 3/8; a rail of 5/16 leaves the least gap of 1/16.
    assert warnings(a_problem(od=1.5, rail=5 / 16)) == []


def test_a_tube_over_the_rounding_of_the_edge_rests_on_the_rounding() -> None:
    problem = a_problem(od=1.5, front=0.88, edge=0.1)
    value = solved(problem)
    by_rail = replace(problem, drop_nm=None, rail_top_drop_nm=value.rail_top_drop_nm)
    again = solved(by_rail)
    # The tube's centre is behind the front face, but not yet over the flat top.
    assert value.rail_front_x_nm - inch(0.1) < again.tube_centre_nm[0] < value.rail_front_x_nm
    assert again.rest is Rest.FRONT_EDGE
    assert abs(again.drop_nm - value.drop_nm) < 100


@pytest.mark.parametrize(("rise", "way"), [(7, "above"), (-7, "below")])
def test_a_brake_wheel_that_passes_over_or_under_the_tube_is_named_and_not_the_rail(
    rise: float, way: str
) -> None:
    # C: a wheel of 10 in and a tube of 1-1/2 in touch while their centres are 5.75 in apart; the
    # tube's is 3/8 in below the line of centres, so 7 in up or down are too many.
    result = solve(a_problem(machine=a_machine(rise=rise)))
    assert result.value is None
    (finding,) = result.findings
    assert f'7" (177.8 mm) {way} the contact wheel' in finding.message
    assert "rail" not in finding.message


@pytest.mark.parametrize("od", [3 / 8, 5])
def test_an_od_at_either_end_of_the_range_is_within_it(od: float) -> None:
    assert not [text for text in errors(a_problem(od=od, rail=1 / 16)) if "range" in text]
    beyond = a_problem(od=od * (0.99 if od < 1 else 1.01), rail=1 / 16)
    assert "outside the finisher's range" in errors(beyond)[0]
