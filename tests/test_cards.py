"""Cards give each run its settings, how its pieces are shaped, and every caution that it calls for.

The small plan of `tests.planner_io.plans` is finished, sawn, notched and bent; all values here are
worked out by hand from its sizes.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

import pytest

from planner.cards import Work, make_cards
from planner.orders import Bend, Bent, EndCut, EndKind
from planner.records import Card, Plan, Slot
from planner.shop import FinisherSettings, GoodSetting, Mounted, What
from planner.tube import Family
from planner.wiping import oiled_items
from tests.planner_io.plans import a_plan
from tests.planner_io.shops import inch


def work_of(plan: Plan, **changes: Any) -> Work:
    fields: dict[str, Any] = {
        "shop": plan.shop,
        "orders": {line.key: line for line in plan.orders},
        "blanks": {blank.line: blank for blank in plan.blanks},
        "lots": {lot.key: lot for lot in plan.lots},
        "cut_lists": {cut.lot: cut for cut in plan.cut_lists},
        "oiled": oiled_items(plan.stock),
        "operations": {operation.key: operation for operation in plan.operations},
    }
    return Work(**(fields | changes))


def slots_at(plan: Plan, station: str, **changes: Any) -> list[Slot]:
    return [s.model_copy(update=changes) for s in plan.slots if s.station == station]


def the_card(work: Work, slots: Sequence[Slot]) -> Card:
    (card,) = make_cards(work, slots)
    return card


def settings(card: Card) -> dict[str, object]:
    """What is set, by name: its length, its angle, or its words."""
    return {row.name: row.length_nm or row.angle_mdeg or row.value for row in card.settings}


def said(card: Card) -> str:
    return " ".join(card.cautions)


def with_family(work: Work, lot: str, family: Family) -> Work:
    spec = work.lots[lot].spec.model_copy(update={"family": family})
    lots = {**work.lots, lot: work.lots[lot].model_copy(update={"spec": spec})}
    return work_of(a_plan(), shop=work.shop, lots=lots)


def test_each_run_of_a_station_has_one_card_in_the_order_of_the_shop() -> None:
    plan = a_plan()
    cards = make_cards(work_of(plan), plan.slots)
    assert [(card.station, card.run, card.operations) for card in cards] == [
        ("Finisher", 1, ("L01.P1",)),
        ("Finisher", 2, ("L01.P2",)),
        ("Finisher", 3, ("L02.P1",)),
        ("Finisher", 4, ("L02.P2",)),
        ("Saw", 1, ("L01.SAW",)),
        ("Saw", 2, ("L02.SAW",)),
        ("Notcher", 1, ("L02.NOTCH",)),
        ("Bender", 1, ("L01.BEND",)),
    ]


def test_a_finishers_card_has_the_feed_by_the_formula_and_the_rule_of_a_quarter() -> None:
    """Brake wheel 10 in at 40 turns, tilt 5 degrees, slip .9: pi * 254 * 40 * .08716 * .9 is
    2,504 mm a minute (Groover, Fundamentals of Modern Manufacturing, section 24.1.4, less slip).
    The same slip turns 1-1/2 in tube 254 * 40 / 38.1 * .9962 * .9 = 239 times, and past 4 in of
    belt it goes in 101.6 / (2504 / 239) = 9.7 turns."""
    plan = a_plan()
    card = the_card(work_of(plan), slots_at(plan, "Finisher")[:1])
    set_to = settings(card)
    assert set_to["tilt of the brake wheel"] == 5_000
    assert set_to["feed"] == "8.2 ft/min"
    assert set_to["turns under the belt"] == "9.7"
    assert set_to["rail front to belt face"] == inch(3 / 8)
    assert set_to["gap between belt and rail"] == inch(1 / 8)
    assert set_to["speed"] == "low"
    (turns,) = (row for row in card.settings if row.name == "turns under the belt")
    assert turns.remark == "tube turns 239 a minute"


def test_passes_of_one_run_that_need_different_tilts_get_a_card_each() -> None:
    """Turns under 4 in of belt are 4 / (pi * OD * tan(tilt)), whatever the wheel and its slip: for
    14 of them the tilt is 3.47 degrees at most for 1-1/2 in tube and 2.60 for 2 in, so on a scale
    of half degrees 3 and 2.5."""
    plan = a_plan()
    slots = [slot.model_copy(update={"run": 1}) for slot in plan.slots[:3]]
    usual = make_cards(work_of(plan), slots)
    assert [card.operations for card in usual] == [("L01.P1", "L01.P2", "L02.P1")]
    finisher = plan.shop.stations[0].model_copy(
        update={"finisher": FinisherSettings(least_overlap=14.0)}
    )
    stations = (finisher, *plan.shop.stations[1:])
    shop = plan.shop.model_copy(update={"stations": stations})
    slow = make_cards(work_of(plan, shop=shop), slots)
    assert [card.operations for card in slow] == [("L01.P1", "L01.P2"), ("L02.P1",)]
    assert [settings(card)["tilt of the brake wheel"] for card in slow] == [3_000, 2_500]


def test_a_saws_card_has_the_od_unless_its_run_has_several() -> None:
    plan = a_plan()
    apart = make_cards(work_of(plan), slots_at(plan, "Saw"))
    assert [settings(card) for card in apart] == [
        {"tube OD": inch(1.5)},
        {"tube OD": inch(2)},
    ]
    assert settings(the_card(work_of(plan), slots_at(plan, "Saw", run=7))) == {}


def test_a_benders_card_has_radius_and_die_and_how_much_the_outside_thins() -> None:
    """On a radius of three ODs the outside thins by half an OD in three and a half: 14 %; tables
    of power piping ask for 1.25 times the wall there (US UFGS, table 5-4)."""
    plan = a_plan()
    card = the_card(work_of(plan), slots_at(plan, "Bender"))
    assert settings(card) == {
        "tube OD": inch(1.5),
        "centreline radius": inch(4.5),
        "die": "1-1/2 × 4-1/2 soft",
    }
    assert card.remarks[0].startswith("The outside of the bend thins by about 14 %")
    assert "begin with 1.25 times that wall" in card.remarks[0]


def test_a_bent_piece_has_the_place_of_each_bend_on_its_blank() -> None:
    """The first bend begins after 6 in and takes 4.5 * pi / 2 = 7.069 in, so the second begins
    2 in later, at 15.069: 15-1/16 on a tape of 32nds."""
    plan = a_plan()
    bends = (
        Bend(straight_nm=inch(6), angle_mdeg=90_000, clr_nm=inch(4.5)),
        Bend(straight_nm=inch(2), angle_mdeg=45_000, clr_nm=inch(4.5), rotation_mdeg=90_000),
        Bend(straight_nm=inch(5)),
    )
    line = plan.orders[0].model_copy(update={"shape": Bent(rows=bends)})
    orders = {line.key: line for line in (line, plan.orders[1])}
    card = the_card(work_of(plan, orders=orders), slots_at(plan, "Bender"))
    assert card.remarks[-1] == (
        '1187/1: bend 1: start 6" from the first end, 90° at CLR 4-1/2"; '
        'bend 2: turn the tube 90°, start 15-1/16" from the first end, 45° at CLR 4-1/2".'
    )


def ends(plan: Plan, *cuts: EndCut) -> Mapping[str, Any]:
    line = plan.orders[1].model_copy(update={"ends": cuts})
    return {plan.orders[0].key: plan.orders[0], line.key: line}


def test_a_notchers_card_has_the_od_that_the_saddle_sits_on_and_its_depth() -> None:
    """A saddle of 2 in on 2 in at a right angle reaches from the axis to 1 in: 1 in deep."""
    plan = a_plan()
    saddle = EndCut(kind=EndKind.SADDLE, angle_mdeg=90_000, on_od_nm=inch(2))
    work = work_of(plan, orders=ends(plan, saddle, EndCut()))
    card = the_card(work, slots_at(plan, "Notcher"))
    assert settings(card) == {"tube OD": inch(2), "saddle on OD": inch(2)}
    assert card.remarks == ('1187/2: end 1: saddle on 2" at 90° between the axes, 1" deep.',)


@pytest.mark.parametrize("what", [What.CUTTER, What.ROLLER])
@pytest.mark.parametrize("name", ["roller 2", "2"])
def test_a_cutter_or_roller_by_name_is_set_by_its_name(what: What, name: str) -> None:
    plan = a_plan()
    work = work_of(plan)
    (way,) = work.operations["L02.NOTCH"].alternatives
    named = way.model_copy(update={"state": {What.OD: str(inch(2)), what: name}})
    notch = work.operations["L02.NOTCH"].model_copy(update={"alternatives": (named,)})
    work = work_of(plan, operations={**work.operations, notch.key: notch})
    card = the_card(work, slots_at(plan, "Notcher"))
    assert settings(card) == {"tube OD": inch(2), what.value: name}


def test_a_roller_that_the_shop_lacks_is_set_by_the_od_that_the_saddle_sits_on() -> None:
    plan = a_plan()
    work = work_of(plan)
    (way,) = work.operations["L02.NOTCH"].alternatives
    lacking = way.model_copy(update={"state": {What.OD: str(inch(2)), What.ROLLER: str(inch(3))}})
    notch = work.operations["L02.NOTCH"].model_copy(update={"alternatives": (lacking,)})
    work = work_of(plan, operations={**work.operations, notch.key: notch})
    card = the_card(work, slots_at(plan, "Notcher"))
    assert settings(card) == {"tube OD": inch(2), "saddle on OD": inch(3)}


def test_a_saws_card_tells_mitres_line_by_line_for_all_lines_of_its_lots() -> None:
    """A mitre of 45 degrees takes an OD from long to short point: 2 in."""
    plan = a_plan()
    mitre = EndCut(kind=EndKind.MITRE, angle_mdeg=45_000)
    work = work_of(plan, orders=ends(plan, EndCut(), mitre))
    one, two = make_cards(work, slots_at(plan, "Saw"))
    assert one.remarks == ()
    assert two.remarks == ('1187/2: end 2: mitre 45° off square, 2" from long to short point.',)


STOP, WIPE, CHROMIUM = "Stop: clean machine", "Wipe down", "hexavalent chromium"


def test_what_ran_before_at_the_station_calls_for_its_cautions() -> None:
    plan = a_plan()
    first, second, third, last = make_cards(work_of(plan), slots_at(plan, "Finisher"))
    assert CHROMIUM not in said(first) + said(second)
    assert WIPE in said(third)
    assert WIPE not in said(last), "stainless follows stainless"


@pytest.mark.parametrize(
    ("family", "words"), [("stainless", "kept for stainless away"), ("aluminium", STOP)]
)
def test_what_is_mounted_when_the_plan_starts_counts_as_run_before(family: str, words: str) -> None:
    plan = a_plan()
    mounted = (Mounted(station="Finisher", what=What.FAMILY, value=family),)
    shop = plan.shop.model_copy(update={"mounted": mounted})
    cards = make_cards(work_of(plan, shop=shop), slots_at(plan, "Finisher"))
    assert words in said(cards[0])
    assert words not in said(cards[1])
    assert words not in said(make_cards(work_of(plan), slots_at(plan, "Finisher"))[0])


def test_a_run_of_several_families_has_the_cautions_of_all_of_them() -> None:
    plan = a_plan()
    notch = plan.slots[6].model_copy(update={"run": 1})
    work = with_family(work_of(plan), "L01", Family.ALUMINIUM)
    extra = work.operations["L02.NOTCH"].model_copy(
        update={"key": "L01.NOTCH", "lot": "L01", "line": "1187/1"}
    )
    work = work_of(plan, lots=work.lots, operations={**work.operations, extra.key: extra})
    other = notch.model_copy(update={"operation": "L01.NOTCH"})
    for slots in ([notch, other], [other, notch]):
        text = said(the_card(work, slots))
        assert STOP in text
        assert CHROMIUM in text
        assert "aluminium dust apart" in text


@pytest.mark.parametrize(("length", "short"), [(59, True), (60, False)])
def test_pieces_that_one_hand_carries_are_short_at_the_finisher(length: int, short: bool) -> None:
    """Up to 60 in a piece counts as carried in one hand; sawn first, it is fed as it is cut."""
    plan = a_plan()
    work = work_of(plan)
    lots = {**work.lots, "L01": work.lots["L01"].model_copy(update={"saw_first": True})}
    stick = work.cut_lists["L01"].sticks[0]
    pieces = tuple(
        stick.pieces[0].model_copy(update={"length_nm": inch(long)}) for long in (100, length)
    )
    sticks = (stick.model_copy(update={"pieces": pieces}),)
    cuts = {**work.cut_lists, "L01": work.cut_lists["L01"].model_copy(update={"sticks": sticks})}
    card = make_cards(work_of(plan, lots=lots, cut_lists=cuts), slots_at(plan, "Finisher"))[0]
    assert ("push a short piece" in said(card)) == short


@pytest.mark.parametrize(("length", "whips"), [(120, False), (121, True)])
def test_a_bar_over_ten_feet_whips(length: int, whips: bool) -> None:
    plan = a_plan()
    work = work_of(plan)
    stick = work.cut_lists["L01"].sticks[0]
    sticks = tuple(stick.model_copy(update={"length_nm": inch(long)}) for long in (90, length))
    cuts = {**work.cut_lists, "L01": work.cut_lists["L01"].model_copy(update={"sticks": sticks})}
    card = make_cards(work_of(plan, cut_lists=cuts), slots_at(plan, "Finisher"))[0]
    assert ("a long bar whips" in said(card)) == whips


def test_a_remnant_that_is_finished_already_does_not_go_through_the_finisher() -> None:
    """A long and a short one beside a bar of 90 in: neither calls for a caution at the finisher, at
    the saw the long one does."""
    plan = a_plan()
    work = work_of(plan)
    bar = work.cut_lists["L01"].sticks[0].model_copy(update={"length_nm": inch(90)})
    remnants = [
        bar.model_copy(update={"length_nm": inch(long), "finished": True}) for long in (121, 20)
    ]
    cut_list = work.cut_lists["L01"].model_copy(update={"sticks": (bar, *remnants)})
    cuts = {**work.cut_lists, "L01": cut_list}
    finishing, *_ = make_cards(work_of(plan, cut_lists=cuts), slots_at(plan, "Finisher"))
    assert "a long bar whips" not in said(finishing)
    assert "push a short piece" not in said(finishing)
    sawing, *_ = make_cards(work_of(plan, cut_lists=cuts), slots_at(plan, "Saw"))
    assert "Support long tube" in said(sawing)


@pytest.mark.parametrize(("length", "long"), [(120, False), (121, True)])
def test_a_line_of_its_own_is_as_long_as_its_blank(length: int, long: bool) -> None:
    plan = a_plan()
    work = work_of(plan)
    blank = work.blanks["1187/1"].model_copy(update={"length_nm": inch(length)})
    card = the_card(
        work_of(plan, blanks={**work.blanks, blank.line: blank}), slots_at(plan, "Bender")
    )
    assert ("Support long tube" in said(card)) == long


def test_unfinished_tube_is_bent_and_sawn_without_care_of_its_finish() -> None:
    plan = a_plan()
    work = work_of(plan)
    raw = {**work.lots, "L01": work.lots["L01"].model_copy(update={"recipe": None})}
    for station in ("Saw", "Bender"):
        slots = slots_at(plan, station)[:1]
        assert "finished tube" in said(make_cards(work, slots)[0])
        assert "finished tube" not in said(make_cards(work_of(plan, lots=raw), slots)[0])


def test_a_run_of_finished_and_raw_tube_takes_care_of_the_finish() -> None:
    plan = a_plan()
    work, slots = work_of(plan), slots_at(plan, "Saw", run=1)
    raw = {**work.lots, "L01": work.lots["L01"].model_copy(update={"recipe": None})}
    assert "finished tube" in said(the_card(work_of(plan, lots=raw), slots))


def test_each_pass_has_its_own_belt() -> None:
    plan = a_plan()
    cards = make_cards(work_of(plan), slots_at(plan, "Finisher"))
    assert [settings(card)["belt"] for card in cards] == [
        *("P80 steel", "P120 steel", "P180 clean", "non-woven fine clean"),
    ]


def test_a_station_with_a_speed_lever_has_its_place_on_the_card() -> None:
    plan = a_plan()
    stations = tuple(s.model_copy(update={"speed": f"{s.name} 2"}) for s in plan.shop.stations)
    shop = plan.shop.model_copy(update={"stations": stations})
    for station in ("Saw", "Notcher", "Bender"):
        card = make_cards(work_of(plan, shop=shop), slots_at(plan, station))[0]
        assert settings(card)["speed"] == f"{station} 2"


def test_a_step_of_one_line_tells_nothing_of_the_others_of_its_lot() -> None:
    plan = a_plan()
    saddle = EndCut(kind=EndKind.SADDLE, angle_mdeg=90_000, on_od_nm=inch(2))
    orders = {line.key: line.model_copy(update={"ends": (saddle, saddle)}) for line in plan.orders}
    lots = {lot.key: lot.model_copy(update={"lines": tuple(orders)}) for lot in plan.lots}
    card = the_card(work_of(plan, orders=orders, lots=lots), slots_at(plan, "Notcher"))
    assert [remark.partition(":")[0] for remark in card.remarks] == ["1187/2"]


def test_what_is_changed_before_any_step_of_a_run_calls_for_lockout() -> None:
    plan = a_plan()
    work, slots = work_of(plan), slots_at(plan, "Finisher", run=1)[:2]
    assert "Lock out" in said(the_card(work, slots))
    bare = [slot.model_copy(update={"changes": ()}) for slot in slots]
    assert "Lock out" not in said(the_card(work, bare))
    assert "Lock out" in said(the_card(work, [bare[0], slots[1]]))


def test_galvanised_tube_has_its_caution_on_the_card() -> None:
    plan = a_plan()
    work = work_of(plan)
    slots = slots_at(plan, "Saw")[:1]
    lot = work.operations[slots[0].operation].lot
    assert "zinc" not in said(the_card(work, slots))
    spec = work.lots[lot].spec.model_copy(update={"grade": "A53 galvanised"})
    lots = {**work.lots, lot: work.lots[lot].model_copy(update={"spec": spec})}
    assert "zinc of galvanised tube" in said(the_card(work_of(plan, lots=lots), slots))


def test_a_finishers_run_of_two_walls_has_the_spring_of_each() -> None:
    plan = a_plan()
    thick = plan.lots[0].spec.model_copy(update={"wall_nm": inch(0.12)})
    good = GoodSetting(
        od_nm=thick.od_nm, wall_nm=thick.wall_nm, spring="5", tilt_mdeg=4000, day=date(2026, 11, 9)
    )
    lots = {**work_of(plan).lots, "L02": plan.lots[1].model_copy(update={"spec": thick})}
    work = work_of(plan, shop=plan.shop.model_copy(update={"good": (good,)}), lots=lots)
    both = [slot for slot in slots_at(plan, "Finisher", run=1) if slot.operation.endswith("P1")]
    shown = settings(the_card(work, both))
    assert shown['spring at .065"'] == "by feel"
    assert shown['spring at .120"'] == "5"
    assert "spring" not in shown
