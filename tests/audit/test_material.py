"""Invariant 1 catches pieces lost or doubled, sticks too short, too many, wrong or not there."""

from __future__ import annotations

import re
from datetime import date

import pytest

from planner.blanks import make_blank
from planner.orders import Step
from planner.records import Allowance, Blank, Plan, Stick
from planner.shaping import GRIP
from planner.shop import SawSettings
from tests.audit.edits import (
    breaches,
    edited,
    lot_of,
    operation_of,
    stick_of,
    with_blank,
    with_line,
    with_lot,
    with_operation,
    with_shop,
    with_slot,
    with_stick,
    with_stock,
)
from tests.audit.weeks import CARBON, SMALL, a_plan

LINE = "1187/1"
LOT = lot_of(LINE)


def found(plan: Plan) -> str:
    return breaches(plan, 1)


def scrap() -> Stick:
    return next(s for c in a_plan().cut_lists for s in c.sticks if not s.kept)


def full() -> Stick:
    return stick_of(LINE, lambda stick: stick.kept and len(stick.pieces) > 1)


def test_a_piece_that_is_not_cut() -> None:
    stick = full()
    text = found(with_stick(stick.tag, pieces=stick.pieces[1:]))
    assert re.search(
        rf"{stick.pieces[0].line}: \d+ pieces are cut in lot {LOT}, \d+ are right", text
    )


def test_a_piece_that_is_cut_twice() -> None:
    stick = full()
    again = stick.pieces[0]
    text = found(with_stick(stick.tag, pieces=(*stick.pieces, again)))
    assert re.search(rf"{again.line}: \d+ pieces are cut in lot {LOT}, \d+ are right", text)


def test_a_piece_cut_in_another_lot() -> None:
    stick = stick_of("1187/7")
    stray = stick.pieces[0].model_copy(update={"line": LINE})
    text = found(with_stick(stick.tag, pieces=(*stick.pieces[1:], stray)))
    assert f"1 pieces are cut in lot {lot_of('1187/7')}, 0 are right" in text


def test_a_stick_that_is_too_short_for_its_pieces() -> None:
    def longer(stick: Stick) -> object:
        first, *rest = stick.pieces
        long = first.model_copy(update={"length_nm": first.length_nm + stick.drop_nm + 9 * 10**8})
        return (long, *rest)

    text = found(with_stick(full().tag, pieces=longer))
    assert "its trims, pieces and kerfs are" in text
    assert "too long" in text


def test_a_kerf_that_is_forgotten() -> None:
    plan = edited(a_plan(), "cut_lists", lambda one: one.lot == LOT, kerf_nm=0)
    assert "is cut with a kerf of 0.00 mm, but Saw takes 2.40 mm" in found(plan)


def test_an_end_trim_that_is_forgotten() -> None:
    plan = edited(a_plan(), "cut_lists", lambda one: one.lot == LOT, end_trim_nm=0)
    assert "is cut with a end trim of" in found(plan)


def test_a_drop_shorter_than_the_clamp() -> None:
    saw = a_plan().shop.station("Saw")
    clamp = saw.model_copy(update={"saw": SawSettings(clamp_nm=10**10)})
    stations = tuple(clamp if s.name == "Saw" else s for s in a_plan().shop.stations)
    assert "too short for the saw's clamp" in found(with_shop(stations=stations))


def test_a_piece_that_is_not_as_long_as_its_blank() -> None:
    first, *rest = full().pieces
    off = first.model_copy(update={"length_nm": first.length_nm - 1_000_000})
    assert "is -1.00 mm off its blank" in found(with_stick(full().tag, pieces=(off, *rest)))


def test_a_blank_that_is_not_what_the_order_needs() -> None:
    blank = next(blank for blank in a_plan().blanks if blank.line == "1187/3")
    text = found(with_blank("1187/3", length_nm=blank.length_nm + 5_000_000))
    assert "its blank is 5.00 mm off" in text


def moved(blank: Blank) -> tuple[Allowance, ...]:
    """A millimetre of the first length is in the second one instead."""
    first, second, *others = blank.terms
    return (
        first.model_copy(update={"length_nm": first.length_nm - 10**6}),
        second.model_copy(update={"length_nm": second.length_nm + 10**6}),
        *others,
    )


def test_a_blank_whose_lengths_add_up_and_are_others() -> None:
    text = found(with_blank("1187/3", terms=moved))
    assert "1187/3: the terms of its blank are not those of the order" in text


def test_a_blank_for_another_number_of_pieces() -> None:
    assert "3 blanks for 9 pieces ordered" in found(with_blank("1187/1", quantity=3))


def test_a_blank_whose_saddles_are_left_out() -> None:
    assert "are not those of the order" in found(with_blank("1187/2", saddles_nm=()))


def test_a_line_in_a_lot_of_another_tube_spec() -> None:
    assert "which is of another tube spec" in found(with_line("1187/1", spec=CARBON))


def test_a_line_in_a_lot_that_gets_another_finish() -> None:
    assert "which gets another finish" in found(with_line("1187/7", recipe="satin"))


def test_a_line_in_a_lot_that_takes_another_way() -> None:
    assert "which takes another way" in found(with_lot(lot_of("1187/5"), saw_first=False))


def test_a_stick_of_another_tube_spec() -> None:
    assert "is of another tube spec than lot" in found(with_stock("carbon", spec=SMALL))


def test_a_stick_longer_than_it_is_in_stock() -> None:
    text = found(with_stick(full().tag, length_nm=full().length_nm + 1_000_000))
    assert "is 1.00 mm longer than" in text


def test_a_drop_that_is_not_what_is_left() -> None:
    assert "its drop is given as 0.00 mm" in found(with_stick(full().tag, drop_nm=0))


def test_a_drop_kept_against_the_rule() -> None:
    assert "is kept or scrapped against the rule" in found(with_stick(scrap().tag, kept=True))


def test_a_finished_stick_in_a_lot_with_another_finish() -> None:
    assert f"is finished mirror, lot {LOT} satin" in found(with_stock("R7", finished="mirror"))


def test_a_finished_stick_in_a_lot_that_is_sawn_first() -> None:
    lot = lot_of("1187/5")
    text = found(with_stock("small", finished="satin"))
    assert f"is finished, but lot {lot} is finished as blanks" in text


def test_a_stick_that_skips_its_passes_without_being_finished() -> None:
    assert "skips its passes, or not" in found(with_stick(full().tag, finished=True))


def test_a_tag_that_two_pieces_carry() -> None:
    first, second, *rest = full().pieces
    same = second.model_copy(update={"tag": first.tag})
    assert "2 sticks or pieces carry this tag" in found(
        with_stick(full().tag, pieces=(first, same, *rest))
    )


def test_tags_that_are_not_of_their_lot_stick_and_place() -> None:
    stick = full()
    lot = stick.tag.partition("-")[0]
    first, *rest = stick.pieces
    assert f"{lot}-77: is the tag of {stick.tag}" in found(with_stick(stick.tag, tag=f"{lot}-77"))
    other = first.model_copy(update={"tag": f"{stick.tag}.9"})
    text = found(with_stick(stick.tag, pieces=(other, *rest)))
    assert f"{stick.tag}.9: is the tag of {stick.tag}.1" in text


def test_more_sticks_than_there_are() -> None:
    assert "2 sticks are used, there are 1" in found(with_stock("small", count=1))


def test_a_remnant_that_is_used_twice() -> None:
    assert "2 sticks are used, there are 1" in found(with_stick(full().tag, stock="R7"))


def test_work_before_its_sticks_arrive() -> None:
    late = with_stock("small", arrives=date(2027, 3, 20))
    assert "minutes before its material is there" in found(late)


def test_work_before_bought_sticks_can_be_there() -> None:
    assert "minutes before its material is there" in found(with_stock("buy", lead_days=9))


def test_a_saw_that_begins_before_its_sticks_arrive() -> None:
    key = operation_of("1187/5", Step.SAW)
    assert f"{key}: begins" in found(with_slot(key, start_min=500))


def test_material_that_is_said_to_be_there_too_early() -> None:
    key = operation_of("1187/5", Step.SAW)
    assert f"{key}: its material is said to be there -1440 min off" in found(
        with_operation(key, release_min=0)
    )


def filled(short_nm: int, end_trim_nm: int) -> str:
    """What is said of a remnant whose last piece ends where the far trim begins, or a little
    beyond that."""
    cut_list = next(c for c in a_plan().cut_lists if any(s.stock == "R7" for s in c.sticks))
    (stick,) = (stick for stick in cut_list.sticks if stick.stock == "R7")
    pieces = sum(piece.length_nm for piece in stick.pieces)
    head = cut_list.stick_trim_nm + end_trim_nm
    behind = head + pieces + len(stick.pieces) * cut_list.kerf_nm
    length = behind - cut_list.kerf_nm + end_trim_nm - short_nm
    new = {"length_nm": length, "drop_nm": max(0, length - behind), "kept": False}
    sticks = tuple(
        each.model_copy(update=new) if each is stick else each for each in cut_list.sticks
    )
    plan = edited(
        with_stock("R7", length_nm=length),
        "cut_lists",
        lambda one: one is cut_list,
        sticks=sticks,
        end_trim_nm=end_trim_nm,
    )
    return "\n".join(line for line in found(plan).splitlines() if line.startswith(stick.tag))


@pytest.mark.parametrize("end_trim_nm", [25_400_000, 0])
def test_a_stick_that_is_just_filled_holds_and_a_nanometre_less_does_not(end_trim_nm: int) -> None:
    assert filled(0, end_trim_nm) == ""
    assert "its trims, pieces and kerfs are 0.00 mm too long" in filled(1, end_trim_nm)


def test_the_drop_may_be_just_what_the_clamp_holds() -> None:
    shortest = min(stick.drop_nm for c in a_plan().cut_lists for stick in c.sticks)
    for clamp_nm, is_short in ((shortest, False), (shortest + 1, True)):
        stations = tuple(
            one.model_copy(update={"saw": one.saw.model_copy(update={"clamp_nm": clamp_nm})})
            for one in a_plan().shop.stations
        )
        assert ("too short for the saw's clamp" in found(with_shop(stations=stations))) is is_short


def test_a_drop_just_as_long_as_the_shortest_remnant_is_kept() -> None:
    kept = [stick for c in a_plan().cut_lists for stick in c.sticks if stick.kept]
    shortest = min(stick.drop_nm for stick in kept)
    for remnant_nm, is_wrong in ((shortest, False), (shortest + 1, True)):
        house = a_plan().shop.house.model_copy(update={"remnant_nm": remnant_nm})
        assert ("against the rule" in found(with_shop(house=house))) is is_wrong


@pytest.mark.parametrize(
    ("start_min", "day", "right"),
    [(1439, 0, True), (1440, 0, False), (1440, 1, True), (1439, 1, False)],
)
def test_lots_are_formed_on_the_day_on_which_work_may_begin(
    start_min: int, day: int, right: bool
) -> None:
    options = a_plan().options.model_copy(update={"start_min": start_min})
    lots = tuple(lot.model_copy(update={"ordered_day": day}) for lot in a_plan().lots)
    text = found(a_plan().model_copy(update={"options": options, "lots": lots}))
    assert (f"{lots[0].key}: was not formed on day {day} of the plan" not in text) is right


def test_sticks_are_bought_on_the_day_on_which_a_lot_is_formed() -> None:
    lot = lot_of("1187/1")
    text = found(with_lot(lot, ordered_day=1))
    first = operation_of("1187/1", Step.FINISH)
    assert f"{first}: its material is said to be there -1440 min off" in text
    other = operation_of("1187/4", Step.FINISH)
    assert f"{other}: its material is said" not in found(with_lot(lot_of("1187/4"), ordered_day=1))


def test_sticks_that_are_there_need_no_days_to_come() -> None:
    assert found(with_stock("carbon", lead_days=9)) == ""


def test_the_name_of_the_grip_is_minded_and_that_of_a_straight_is_not() -> None:
    shop = a_plan().shop
    grip = {"grip_nm": 50_000_000}
    stations = tuple(
        one.model_copy(update={"bender": one.bender.model_copy(update=grip)})
        for one in shop.stations
    )
    longer = shop.model_copy(update={"stations": stations})
    line = next(line for line in a_plan().orders if line.key == "1187/3")
    blank = make_blank(line, longer)
    for what, is_wrong in (("straight 1", False), (GRIP, True)):
        terms = tuple(
            term.model_copy(update={"what": "x"}) if term.what == what else term
            for term in blank.terms
        )
        plan = with_blank("1187/3", length_nm=blank.length_nm, terms=terms)
        text = found(plan.model_copy(update={"shop": longer}))
        assert ("the terms of its blank" in text) is is_wrong


def test_a_piece_without_a_tag() -> None:
    stick = stick_of("1187/1")
    pieces = (stick.pieces[0].model_copy(update={"tag": " "}), *stick.pieces[1:])
    assert "a stick or piece: has no tag" in found(with_stick(stick.tag, pieces=pieces))
