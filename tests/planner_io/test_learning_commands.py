"""`brightrun log`, and plans with learned times at a chosen confidence."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from planner_io.cli import app
from tests.planner_io.books import a_book
from tests.planner_io.test_logbook import RUN
from tests.planner_io.workbook.sheets import Cell, a_table, a_workbook


def a_log(path: Path, *rows: dict[str, Cell]) -> Path:
    return a_workbook(path, Log=a_table([{**RUN, "Belt": "P120 stainless", **row} for row in rows]))


def run(*words: str | Path, status: int = 0) -> str:
    found = CliRunner().invoke(app, [str(word) for word in words])
    assert found.exit_code == status, found.output
    return found.output


@pytest.fixture
def belt(tmp_path: Path) -> str:
    from planner_io.logbook import read_log  # noqa: PLC0415 - only this fixture reads names

    names = read_log(a_log(tmp_path / "names.xlsx", {})).shop.belts
    return next(b.name for b in names if [f.value for f in b.families] == ["stainless"])


def test_log_says_what_the_runs_teach(tmp_path: Path, belt: str) -> None:
    rows: list[dict[str, Cell]] = [{"Belt": belt, "Minutes": 60 + n} for n in range(8)]
    said = run("log", a_log(tmp_path / "log.xlsx", *rows))
    assert "8 runs learned from" in said
    assert "slip" in said


def test_log_names_wrong_cells_and_still_learns_from_the_rest(tmp_path: Path, belt: str) -> None:
    file = a_log(tmp_path / "log.xlsx", {"Belt": belt, "Minutes": -4}, {"Belt": belt})
    said = run("log", file, status=3)
    assert "Log!I2" in said
    assert "the exit status is 3." in said
    assert "1 run learned from" in said


def test_a_plan_takes_learned_times_and_aims_at_a_confidence(tmp_path: Path, belt: str) -> None:
    week = a_book(tmp_path / "week.xlsx")
    rows: list[dict[str, Cell]] = [{"Belt": belt, "Minutes": 90} for _ in range(12)]
    log = a_log(tmp_path / "log.xlsx", *rows)
    minutes: list[int] = []
    learned = ("--log", str(log))
    ways: tuple[tuple[str, ...], ...] = ((), learned, (*learned, "--confidence", "95"))
    for number, extra in enumerate(ways):
        folder = tmp_path / f"plan{number}"
        said = run("plan", week, "--out", folder, "--seconds", "0.2", "--seed", "1", *extra)
        assert "nothing late in" in said
        run("audit", folder)
        made = json.loads((folder / "plan.json").read_text(encoding="utf-8"))
        minutes.append(sum(slot["minutes"] for slot in made["slots"]))
    assert minutes[0] < minutes[1] < minutes[2]
