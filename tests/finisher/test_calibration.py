"""Learning from logs with a known truth, from few runs, and from wild ones."""

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from planner.finisher.calibration import Calibration, calibrate
from planner.finisher.observations import Observation, Work
from planner.finisher.validation import cross_validate
from tests.finisher.logs import Truth, a_log, some_truth


def a_work(**changes: Any) -> Work:
    return replace(a_log(1).observations[0].work, count=10, **changes)


def learned(seed: int, runs: int = 60) -> tuple[Calibration, float, float]:
    log = a_log(runs, seed, some_truth(seed, timed=6))
    made = calibrate(log.observations)
    pairs = list(zip(log.observations, log.slips, log.handlings, strict=True))
    slip = np.mean([abs(made.slip(o.work) / slip - 1) for o, slip, _ in pairs])
    handling = np.mean([abs(made.handling_s(o.work) / hand - 1) for o, _, hand in pairs])
    return made, float(slip), float(handling)


def test_slip_and_handling_come_close_to_the_truth_in_sixty_runs() -> None:
    errors = [learned(seed)[1:] for seed in range(30)]
    slips, handlings = zip(*errors, strict=True)
    assert np.mean(slips) < 0.03
    assert np.mean(handlings) < 0.10


def test_eighty_per_cent_intervals_cover_about_eighty_per_cent_of_fresh_runs() -> None:
    inside = 0
    for seed in range(30):
        log = a_log(120, 100 + seed, some_truth(seed))
        made = calibrate(log.observations[:60])
        for observation in log.observations[60:]:
            if observation.row not in log.wild:
                told = made.predict(observation.work)
                inside += told.low_s <= observation.seconds <= told.high_s
    fresh = 30 * 60 * 0.98
    assert 0.75 < inside / fresh < 0.85


def test_without_runs_the_shops_settings_hold_with_a_wide_interval() -> None:
    nothing, work = calibrate([]), a_work()
    told = nothing.predict(work)
    assert told.median_s == pytest.approx(work.usual_s)
    assert told.high_s / told.low_s > 1.5
    assert "no runs logged" in told.basis
    assert not nothing.unsettled(work)


@pytest.mark.parametrize("runs", [1, 2])
def test_one_or_two_runs_move_the_estimate_only_part_of_the_way(runs: int) -> None:
    work = a_work()
    slow = [Observation(work, 2 * work.usual_s, row) for row in range(runs)]
    told = calibrate(slow).predict(work)
    assert work.usual_s < told.median_s < 2 * work.usual_s
    assert "leaning on the shop's mean" in told.basis
    assert told.runs == runs


def test_more_runs_narrow_the_interval_and_are_counted() -> None:
    log = a_log(200, 3)
    few, many = calibrate(log.observations[:8]), calibrate(log.observations)
    work = log.observations[0].work
    assert many.predict(work).spread < few.predict(work).spread
    same_belt = [o for o in log.observations if o.work.belt == work.belt]
    assert many.predict(work).runs == len(same_belt)


def test_a_belt_without_runs_leans_on_the_others_and_says_so() -> None:
    log = a_log(100, 4)
    made = calibrate(log.observations)
    known = log.observations[0].work
    told = made.predict(replace(known, belt="never run"))
    assert "none on this belt yet" in told.basis
    assert told.spread > made.predict(known).spread


def test_wild_rows_are_reported_and_have_no_say() -> None:
    sound = a_log(60, 5, Truth(outliers=0))
    spoiled = list(sound.observations)
    spoiled[20] = replace(spoiled[20], seconds=4 * spoiled[20].seconds)
    plain, robust = calibrate(sound.observations), calibrate(spoiled)
    assert plain.outliers == ()
    assert [outlier.row for outlier in robust.outliers] == [21]
    assert robust.outliers[0].factor == pytest.approx(4, rel=0.2)
    work = sound.observations[0].work
    assert robust.predict(work).median_s == pytest.approx(plain.predict(work).median_s, rel=0.02)


def test_runs_all_alike_cannot_tell_slip_and_handling_apart() -> None:
    work = a_work()
    alike = [Observation(work, work.usual_s * 1.1, row, resolution_s=1) for row in range(60)]
    varied = a_log(200, 6, Truth(timed=20)).observations
    assert calibrate(alike).unsettled(work)
    assert not calibrate(varied).unsettled(varied[-1].work)


def test_learning_lowers_the_cross_validated_error() -> None:
    found = cross_validate(a_log(60, 8).observations)
    assert found is not None
    assert found.after < 0.6 * found.before
    assert 0.6 < found.covered < 0.95
    assert cross_validate(a_log(4, 8).observations) is None


def test_the_same_log_teaches_the_same() -> None:
    first, second = (calibrate(a_log(40, 9).observations) for _ in range(2))
    assert np.array_equal(first.effects, second.effects)
