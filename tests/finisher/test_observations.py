"""Log rows: what they say about the model, and what is refused."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from planner.finisher.feed import Drive, feed_mm_min
from planner.finisher.observations import (
    Carry,
    LoggedRun,
    LoggedSetup,
    observe,
    od_class,
    wrong_fields,
)
from planner.shop import What
from planner.tube import Family
from tests.finisher.builders import inch
from tests.finisher.logs import log_shop


def a_run(**changes: Any) -> LoggedRun:
    usual = LoggedRun(
        row=7,
        day=date(2026, 11, 2),
        station="Finisher",
        belt="P120 carbon",
        family=Family.CARBON,
        od_nm=inch(1.5),
        length_nm=inch(240),
        count=10,
        tilt_mdeg=5000,
        minutes=42,
    )
    return replace(usual, **changes)


def test_a_row_becomes_formula_time_and_pieces_handled() -> None:
    seen = observe(log_shop(), a_run())
    feed = feed_mm_min(Drive(inch(10), 30), 5000)
    travel = (inch(240) + inch(4) // 3) / 1e6
    assert seen.work.formula_s == pytest.approx(10 * travel / feed * 60)
    assert (seen.work.count, seen.seconds, seen.work.carry) == (10, 42 * 60, Carry.TWO)


def test_a_timed_tube_has_no_handling_in_it() -> None:
    seen = observe(log_shop(), a_run(timed=True, count=1, minutes=3.1))
    assert seen.work.count == 0
    assert seen.resolution_s == 1


@pytest.mark.parametrize(
    ("length", "carry"), [(30, Carry.HAND), (120, Carry.STICK), (240, Carry.TWO)]
)
def test_handling_depends_on_how_a_piece_is_carried(length: float, carry: Carry) -> None:
    assert observe(log_shop(), a_run(length_nm=inch(length))).work.carry == carry


def test_ods_fall_into_classes() -> None:
    names = [od_class(inch(od)) for od in (0.75, 1, 1.5, 2, 2.375)]
    assert names == ["up to 1 in", "up to 1 in", "1 to 2 in", "1 to 2 in", "above 2 in"]


def test_a_sound_row_has_nothing_wrong() -> None:
    assert wrong_fields(log_shop(), a_run(), today=date(2026, 11, 25)) == ()


@pytest.mark.parametrize(
    ("change", "field"),
    [
        ({"station": "Saw"}, "station"),
        ({"belt": "P36"}, "belt"),
        ({"family": Family.STAINLESS}, "family"),
        ({"od_nm": inch(9)}, "od"),
        ({"length_nm": 0}, "length"),
        ({"count": 0}, "count"),
        ({"tilt_mdeg": 0}, "tilt"),
        ({"tilt_mdeg": 60_000}, "tilt"),
        ({"minutes": 0}, "minutes"),
        ({"minutes": 5000}, "minutes"),
        ({"minutes": float("nan")}, "minutes"),
        ({"setups": (LoggedSetup(What.BELT, -3),)}, "belt minutes"),
        ({"day": date(2027, 1, 1)}, "day"),
    ],
)
def test_what_cannot_be_right_is_refused_by_field(change: dict[str, Any], field: str) -> None:
    found = wrong_fields(log_shop(), a_run(**change), today=date(2026, 11, 25))
    assert [wrong.field for wrong in found] == [field]
    assert found[0].expected
