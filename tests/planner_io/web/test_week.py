"""The page of the whole week: what a planner looks for first, in words and as a picture."""

from __future__ import annotations

import html
import re
from pathlib import Path

from planner.records import Plan
from tests.planner_io.plans import a_plan, a_replanned_plan
from tests.planner_io.test_sureness import a_simulated_plan
from tests.planner_io.web.floor import Tablet


def week_of(plan: Plan, folder: Path) -> str:
    return Tablet(plan, folder / "floor.sqlite3").page("/week")


def test_it_says_what_is_late_and_what_would_help(tmp_path: Path) -> None:
    plan = a_plan()
    (late,) = plan.late
    page = week_of(plan, tmp_path)
    assert '<span class="red">LATE 1 h 48</span> <b>1187/2</b>' in page
    assert late.reason[1:] in html.unescape(page)
    assert "Late</h2>" not in week_of(plan.model_copy(update={"late": ()}), tmp_path)


def test_it_says_what_is_not_surely_on_time(tmp_path: Path) -> None:
    page = week_of(a_simulated_plan(0.64, 0.1), tmp_path)
    assert f"<b>On time in 64 %</b> <b>{a_plan().done[0].line}</b>" in page
    assert "on time in 10 %" in page
    assert "not surely" not in week_of(a_plan(), tmp_path)


def test_it_shows_the_run_order_as_a_picture_that_has_a_name(tmp_path: Path) -> None:
    page = week_of(a_plan(), tmp_path)
    assert 'role="img"><title>Run order by station and day</title>' in page


def test_it_says_what_moved_since_it_was_issued(tmp_path: Path) -> None:
    page = week_of(a_replanned_plan(), tmp_path)
    moved = page[page.index("Moved since it was issued") :]
    assert "Finisher Mon 30 Nov 8:00 → <b>Finisher Mon 30 Nov 9:50</b>" in moved
    assert "Moved since" not in week_of(a_plan(), tmp_path)


def test_its_account_adds_up_and_stands_beside_due_date_order(tmp_path: Path) -> None:
    plan = a_plan()
    page = week_of(plan, tmp_path)
    this, due = (stick for stick in plan.yardsticks if stick.name in ("this plan", "by due date"))
    foot = page[page.index("<tfoot>") : page.index("</tfoot>")]
    less = f"{this.changeover_min - due.changeover_min:+d}".replace("-", "−")
    assert re.findall("<td>([^<]+)</td>", foot) == [
        str(this.changeover_min),
        str(due.changeover_min),
        less,
    ]
    rows = re.findall(r'<tr><th scope="row">([^<]+)</th><td>(\d+)</td><td>(\d+)</td></tr>', page)
    assert [name for name, *_ in rows] == list(dict.fromkeys(row.station for row in plan.ledger))
    assert sum(int(minutes) for *_, minutes in rows) == this.changeover_min


def test_it_says_what_to_buy_by_when_and_not_for_how_much(tmp_path: Path) -> None:
    plan = a_plan()
    page = html.unescape(week_of(plan, tmp_path))
    first = plan.buy[0]
    assert f"<b>{first.count} × 20' 0\"</b>" in page
    assert "needed by" in page
    assert "$" not in page
    sticks = sum(row.count for row in plan.buy)
    summary = f'<summary><h2>Buy</h2> <span class="soft">{sticks} sticks of 1 kind</span>'
    assert summary in page
    assert "Buy</h2>" not in week_of(plan.model_copy(update={"buy": ()}), tmp_path)
