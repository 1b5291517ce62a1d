"""A server that runs goes on when the package beneath it changes, and says so when it cannot."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from planner_io.store import Store
from planner_io.web import app, files
from tests.planner_io.plans import a_plan
from tests.planner_io.web.floor import ADDRESS, Tablet

TYPES = {
    "/static/style.css": "text/css; charset=utf-8",
    "/static/contact.js": "text/javascript; charset=utf-8",
    "/fonts/SourceSansPro-Regular.otf": "font/otf",
    "/fonts/LICENSE.txt": "text/plain; charset=utf-8",
}


def test_a_server_goes_on_when_the_package_is_gone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    package, fonts = tmp_path / "web", tmp_path / "fonts"
    shutil.copytree(files.HERE, package)
    shutil.copytree(files.FONTS, fonts)
    monkeypatch.setattr(files, "HERE", package)
    monkeypatch.setattr(app, "HERE", package)
    monkeypatch.setattr(app, "FONTS", fonts)
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    shutil.rmtree(package)
    shutil.rmtree(fonts)
    for address in ("/", "/station/Finisher", "/card/Finisher/1", "/step/L01.P1", *TYPES):
        tablet.page(address)
    tablet.tap("start", "L01.P1")
    assert "There is no such page" in tablet.client.get("/nowhere").text


def test_every_file_has_its_type(tmp_path: Path) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")
    for address, kind in TYPES.items():
        answer = tablet.client.get(address)
        assert (answer.status_code, answer.headers["content-type"]) == (200, kind)
        folder = files.FONTS if "fonts" in address else files.HERE / "static"
        assert answer.content == (folder / address.rpartition("/")[2]).read_bytes()


def test_what_nobody_foresaw_is_told_in_a_sentence_with_the_way_out(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tablet = Tablet(a_plan(), tmp_path / "floor.sqlite3")

    def gone(self: Store) -> None:
        raise ModuleNotFoundError("planner_io.views.gone")

    monkeypatch.setattr(Store, "taps", gone)
    quiet = TestClient(tablet.client.app, base_url=ADDRESS, raise_server_exceptions=False)
    answer = quiet.get("/station/Finisher")
    assert answer.status_code == 500
    assert "This server failed (ModuleNotFoundError)" in answer.text
    assert "end it with Ctrl-C and start it again" in answer.text
    assert "views.gone" not in answer.text
