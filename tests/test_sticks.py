"""Sticks are offered only where they fit, and give the pieces that the cut list can place."""

from __future__ import annotations

import pytest

from planner.cutlist.problem import Problem, StockKind
from planner.shop import SawSettings
from planner.sticks import longest_piece_nm, longest_stick_nm, sticks_for
from tests.trade import a_shop, a_spec, a_stick, inch, stations

SHOP = a_shop(stations=stations(saw={"longest_nm": inch("28'")}))


def test_whole_sticks_are_limited_by_stands_and_sawn_ones_by_the_saw() -> None:
    assert longest_stick_nm(SHOP, a_spec(), finished_whole=True) == inch("25'")
    assert longest_stick_nm(SHOP, a_spec(), finished_whole=False) == inch("28'")


def test_a_stick_that_is_finished_whole_must_fit_the_saw_too() -> None:
    short = a_shop(stations=stations(saw={"longest_nm": inch("22'")}))
    assert longest_stick_nm(short, a_spec(), finished_whole=True) == inch("22'")


def test_a_stick_just_as_long_as_the_stands_carry_is_offered() -> None:
    stock = (a_stick(length="25'"), a_stick(length="25' 1/64"))
    assert sticks_for(SHOP, a_spec(), "satin", sawn_first=False, stock=stock) == stock[:1]


def test_only_sticks_of_the_spec_that_are_there_and_fit_are_offered() -> None:
    good, long = a_stick(), a_stick(length="26'")
    others = (a_stick(a_spec(grade="316L")), a_stick(count=0), a_stick(length="30'"))
    stock = (good, long, *others)
    assert sticks_for(SHOP, a_spec(), "satin", sawn_first=False, stock=stock) == (good,)
    assert sticks_for(SHOP, a_spec(), "satin", sawn_first=True, stock=stock) == (good, long)


def test_a_finished_remnant_serves_its_own_recipe_as_a_stick_only() -> None:
    stock = (a_stick(finished="satin", remnant=True, count=1),)
    assert sticks_for(SHOP, a_spec(), "satin", sawn_first=False, stock=stock) == stock
    assert sticks_for(SHOP, a_spec(), "satin", sawn_first=True, stock=stock) == ()
    assert sticks_for(SHOP, a_spec(), "mirror", sawn_first=False, stock=stock) == ()
    assert sticks_for(SHOP, a_spec(), None, sawn_first=False, stock=stock) == ()


@pytest.mark.parametrize(
    "saw",
    [
        SawSettings(),
        SawSettings(kerf_nm=3, stick_trim_nm=5, end_trim_nm=7),
        SawSettings(kerf_nm=3, stick_trim_nm=5, end_trim_nm=7, clamp_nm=2),
        SawSettings(kerf_nm=3, end_trim_nm=7, clamp_nm=100),
    ],
)
def test_the_longest_piece_is_the_one_that_the_cut_list_can_place(saw: SawSettings) -> None:
    stick = StockKind("stick", 6_000_000_000, 0)
    room = Problem(
        (),
        (stick,),
        kerf_nm=saw.kerf_nm,
        trim_stick_nm=saw.stick_trim_nm,
        trim_end_nm=saw.end_trim_nm,
        clamp_nm=saw.clamp_nm,
    ).room_nm(stick)
    assert longest_piece_nm(saw, stick.length_nm) + saw.kerf_nm == room
