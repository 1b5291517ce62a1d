"""`brightrun log`: what logged runs teach about the shop's times."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from planner.errors import has_errors
from planner.finisher.learned import learn
from planner_io.console import LEFT_OUT, say, tell, tell_findings
from planner_io.log_report import lesson_lines
from planner_io.logbook import read_log


def log(file: Path, shop: Path | None) -> None:
    """Say what a log teaches; wrong rows are left out and named."""
    found = read_log(file, shop, date.today())
    tell_findings(found.findings)
    for line in lesson_lines(found.shop, learn(found.shop, found.runs)):
        say(line)
    if has_errors(found.findings):
        tell(f"Wrong rows are left out, as listed above; the exit status is {LEFT_OUT}.")
        raise SystemExit(LEFT_OUT)
