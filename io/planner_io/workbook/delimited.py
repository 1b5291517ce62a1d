"""Read .csv and other separated text as one sheet of orders."""

from __future__ import annotations

import csv
import io
from collections import Counter
from pathlib import Path

from planner_io.workbook.gate import unusable
from planner_io.workbook.grid import Grid, GridBuilder

_SEPARATORS = (",", ";", "\t", "|")
_SAMPLE_LINES = 30
_BLANK = frozenset({"NULL", "(NULL)", "(null)", "\\N"})
"""What databases write for nothing."""
_MARKS = (
    (b"\xef\xbb\xbf", "utf-8-sig"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)


def read_delimited(path: Path) -> Grid:
    """The text file as a sheet called Orders; InputError when it is no text."""
    text = _decoded(path, path.read_bytes())
    if not any(mark in text for mark in _SEPARATORS):
        raise unusable(
            path,
            "nothing separates its columns; open it in a spreadsheet program, split it into "
            "columns and save it as .xlsx",
        )
    builder = GridBuilder("Orders")
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=_separator(text))
    for number, row in enumerate(rows, 1):
        for column, value in enumerate(row, 1):
            builder.add(number, column, None if value in _BLANK else value)
        if builder.too_many_rows:
            break
    return builder.done()


def _decoded(path: Path, data: bytes) -> str:
    for mark, encoding in _MARKS:
        if data.startswith(mark):
            return data.decode(encoding)
    if b"\x00" in data:
        raise unusable(path, "this is neither a workbook nor text; save it as .xlsx or .csv")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError:
        return data.decode("cp1252", errors="replace")


def _separator(text: str) -> str:
    """The separator that splits most lines into the same number of fields, the more the better."""
    lines = text.splitlines()[:_SAMPLE_LINES]
    return max(_SEPARATORS, key=lambda mark: _evenness(lines, mark))


def _evenness(lines: list[str], mark: str) -> tuple[int, int]:
    counts = Counter(len(row) for row in csv.reader(lines, delimiter=mark) if len(row) > 1)
    if not counts:
        return (0, 0)
    fields, rows = max(counts.items(), key=lambda item: (item[1], item[0]))
    return (rows, fields)
