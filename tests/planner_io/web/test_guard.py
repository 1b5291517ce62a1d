"""Who may ask: this server's own pages, under its own names, and nobody else's."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.planner_io.plans import a_plan
from tests.planner_io.web.floor import Tablet


@pytest.fixture
def tablet(tmp_path: Path) -> Tablet:
    return Tablet(a_plan(), tmp_path / "floor.sqlite3")


@pytest.mark.parametrize("origin", ["", "null", "http://elsewhere.test", "http://127.0.0.1:81"])
def test_a_post_from_elsewhere_changes_nothing(tablet: Tablet, origin: str) -> None:
    answer = tablet.post("/tap/start/L01.P1", {"token": "one"}, origin)
    assert answer.status_code == 403
    assert "Running since" not in tablet.page("/station/Finisher")


@pytest.mark.parametrize(
    ("host", "status"),
    [
        ("192.168.4.20:8420", 200),
        ("[::1]:8420", 200),
        ("shop.test:8420", 200),
        ("SHOP.test", 200),
        ("elsewhere.test", 421),
        ("elsewhere.test:8420", 421),
        ("", 421),
    ],
)
def test_it_answers_to_addresses_and_its_own_names(tablet: Tablet, host: str, status: int) -> None:
    assert tablet.client.get("/", headers={"Host": host}).status_code == status


def test_changes_are_by_post_alone(tablet: Tablet) -> None:
    assert tablet.client.get("/tap/start/L01.P1").status_code == 405


def test_a_form_that_is_too_long_is_refused(tablet: Tablet) -> None:
    answer = tablet.post("/tap/start/L01.P1", {"token": "one", "note": "x" * 70_000})
    assert answer.status_code == 413


def test_pages_ask_for_nothing_from_elsewhere(tablet: Tablet) -> None:
    for address in ("/", "/station/Finisher", "/card/Finisher/1", "/static/style.css"):
        answer = tablet.client.get(address)
        assert "default-src 'none'" in answer.headers["content-security-policy"]
        asked = re.findall(r'(?:href|src|action)="([^"]*)"|url\("([^"]*)"\)', answer.text)
        assert all((one or other).startswith("/") for one, other in asked)
        assert " style=" not in answer.text
        assert re.findall("<script[^>]*>[^<]*", answer.text) in (
            [],
            ['<script src="/static/contact.js" defer>'],
        )


def test_fonts_are_the_packages_own(tablet: Tablet) -> None:
    sheet = tablet.page("/static/style.css")
    fonts = re.findall(r'url\("([^"]+)"\)', sheet)
    assert len(fonts) == 3
    assert all(tablet.client.get(font).status_code == 200 for font in fonts)
