"""What an operator sees without scrolling or reckoning: buttons, days, what really comes."""

from __future__ import annotations

import html
import re
from dataclasses import replace
from pathlib import Path

import pytest

from planner.scrap import Scrap
from planner_io.views.cuts import cut_sheets
from planner_io.views.index import Index
from planner_io.web.board import Board
from planner_io.web.files import HERE
from planner_io.web.jobs import LEAST_SHOWN, by_day
from tests.planner_io.plans import a_plan, a_replanned_plan, on_one_base
from tests.planner_io.web.floor import Tablet


@pytest.fixture
def tablet(tmp_path: Path) -> Tablet:
    return Tablet(a_plan(), tmp_path / "floor.sqlite3")


def text(tablet: Tablet, address: str) -> str:
    return html.unescape(tablet.page(address))


@pytest.mark.parametrize("address", ["/card/Finisher/1", "/cut/L01.SAW"])
def test_the_buttons_of_a_long_page_stay_at_the_foot_of_the_screen(
    tablet: Tablet, address: str
) -> None:
    page = tablet.page(address)
    foot = page.index('<article class="foot">')
    assert foot < page.index("Start run")
    assert re.fullmatch(
        r"\s*</main>\s*</body>\s*</html>\s*", page[page.rindex("</article>") + 10 :]
    )
    style = (HERE / "static" / "style.css").read_text(encoding="utf-8")
    (rule,) = re.findall(r"([^}\n]*) \{ position: sticky; bottom: 0;", style)
    assert rule.split(", ") == [".panel .buttons", ".report .buttons", ".foot"]


def test_a_cut_list_takes_the_taps_of_its_step_and_stays_open(tablet: Tablet) -> None:
    page = tablet.page("/cut/L01.SAW")
    foot = page[page.index('<article class="foot">') :]
    assert "Cut list" not in foot
    fields = dict(re.findall(r'name="([^"]+)" value="([^"]*)"', foot))
    answer = tablet.post("/tap/start/L01.SAW", fields)
    assert answer.headers["location"] == "/cut/L01.SAW"
    assert "<b>Step 1</b>, 5 sticks: running since Mon 7:00" in tablet.page("/cut/L01.SAW")


def test_later_days_are_folded_up_once_enough_is_in_sight() -> None:
    board = Board(Index(a_plan()))
    job = board.job("L01.P1", {})
    assert job
    few, many = [replace(job, day="Mon")] * (LEAST_SHOWN - 1), [replace(job, day="Tue")] * 9
    days = by_day([*few, *many, replace(job, day="Wed")])
    assert [(day.name, len(day.jobs), day.is_folded) for day in days] == [
        ("Mon", LEAST_SHOWN - 1, False),
        ("Tue", 9, False),
        ("Wed", 1, True),
    ]
    assert by_day([*few, job, *many])[-1].is_folded
    changed = board.job("L02.P1", {})
    assert changed
    (day,) = by_day([job, changed])
    assert day.words == "2 steps, 1 h 45; changeovers 35 min"


def test_a_folded_day_says_what_is_in_it_and_keeps_its_steps(
    tablet: Tablet, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("planner_io.web.jobs.LEAST_SHOWN", 0)
    page = tablet.page("/station/Finisher")
    folded = page[page.index('<details data-fold="Mon 30 Nov">') : page.index("</details>")]
    assert "<b>Mon 30 Nov</b> <span" in folded
    assert "/step/L01.P2" in folded
    assert "/step/L01.P1" not in folded


def test_take_says_how_many_really_come(tablet: Tablet) -> None:
    assert "<b>5 sticks</b>, 5 × 20" in tablet.page("/step/L01.P2")
    tablet.tap("start", "L01.P1")
    tablet.clock.on(30)
    assert tablet.done("L01.P1", **{"scrap-0": "2"}).status_code == 303
    assert "<b>3 of 5 sticks</b>, 5 × 20" in tablet.page("/step/L01.P2")
    assert "<b>Step 1</b>, 3 of 5 sticks" in tablet.page("/cut/L01.SAW")
    tablet.tap("start", "L02.P1")
    assert re.search(r"[0-9]+ min · 3 of 5 sticks · ", tablet.page("/station/Finisher"))


def test_a_cut_list_says_which_of_its_bars_are_left_out(tablet: Tablet) -> None:
    assert "not come" not in text(tablet, "/cut/L01.SAW")
    tablet.tap("start", "L01.P1")
    tablet.clock.on(30)
    tablet.done("L01.P1", **{"scrap-0": "2"})
    page = text(tablet, "/cut/L01.SAW")
    assert '<p class="state">Cut 3 of 4: L01-4 does not come</p>' in page
    assert '<p class="state">Leave this out: L01-5 does not come</p>' in page


def test_the_papers_of_a_week_planned_again_leave_the_same_bars_out() -> None:
    plan = a_replanned_plan()
    assert plan.replan
    tags = [stick.tag for stick in plan.cut_lists[0].sticks[-2:]]
    scrap = tuple(Scrap(operation="L01.P1", line="1187/1", stick=tag, pieces=1) for tag in tags)
    replan = plan.replan.model_copy(update={"scrap": scrap})
    index = Index(plan.model_copy(update={"replan": replan}))
    (sheet,) = [each for each in cut_sheets(index) if each.lot == "L01"]
    told = [pattern.left_out(sheet.lost) for pattern in sheet.patterns]
    assert told == [
        "Cut 3 of 4: L01-4 does not come",
        "Leave this out: L01-5 does not come",
    ]


def test_a_step_of_a_card_on_another_day_names_it(tablet: Tablet) -> None:
    plan = tablet.plan
    card = plan.cards[0].model_copy(update={"operations": ("L01.P1", "L01.P2")})
    slots = tuple(
        slot.model_copy(update={"start_min": slot.start_min + 1440, "end_min": slot.end_min + 1440})
        if slot.operation == "L01.P2"
        else slot
        for slot in plan.slots
    )
    both = plan.model_copy(update={"cards": (card, *plan.cards[1:]), "slots": slots})
    page = Tablet(both, tablet.store.with_name("both.sqlite3")).page("/card/Finisher/1")
    assert '<p class="soft">7:20, ' in page
    assert '<p class="soft">Tue 1 Dec ' in page


def test_how_far_a_step_is_names_the_weekday(tablet: Tablet) -> None:
    tablet.tap("start", "L01.P1")
    tablet.clock.on(24 * 60)
    assert "Running since Mon 7:00" in tablet.page("/station/Finisher")
    tablet.done("L01.P1")
    assert "done Tue 7:00" in tablet.page("/station/Finisher")


def test_what_still_runs_at_a_station_is_told_before_another_step_begins(tablet: Tablet) -> None:
    tablet.tap("start", "L01.P1")
    told = "Not tapped done here: Finisher step 1, Finish P80, pass 1 of 2"
    assert told in tablet.page("/step/L02.P1")
    assert "on the same base" not in tablet.page("/step/L02.NOTCH")
    assert told not in tablet.page("/step/L01.P1")
    assert told not in tablet.page("/step/L01.SAW")
    tablet.tap("pause", "L01.P1")
    assert told not in tablet.page("/step/L02.P1")


def test_what_still_runs_on_the_same_base_is_told_too(tmp_path: Path) -> None:
    plan = on_one_base(a_plan(), "Finisher", "Notcher")
    tablet = Tablet(plan, tmp_path / "floor.sqlite3")
    tablet.tap("start", "L01.P1")
    told = "Not tapped done on the same base: Finisher step 1, Finish P80, pass 1 of 2"
    assert told in tablet.page("/step/L02.NOTCH")
    assert told not in tablet.page("/step/L01.SAW")


def test_a_step_at_the_saw_says_what_is_cut(tablet: Tablet) -> None:
    page = text(tablet, "/step/L01.SAW")
    assert "<dt>Cut</dt><dd>cut list L01: 40 × <span" in page
    assert "<dt>Then</dt>" not in page
    assert "<dt>Then</dt><dd>Finisher step 2" in text(tablet, "/step/L01.P1")


def test_a_step_that_moved_says_so_once(tmp_path: Path) -> None:
    plan = a_replanned_plan()
    assert plan.replan
    (moved,) = plan.replan.moved
    tablet = Tablet(plan, tmp_path / "floor.sqlite3")
    assert "<dt>Moved</dt><dd>was Finisher" in tablet.page(f"/step/{moved.operation}")
