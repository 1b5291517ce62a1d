"""The tablet's pages: what they show, what a tap does, and what is refused in plain words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from planner.shop import What
from planner_io.store import Store
from planner_io.taps import RunReport, stands
from tests.planner_io.plans import a_plan, a_replanned_plan
from tests.planner_io.web.floor import Tablet


@pytest.fixture
def tablet(tmp_path: Path) -> Tablet:
    return Tablet(a_plan(), tmp_path / "floor.sqlite3")


def reports(tablet: Tablet) -> dict[str, RunReport | None]:
    kept = stands(Store(tablet.store, "the plan").taps())
    return {operation: found.report for operation, found in kept.items()}


def test_the_first_page_lists_the_stations_with_their_next_step(tablet: Tablet) -> None:
    page = tablet.page("/")
    assert re.findall(r'href="/station/([^"]+)"', page) == ["Finisher", "Saw", "Notcher", "Bender"]
    assert "0 of 4 steps done" in page
    assert "Next, Mon 30 Nov 7:20" in page


def test_the_first_page_leads_to_the_week_and_names_what_is_late(tablet: Tablet) -> None:
    page = tablet.page("/")
    assert '<a class="button" href="/week">The week</a>' in page
    assert '<p class="red">LATE: 1187/2</p>' in page
    punctual = tablet.plan.model_copy(update={"late": ()})
    assert "LATE" not in Tablet(punctual, tablet.store.with_name("punctual.sqlite3")).page("/")


def test_a_list_has_the_next_step_on_top_with_its_settings(tablet: Tablet) -> None:
    page = tablet.page("/station/Finisher")
    words = (
        "Mon 30 Nov 7:20 to 8:20",
        "Finish P80, pass 1 of 2",
        '<span class="one">1-<sup>1</sup>⁄<sub>32</sub></span>&#34;',
        "rail front to belt face",
        "from Rack B2",
    )
    assert all(word in page for word in words)
    assert page.index("pass 1 of 2") < page.index("pass 2 of 2")
    assert "1-<sup>1</sup>⁄<sub>2</sub></span>&#34; → 2&#34; (12 min)" in page
    assert page.count("Start run") == 1


def test_a_list_goes_packed_to_a_browser_that_takes_it_so(tablet: Tablet) -> None:
    packed = tablet.client.get("/station/Finisher", headers={"Accept-Encoding": "gzip"})
    plain = tablet.client.get("/station/Finisher", headers={"Accept-Encoding": "identity"})
    assert packed.headers["Content-Encoding"] == "gzip"
    assert "Content-Encoding" not in plain.headers
    assert 3 * int(packed.headers["Content-Length"]) < len(plain.content)


def test_a_later_step_of_a_card_has_its_settings_on_top_too(tablet: Tablet) -> None:
    plan = tablet.plan
    card = plan.cards[0].model_copy(update={"operations": ("L01.P1", "L01.P2")})
    both = plan.model_copy(update={"cards": (card,)})
    tablet = Tablet(both, tablet.store.with_name("both.sqlite3"))
    assert "As set for" not in tablet.page("/step/L01.P1")
    page = tablet.page("/step/L01.P2")
    assert "As set for step 1" in page
    assert page.count("rail front to belt face") == 1


def test_a_card_shows_its_cautions_settings_and_side_view(tablet: Tablet) -> None:
    page = tablet.page("/card/Finisher/1")
    assert "Lock out before the belt is changed (29 CFR 1910.147)." in page
    assert "<sup>3</sup>⁄<sub>8</sub>&#34;" in page
    assert '<div class="side"><svg' in page


def test_a_card_takes_the_taps_of_its_step_and_stays_open(tablet: Tablet) -> None:
    plan = tablet.plan
    card = plan.cards[0].model_copy(update={"operations": ("L01.P1", "L01.P2")})
    both = plan.model_copy(update={"cards": (card, *plan.cards[1:])})
    tablet = Tablet(both, tablet.store.with_name("both.sqlite3"))
    page = tablet.page("/card/Finisher/1")
    assert "<b>Step 1</b>, 5 sticks" in page
    assert page.index("Lock out") < page.index('action="/tap/set-up/L01.P1"')
    fields = dict(re.findall(r'name="([^"]+)" value="([^"]*)"', page))
    assert set(fields) == {"token", "page"}
    answer = tablet.post("/tap/start/L01.P1", fields)
    assert answer.headers["location"] == "/card/Finisher/1"
    assert "<b>Step 1</b>, 5 sticks: running since Mon 7:00" in tablet.page("/card/Finisher/1")
    tablet.clock.on(20)
    assert tablet.done("L01.P1").headers["location"] == "/station/Finisher"
    assert "<b>Step 2</b>" in tablet.page("/card/Finisher/1")
    tablet.tap("start", "L01.P2")
    tablet.clock.on(20)
    tablet.done("L01.P2")
    assert "/tap/" not in tablet.page("/card/Finisher/1")


def test_a_worn_belt_is_to_be_changed_where_the_plan_says_so(tmp_path: Path) -> None:
    plan = a_plan()
    worn = {"life_min": 30, "used_min": 29, "count": 0, "price_cents": 4_500}
    belts = tuple(belt.model_copy(update=worn) for belt in plan.shop.belts)
    shop = plan.shop.model_copy(update={"belts": belts})
    tablet = Tablet(plan.model_copy(update={"shop": shop}), tmp_path / "floor.sqlite3")
    assert "new P80 steel belt first" in tablet.page("/station/Finisher")


def test_what_is_late_says_so(tablet: Tablet) -> None:
    assert '<p class="red">LATE 1 h 48: 1187/2</p>' in tablet.page("/station/Notcher")


def test_the_saw_gets_its_cut_list_with_a_bar_for_each_pattern(tablet: Tablet) -> None:
    assert 'href="/cut/L01.SAW"' in tablet.page("/station/Saw")
    page = tablet.page("/cut/L01.SAW")
    assert "4 × 20' 0".replace("'", "&#39;") in page
    assert '9 × <span class="one">24-<sup>1</sup>⁄<sub>2</sub></span>' in page
    assert page.count("<title>Cut bar") == 2
    assert tablet.client.get("/cut/L01.P1").status_code == 404


def test_one_stick_is_not_counted_as_several(tablet: Tablet) -> None:
    plan = tablet.plan
    first, *others = plan.cut_lists
    (stick, *_) = first.sticks
    one = first.model_copy(
        update={"sticks": (stick.model_copy(update={"pieces": stick.pieces[:1]}),)}
    )
    cut_lists = (one, *others)
    short = plan.model_copy(update={"cut_lists": cut_lists})
    page = Tablet(short, tablet.store.with_name("short.sqlite3")).page("/cut/L01.SAW")
    assert '<p class="aside">1 stick, 1 piece</p>' in page


def test_taps_lead_from_set_up_to_done_and_done_steps_shrink(tablet: Tablet) -> None:
    assert tablet.tap("set-up", "L01.P1").headers["location"] == "/station/Finisher"
    assert "Set-up since Mon 7:00" in tablet.page("/station/Finisher")
    tablet.clock.on(7)
    tablet.tap("start", "L01.P1")
    tablet.clock.on(58)
    assert "Running since Mon 7:07" in tablet.page("/step/L01.P1")
    assert tablet.done("L01.P1", who="Ana", note="one stick wavy").status_code == 303
    page = tablet.page("/station/Finisher")
    assert "1 of 4 steps done" in page
    assert page.index("pass 2 of 2") < page.index("pass 1 of 2")
    kept = reports(tablet)["L01.P1"]
    assert kept == RunReport(
        5, 58, "Ana", "one stick wavy", 4_500, "P80 steel", "", ((What.BELT, 7),)
    )


def test_minutes_offered_leave_the_shops_breaks_out(tablet: Tablet) -> None:
    tablet.clock.on(5 * 60 - 10)
    tablet.tap("start", "L01.P1")
    tablet.clock.on(60)
    assert tablet.form("L01.P1")["minutes"] == "30"


def test_minutes_offered_leave_pauses_out_and_a_pause_is_seen_everywhere(tablet: Tablet) -> None:
    tablet.tap("start", "L01.P1")
    tablet.clock.on(20)
    tablet.tap("pause", "L01.P1")
    tablet.clock.on(15)
    for address in ("/", "/station/Finisher", "/step/L01.P1"):
        assert "Paused since Mon 7:20" in tablet.page(address)
    assert 'action="/tap/pause/' not in tablet.page("/station/Finisher")
    tablet.tap("resume", "L01.P1")
    tablet.clock.on(10)
    assert "Running since Mon 7:00" in tablet.page("/station/Finisher")
    assert tablet.form("L01.P1")["minutes"] == "30"


def test_a_station_says_how_far_it_is_behind_once_somebody_taps_there(tablet: Tablet) -> None:
    tablet.clock.on(60)
    for address in ("/", "/station/Finisher"):
        assert "behind the plan" not in tablet.page(address)
    tablet.tap("start", "L01.P1")
    for address in ("/", "/station/Finisher"):
        assert tablet.page(address).count("<b>40 min behind the plan</b>") == 1
    tablet.clock.on(90)
    tablet.done("L01.P1")
    tablet.clock.on(9)
    late = tablet.clock.now
    assert "1 h 19 behind the plan" in tablet.page("/")
    assert late.hour == 9


def test_a_station_that_keeps_to_the_plan_within_minutes_says_nothing(tablet: Tablet) -> None:
    tablet.clock.on(29)
    tablet.tap("start", "L01.P1")
    assert "behind the plan" not in tablet.page("/station/Finisher")


def test_work_outside_the_hours_counts_as_it_was(tablet: Tablet) -> None:
    tablet.clock.on(10 * 60)
    tablet.tap("start", "L01.P1")
    tablet.clock.on(25)
    assert tablet.form("L01.P1")["minutes"] == "25"


def test_set_up_minutes_offered_add_up_to_what_was_measured(tablet: Tablet) -> None:
    tablet.tap("set-up", "L02.P1")
    tablet.clock.on(41)
    tablet.tap("start", "L02.P1")
    form = tablet.form("L02.P1")
    offered = [int(value or 0) for name, value in form.items() if name.startswith("setup-")]
    assert sum(offered) == 41
    assert int(form["setup-od"]) > int(form["setup-belt"]) > 0
    assert form["setup-rail"] == ""


def test_a_double_tap_counts_once(tablet: Tablet) -> None:
    assert tablet.tap("start", "L01.P1", "same").status_code == 303
    assert tablet.tap("start", "L01.P1", "same").status_code == 303
    tablet.clock.on(20)
    form = tablet.form("L01.P1")
    assert tablet.post("/done/L01.P1", form).status_code == 303
    tablet.clock.on(1)
    assert tablet.post("/done/L01.P1", form).status_code == 303
    assert len(Store(tablet.store, "the plan").taps()) == 2


def test_a_tap_can_be_taken_back(tablet: Tablet) -> None:
    tablet.tap("start", "L01.P1")
    assert "Take back last tap" in tablet.page("/station/Finisher")
    tablet.tap("back", "L01.P1")
    assert "Running since" not in tablet.page("/station/Finisher")


def test_a_step_before_that_is_not_done_is_named(tablet: Tablet) -> None:
    before = "Not tapped done before it: Finisher step 2, Finish P120, pass 2 of 2"
    assert before in tablet.page("/station/Saw")


def test_the_end_is_when_done_was_tapped_and_not_when_the_form_was_sent(tablet: Tablet) -> None:
    tablet.tap("start", "L01.P1")
    tablet.clock.on(30)
    form = tablet.form("L01.P1")
    tablet.clock.on(4)
    tablet.post("/done/L01.P1", form)
    (found,) = stands(Store(tablet.store, "the plan").taps()).values()
    assert found.done_at is not None
    assert f"{found.done_at:%H:%M}" == "07:30"


def test_a_restart_loses_nothing(tablet: Tablet) -> None:
    tablet.tap("start", "L01.P1")
    again = Tablet(tablet.plan, tablet.store, tablet.clock)
    assert "Running since Mon 7:00" in again.page("/station/Finisher")


def test_what_was_done_before_planning_again_is_done(tmp_path: Path) -> None:
    page = Tablet(a_replanned_plan(), tmp_path / "floor.sqlite3").page("/station/Finisher")
    assert "1 of 4 steps done" in page


def test_what_ran_when_the_week_was_planned_again_runs_on(tmp_path: Path) -> None:
    tablet = Tablet(a_replanned_plan(), tmp_path / "floor.sqlite3")
    tablet.clock.on(110)
    page = tablet.page("/station/Finisher")
    assert 'href="/done/L01.P2">Done</a>' in page
    assert 'action="/tap/start/L01.P2"' not in page
    slot = next(slot for slot in tablet.plan.slots if slot.operation == "L01.P2")
    started = f"{slot.start_min // 60}:{slot.start_min % 60:02d}"
    assert f"Running since Mon {started}" in page
    assert "L01.P2" not in tablet.page("/progress.csv")
    assert tablet.done("L01.P2").status_code == 303
    assert "L01.P2,,,done,2026-11-30 0" in tablet.page("/progress.csv")
    assert "2 of 4 steps done" in tablet.page("/station/Finisher")


def test_what_did_not_run_after_all_is_taken_back_and_told(tmp_path: Path) -> None:
    tablet = Tablet(a_replanned_plan(), tmp_path / "floor.sqlite3")
    tablet.clock.on(110)
    assert tablet.tap("back", "L01.P2").status_code == 303
    assert "Running since" not in tablet.page("/step/L01.P2")
    assert tablet.tap("back", "L01.P2", "once more").status_code == 409


def test_the_step_that_was_tapped_done_last_is_at_hand(tablet: Tablet) -> None:
    assert "Last done:" not in tablet.page("/station/Finisher")
    for operation in ("L02.P1", "L01.P1"):
        tablet.tap("start", operation)
        tablet.clock.on(9)
        tablet.done(operation)
    page = tablet.page("/station/Finisher")
    last = page.index("Last done:")
    assert "/step/L01.P1" in page[last - 60 : last]
    assert last < page.index('<details data-fold="done">')
    assert page.count("Last done:") == 1


def test_a_list_says_what_moved_since_it_was_issued(tmp_path: Path) -> None:
    plan = a_replanned_plan()
    assert plan.replan
    (moved,) = plan.replan.moved
    page = Tablet(plan, tmp_path / "floor.sqlite3").page("/station/Finisher")
    later = page.index(f'<a class="later" href="/step/{moved.operation}">')
    assert "Moved, was Finisher Mon 30 Nov 8:00" in page[later:]


def test_a_week_planned_again_says_when_it_was(tmp_path: Path) -> None:
    page = Tablet(a_replanned_plan(), tmp_path / "floor.sqlite3").page("/")
    assert "as of Mon 30 Nov 8:40" in page
    assert "as of" not in Tablet(a_plan(), tmp_path / "other.sqlite3").page("/")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({"pieces": "6"}, "Sticks: read “6”, expected a whole number from 0 to 5"),
        ({"pieces": ""}, "Sticks: read “”, expected a whole number"),
        ({"scrap-0": "6"}, "Scrap: sticks: read “6”, expected a whole number from 0 to 5"),
        ({"pieces": "3", "scrap-0": "1"}, "Sticks: 5 came and 3 are done; enter the others as"),
        ({"minutes": "0"}, "Minutes of the run: read “0”"),
        ({"minutes": "soon"}, "Minutes of the run: read “soon”"),
        ({"tilt": "40"}, "Tilt: read “40”"),
        ({"belt": "P1"}, "Belt: choose one"),
        ({"setup-od": "-3"}, "Set-up minutes: OD: read “-3”"),
        ({"note": "x" * 201}, "Note: it is longer than 200"),
    ],
)
def test_a_wrong_entry_is_named_and_nothing_else_is_lost(
    tablet: Tablet, changes: dict[str, str], words: str
) -> None:
    tablet.tap("start", "L01.P1")
    tablet.clock.on(9)
    answer = tablet.done("L01.P1", who="Ana of the early shift", **changes)
    assert answer.status_code == 422
    assert words in answer.text
    assert "Ana of the early shift" in answer.text
    assert reports(tablet)["L01.P1"] is None


@pytest.mark.parametrize(
    ("kind", "status", "words"),
    [
        ("start", 409, "running already"),
        ("done", 404, "no tap “done”"),
        ("eat", 404, "no tap “eat”"),
    ],
)
def test_a_tap_that_does_not_fit_is_told_in_a_sentence(
    tablet: Tablet, kind: str, status: int, words: str
) -> None:
    tablet.tap("start", "L01.P1")
    answer = tablet.tap(kind, "L01.P1", "another")
    assert (answer.status_code, words in answer.text) == (status, True)


def test_a_refused_tap_shows_how_far_the_step_is_and_leads_back_to_its_list(tablet: Tablet) -> None:
    tablet.tap("start", "L01.P1")
    tablet.clock.on(6)
    for page in (tablet.tap("start", "L01.P1").text, tablet.client.get("/done/L02.P1").text):
        assert '<a class="button main" href="/station/Finisher">Back to Finisher</a>' in page
        assert "Back to the stations" not in page
    assert "Finisher step 1: running since Mon 7:00" in tablet.tap("set-up", "L01.P1").text


def test_done_before_start_is_told_in_a_sentence(tablet: Tablet) -> None:
    answer = tablet.client.get("/done/L01.P1")
    assert answer.status_code == 409
    assert "tap Start run first" in answer.text


@pytest.mark.parametrize("ended", ["", "yesterday", "2030-01-01T00:00:00", "2020-01-01T00:00:00"])
def test_an_end_that_cannot_be_is_refused(tablet: Tablet, ended: str) -> None:
    tablet.tap("start", "L01.P1")
    tablet.clock.on(9)
    answer = tablet.done("L01.P1", ended=ended)
    assert (answer.status_code, "out of date" in answer.text) == (409, True)


@pytest.mark.parametrize(
    "address",
    ["/station/Lathe", "/card/Finisher/99", "/step/L99", "/done/L99", "/nowhere", "/fonts/x.otf"],
)
def test_what_is_not_there_is_told_in_a_sentence(tablet: Tablet, address: str) -> None:
    answer = tablet.client.get(address)
    assert answer.status_code == 404
    assert "Back to the stations" in answer.text


def test_what_people_typed_stays_text(tmp_path: Path) -> None:
    bad = "<script>alert(1)</script>"
    tablet = Tablet(a_plan(part=bad, shop_name=bad), tmp_path / "floor.sqlite3")
    tablet.tap("start", "L01.P1")
    tablet.clock.on(3)
    tablet.done("L01.P1", who=bad, note=bad)
    for address in ("/", "/station/Finisher", "/station/Bender", "/step/L01.P1"):
        page = tablet.page(address)
        assert page.count("<script") == 1
    assert "&lt;script&gt;" in page


def test_opening_the_address_of_a_tap_is_told_in_plain_words(tablet: Tablet) -> None:
    answer = tablet.client.get("/tap/start/L01.P1")
    assert answer.status_code == 405
    assert "takes taps alone, so nothing was changed" in answer.text


def test_an_order_line_on_a_card_is_not_read_as_a_fraction(tmp_path: Path) -> None:
    plan = a_plan()
    remark = '1187/1: bend 1: start 9-1/16" from the first end'
    card = plan.cards[0].model_copy(update={"remarks": (remark,)})
    cards = (card, *plan.cards[1:])
    tablet = Tablet(plan.model_copy(update={"cards": cards}), tmp_path / "floor.sqlite3")
    page = tablet.page("/card/Finisher/1")
    assert "1187/1: bend 1: start <span" in page
    assert "9-<sup>1</sup>⁄<sub>16</sub></span>&#34; from" in page
