"""What is mounted for a piece of work: which rail, which die, and how worn a belt is."""

from __future__ import annotations

import pytest

from planner.mounting import die_for, notcher_state, rail_for, size_nm, worn_share
from planner.shop import House, Rail, ToolKind, What
from planner.tube import Family
from tests.trade import a_belt, a_die, a_line, a_shop, inch


def a_rail(thickness: str, *families: Family) -> Rail:
    return Rail(name=thickness, thickness_nm=inch(thickness), families=families or tuple(Family))


def rail_of(od: str, *rails: Rail) -> str | None:
    found = rail_for(a_shop(rails=rails), inch(od), Family.STAINLESS)
    return found.name if found else None


def test_the_thickest_rail_that_leaves_the_gap_is_fitted() -> None:
    # A quarter of 1-1/2 in is 3/8; 1/16 for the belt's seam leaves 5/16 for the rail.
    rails = [a_rail(thickness) for thickness in ("3/8", "1/8", "5/16", "1/4")]
    assert rail_of("1-1/2", *rails) == "5/16"
    assert rail_of("1-1/4", *rails) == "1/4"


def test_where_no_rail_leaves_the_gap_the_thinnest_is_fitted() -> None:
    assert rail_of("1/2", a_rail("1/4"), a_rail("1/8"), a_rail("3/16")) == "1/8"


@pytest.mark.parametrize(
    ("house", "fitted"),
    [(House(unit="mm"), "thin"), (House(denominator=32), "thick"), (House(denominator=64), "thin")],
)
def test_the_rail_fits_where_the_marks_of_the_shops_rule_put_it(house: House, fitted: str) -> None:
    # C: a quarter of 18 mm is 4.5 mm, on a mark of a metric rule; 1/16 in of gap leaves 2.91 mm for
    # the rail, too little for 3. In 32nds of an inch it is set at 6/32, 4.76 mm, which leaves 3.17;
    # in 64ths at 11/64, 4.37 mm, which leaves 2.78.
    rails = tuple(
        Rail(name=name, thickness_nm=round(mm * 1e6)) for name, mm in (("thin", 1.5), ("thick", 3))
    )
    shop = a_shop(rails=rails, house=house)
    found = rail_for(shop, 18_000_000, Family.CARBON)
    assert found is not None
    assert found.name == fitted


def test_a_rail_for_other_families_is_left_out() -> None:
    assert rail_of("1-1/2", a_rail("5/16", Family.CARBON), a_rail("1/8")) == "1/8"
    assert rail_of("1-1/2", a_rail("5/16", Family.CARBON)) is None


def test_a_soft_die_comes_first_for_finished_tube_only() -> None:
    shop = a_shop(tools=(a_die(name="hard"), a_die(name="soft", soft=True)))
    for finished, name in ((True, "soft"), (False, "hard")):
        die = die_for(shop, shop.station("Bender"), inch("1-1/2"), inch("4-1/2"), finished)
        assert die is not None
        assert die.name == name


@pytest.mark.parametrize(
    ("kinds", "what"),
    [
        ([], What.CUTTER),
        ([ToolKind.ROLLER], What.ROLLER),
        ([ToolKind.CUTTER], What.CUTTER),
        ([ToolKind.ROLLER, ToolKind.CUTTER], What.CUTTER),
    ],
)
def test_a_saddle_without_a_tool_is_cut_with_what_the_notcher_has(
    kinds: list[ToolKind], what: What
) -> None:
    tools = tuple(
        a_die(name=kind.value, kind=kind, station="Notcher", od="1-1/2", clr_nm=0) for kind in kinds
    )
    shop = a_shop(tools=tools)
    state = notcher_state(shop, shop.station("Notcher"), a_line().spec, inch("2"))
    assert state == {What.OD: str(a_line().spec.od_nm), what: str(inch("2"))}


def test_a_tool_named_by_a_number_is_no_size() -> None:
    assert [size_nm(mounted) for mounted in ("2", "roller 2", "50800000")] == [None, None, 50800000]


@pytest.mark.parametrize(
    ("changes", "share"),
    [
        ({}, 0),
        ({"used_min": 30}, 0),
        ({"life_min": 100, "used_min": 30}, 0.3),
        ({"life_min": 100, "used_min": 30, "life_cm2": 1_000, "used_cm2": 800}, 0.8),
        ({"life_min": 100, "used_min": 130}, 1),
    ],
)
def test_a_belt_is_as_worn_as_its_minutes_or_its_area_say(
    changes: dict[str, int], share: float
) -> None:
    assert worn_share(a_belt("P120").model_copy(update=changes)) == pytest.approx(share)
