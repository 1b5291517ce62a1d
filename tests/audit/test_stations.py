"""Invariant 2 catches work at a station that cannot do it, or with the wrong things mounted."""

from __future__ import annotations

import pytest

from planner.audit.facts import Facts
from planner.audit.stations import longest_nm
from planner.orders import Step
from planner.records import Plan
from planner.shop import FinisherSettings, StationKind, What
from planner.tube import Family
from tests.audit.edits import (
    Change,
    breaches,
    edited,
    lot_of,
    operation_of,
    slot_of,
    with_shop,
    with_ways,
)
from tests.audit.weeks import a_plan
from tests.trade import inch

FINISH = operation_of("1187/1", Step.FINISH)
NOTCH = operation_of("1187/2", Step.NOTCH, 2)
BEND = operation_of("1187/3", Step.BEND)


def found(plan: Plan) -> str:
    return breaches(plan, 2)


def with_station(name: str, **changes: Change) -> Plan:
    return with_shop(
        stations=tuple(
            station.model_copy(update=changes) if station.name == name else station
            for station in a_plan().shop.stations
        )
    )


def with_mounted(key: str, what: What, value: str | None) -> Plan:
    state = dict(a_state(key))
    if value is None:
        del state[what]
    else:
        state[what] = value
    return with_ways(key, state=state)


def a_state(key: str) -> dict[What, str]:
    operation = next(o for o in a_plan().operations if o.key == key)
    return operation.at(slot_of(key).station).state


def test_a_tube_outside_the_range_of_its_station() -> None:
    assert f"{FINISH}: its OD is outside the range" in found(
        with_station("Finisher", od_max_nm=inch("1-1/4"))
    )


def test_a_stick_too_long_for_its_station() -> None:
    assert "mm too long for Saw" in found(with_station("Saw", longest_nm=inch("100")))


def test_a_stick_too_long_for_the_stands() -> None:
    station = a_plan().shop.station("Finisher")
    short = station.finisher.model_copy(update={"longest_nm": inch("200")})
    assert "mm too long for Finisher" in found(with_station("Finisher", finisher=short))


def test_a_blank_too_long_for_the_bender() -> None:
    assert f"{BEND}: is" in found(with_station("Bender", longest_nm=inch("20")))


def test_work_at_a_station_of_another_kind() -> None:
    assert f"{FINISH}: Finisher is a saw" in found(with_station("Finisher", kind=StationKind.SAW))


@pytest.mark.parametrize(
    ("key", "what", "value", "words"),
    [
        (FINISH, What.OD, "1", "is set up for OD 1 nm, not its own"),
        (FINISH, What.BELT, "P180 belt", "mounts P180 belt, not P120 belt"),
        (FINISH, What.BELT, None, "mounts None, not P120 belt"),
        (FINISH, What.FAMILY, "carbon", "is not clean for stainless"),
        (FINISH, What.RAIL, None, "must not slide on rail None"),
        (FINISH, What.ATTACHMENT, "Notcher", "does not ask for Finisher on Grinder"),
        (NOTCH, What.OD, "1", "is set up for OD 1 nm, not its own"),
        (BEND, What.DIE, "big", "die big does not fit Bender"),
        (BEND, What.DIE, None, "die None does not fit Bender"),
    ],
)
def test_the_wrong_thing_mounted(key: str, what: What, value: str | None, words: str) -> None:
    assert f"{key}: " in found(with_mounted(key, what, value))
    assert words in found(with_mounted(key, what, value))


def test_a_notcher_without_the_cutter_of_the_saddle() -> None:
    assert "has no cutter or roller mounted" in found(with_mounted(NOTCH, What.CUTTER, "other"))


def test_a_die_for_another_radius() -> None:
    tools = tuple(
        tool.model_copy(update={"clr_nm": inch("6")}) if tool.kind == "die" else tool
        for tool in a_plan().shop.tools
    )
    assert "is for another OD or radius" in found(with_shop(tools=tools))


def with_finisher(**changes: Change) -> Plan:
    finisher = a_plan().shop.station("Finisher").finisher.model_copy(update=changes)
    return with_station("Finisher", finisher=finisher)


OD_NM = next(lot.spec.od_nm for lot in a_plan().lots if lot.key == lot_of("1187/1"))


@pytest.mark.parametrize(
    ("least", "most", "fits"), [(0, 0, True), (1, 9, False), (-9, -1, False), (0, 9, True)]
)
def test_a_tube_just_fits_its_station(least: int, most: int, fits: bool) -> None:
    plan = with_station("Finisher", od_min_nm=OD_NM + least, od_max_nm=OD_NM + most)
    assert (f"{FINISH}: its OD is outside the range" not in found(plan)) == fits


LONGEST = max(
    stick.length_nm
    for cut_list in a_plan().cut_lists
    if cut_list.lot == lot_of("1187/1")
    for stick in cut_list.sticks
)


@pytest.mark.parametrize(("short", "over"), [(0, ""), (2_500_000, "is 2.5 mm too long")])
def test_the_longest_stick_just_fits_and_what_is_over_is_told(short: int, over: str) -> None:
    told = found(with_finisher(longest_nm=LONGEST - short))
    assert (f"{FINISH}: {over}" in told) if over else f"{FINISH}: is " not in told


def test_only_the_finisher_has_stands_that_are_too_short() -> None:
    """The reach of the stands is no limit of the bender."""
    plan = with_station("Bender", finisher=FinisherSettings(longest_nm=1))
    assert f"{BEND}: is " not in found(plan)


def test_a_step_of_a_line_handles_its_blank_and_not_its_stick() -> None:
    blank = next(b.length_nm for b in a_plan().blanks if b.line == "1187/3")
    assert f"{BEND}: is " not in found(with_station("Bender", longest_nm=blank))
    assert f"{BEND}: is 1.0 mm too long" in found(
        with_station("Bender", longest_nm=blank - 1_000_000)
    )


def handled(lot: str, step: Step, *sticks: tuple[int, bool], **changes: object) -> int:
    """Inches of the longest thing at a step of a lot with other sticks: length, and whether it is
    finished already."""
    plan = a_plan()
    one = next(each for each in plan.lots if each.key == lot).model_copy(update=changes)
    cut = next(each for each in plan.cut_lists if each.lot == lot)
    others = tuple(
        cut.sticks[0].model_copy(update={"length_nm": inch(str(long)), "finished": done})
        for long, done in sticks
    )
    cuts = tuple(
        each.model_copy(update={"sticks": others}) if each is cut and others else each
        for each in plan.cut_lists
    )
    facts = Facts(plan.model_copy(update={"cut_lists": cuts}))
    operation = next(o for o in plan.operations if (o.lot, o.step) == (lot, step))
    return round(longest_nm(facts, operation, one) / inch("1"))


def test_the_finisher_handles_sticks_that_are_not_finished_yet() -> None:
    lot = lot_of("1187/1")
    sticks = ((100, False), (240, False), (300, True))
    assert handled(lot, Step.FINISH, *sticks) == 240
    assert handled(lot, Step.SAW, *sticks) == 300
    assert handled(lot, Step.FINISH, (300, True)) == 0


def test_a_lot_that_is_sawn_first_is_finished_by_the_blank() -> None:
    """Blanks of 18 in and, bent, of 54.137 in; its sticks have 240 in."""
    assert handled(lot_of("1187/5"), Step.FINISH, lines=("1187/5", "1187/3")) == 54
    assert handled(lot_of("1187/5"), Step.SAW, lines=("1187/5", "1187/3")) == 240


def test_a_shop_without_rails_for_a_family_mounts_none() -> None:
    plan = with_shop(rails=())
    assert "must not slide on rail" in found(plan)


def test_a_rail_that_is_not_for_the_family() -> None:
    rails = tuple(
        rail.model_copy(update={"families": (Family.ALUMINIUM,)}) for rail in a_plan().shop.rails
    )
    assert "must not slide on rail" in found(with_shop(rails=rails))


def test_a_saddle_that_is_cut_twice_and_another_one_never() -> None:
    first = operation_of("1187/2", Step.NOTCH)
    text = found(with_ways(NOTCH, state=a_state(first)))
    saddles = sorted(next(b.saddles_nm for b in a_plan().blanks if b.line == "1187/2"))
    assert f"1187/2: its saddles for OD {saddles[0]} nm are cut 2 times" in text
    assert f"1187/2: its saddles for OD {saddles[1]} nm are cut 0 times" in text


def test_a_way_that_was_not_taken_is_one_all_the_same() -> None:
    other = a_plan().shop.station("Bender").model_copy(update={"name": "Old bender"})
    ways = next(o.alternatives for o in a_plan().operations if o.key == BEND)
    plan = edited(
        with_shop(stations=(*a_plan().shop.stations, other)),
        "operations",
        lambda one: one.key == BEND,
        alternatives=(*ways, ways[0].model_copy(update={"station": "Old bender"})),
    )
    assert "does not fit Old bender" in found(plan)
