"""`brightrun check`: how a workbook is read, with every problem."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from pathlib import Path

from planner.errors import InputError, has_errors
from planner.units import Unit
from planner_io.check_report import check_lines
from planner_io.console import BAD_INPUT, say
from planner_io.letter_checks import unprintable
from planner_io.starts import doubts
from planner_io.workbook import Checked, checked, read_workbook


def check(orders: Path, shop: Path | None, start: date | None, as_json: bool) -> None:
    """Say what a workbook was read as, for a plan that begins on `start` if given."""
    found, unit = _found(orders, shop, start)
    if as_json:
        say(json.dumps(found.as_json(), indent=1, ensure_ascii=False))
    else:
        for line in check_lines(found, unit):
            say(line)
    if has_errors(found.findings):
        raise SystemExit(BAD_INPUT)


def _found(orders: Path, shop: Path | None, start: date | None) -> tuple[Checked, Unit]:
    """What was read, also of a file that cannot be read at all, and the shop's unit."""
    try:
        reading = read_workbook(orders, shop, start, today=date.today())
        others = doubts(reading, start) if start is not None else ()
        findings = (*reading.findings, *others, *unprintable(reading, None))
        return checked(replace(reading, findings=findings)), reading.shop.house.unit
    except InputError as unusable:
        return Checked((), (), unusable.findings), "inch"
