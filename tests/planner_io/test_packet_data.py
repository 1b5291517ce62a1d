"""What the packet's pages are given, before any of it is set in type."""

from __future__ import annotations

import json
import re
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import Finding, Severity
from planner.records import Plan
from planner.shop import What
from planner_io.drawing.timeline import Day, Lane, day_height
from planner_io.packet.data import packet_data
from planner_io.packet.floor import TagKind
from planner_io.packet.glance import (
    LARGEST_LANE_MM,
    SMALLEST_LANE_MM,
    lane_mm,
    pages,
    timelines,
)
from planner_io.packet.pictures import Pictures
from planner_io.packet.tidy import LONGEST_WORD, breakable, name, tidy
from planner_io.views.glance import glance
from planner_io.views.index import Index
from planner_io.views.runs import stretches
from tests.planner_io.plans import DAY, a_plan


def data(plan: Plan, kind: TagKind = TagKind.BUNDLES) -> Any:
    return packet_data(Index(plan), kind)[0]


def pictures(plan: Plan) -> dict[str, str]:
    return packet_data(Index(plan), TagKind.BUNDLES)[1]


def with_slot(plan: Plan, operation: str, **changes: Any) -> Plan:
    slots = tuple(
        slot.model_copy(update=changes) if slot.operation == operation else slot
        for slot in plan.slots
    )
    return plan.model_copy(update={"slots": slots})


def run_of(found: Any, operation: str) -> Any:
    runs = [run for station in found["run_order"] for run in station["runs"]]
    return next(run for run in runs if run["steps"][0]["key"] == operation)


def test_a_run_says_when_it_begins_and_ends_and_on_which_card() -> None:
    # The first pass runs from minute 440 to 500 of the plan, 7:20 to 8:20; the saw has no cards.
    found = data(a_plan())
    finisher, saw = run_of(found, "L01.P1"), run_of(found, "L01.SAW")
    assert (finisher["day"], finisher["start"], finisher["end"]) == ("Mon 30 Nov", "7:20", "8:20")
    assert (finisher["card"], saw["card"]) == (1, 0)


def test_the_run_order_has_each_stations_own_runs() -> None:
    found = data(a_plan())["run_order"]
    steps = {
        row["station"]: [step["key"] for run in row["runs"] for step in run["steps"]]
        for row in found
    }
    assert steps == {
        "Finisher": ["L01.P1", "L01.P2", "L02.P1", "L02.P2"],
        "Saw": ["L01.SAW", "L02.SAW"],
        "Notcher": ["L02.NOTCH"],
        "Bender": ["L01.BEND"],
    }


def test_tube_to_buy_has_its_ring() -> None:
    (row,) = data(a_plan())["buy"]["rows"]
    assert row["ring"] == "ring-50800000-1244600"


def test_a_change_that_another_order_of_the_week_does_without_counts_nothing_there() -> None:
    plan = a_plan()
    *others, last = plan.yardsticks
    fewer = {what: minutes for what, minutes in last.by_what.items() if what is not What.DIE}
    without = last.model_copy(update={"by_what": fewer, "changeover_min": sum(fewer.values())})
    rows = data(plan.model_copy(update={"yardsticks": (*others, without)}))["ledger"]["yardsticks"]
    assert (rows[-1]["minutes"], rows[-1]["total"]) == ([15, 35, 13, 0], 63)


def test_a_run_up_to_midnight_ends_on_its_own_day_and_one_beyond_names_the_next() -> None:
    to_midnight = with_slot(a_plan(), "L02.NOTCH", end_min=DAY)
    beyond = with_slot(a_plan(), "L02.NOTCH", end_min=DAY + 10)
    assert run_of(data(to_midnight), "L02.NOTCH")["end"] == "0:00"
    assert run_of(data(beyond), "L02.NOTCH")["end"] == "Tue 1 Dec 0:10"


def test_what_a_message_says_itself_does_not_stand_beside_it_again() -> None:
    told = "Read 300, but the stick has 240; split it."
    findings = (
        Finding(severity=Severity.ERROR, message=told, read="300", expected="at most 240"),
        Finding(severity=Severity.WARNING, message="Split it.", read="301", expected="Split it."),
    )
    said = data(a_plan().model_copy(update={"findings": findings}))["problems"]
    assert [(row["read"], row["expected"]) for row in said] == [("", "at most 240"), ("301", "")]


def test_minutes_of_the_ledger_add_up_by_station_kind_and_order_of_work() -> None:
    ledger = data(a_plan())["ledger"]
    # By hand, from the changes of the slots: OD 12 + 3, belts 4 × 5, clean-down 13, a die 20.
    assert dict(zip(ledger["kinds"], ledger["totals"], strict=True)) == {
        **{"OD": 15, "belt": 20, "clean-down": 13, "die": 20},
    }
    assert ledger["total"] == 68 == sum(day["total"] for day in ledger["days"])
    assert all(sum(day["minutes"]) == day["total"] for day in ledger["days"])
    assert [(row["name"], row["total"]) for row in ledger["yardsticks"]] == [
        *[("this plan", 68), ("as entered", 116), ("by due date", 100), ("by OD", 83)]
    ]
    # By due date 27 minutes go on ODs and 40 on belts, here 15 and 20: 12 and 20 less.
    assert ledger["difference"]["by_kind"] == [-12, -20, 0, 0]
    assert ledger["difference"]["minutes"] == -32


def test_a_bar_of_the_longest_stick_is_as_wide_as_the_page_lets_it_be() -> None:
    plan = a_plan()
    sticks = [stick.length_nm for cut in plan.cut_lists for stick in cut.sticks]
    assert set(sticks) == {max(sticks)}
    bars = [svg for key, svg in pictures(plan).items() if key.startswith("bar")]
    # Letter paper is 8.5 in wide and keeps 14 mm free on each side.
    inner_mm = 8.5 * 25.4 - 28
    for svg in bars:
        (width,) = re.findall(r'<svg [^>]*? width="([\d.]+)mm"', svg)
        ends = [float(x) for x in re.findall(r'x2="([\d.]+)"', svg)]
        assert float(width) == pytest.approx(inner_mm)
        assert inner_mm - 2 < max(ends) < inner_mm


def test_bars_are_to_one_scale_whatever_the_length_of_their_sticks() -> None:
    plan = a_plan()
    first, second = plan.cut_lists
    half = first.sticks[0].length_nm // 2
    pieces = second.sticks[0].pieces[:1]
    drop = half - second.stick_trim_nm - pieces[0].length_nm - second.kerf_nm
    change = {"length_nm": half, "pieces": pieces, "drop_nm": drop}
    short = second.sticks[0].model_copy(update=change)
    cut_lists = (first, second.model_copy(update={"sticks": (short,)}))
    svg = pictures(plan.model_copy(update={"cut_lists": cut_lists}))
    bars = [text for key, text in svg.items() if key.startswith("bar")]
    long_mm, short_mm = (
        max(float(x) for x in re.findall(r'x2="([\d.]+)"', text)) for text in (bars[0], bars[-1])
    )
    assert short_mm == pytest.approx(long_mm / 2, abs=1)


def test_cut_lists_count_sticks_and_pieces_and_say_where_the_pieces_go() -> None:
    (saw,) = (one for one in data(a_plan())["stations"] if one["name"] == "Saw")
    first, second = saw["cuts"]
    # 40 pieces, nine on a stick of 20 ft: four full sticks and one with the four that are left.
    assert first["counts"] == "5 sticks → 40 pieces"
    assert [(each["count"], each["groups"][0]["count"]) for each in first["patterns"]] == [
        *[(4, 9), (1, 4)]
    ]
    assert [each["kept"] for each in first["patterns"]] == [False, True]
    assert [cut["patterns"][0]["groups"][0]["next"] for cut in (first, second)] == [
        *["Bender", "Notcher"]
    ]


def test_tags_are_for_remnants_first_and_then_for_bundles_or_pieces() -> None:
    bundles, pieces = (data(a_plan(), kind)["tags"] for kind in TagKind)
    kept = [stick for cut in a_plan().cut_lists for stick in cut.sticks if stick.kept]
    assert len(bundles) == len(kept) + 2
    assert len(pieces) == len(kept) + 50
    assert all(tag["title"].startswith("R") for tag in bundles[: len(kept)])


def test_a_picture_that_is_shown_in_many_places_is_kept_once() -> None:
    found = Pictures(1e-6)
    spec, other = (lot.spec for lot in a_plan().lots)
    assert found.ring(spec) == found.ring(spec) != found.ring(other)
    assert found.lay(None) == ""
    assert found.square_code("L01") != found.square_code("L01")
    assert len(found.svg) == 4


def test_a_code_is_one_that_every_reader_reads() -> None:
    # ISO/IEC 18004 (from memory): the smallest QR code has 21 modules a side; micro codes, which
    # many readers do not know, have 17 at most. No border and no size of its own: the page sets it.
    found = Pictures(1e-6)
    code = found.svg[found.square_code("L01")]
    assert 'viewBox="0 0 21 21"' in code
    assert "width=" not in code.partition(">")[0]


def test_every_picture_that_the_pages_name_is_there() -> None:
    pages, svg = packet_data(Index(a_plan()), TagKind.BUNDLES)
    words = json.dumps(pages)
    named = set(re.findall(r'"(?:ring|lay|bar|code|picture)": "([^"]+)"', words))
    assert {name.partition("-")[0] for name in named} == {"ring", "lay", "bar", "qr", "side"}
    assert named <= svg.keys()


def a_day(lanes: int) -> Day:
    made = tuple(Lane(f"Station {number}", (), ()) for number in range(lanes))
    return Day("Mon 30 Nov", 420, 930, (), made)


@pytest.mark.parametrize("height", [60.0, 150.0, 155.0, 400.0])
def test_as_many_days_as_can_be_read_share_a_page(height: float) -> None:
    days = [a_day(lanes) for lanes in (5, 5, 4, 6, 5)]
    found = list(pages(days, height))
    assert [day for page in found for day in page] == days

    def least(shown: list[Day]) -> float:
        return sum(day_height(day, SMALLEST_LANE_MM) for day in shown)

    assert all(least(page) <= height for page in found if len(page) > 1)
    for page, after in pairwise(found):
        assert least([*page, after[0]]) > height


def test_days_that_just_fit_stay_on_one_page() -> None:
    days = [a_day(5), a_day(5)]
    height = 2 * day_height(days[0], SMALLEST_LANE_MM)
    assert len(list(pages(days, height))) == 1
    assert len(list(pages(days, height - 0.01))) == 2


def test_lanes_fill_the_page_and_no_lane_is_taller_than_it_needs() -> None:
    days = [a_day(5), a_day(4)]
    for height in (80.0, 100.0, 120.0):
        lane = lane_mm(days, height)
        assert lane < LARGEST_LANE_MM
        assert sum(day_height(day, lane) for day in days) == pytest.approx(height)
    assert lane_mm(days, 1_000.0) == LARGEST_LANE_MM
    assert lane_mm([], 100.0) == LARGEST_LANE_MM


@pytest.mark.parametrize("height", [60.0, 90.0, 180.0])
def test_timelines_leave_room_for_the_figures_above_and_their_rings_fit_their_lanes(
    height: float,
) -> None:
    index = Index(a_plan())
    days = glance(index, stretches(index))
    for svg in timelines(index, (250.0, height)):
        (tall,) = re.findall(r'<svg [^>]*?height="([\d.]+)mm"', svg)
        # The figures are 24 pt high, with two lines of 8 pt below them: 14 mm.
        assert float(tall) <= height - 14
        radii = [float(r) for r in re.findall(r'<circle [^>]*?r="([\d.]+)"', svg)]
        assert radii
        assert 2 * max(radii) < max(SMALLEST_LANE_MM, lane_mm(days, height)) - 2


@given(st.text(max_size=80), st.integers(2, 70))
def test_a_name_is_whole_where_it_fits_and_else_ends_where_it_was_cut(
    words: str, longest: int
) -> None:
    whole, shown = name(words, 10_000), name(words, longest)
    assert len(shown) <= longest
    if len(whole) <= longest:
        assert shown == whole
    else:
        assert shown[-1] == "…"
        assert whole.startswith(shown[:-1])
        assert len(shown) == longest or whole[len(shown) - 1 : longest - 1].isspace()


@given(st.text("ab -", max_size=120))
def test_long_words_may_be_broken_and_say_the_same(words: str) -> None:
    shown = breakable(words)
    assert shown.replace("\u200b", "") == words
    assert all(len(part) <= LONGEST_WORD for part in re.split(r"[\s\u200b]", shown))
    short = all(len(word) < LONGEST_WORD for word in words.split())
    assert (shown == words) is short


def test_texts_are_made_fit_wherever_they_stand_and_nothing_else_is_changed() -> None:
    long = "x" * (LONGEST_WORD + 1)
    data = {"a": [long, 3, None, {"b": (long, 1.5, True)}], "c": "short"}
    fit = breakable(long)
    assert fit != long
    assert tidy(data) == {"a": [fit, 3, None, {"b": [fit, 1.5, True]}], "c": "short"}


def test_a_run_of_one_size_has_its_ring_and_one_of_several_has_none() -> None:
    alone = run_of(data(a_plan()), "L01.SAW")
    shared = run_of(data(with_slot(a_plan(), "L02.SAW", run=1, changes=())), "L01.SAW")
    assert alone["ring"] == "ring-38100000-1651000"
    assert [step["key"] for step in shared["steps"]] == ["L01.SAW", "L02.SAW"]
    assert shared["ring"] == ""


def test_work_of_a_lot_names_its_lines_and_work_of_a_line_has_it_in_its_key() -> None:
    found = data(a_plan())
    (saw,), (notch,) = (run_of(found, key)["steps"] for key in ("L01.SAW", "L02.NOTCH"))
    assert (saw["lines"], notch["lines"]) == ("1187/1", "")


def test_the_timeline_lies_along_the_longer_side_of_the_paper() -> None:
    # Letter paper is 11 in long and keeps 14 mm free on each side.
    (width,) = re.findall(r'<svg [^>]*?width="([\d.]+)mm"', pictures(a_plan())["timeline-0"])
    assert float(width) == pytest.approx(11 * 25.4 - 28)
