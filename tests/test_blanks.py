"""Blanks come out as long as the drawing says, and what cannot be made is refused with its why."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.blanks import BlankResult, make_blank, make_blanks, steps_of
from planner.errors import InputError, Severity
from planner.orders import EndCut, OrderLine, Step
from planner.shop import BenderSettings, FinisherSettings, Shop, Station, StationKind
from planner.stock import StockItem
from planner.tube import Family, Surface, TubeSpec
from planner.units import NM_PER_INCH
from tests.trade import (
    a_belt,
    a_bender,
    a_die,
    a_line,
    a_mitre,
    a_recipe,
    a_saddle,
    a_shop,
    a_spec,
    a_stick,
    axes,
    bent,
    cut,
    from_blank,
    inch,
    stations,
)

SAW_FIRST = (Step.SAW, Step.FINISH, Step.NOTCH, Step.BEND)


def inches(nm: int) -> float:
    return nm / NM_PER_INCH


def plan(
    line: OrderLine, shop: Shop | None = None, stock: tuple[StockItem, ...] | None = None
) -> BlankResult:
    return make_blanks([line], stock or (a_stick(line.spec),), shop or a_shop())


def refusals(result: BlankResult) -> str:
    return " ".join(f.message for f in result.findings if f.severity is Severity.ERROR)


def warnings(result: BlankResult) -> str:
    return " ".join(f.message for f in result.findings if f.severity is Severity.WARNING)


def test_a_cut_length_is_its_own_blank() -> None:
    blank = make_blank(a_line(shape=cut("48-1/4"), ends=(a_mitre(), a_saddle("2"))), a_shop())
    assert inches(blank.length_nm) == 48.25
    assert blank.saddles_nm == (inch(2),)


def test_a_bent_blank_adds_straights_arcs_grip_and_trim() -> None:
    shop = a_shop(stations=stations(**a_bender(grip_nm=inch("2"), trim_nm=inch("1/2"))))
    blank = make_blank(a_line(shape=bent((10, 90, 4.5), (20, 90, 4.5), 10)), shop)
    assert inches(blank.length_nm) == pytest.approx(54.1372 + 2.5, abs=1e-4)
    assert [term.what for term in blank.terms] == [
        *("straight 1", 'arc 90° at CLR 4-1/2"', "straight 2", 'arc 90° at CLR 4-1/2"'),
        *("straight 3", "grip for the clamp", "trim after bending"),
    ]
    assert sum(term.length_nm for term in blank.terms) == blank.length_nm
    assert (blank.bends, blank.clr_nm) == (2, inch("4.5"))


def test_a_blank_that_is_ordered_as_such_gets_no_allowance_and_is_bent_so_often() -> None:
    shop = a_shop(stations=stations(**a_bender(grip_nm=inch("2"), trim_nm=inch("1/2"))))
    blank = make_blank(a_line(shape=from_blank("54-1/8", 2)), shop)
    assert [(term.what, inches(term.length_nm)) for term in blank.terms] == [("blank", 54.125)]
    assert (blank.bends, blank.clr_nm) == (2, inch("4.5"))
    assert blank.steps == (Step.FINISH, Step.SAW, Step.BEND)


def test_an_end_that_is_notched_before_bending_gets_no_allowance() -> None:
    shop = a_shop(stations=stations(**a_bender(grip_nm=inch("2"), trim_nm=inch("1/2"))))
    line = a_line(shape=bent((10, 90, 4.5), 10), ends=(a_saddle("1-1/2"), a_saddle("1-1/2")))
    usual = make_blank(line, shop)
    bend_first = make_blank(
        line.model_copy(update={"route": (Step.FINISH, Step.SAW, Step.BEND, Step.NOTCH)}), shop
    )
    assert inches(bend_first.length_nm - usual.length_nm) == 2.5


def test_a_rail_between_posts_loses_both_saddles() -> None:
    line = a_line(shape=axes("48"), ends=(a_saddle("1.9"), a_saddle("1.9")))
    assert inches(make_blank(line, a_shop()).length_nm) == pytest.approx(46.834, abs=5e-4)


def test_a_short_piece_with_parallel_mitres_can_be_made_and_its_blank_is_as_long() -> None:
    short: dict[str, Any] = {"shape": cut("2-1/4"), "ends": (a_mitre(45), a_mitre(45))}
    with pytest.raises(InputError, match="ends meet each other"):
        make_blank(a_line(**short), a_shop())
    parallel = make_blank(a_line(**short, twist_mdeg=180_000), a_shop())
    assert parallel.length_nm == inch("2-1/4")


def test_a_mitre_at_an_axis_reaches_past_it() -> None:
    line = a_line(shape=axes("48"), ends=(a_mitre(45), a_mitre(45)))
    assert inches(make_blank(line, a_shop()).length_nm) == pytest.approx(49.5)


@pytest.mark.parametrize(
    ("route", "steps"),
    [
        ((Step.FINISH, Step.SAW, Step.NOTCH, Step.BEND), "finish saw notch bend touch-up"),
        ((Step.SAW, Step.FINISH), "saw finish notch bend touch-up"),
        ((Step.BEND, Step.NOTCH), "finish saw bend notch touch-up"),
        ((), "finish saw notch bend touch-up"),
        ((Step.TOUCH_UP, Step.SAW), "finish saw notch bend touch-up"),
    ],
)
def test_a_route_names_only_what_is_unusual(route: tuple[Step, ...], steps: str) -> None:
    line = a_line(
        route=route, shape=bent((10, 90, 4.5), 10), ends=(a_saddle("2"),) * 2, touch_up_s=30
    )
    assert " ".join(steps_of(line)) == steps


def test_steps_that_a_piece_does_not_need_are_passed_over() -> None:
    assert steps_of(a_line(recipe=None)) == (Step.SAW,)


BENT = bent((10, 90, 4.5), 10)


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ({"shape": BENT, "route": (Step.SAW, Step.BEND, Step.FINISH)}, "bent tube cannot go"),
        ({"ends": (a_saddle("2"),) * 2, "route": (Step.SAW, Step.NOTCH, Step.FINISH)}, "notching"),
        ({"shape": BENT, "route": (Step.FINISH, Step.BEND, Step.SAW)}, "before sawing"),
        ({"spec": a_spec(od="4", wall=".120")}, "outside what the finisher takes"),
        ({"spec": a_spec(od="4", wall=".120")}, "or correct the sheet Stations"),
        ({"shape": bent((10, 90, 6), 10)}, 'no die for 1-1/2" OD at CLR 6"; dies for this OD: 4-1'),
        ({"shape": bent((10, 90, 4.5), (5, 45, 6), 10)}, "different radii"),
        ({"shape": bent((2, 90, 4.5), 10)}, 'straight 1 of 2" is shorter than the 3"'),
        ({"shape": bent((10, 90, 4.5), (2.5, 90, 4.5), 10)}, "straight 2"),
        (
            {"shape": from_blank("54", 2, 6)},
            'no die for 1-1/2" OD at CLR 6"; dies for this OD: 4-1',
        ),
        ({"shape": from_blank("54", 2, 0)}, 'write it under CLR. Dies for 1-1/2" OD: 4-1/2"'),
        ({"shape": from_blank("8-7/8", 3)}, 'blank of 8-7/8" is shorter than 3 times the 3"'),
        ({"shape": cut("250")}, "longer than any stick"),
        ({"recipe": "mirror"}, "no recipe mirror; the shop has: satin"),
        ({"ends": (a_saddle("1"), a_saddle("2"))}, "cannot sit on"),
        ({"ends": (a_saddle("2", 10), a_saddle("2"))}, "too sharp"),
        ({"ends": (a_mitre(80), a_mitre())}, "cannot be sawn"),
        ({"shape": cut("1-1/2"), "ends": (a_mitre(), a_mitre())}, "ends meet each other"),
        ({"shape": axes("1"), "ends": (a_saddle("2"), a_saddle("2"))}, "ends meet each other"),
    ],
)
def test_what_cannot_be_made_is_refused_with_the_reason(
    changes: dict[str, Any], reason: str
) -> None:
    result = plan(a_line(**changes))
    assert reason in refusals(result)
    assert result.blanks == ()
    assert result.refused == ("1187/1",)
    assert all((f.sheet, f.cell, f.subject) == ("Orders", "A7", "1187/1") for f in result.findings)


@pytest.mark.parametrize(
    ("changes", "reason"),
    [
        ({"tools": ()}, "dies for this OD: none. Add the die to the sheet Tooling"),
        ({"belts": (a_belt("P120"),)}, "no P180 belt for stainless"),
        ({"belts": (a_belt("P120"), a_belt("P180", Family.CARBON))}, "no P180 belt for stainless"),
        ({"recipes": (a_recipe("satin", "P180", "P120"),)}, "out of order"),
        ({"stations": stations()[:3]}, "no bender"),
        ({"stations": stations(bender={"longest_nm": inch("20")})}, "or correct Longest in"),
        ({"stations": stations(saw={"longest_nm": inch("10'")})}, "or over 10' 0\""),
    ],
)
def test_what_the_shop_lacks_refuses_the_line(changes: dict[str, Any], reason: str) -> None:
    assert reason in refusals(plan(a_line(shape=BENT), a_shop(**changes)))


def test_a_recipe_without_passes_for_the_surface_refuses_the_line() -> None:
    recipe = a_recipe()
    only_scaled = tuple(
        step.model_copy(update={"passes": {Surface.SCALED: 1}}) for step in recipe.steps
    )
    shop = a_shop(recipes=(recipe.model_copy(update={"steps": only_scaled}),))
    assert "no pass for bright tube" in refusals(plan(a_line(), shop))


def test_a_recipe_for_other_families_refuses_the_line() -> None:
    recipe = a_recipe().model_copy(update={"families": (Family.CARBON,)})
    assert "not meant for stainless" in refusals(plan(a_line(), a_shop(recipes=(recipe,))))


def test_a_line_without_stock_is_refused() -> None:
    result = plan(a_line(), stock=(a_stick(a_spec(grade="316L")),))
    assert 'no stock of 1-1/2" × .065" 304 bright' in refusals(result)


@pytest.mark.parametrize(
    "alike",
    [a_spec(grade="316L"), a_spec(surface=Surface.POLISHED), a_spec(wall="1.63 mm")],
)
def test_stock_under_another_name_is_pointed_at(alike: TubeSpec) -> None:
    assert "Stock has 1-1/2" in refusals(plan(a_line(), stock=(a_stick(alike),)))
    other = a_stick(a_spec(od="2"))
    assert "add sticks of it, or to buy, to Stock" in refusals(plan(a_line(), stock=(other,)))


def test_another_grade_in_stock_is_not_told_to_be_written_in_its_place() -> None:
    """304 is no 316L: the same tube under two names is for the shop to say."""
    text = refusals(plan(a_line(), stock=(a_stick(a_spec(grade="316L")),)))
    assert "316L bright: if that is the same tube, write both alike; if it is another, add" in text


def test_tube_that_differs_by_a_micrometre_is_told_apart() -> None:
    text = refusals(plan(a_line(), stock=(a_stick(a_spec(wall="1.65 mm")),)))
    assert "it is 38.1 mm by 1.651 mm and in Stock 38.1 mm by 1.65 mm: write both alike" in text


def test_tube_kept_for_another_customer_is_not_told_to_be_written_alike() -> None:
    """It is the same tube, but nobody else's order may be cut from it."""
    theirs = a_stick(a_spec(grade="304 for Brewery"))
    text = refusals(plan(a_line(customer="Cafe"), stock=(theirs,)))
    assert "304 for Brewery bright, which is kept for that customer alone" in text
    assert "alike" not in text
    own = a_stick(a_spec(grade="304L for Cafe"))
    text = refusals(plan(a_line(customer="cafe"), stock=(theirs, own)))
    assert "304L for Cafe bright: if that is the same tube, write both alike" in text
    assert "Brewery" not in text


def test_sticks_that_the_stands_do_not_carry_are_no_sticks_for_finished_tube() -> None:
    long = (a_stick(length="30'"),)
    assert "over 25' 0\"" in refusals(plan(a_line(), stock=long))
    assert plan(a_line(recipe=None), stock=long).blanks


def test_a_remnant_finished_otherwise_is_no_stick() -> None:
    assert refusals(plan(a_line(), stock=(a_stick(finished="mirror", remnant=True),)))
    assert plan(a_line(), stock=(a_stick(finished="satin", remnant=True),)).blanks


def test_all_reasons_come_at_once() -> None:
    line = a_line(shape=bent((2, 90, 6), 300), recipe="mirror")
    text = refusals(plan(line))
    assert all(word in text for word in ("no recipe", "no die", "clamp", "longer than any stick"))


def test_an_order_line_entered_twice_is_refused() -> None:
    result = make_blanks([a_line(), a_line(place="Orders!A9")], (a_stick(),), a_shop())
    assert "entered at Orders!A7 too" in refusals(result)
    assert (result.blanks, result.refused) == ((), ("1187/1",))


def test_the_grip_lengthens_the_first_straight_for_the_clamp() -> None:
    shop = a_shop(stations=stations(**a_bender(grip_nm=inch("1"))))
    assert plan(a_line(shape=bent((2, 90, 4.5), 10)), shop).blanks


def test_a_bender_without_the_die_has_no_say_in_what_the_clamp_needs() -> None:
    # The first bender's clamp holds eight ODs, 12 in of 1-1/2 in tube; the die is the second's.
    usual = stations()
    first = next(each for each in usual if each.kind is StationKind.BENDER)
    big = first.model_copy(update={"name": "Big", "bender": BenderSettings(clamp_ods=8, grip_nm=9)})
    both = a_shop(stations=(big, *usual))
    assert refusals(plan(a_line(shape=BENT), both)) == ""
    with_the_die = a_shop(stations=(big, *usual), tools=(a_die(station="Big"),))
    assert 'the 12" the clamp needs' in refusals(plan(a_line(shape=BENT), with_the_die))


def test_a_die_may_need_more_than_the_usual_clamp() -> None:
    shop = a_shop(tools=(a_die(clamp_nm=inch("12")),))
    assert 'the 12" the clamp needs' in refusals(plan(a_line(shape=BENT), shop))


def test_a_short_piece_is_finished_as_a_stick_and_said_so() -> None:
    result = plan(a_line(shape=cut("8"), route=SAW_FIRST))
    assert result.blanks[0].steps == (Step.FINISH, Step.SAW)
    assert "too short to feed by hand" in warnings(result)


def test_a_longer_piece_keeps_its_route() -> None:
    result = plan(a_line(shape=cut("12"), route=SAW_FIRST))
    assert result.blanks[0].steps == (Step.SAW, Step.FINISH)
    assert "too short" not in warnings(result)


def test_a_short_piece_that_is_not_finished_is_nobodys_worry() -> None:
    assert "too short" not in warnings(plan(a_line(shape=cut("8"), route=SAW_FIRST, recipe=None)))


def test_long_sticks_need_stands_once_for_the_week() -> None:
    lines = [a_line(), a_line(line="2")]
    result = make_blanks(lines, (a_stick(),), a_shop())
    said = [f.message for f in result.findings if "stands" in f.message]
    assert len(said) == 1
    assert "two people" in said[0]


def test_a_coarse_grade_step_is_a_warning_once_for_the_week() -> None:
    shop = a_shop(
        recipes=(a_recipe("satin", "P60", "P180"),), belts=(a_belt("P60"), a_belt("P180"))
    )
    result = make_blanks([a_line(), a_line(line="2")], (a_stick(),), shop)
    assert sum("put a belt between" in f.message for f in result.findings) == 1
    assert len(result.blanks) == 2


@pytest.mark.parametrize("kind", ["cutter", "roller"])
def test_a_saddle_for_which_a_notcher_with_tools_has_none_is_a_warning(kind: str) -> None:
    line = a_line(ends=(a_saddle("2"), a_saddle("1-1/2")))
    tool = a_die(name="tool 1-1/2", kind=kind, station="Notcher", od_nm=inch("1-1/2"), clr_nm=0)
    missing = (
        'no cutter or roller for a saddle on 2"; the shop has them for 1-1/2". Have one ready: its '
        f"change is counted as a {kind}'s"
    )
    assert missing in warnings(plan(line, a_shop(tools=(tool,))))
    assert "cutter" not in warnings(plan(line, a_shop()))
    other = tool.model_copy(update={"name": "tool 2", "od_nm": inch("2")})
    both = a_shop(tools=(tool, other))
    assert "cutter" not in warnings(plan(line, both))


def test_a_piece_shorter_than_the_kerf_is_a_warning() -> None:
    assert "shorter than the" in warnings(plan(a_line(shape=cut("1/32"), recipe=None)))
    ring = warnings(plan(a_line(shape=cut("1/4"), recipe=None)))
    assert 'its piece of 1/4" is shorter than a quarter of its OD, 1-1/2"' in ring
    assert "shorter than" not in warnings(plan(a_line(shape=cut("3/8"), recipe=None)))


def test_a_thin_wall_is_a_warning() -> None:
    line = a_line(spec=a_spec(wall=".035"), shape=BENT)
    assert "is thin for a bend" in warnings(plan(line))
    from_length = line.model_copy(update={"shape": from_blank("54", 2)})
    assert "is thin for a bend" in warnings(plan(from_length))
    assert "thin" not in warnings(plan(a_line(shape=BENT)))


def test_a_short_limit_comes_from_the_finisher_that_takes_it() -> None:
    small = Station(
        name="Small",
        kind=StationKind.FINISHER,
        finisher=FinisherSettings(short_nm=inch("4")),
    )
    shop = a_shop(stations=(*stations(), small))
    assert "too short" not in warnings(plan(a_line(shape=cut("8"), route=SAW_FIRST), shop))


def test_a_recipe_that_promises_more_than_its_last_belt_leaves_is_doubted() -> None:
    recipe = a_recipe("satin", "P120", "P180").model_copy(update={"ra_high_uin": 12})
    result = plan(a_line(), a_shop(recipes=(recipe,)))
    assert "Recipe satin: P180 usually leaves about 32 µin Ra, more than the 12" in warnings(result)
    assert result.blanks


shapes = st.one_of(
    st.integers(1, 300).map(lambda n: cut(str(n))),
    st.integers(1, 300).map(lambda n: axes(str(n))),
    st.tuples(st.integers(0, 30), st.integers(0, 180), st.sampled_from([0, 3, 4.5, 6])).map(
        lambda row: bent(row, (8, 90, 4.5), 10)
    ),
)
ends = st.one_of(
    st.just(EndCut()),
    st.integers(0, 90).map(a_mitre),
    st.tuples(st.sampled_from(["1", "1-1/2", "1.9"]), st.integers(0, 180)).map(
        lambda end: a_saddle(*end)
    ),
)
lines = st.builds(
    a_line,
    line=st.integers(1, 9).map(str),
    shape=shapes,
    ends=st.tuples(ends, ends),
    recipe=st.sampled_from([None, "satin", "mirror"]),
    route=st.permutations(list(Step)).map(tuple),
    touch_up_s=st.integers(0, 1),
)


@given(st.lists(lines, max_size=5))
def test_every_line_gets_a_sound_blank_or_a_reason(orders: list[OrderLine]) -> None:
    result = make_blanks(orders, (a_stick(),), a_shop())
    keys = {line.key for line in orders}
    wrong = {f.subject for f in result.findings if f.severity is Severity.ERROR}
    assert {blank.line for blank in result.blanks} | set(result.refused) == keys
    assert set(result.refused) == wrong
    for blank in result.blanks:
        assert sum(term.length_nm for term in blank.terms) == blank.length_nm > 0
        place = {step: number for number, step in enumerate(blank.steps)}
        shaped = min(place.get(Step.NOTCH, 9), place.get(Step.BEND, 9))
        assert max(place[Step.SAW], place.get(Step.FINISH, 0)) < shaped
