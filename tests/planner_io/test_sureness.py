"""How sure a plan is stands in its papers and on the console, from the one record."""

from __future__ import annotations

import io
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from planner.hours import usual_spans, worked_between
from planner.records import Plan
from planner.uncertainty import LikelyMinutes, LineChance, Risk, StationSpread
from planner_io.packet.data import packet_data
from planner_io.packet.floor import TagKind
from planner_io.risk_report import risk_lines
from planner_io.summary import summary_lines
from planner_io.views.index import Index
from planner_io.views.summary import summary
from planner_io.views.sureness import (
    chances,
    likely_changeover,
    room_words,
    share,
    unsure_note,
    unsure_rows,
)
from planner_io.week_book import write_week
from tests.planner_io.plans import a_plan


def a_simulated_plan(*shares: float) -> Plan:
    plan = a_plan()
    lines = tuple(
        LineChance(line=done.line, chance=chance, low_min=500, median_min=560, high_min=2000)
        for done, chance in zip(plan.done, shares, strict=True)
    )
    risk = Risk(
        weeks=2_000,
        seed=1,
        spreads=tuple(
            StationSpread(
                station=station.name, run=0.15, setup=0.25, run_shared=0.2, setup_shared=0.2
            )
            for station in plan.shop.stations
        ),
        lines=lines,
        all_on_time=min(shares),
        changeover_low_min=150,
        changeover_median_min=170,
        changeover_high_min=200,
    )
    return plan.model_copy(update={"risk": risk})


def rows_of(plan: Plan, tab: str) -> list[tuple[Any, ...]]:
    page = load_workbook(io.BytesIO(write_week(plan)))[tab]
    return list(page.iter_rows(values_only=True))


def test_lines_that_are_on_time_but_not_surely_are_listed_and_late_ones_are_not() -> None:
    assert [done.line for done in a_plan().done if done.done_min > done.due_min]
    index = Index(a_simulated_plan(0.64, 0.1))
    assert [(row.order.key, row.chance) for row in unsure_rows(index)] == [
        (a_plan().done[0].line, "64 %")
    ]
    assert unsure_rows(Index(a_simulated_plan(0.8, 0.1))) == ()
    assert unsure_rows(Index(a_simulated_plan(0.7996, 0.1))) == (), "80 % is not under 80 %"
    assert [row.chance for row in unsure_rows(Index(a_simulated_plan(0.794, 0.1)))] == ["79 %"]


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (0.59, "every line on time, in 59 % of the simulated weeks"),
        (0.9999, "every line on time, in over 99 % of the simulated weeks"),
        (1.0, "every line on time"),
    ],
)
def test_the_cover_says_in_how_many_weeks_nothing_is_late(chance: float, words: str) -> None:
    punctual = a_simulated_plan(chance, 1.0).model_copy(update={"late": ()})
    assert [f.more for f in summary(Index(punctual)).figures if f.name == "late"] == [words]


@pytest.mark.parametrize(
    ("chance", "words"),
    [
        (0.0, "0 %"),
        (0.0001, "under 1 %"),
        (0.0099, "under 1 %"),
        (0.01, "1 %"),
        (0.99, "99 %"),
        (0.9901, "over 99 %"),
        (0.9999, "over 99 %"),
        (1.0, "100 %"),
    ],
)
def test_a_chance_is_not_rounded_to_certainty(chance: float, words: str) -> None:
    assert share(chance) == words


def test_the_least_sure_line_comes_first_and_of_equals_that_of_the_lower_number() -> None:
    early, late = a_plan().done
    on_time = late.model_copy(update={"done_min": late.due_min})
    for shares, first in (((0.64, 0.1), late), ((0.1, 0.64), early), ((0.3, 0.3), early)):
        plan = a_simulated_plan(*shares)
        plan = plan.model_copy(update={"done": (early, on_time), "late": ()})
        risk = plan.risk
        assert risk is not None
        for lines in (risk.lines, risk.lines[::-1]):
            said = risk.model_copy(update={"lines": lines})
            rows = unsure_rows(Index(plan.model_copy(update={"risk": said})))
            assert rows[0].order.key == first.line
            assert len(rows) == 2


def test_the_office_sheets_give_each_lines_chance_and_the_likely_changeovers() -> None:
    plan = a_simulated_plan(0.64, 0.1)
    for tab, chance in (("Orders", ["64 %", "10 %", None]), ("Late", ["10 %"])):
        head, *rows = rows_of(plan, tab)
        column = head.index("Chance on time")
        assert [row[column] for row in rows if row[0]][: len(chance)] == chance
    notes = [row[0] for row in rows_of(plan, "Changeover ledger")]
    assert likely_changeover(Index(plan)) in notes
    assert "2 h 30 to 3 h 20" in likely_changeover(Index(plan))


def test_the_orders_sheet_gives_the_worked_minutes_to_spare_of_what_is_on_time() -> None:
    plan = a_plan()
    head, *rows = rows_of(plan, "Orders")
    column = head.index("To spare, min")
    on_time, late = plan.done
    usual = usual_spans(plan.shop, plan.options.start, plan.options.days)
    spare = worked_between(usual, on_time.done_min, on_time.due_min)
    assert spare > 0
    assert late.done_min > late.due_min
    assert [row[column] for row in rows if row[0]][:2] == [spare, None]


def test_the_packet_lists_unsure_lines_and_the_likely_changeovers() -> None:
    pages: Mapping[str, Any] = packet_data(Index(a_simulated_plan(0.64, 0.1)), TagKind.BUNDLES)[0]
    assert [row["chance"] for row in pages["unsure"]] == ["64 %"]
    assert pages["unsure_note"].startswith("Nothing is late in 10 % of 2,000 simulated weeks. ")
    assert [row["chance"] for row in pages["late"]] == ["10 %"]
    assert "2,000 simulated weeks" in pages["ledger"]["likely"]


def test_weeks_that_rest_on_no_log_say_so() -> None:
    plan = a_simulated_plan(0.64, 0.1)
    assert "whose spreads are common practice" in likely_changeover(Index(plan))
    assert "No run is logged, so any run may take 27 % less to 38 % more" in unsure_note(plan)
    likely = LikelyMinutes(operation="L01.P1", low_min=15, median_min=18, high_min=22, runs=14)
    logged = plan.model_copy(update={"likely": (likely,)})
    assert likely_changeover(Index(logged)).endswith("2,000 simulated weeks.")
    assert "no run is logged" in list(risk_lines(plan))[1]
    assert "is logged" not in "".join(risk_lines(logged)) + unsure_note(logged)


def test_the_console_says_how_sure_the_plan_is() -> None:
    first, _, third, fourth = risk_lines(a_simulated_plan(0.64, 0.1))
    assert "nothing late in 10 % of 2,000 simulated weeks" in first
    assert third == (
        "  on time, but in under 80 % of the weeks; planned with --confidence 80 the week has more "
        "room:"
    )
    assert fourth.startswith(f"  {a_plan().done[0].line} in 64 %, ")


def test_a_plan_with_more_room_says_that_its_minutes_are_more_than_they_mostly_take() -> None:
    plan = a_simulated_plan(0.64, 0.1)
    roomy = plan.model_copy(update={"options": plan.options.model_copy(update={"confidence": 80})})
    words = "minutes that 80 of 100 runs and changeovers keep (--confidence 80)"
    assert room_words(plan) == ""
    assert words in room_words(roomy)
    assert words in likely_changeover(Index(roomy))
    assert words in list(summary_lines(roomy, Path("out")))[1]
    assert words not in " ".join(summary_lines(plan, Path("out")))
    assert "--confidence 80 the week has more room" in unsure_note(plan)
    assert "--confidence" not in unsure_note(roomy) + "".join(risk_lines(roomy))


def test_a_plan_that_nobody_simulated_says_nothing() -> None:
    index = Index(a_plan())
    assert (chances(index), unsure_rows(index), likely_changeover(index)) == ({}, (), "")
    assert list(risk_lines(a_plan())) == []


def test_the_set_up_card_says_how_long_each_pass_is_likely_to_take() -> None:
    likely = LikelyMinutes(operation="L01.P1", low_min=15, median_min=18, high_min=22, runs=14)
    plan = a_plan().model_copy(update={"likely": (likely,)})
    words = "about 18 min, 80 % between 15 and 22, from 14 runs"
    pages: Mapping[str, Any] = packet_data(Index(plan), TagKind.BUNDLES)[0]
    steps = [s for station in pages["stations"] for c in station["cards"] for s in c["steps"]]
    assert [step["key"] for step in steps if step["likely"] == words] == ["L01.P1"]
    head, *rows = rows_of(plan, "Set-up cards")
    assert words in [row[head.index("Remark")] for row in rows]
