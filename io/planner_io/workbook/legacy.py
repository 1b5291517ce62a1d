"""Read .xls and .ods in a process of its own, which may die or hang without harm.

One stray cell far from the others makes the reading library ask for all the memory between,
so it works under a memory limit (where the system has one) and a time limit.
"""

from __future__ import annotations

import datetime as dt
import json
import subprocess
import sys
from collections.abc import Callable, Iterable
from dataclasses import replace
from pathlib import Path

from planner_io.workbook import legacy_child
from planner_io.workbook.gate import damaged, unusable
from planner_io.workbook.grid import MAX_COLUMNS, CellError, Grid, GridBuilder, Value

SECONDS = 30
"""How long the reading may take."""

_FAR_CELL = (
    "it could not be read within the memory and time that a week's orders need, most likely "
    "because one cell stands far from the others; delete stray cells, or save it as .xlsx"
)

_ERRORS = ("#N/A", "#REF!", "#VALUE!", "#DIV/0!", "#NAME?", "#NUM!", "#NULL!")

_REVIVE: dict[str, Callable[[str], Value]] = {
    "datetime": dt.datetime.fromisoformat,
    "date": dt.date.fromisoformat,
    "time": dt.time.fromisoformat,
    "timedelta": lambda text: dt.timedelta(seconds=float(text)),
    "float": float,
    "int": int,
    "bool": lambda text: text == "True",
    "str": lambda text: CellError(text) if text in _ERRORS else text,
}


def read_legacy(path: Path) -> tuple[Grid, ...]:
    """The sheets of an .xls or .ods workbook; InputError when it cannot be read."""
    command = [sys.executable, "-I", legacy_child.__file__, str(path)]
    try:
        done = subprocess.run(command, capture_output=True, timeout=SECONDS, check=False)
    except subprocess.TimeoutExpired as problem:
        raise unusable(path, _FAR_CELL) from problem
    if done.returncode == legacy_child.PASSWORD:
        raise unusable(path, "it is protected by a password; save it without one")
    if done.returncode == legacy_child.DAMAGED:
        raise damaged(path)
    if done.returncode != 0:
        raise unusable(path, _FAR_CELL)
    return tuple(_sheet(line) for line in done.stdout.decode("utf-8").splitlines())


def _sheet(line: str) -> Grid:
    sheet = json.loads(line)
    builder = GridBuilder(sheet["name"], sheet["visible"])
    for row, column, kind, text in sheet["cells"]:
        builder.add(row, column, _REVIVE[kind](text))
    grid = builder.done()
    return replace(
        grid,
        hidden=frozenset(row for row in grid.rows if _within(row, sheet.get("rows", ()))),
        hidden_columns=frozenset(
            column
            for column in range(1, MAX_COLUMNS + 1)
            if _within(column, sheet.get("columns", ()))
        ),
    )


def _within(number: int, ranges: Iterable[tuple[int, int]]) -> bool:
    return any(first <= number <= last for first, last in ranges)
