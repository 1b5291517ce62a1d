"""Changeovers: which row counts, what is remembered, and how minutes add up."""

from __future__ import annotations

from planner.changeovers import Mounts, change_minutes, changes, is_longest, required, setup_minutes
from planner.shop import ChangeoverRow, Mounted, Shop, Station, StationKind, What

FINISHER = Station(name="Finisher", kind=StationKind.FINISHER, base="Grinder")
BENDER = Station(name="Bender", kind=StationKind.BENDER, base="Grinder")
SAW = Station(name="Saw", kind=StationKind.SAW)


def a_row(
    what: What,
    minutes: int,
    before: str | None = None,
    after: str | None = None,
    station: str = "Finisher",
) -> ChangeoverRow:
    return ChangeoverRow(station=station, what=what, before=before, after=after, minutes=minutes)


def a_shop(*rows: ChangeoverRow, longest: str = "", mounted: tuple[Mounted, ...] = ()) -> Shop:
    return Shop(
        stations=(FINISHER, BENDER, SAW),
        hours=(),
        changeovers=rows,
        longest_of=(longest,) if longest else (),
        mounted=mounted,
    )


BELT = a_row(What.BELT, 5)
OD = a_row(What.OD, 12)


def test_only_what_is_asked_for_and_differs_is_changed() -> None:
    before = {What.OD: "1", What.BELT: "P80", What.RAIL: "thin"}
    after = {What.OD: "1", What.BELT: "P120"}
    found = changes(before, after, FINISHER, a_shop(BELT, OD))
    assert [(change.what, change.before, change.after) for change in found] == [
        (What.BELT, "P80", "P120")
    ]


def test_changes_add_up() -> None:
    found = changes({}, {What.OD: "1", What.BELT: "P120"}, FINISHER, a_shop(BELT, OD))
    assert setup_minutes(found) == 17


def test_where_changes_are_done_side_by_side_the_longest_counts() -> None:
    shop = a_shop(BELT, OD, longest="finisher")
    found = changes({}, {What.OD: "1", What.BELT: "P120"}, FINISHER, shop)
    assert {change.what: change.minutes for change in found} == {What.OD: 12, What.BELT: 0}


def test_stations_of_one_base_are_changed_in_the_same_way() -> None:
    assert is_longest(a_shop(longest="Bender"), FINISHER)
    assert is_longest(a_shop(longest="Grinder"), FINISHER)
    assert not is_longest(a_shop(longest="Bender"), SAW)


def test_a_row_with_both_ends_counts_before_one_with_one_end() -> None:
    shop = a_shop(
        a_row(What.FAMILY, 3),
        a_row(What.FAMILY, 20, after="stainless"),
        a_row(What.FAMILY, 45, before="aluminium", after="stainless"),
        a_row(What.FAMILY, 9, before="aluminium"),
    )
    minutes = [
        change_minutes(shop, FINISHER, What.FAMILY, before, after)
        for before, after in (
            ("aluminium", "stainless"),
            ("carbon", "stainless"),
            ("aluminium", "carbon"),
            ("stainless", "carbon"),
        )
    ]
    assert minutes == [45, 20, 9, 3]


def test_a_row_for_the_name_of_a_station_counts_before_one_for_its_kind() -> None:
    of_kind = a_row(What.OD, 30, before="1", after="2", station="finisher")
    shop = a_shop(of_kind, OD)
    assert change_minutes(shop, FINISHER, What.OD, "1", "2") == 12


def test_a_row_for_the_name_of_the_base_counts_before_one_for_the_kind_too() -> None:
    of_kind = a_row(What.OD, 30, before="1", after="2", station="finisher")
    shop = a_shop(of_kind, a_row(What.OD, 12, station="Grinder"))
    assert change_minutes(shop, FINISHER, What.OD, "1", "2") == 12


def test_of_two_rows_with_one_end_the_one_that_names_what_comes_counts() -> None:
    from_alloy = a_row(What.FAMILY, 9, before="aluminium")
    to_stainless = a_row(What.FAMILY, 20, after="stainless")
    for rows in ((from_alloy, to_stainless), (to_stainless, from_alloy)):
        shop = a_shop(*rows)
        assert change_minutes(shop, FINISHER, What.FAMILY, "aluminium", "stainless") == 20


def test_without_a_row_a_change_takes_no_minutes_but_is_one() -> None:
    found = changes({}, {What.OD: "1"}, SAW, a_shop(OD))
    assert [(change.what, change.minutes) for change in found] == [(What.OD, 0)]


def test_from_an_unknown_state_only_rows_for_any_state_fit() -> None:
    shop = a_shop(a_row(What.FAMILY, 20, before="carbon", after="stainless"))
    assert change_minutes(shop, FINISHER, What.FAMILY, None, "stainless") == 0


def test_a_station_on_a_shared_base_needs_itself_mounted() -> None:
    assert required({What.OD: "1"}, FINISHER)[What.ATTACHMENT] == "Finisher"


def test_a_station_of_its_own_has_no_attachment() -> None:
    assert required({What.OD: "1", What.ATTACHMENT: "Finisher"}, SAW) == {What.OD: "1"}


def test_what_is_mounted_on_an_attachment_survives_its_swap() -> None:
    mounts = Mounts(a_shop())
    mounts.mount(FINISHER, required({What.OD: "1", What.BELT: "P80"}, FINISHER))
    mounts.mount(BENDER, required({What.DIE: "small"}, BENDER))
    assert mounts.before(FINISHER) == {
        What.OD: "1",
        What.BELT: "P80",
        What.ATTACHMENT: "Bender",
    }


def test_what_is_mounted_at_the_start_is_known() -> None:
    at_start = (
        Mounted(station="Saw", what=What.OD, value="1"),
        Mounted(station="Grinder", what=What.ATTACHMENT, value="Bender"),
    )
    mounts = Mounts(a_shop(mounted=at_start))
    assert mounts.before(SAW) == {What.OD: "1"}
    assert mounts.before(FINISHER) == {What.ATTACHMENT: "Bender"}


def test_the_attachment_at_the_start_may_be_given_with_the_station_s_name() -> None:
    at_start = (Mounted(station="Bender", what=What.ATTACHMENT, value="Bender"),)
    assert Mounts(a_shop(mounted=at_start)).before(FINISHER) == {What.ATTACHMENT: "Bender"}


def test_rows_of_the_base_give_the_minutes_of_a_swap() -> None:
    swap = a_row(What.ATTACHMENT, 25, before="Bender", after="Finisher", station="Grinder")
    before, after = {What.ATTACHMENT: "Bender"}, required({}, FINISHER)
    assert setup_minutes(changes(before, after, FINISHER, a_shop(swap))) == 25


def test_a_clean_down_that_takes_no_minutes_is_no_change() -> None:
    before, after = {What.FAMILY: "alloy"}, {What.FAMILY: "carbon"}
    row = a_row(What.FAMILY, 20, before="carbon", after="stainless", station="finisher")
    assert changes(before, after, FINISHER, a_shop(row)) == ()
    assert len(changes(after, {What.FAMILY: "stainless"}, FINISHER, a_shop(row))) == 1
