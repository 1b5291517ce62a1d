"""Set-up minutes, drift alarms, and the shop with what was learned."""

from dataclasses import replace

import numpy as np
import pytest

from planner.changeovers import change_minutes
from planner.finisher.calibration import calibrate
from planner.finisher.drift import drifts
from planner.finisher.learned import learned_setups, learned_shop
from planner.finisher.observations import LoggedRun, LoggedSetup
from planner.shop import ChangeoverRow, Shop, Station, StationKind, What
from tests.finisher.logs import Truth, a_log, log_shop, some_truth
from tests.finisher.test_observations import a_run


def a_shop_with_table() -> Shop:
    rows = (
        ChangeoverRow(station="finisher", what=What.BELT, minutes=6),
        ChangeoverRow(station="finisher", what=What.OD, minutes=10),
        ChangeoverRow(station="saw", what=What.OD, minutes=4),
    )
    return log_shop().model_copy(update={"changeovers": rows})


def runs_with(what: What, *minutes: float) -> list[LoggedRun]:
    return [a_run(row=n, setups=(LoggedSetup(what, m),)) for n, m in enumerate(minutes)]


def test_without_logged_changes_the_table_holds() -> None:
    found = learned_setups(a_shop_with_table(), [])
    assert {what: time.median_min for what, time in found.items()} == {
        What.BELT: pytest.approx(6),
        What.OD: pytest.approx(10),
    }
    assert "none logged" in found[What.BELT].basis


def test_logged_changes_pull_the_median_away_from_the_table() -> None:
    shop = a_shop_with_table()
    one = learned_setups(shop, runs_with(What.BELT, 12))[What.BELT]
    many = learned_setups(shop, runs_with(What.BELT, *[12, 11, 13] * 8))[What.BELT]
    assert 6 < one.median_min < 9
    assert many.median_min == pytest.approx(12, rel=0.1)
    assert many.high_min / many.low_min < one.high_min / one.low_min
    assert "leaning on the shop's table" in one.basis
    assert many.basis == "24 logged"


def test_the_shops_table_counts_as_three_runs() -> None:
    # C: three of 6 minutes and one of 7, in logs: 6·(7/6)^(1/4).
    found = learned_setups(a_shop_with_table(), runs_with(What.BELT, 7))[What.BELT]
    assert found.median_min == pytest.approx(6 * (7 / 6) ** 0.25, rel=1e-6)


def test_a_change_that_nobody_logged_may_take_half_as_long_again() -> None:
    # Student's t with 4 degrees of freedom is 1.533 at 0.9 (any table of it); the prior noise is
    # .25 in logs, and the median itself is known from three runs: 1.533·.25·√(1 + 1/3) = .4425.
    found = learned_setups(a_shop_with_table(), [])[What.OD]
    assert found.high_min == pytest.approx(10 * np.exp(0.4425), rel=1e-3)
    assert found.low_min == pytest.approx(10 * np.exp(-0.4425), rel=1e-3)
    # Four fifths of a normal lie within 1.2816 standard deviations (any table of it).
    assert found.spread == pytest.approx(0.4425 / 1.2816, rel=1e-3)


def test_what_is_not_known_of_the_median_is_a_smaller_share_the_more_changes_are_logged() -> None:
    # The mean of n equal measurements has 1/n of the variance of one, and the shop's table counts
    # as three: of one change more that is a share of (1/n) / (1 + 1/n) = 1 / (n + 1).
    shop = a_shop_with_table()
    for logged in (0, 1, 5):
        found = learned_setups(shop, runs_with(What.BELT, *[6] * logged))[What.BELT]
        assert found.shared == pytest.approx(1 / (3 + logged + 1))


@pytest.mark.parametrize(("logged", "leans"), [(2, True), (3, False)])
def test_a_kind_leans_on_the_table_until_as_many_are_logged_as_it_counts(
    logged: int, leans: bool
) -> None:
    found = learned_setups(a_shop_with_table(), runs_with(What.BELT, *[6] * logged))[What.BELT]
    assert ("leaning on the shop's table" in found.basis) is leans
    assert found.basis.startswith(f"{logged} logged")


def test_changes_without_minutes_and_kinds_that_the_table_lacks_teach_nothing() -> None:
    shop = a_shop_with_table()
    runs = [*runs_with(What.BELT, 0, 9), *runs_with(What.DIE, 20)]
    assert learned_setups(shop, runs) == learned_setups(shop, runs_with(What.BELT, 9))


def test_one_bad_morning_does_not_move_the_median() -> None:
    shop = a_shop_with_table()
    usual = learned_setups(shop, runs_with(What.BELT, *[8] * 20))[What.BELT]
    spoiled = learned_setups(shop, runs_with(What.BELT, *[8] * 20, 240))[What.BELT]
    assert spoiled.median_min == pytest.approx(usual.median_min, rel=0.05)


def test_the_intervals_of_changes_cover_about_eighty_per_cent() -> None:
    random = np.random.default_rng(1)
    inside = 0
    for _ in range(300):
        minutes = 9 * np.exp(random.normal(0, 0.25, 13))
        found = learned_setups(a_shop_with_table(), runs_with(What.OD, *minutes[:12]))[What.OD]
        inside += found.low_min <= minutes[12] <= found.high_min
    assert 0.72 < inside / 300 < 0.88


def test_a_worn_belt_raises_an_alarm_near_the_row_where_it_began() -> None:
    log = a_log(150, 11, Truth(worn_from=80, outliers=0))
    found = drifts(calibrate(log.observations), log.observations)
    assert [drift.kind for drift in found] == ["belt"]
    assert found[0].name == log.shop.belts[0].name
    assert 55 <= found[0].since_row <= 105
    assert found[0].slower == pytest.approx(1.2, abs=0.08)
    assert "may be worn" in found[0].message


def test_a_worn_wheel_slows_every_belt_and_is_named() -> None:
    log = a_log(40, 12, Truth(outliers=0))
    half = len(log.observations) // 2
    slow = [
        replace(o, seconds=o.seconds * (1.12 if i >= half else 1))
        for i, o in enumerate(log.observations)
    ]
    found = drifts(calibrate(slow), slow)
    assert any(drift.kind == "finisher" for drift in found)
    assert any("measure its diameter" in drift.message for drift in found)


def test_sound_logs_seldom_raise_an_alarm() -> None:
    alarms = 0
    for seed in range(40):
        log = a_log(100, 300 + seed, some_truth(seed))
        alarms += bool(drifts(calibrate(log.observations), log.observations))
    assert alarms <= 3


def test_a_short_log_raises_none() -> None:
    log = a_log(8, 13)
    assert drifts(calibrate(log.observations), log.observations) == ()


def test_the_shop_takes_over_the_learned_medians() -> None:
    shop = a_shop_with_table()
    log = a_log(120, 14, Truth(kinds=0, timed=10))
    setups = learned_setups(shop, runs_with(What.BELT, *[12] * 90))
    made = learned_shop(shop, calibrate(log.observations), setups)
    settings = made.stations[0].finisher
    assert settings.slip == pytest.approx(0.78, rel=0.03)
    assert settings.handling_s == pytest.approx(34, rel=0.15)
    assert settings.short_handling_s == pytest.approx(18, rel=0.15)
    assert [row.minutes for row in made.changeovers] == [12, 10, 4]


BASE = "Base 1"


def on_a_base(*rows: ChangeoverRow) -> Shop:
    """The log's finisher on a base that it shares with a notcher, and the base's rows."""
    shop = log_shop()
    finisher = shop.stations[0].model_copy(update={"base": BASE})
    notcher = Station(name="Notcher", kind=StationKind.NOTCHER, base=BASE)
    return shop.model_copy(update={"stations": (finisher, notcher), "changeovers": rows})


def swap(minutes: int, before: str | None = None, after: str | None = None) -> ChangeoverRow:
    return ChangeoverRow(
        station=BASE, what=What.ATTACHMENT, before=before, after=after, minutes=minutes
    )


def swaps_after(shop: Shop, *minutes: float) -> dict[tuple[str, str], int]:
    """Minutes of mounting finisher and notcher, each from the other and from nothing known."""
    setups = learned_setups(shop, runs_with(What.ATTACHMENT, *minutes))
    made = learned_shop(shop, calibrate([]), setups)
    return {
        (before or "?", station.name): change_minutes(
            made, station, What.ATTACHMENT, before, station.name
        )
        for station in made.stations
        for before in ("Finisher", "Notcher", None)
        if before != station.name
    }


def test_a_logged_swap_is_of_mounting_the_finisher_and_leaves_its_neighbour_alone() -> None:
    found = swaps_after(on_a_base(swap(12)), *[24] * 90)
    # C: 90 runs of 24 against three of the table's 12 leave it at 12·2^(90/93), 23.5 minutes.
    assert found == {
        ("Notcher", "Finisher"): 23,
        ("?", "Finisher"): 23,
        ("Finisher", "Notcher"): 12,
        ("?", "Notcher"): 12,
    }


def test_swaps_that_the_table_tells_apart_stay_apart() -> None:
    rows = (swap(12), swap(8, after="Notcher"), swap(20, after="Finisher"), swap(30, "Notcher"))
    before = swaps_after(on_a_base(*rows))
    assert before["Notcher", "Finisher"] == before["?", "Finisher"] == 20
    found = swaps_after(on_a_base(*rows), *[40] * 90)
    assert found["Finisher", "Notcher"] == found["?", "Notcher"] == 8
    assert found["Notcher", "Finisher"] == found["?", "Finisher"] > 30


def test_without_a_log_the_shop_stays_as_it_is() -> None:
    shop = a_shop_with_table()
    assert learned_shop(shop, calibrate([]), learned_setups(shop, [])) == shop
