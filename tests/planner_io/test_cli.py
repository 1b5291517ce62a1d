"""The commands as users type them: results, exit statuses, and plain sentences when it fails."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from openpyxl import load_workbook

from planner.plan import make_plan
from planner.records import FORMAT, Plan
from planner_io import cli, planning
from planner_io.commands import audit as audit_command
from planner_io.plan_file import plan_bytes, read_plan
from tests.audit.weeks import a_plan
from tests.planner_io.books import FRIDAY, a_book, a_row

FILES = {"plan.json", "week.xlsx", "packet.pdf"}
QUICK = ("--seconds", "0.3")


class Said:
    """What a command printed and how it ended."""

    def __init__(self, status: int, out: str, err: str) -> None:
        self.status, self.out, self.err = status, out, err


@pytest.fixture
def run(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Command:
    monkeypatch.chdir(tmp_path)
    return Command(monkeypatch, capsys)


class Command:
    """Runs `brightrun` in this process, in an empty folder."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        self._monkeypatch, self._capsys = monkeypatch, capsys

    def __call__(self, *words: str | Path) -> Said:
        self._monkeypatch.setattr(sys, "argv", ["brightrun", *map(str, words)])
        with pytest.raises(SystemExit) as ended:
            cli.main()
        printed = self._capsys.readouterr()
        assert "Traceback" not in printed.out + printed.err
        code = ended.value.code
        return Said(code if isinstance(code, int) else 0, printed.out, printed.err)


def test_a_week_is_planned_and_proven(run: Command, tmp_path: Path) -> None:
    book = a_book(tmp_path / "small.xlsx")
    planned = run("plan", book, *QUICK, "--start", "2026-11-30")
    assert planned.status == 0
    assert {entry.name for entry in (tmp_path / "plan-small").iterdir()} == FILES
    for word in ("2 order lines in 2 lots", "Changeovers", "Late", "Buy", "Cut lists", "Papers"):
        assert word in planned.out
    assert "Planning from 2026-11-30, as asked for." in planned.err
    audited = run("audit", "plan-small")
    assert (audited.status, audited.err) == (0, "")
    assert "the plan holds" in audited.out


def test_the_same_week_gives_the_same_bytes(run: Command, tmp_path: Path) -> None:
    book = a_book(tmp_path / "small.xlsx")
    for out in ("a", "b"):
        assert run("plan", book, *QUICK, "--start", "2026-11-30", "--out", out).status == 0
    for name in FILES:
        assert (tmp_path / "a" / name).read_bytes() == (tmp_path / "b" / name).read_bytes()


def test_options_reach_the_plan(run: Command, tmp_path: Path) -> None:
    book = a_book(tmp_path / "small.xlsx")
    words = ("--seed", "7", "--lots", "by-due-date", "--out", "x/y", "--start", "2026-12-01")
    assert run("plan", book, *QUICK, *words).status == 0
    options = read_plan(tmp_path / "x" / "y").options
    assert (options.seed, options.lots, options.seconds) == (7, "by-due-date", 0.3)
    assert options.start == date(2026, 12, 1)


def test_without_a_start_the_plan_begins_on_a_monday(
    run: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    book = a_book(tmp_path / "small.xlsx", a_row(Due=FRIDAY + timedelta(days=700)))
    planned = run("plan", book, *QUICK)
    start = read_plan(tmp_path / "plan-small").options.start
    assert start.weekday() == 0
    assert 0 <= (start - date.today()).days < 7
    because = "today" if start == date.today() else "next Monday"
    assert f"Planning from {start}, {because}." in planned.err


def test_bad_rows_stop_a_plan_with_every_cell(run: Command, tmp_path: Path) -> None:
    book = a_book(tmp_path / "bad.xlsx", a_row("1"), a_row("2", OD="fat"), a_row("3", Qty=-1))
    planned = run("plan", book, *QUICK)
    assert planned.status == 1
    assert "error: Orders!H3: " in planned.err
    assert "error: Orders!E4: " in planned.err
    assert "--keep-going" in planned.err
    assert list(tmp_path.glob("plan*")) == []


def test_good_rows_are_planned_when_told_to_keep_going(run: Command, tmp_path: Path) -> None:
    book = a_book(tmp_path / "bad.xlsx", a_row("1"), a_row("2", OD="fat"))
    planned = run("plan", book, *QUICK, "--keep-going", "--start", "2026-11-30")
    assert planned.status == 3
    last = planned.err.splitlines()[-1]
    assert last.startswith("This plan is without 1 row that could not be read: ")
    assert last.endswith("the exit status is 3.")
    plan = read_plan(tmp_path / "plan-bad")
    assert [line.key for line in plan.orders] == ["1187/1"]
    assert any(finding.cell == "H3" for finding in plan.findings)


def test_a_line_for_which_tube_is_short_is_told_at_the_end_and_by_the_exit_status(
    run: Command, tmp_path: Path
) -> None:
    """One stick on the rack and none to buy: enough for four pieces, not for twelve."""
    book = a_book(tmp_path / "short.xlsx", a_row("1", Qty=4), a_row("2"))
    written = load_workbook(book)
    stock = written.create_sheet("Stock")
    stock.append(("Material", "Grade", "OD", "Wall", "Surface", "Length", "Count", "Price"))
    stock.append(("stainless", "304", "1-1/2", ".065", "bright", "20'", 1, 60))
    written.save(book)
    planned = run("plan", book, *QUICK, "--start", "2026-11-30")
    assert planned.status == 3
    assert "Left out     1 order line: 1187/2" in planned.out
    assert planned.err.splitlines()[-1] == (
        "This plan is without 1 order line: see the errors above; the exit status is 3."
    )


def test_keeping_going_with_no_good_row_still_names_every_cell(
    run: Command, tmp_path: Path
) -> None:
    book = a_book(tmp_path / "bad.xlsx", a_row("1", Qty=0))
    planned = run("plan", book, *QUICK, "--keep-going", "--start", "2026-11-30")
    assert planned.status == 1
    assert "error: Orders!E2: " in planned.err
    assert "no row is left without them" in planned.err


def test_when_no_line_can_be_made_every_error_is_told(run: Command, tmp_path: Path) -> None:
    book = a_book(tmp_path / "bad.xlsx", a_row("1", OD="12"), a_row("2", Qty=0))
    planned = run("plan", book, *QUICK, "--keep-going", "--start", "2026-11-30")
    assert planned.status == 1
    assert "Orders!A2" in planned.err
    assert "Orders!E3" in planned.err
    assert "no row is left without them" in planned.err
    assert list(tmp_path.glob("plan*")) == []


def test_a_line_that_cannot_be_made_stops_a_plan_too(run: Command, tmp_path: Path) -> None:
    book = a_book(tmp_path / "long.xlsx", a_row("1"), a_row("2", Length="90'"))
    planned = run("plan", book, *QUICK)
    assert planned.status == 1
    assert "Line 1187/2: " in planned.err


def test_a_week_that_does_not_fit_is_said_in_one_sentence(run: Command, tmp_path: Path) -> None:
    book = a_book(tmp_path / "huge.xlsx", a_row("1", Qty=9000), a_row("2", Qty=9000))
    planned = run("plan", book, *QUICK, "--start", "2026-11-30", "--days", "5")
    assert planned.status == 1
    assert "The week does not fit into its 5 days: pass " in planned.err
    assert " of lot L01 (1187/1, 1187/2) would end later" in planned.err
    assert list(tmp_path.glob("plan*")) == []


def with_changes(path: Path, **minutes: int) -> Path:
    """A book whose finisher takes so long to change each thing, for an OD that is not on it."""
    book = a_book(path, a_row("1", OD='2"'))
    written = load_workbook(book)
    sheet = written.create_sheet("Changeovers")
    sheet.append(["Station", "What", "From", "To", "Minutes"])
    for what, each in minutes.items():
        sheet.append(["finisher", what, None, None, each])
    written.save(book)
    return book


def test_changes_that_fit_alone_and_not_together_are_named_and_not_the_week(
    run: Command, tmp_path: Path
) -> None:
    book = with_changes(tmp_path / "a.xlsx", OD=100, belt=100)
    planned = run("plan", book, *QUICK, "--start", "2026-11-30")
    assert planned.status == 1
    assert "error: The changeover on " in planned.err
    assert " for pass 1 of lot L01 (1187/1) takes 200 min" in planned.err
    assert "OD 100 min" in planned.err
    assert "belt 100 min" in planned.err
    assert "The week does not fit" not in planned.err
    assert "|" not in planned.err


def test_keeping_going_with_a_changeover_that_is_too_long_ends_in_the_shops_words(
    run: Command, tmp_path: Path
) -> None:
    book = with_changes(tmp_path / "a.xlsx", OD=2000)
    planned = run("plan", book, *QUICK, "--start", "2026-11-30", "--keep-going")
    assert planned.status == 1
    assert "error: Changing OD on " in planned.err
    assert "takes 2000 min, but its longest stretch without a break is" in planned.err
    assert "|" not in planned.err


def test_a_line_that_was_due_before_the_plan_begins_is_doubted(
    run: Command, tmp_path: Path
) -> None:
    book = a_book(tmp_path / "a.xlsx")
    later = FRIDAY + timedelta(days=3)
    planned = run("plan", book, *QUICK, "--start", f"{later:%Y-%m-%d}")
    assert planned.status == 0
    assert f"due on {FRIDAY:%Y-%m-%d}, before the plan starts on {later:%Y-%m-%d}" in planned.err
    assert "before the plan" not in run("plan", book, *QUICK, "--start", f"{FRIDAY:%Y-%m-%d}").err


def test_a_line_due_before_the_workbooks_own_start_is_doubted_once(
    run: Command, tmp_path: Path
) -> None:
    book = a_book(tmp_path / "a.xlsx", a_row("1"))
    written = load_workbook(book)
    settings = written.create_sheet("Settings")
    settings.append(["Station", "Setting", "Value"])
    settings.append(["House", "Plan starts", FRIDAY + timedelta(days=3)])
    written.save(book)
    planned = run("plan", book, *QUICK)
    assert planned.status == 0
    assert planned.err.count(f"{FRIDAY:%Y-%m-%d}, before the plan") == 1


def test_a_start_that_is_mistyped_is_found(run: Command, tmp_path: Path) -> None:
    for start in ("2006-01-01", "2099-12-31"):
        planned = run("plan", a_book(tmp_path / "a.xlsx"), *QUICK, "--start", start)
        assert planned.status == 1
        assert "error: Orders!A2: Line 1187/1 is due on 2026-12-04, years away" in planned.err


def test_a_folder_instead_of_a_workbook_is_said(run: Command, tmp_path: Path) -> None:
    planned = run("plan", ".")
    assert planned.status == 1
    assert planned.err == "error: .: this is a folder; give the workbook in it.\n"


def test_nothing_to_plan_is_said(run: Command, tmp_path: Path) -> None:
    book = a_book(tmp_path / "bad.xlsx", a_row("1", OD="fat"))
    planned = run("plan", book, *QUICK, "--keep-going")
    assert planned.status == 1
    assert "error: " in planned.err
    assert list(tmp_path.glob("plan*")) == []


def test_an_earlier_plan_is_replaced(run: Command, tmp_path: Path) -> None:
    book = a_book(tmp_path / "small.xlsx")
    for seed in ("1", "2"):
        words = ("--start", "2026-11-30", "--seed", seed)
        assert run("plan", book, *QUICK, *words).status == 0
    assert read_plan(tmp_path / "plan-small").options.seed == 2


def test_another_folder_is_left_alone(run: Command, tmp_path: Path) -> None:
    book = a_book(tmp_path / "small.xlsx")
    (tmp_path / "photos").mkdir()
    (tmp_path / "photos" / "cat.jpg").write_bytes(b"cat")
    planned = run("plan", book, *QUICK, "--out", "photos")
    assert planned.status == 1
    assert "error: photos: this folder holds something else than a plan" in planned.err
    assert [entry.name for entry in (tmp_path / "photos").iterdir()] == ["cat.jpg"]


def test_a_plan_that_fails_its_audit_is_not_written(
    run: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def wrong(*args: Any) -> Plan:
        return make_plan(*args).model_copy(update={"ledger": ()})

    monkeypatch.setattr(planning, "make_plan", wrong)
    planned = run("plan", a_book(tmp_path / "small.xlsx"), *QUICK)
    assert planned.status == 1
    assert "error: Invariant 6: " in planned.err
    assert list(tmp_path.glob("plan*")) == []


def test_a_check_lists_what_was_read(run: Command, tmp_path: Path) -> None:
    checked = run("check", a_book(tmp_path / "small.xlsx"))
    assert checked.status == 0
    assert '1.500" × 0.065" stainless 304' in checked.out
    assert "Orders!A2" in checked.out
    assert "0 errors" in checked.out


def test_a_check_knows_the_first_day_that_is_asked_for(run: Command, tmp_path: Path) -> None:
    book = a_book(tmp_path / "small.xlsx")
    later = FRIDAY + timedelta(days=3)
    checked = run("check", book, "--start", f"{later:%Y-%m-%d}")
    assert checked.status == 0
    assert f"warning: Orders!M2, M3: Due: due on {FRIDAY:%Y-%m-%d}, before" in checked.out
    assert "before the plan" not in run("check", book, "--start", f"{FRIDAY:%Y-%m-%d}").out
    far = run("check", book, "--start", "2006-01-01")
    assert far.status == 1
    assert "error: Orders!A2: Line 1187/1 is due on 2026-12-04, years away" in far.out


def test_dates_without_a_year_are_planned_without_a_first_day(run: Command, tmp_path: Path) -> None:
    due = date.today() + timedelta(days=20)
    book = a_book(tmp_path / "small.xlsx", a_row("1", Due=f"{due.day} {due:%b}"))
    checked = run("check", book)
    assert checked.status == 0
    assert f"read as {due.day} {due:%b %Y}, the nearest to today" in checked.out
    assert run("plan", book, *QUICK).status == 0


def test_a_check_gives_json_in_nanometres(run: Command, tmp_path: Path) -> None:
    book = a_book(tmp_path / "small.xlsx", a_row("1"), a_row("2", OD="fat"))
    checked = run("check", "--json", book)
    found = json.loads(checked.out)
    assert checked.status == 1
    assert found["orders"][0]["od_nm"] == 38_100_000
    assert found["orders"][0]["blank_nm"] == 1_219_200_000
    assert (found["problems"][0]["cell"], found["problems"][0]["severity"]) == ("H3", "error")


@pytest.mark.parametrize("name", ["none.xlsx", "empty.xlsx", "text.xlsx"])
def test_a_file_that_cannot_be_read_is_one_sentence(
    run: Command, tmp_path: Path, name: str
) -> None:
    (tmp_path / "empty.xlsx").write_bytes(b"")
    (tmp_path / "text.xlsx").write_bytes(b"PK\x03\x04 not a workbook")
    for words in (("check", name), ("plan", name), ("plan", name, "--shop", name)):
        said = run(*words)
        assert said.status == 1
        assert name in said.out + said.err
    found = json.loads(run("check", name, "--json").out)
    assert found["problems"][0]["severity"] == "error"


def test_a_template_is_written_once(run: Command, tmp_path: Path) -> None:
    assert run("template", "mine.xlsx").status == 0
    again = run("template", "mine.xlsx")
    assert again.status == 1
    assert "it is there already" in again.err
    assert run("template", "mine.xlsx", "--force").status == 0
    assert "give it that ending" in run("template", "mine.doc").err


def test_a_template_as_it_is_lacks_order_lines_and_nothing_else(run: Command) -> None:
    assert run("template", "mine.xlsx").status == 0
    checked, planned = run("check", "mine.xlsx"), run("plan", "mine.xlsx", *QUICK)
    assert (checked.status, planned.status) == (1, 1)
    assert "error: There is no order line to plan: fill in the sheet Orders." in checked.out
    assert "1 error and" in checked.out
    assert "There is no order line to plan" in planned.err


def test_an_audit_names_what_does_not_hold(run: Command, tmp_path: Path) -> None:
    assert run("plan", a_book(tmp_path / "small.xlsx"), *QUICK, "--out", "p").status == 0
    file = tmp_path / "p" / "plan.json"
    plan = json.loads(file.read_text(encoding="utf-8"))
    plan["slots"][0]["end_min"] += 5
    file.write_text(json.dumps(plan), encoding="utf-8")
    audited = run("audit", "p")
    assert audited.status == 1
    assert "error: Invariant 3: " in audited.err
    assert "the plan breaks" in audited.err


def test_an_audit_says_when_another_version_made_a_plan_that_does_not_hold(
    run: Command, tmp_path: Path
) -> None:
    broken = a_plan().model_copy(update={"version": "0.0.1", "ledger": ()})
    (tmp_path / "plan.json").write_bytes(plan_bytes(broken))
    assert "It was made by brightrun 0.0.1; " in run("audit", ".").err


def test_cards_of_another_version_are_told_as_such_and_not_as_errors(
    run: Command, tmp_path: Path
) -> None:
    assert run("plan", a_book(tmp_path / "small.xlsx"), *QUICK, "--out", "p").status == 0
    file = tmp_path / "p" / "plan.json"
    plan = json.loads(file.read_text(encoding="utf-8"))
    plan["cards"][0]["cautions"] = []
    for made_by, status in ((plan["version"], 1), ("0.0.1", 0)):
        file.write_text(json.dumps(plan | {"version": made_by}), encoding="utf-8")
        audited = run("audit", "p")
        assert audited.status == status
        assert ("error: " in audited.err) == (status == 1)
    assert "warning: The plan was written by another version, brightrun 0.0.1; " in audited.err
    assert "holds, but for the words on its cards that are not proven" in audited.out


@pytest.mark.parametrize(
    "words",
    [
        "audit old",
        "ledger old",
        "serve old",
        "serve new --after old",
        "plan week.xlsx --after old --now 2026-11-30T10:00",
    ],
)
def test_a_plan_of_another_format_is_one_sentence_with_the_way_out(
    words: str, run: Command, tmp_path: Path
) -> None:
    a_book(tmp_path / "week.xlsx", a_row())
    for folder, number in (("old", FORMAT - 1), ("new", FORMAT)):
        (tmp_path / folder).mkdir()
        plan = json.loads(plan_bytes(a_plan())) | {"format": number}
        (tmp_path / folder / "plan.json").write_text(json.dumps(plan))
    found = run(*words.split())
    assert (found.status, found.out) == (1, "")
    file = Path("old") / "plan.json"
    assert f"{file}: it is a plan of format {FORMAT - 1}, written by another brightrun" in found.err
    assert "Plan the week again with `brightrun plan`, or go on with the brightrun" in found.err
    assert "Invariant" not in found.err


def test_an_audit_of_no_plan_is_one_sentence(run: Command, tmp_path: Path) -> None:
    audited = run("audit", "nowhere")
    assert audited.status == 1
    assert audited.err.count("\n") == 1


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("plan", "ORDERS is missing: Workbook with the orders"),
        ("paint x.xlsx", "No such command 'paint'"),
        ("plan x.xlsx --seconds soon", '--seconds: read "soon", expected a number from 0.1.'),
        ("plan x.xlsx --seconds nan", '--seconds: read "nan", expected a number from 0.1.'),
        ("plan x.xlsx --seconds", "--seconds needs a value after it."),
        ("plan x.xlsx --days 0", '--days: read "0", expected a whole number from 1 to 365.'),
        ("plan x.xlsx --seed 1.5", '--seed: read "1.5", expected a whole number from 0.'),
        ("plan x.xlsx --start soon", '--start: read "soon", expected a date such as 2026-11-30'),
        ("plan x.xlsx --lots some", '--lots: read "some", expected auto or merge or '),
        ("plan x.xlsx --secnds 3", "There is no option --secnds; did you mean --seconds"),
        ("check x.xlsx --yaml", "There is no option --yaml."),
        ("check my orders.xlsx", "“orders.xlsx” is too much; put a name with spaces into"),
    ],
)
def test_a_mistyped_command_is_one_sentence_and_where_help_is(
    run: Command, words: str, sentence: str
) -> None:
    said = run(*words.split())
    assert said.status == 2
    first, second = said.err.splitlines()
    assert first.startswith(f"error: {sentence}")
    assert "--help tells" in second


def test_what_nobody_expected_is_one_sentence_and_a_file(
    run: Command, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("secret")

    monkeypatch.setattr(audit_command, "read_plan", broken)
    monkeypatch.setenv("TMPDIR", str(tmp_path))
    monkeypatch.setattr("tempfile.tempdir", None)
    said = run("audit", "p")
    assert said.status == 1
    assert said.err.startswith("error: brightrun itself failed (ZeroDivisionError)")
    (details,) = tmp_path.glob("brightrun-*.txt")
    assert "ZeroDivisionError: secret" in details.read_text(encoding="utf-8")
    assert str(details) in said.err


def test_help_and_version_need_no_workbook(run: Command) -> None:
    helped, told = run("--help"), run("--version")
    assert (helped.status, told.status) == (0, 0)
    for name in ("template", "check", "plan", "audit"):
        assert name in helped.out
    assert told.out.startswith("brightrun ")


def test_a_terminal_that_knows_no_unicode_does_not_stop_a_command(tmp_path: Path) -> None:
    a_book(tmp_path / "small.xlsx", a_row(Customer="Müller ½ → ×"))
    root = Path(__file__).parents[2]
    done = subprocess.run(
        [sys.executable, "-m", "planner_io", "check", "small.xlsx"],
        cwd=tmp_path,
        capture_output=True,
        check=False,
        env=os.environ
        | {
            "PYTHONIOENCODING": "ascii",
            "PYTHONPATH": os.pathsep.join([str(root), str(root / "io")]),
        },
    )
    assert done.returncode == 0, done.stderr
    assert "×" in done.stdout.decode("utf-8")


def test_a_plan_says_that_cells_could_be_meant_otherwise_and_where_they_are_told(
    run: Command, tmp_path: Path
) -> None:
    book = a_book(tmp_path / "small.xlsx")
    planned, checked = run("plan", book, *QUICK), run("check", book)
    said = re.search(
        r"(\d+) readings? could be meant otherwise: `brightrun check (.+)`", planned.err
    )
    assert said is not None
    assert said[2] == str(book)
    told = checked.out.split("Read so, since it could be meant otherwise:\n")[1].split("\n\n")[0]
    assert int(said[1]) == len(told.splitlines())


def test_a_plan_says_which_columns_are_not_read(run: Command, tmp_path: Path) -> None:
    path = a_book(tmp_path / "small.xlsx")
    book = load_workbook(path)
    sheet = book["Orders"]
    sheet.cell(1, sheet.max_column + 1, "Bay")
    book.save(path)
    assert "Orders: columns that are not used: Bay\n" in run("plan", path, *QUICK).err
