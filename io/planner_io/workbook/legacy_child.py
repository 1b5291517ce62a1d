"""The program of the process that reads one .xls or .ods file; it needs nothing of brightrun.

Usage: `python legacy_child.py FILE`. Writes one line of JSON a sheet:
`{"name", "visible", "cells": [[row, column, type, text], ...], "rows", "columns"}`, the last two
being the ranges `[first, last]` that an .ods file says are not shown; of an .xls file they are
not known.
"""

from __future__ import annotations

import datetime as dt
import json
import sys
import zipfile
from importlib import import_module
from pathlib import Path
from typing import Any
from xml.parsers import expat

PASSWORD = 3
DAMAGED = 4
TOO_LARGE = 5
MEMORY_BYTES = 1_500_000_000
MAX_AREA = 30_000_000
"""Cells of the rectangle that a sheet spans, most of them blank."""
MAX_CELLS = 1_000_000
"""Filled cells of a sheet."""


def limit_memory() -> None:
    """Keep a stray far cell from taking the machine's memory, where the system can."""
    try:
        import resource  # noqa: PLC0415 - not on Windows
    except ImportError:
        return
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY_BYTES, MEMORY_BYTES))


def as_text(value: object) -> str:
    """A value in a form that its type's constructor reads back."""
    if isinstance(value, dt.timedelta):
        return str(value.total_seconds())
    return value.isoformat() if isinstance(value, (dt.date, dt.time)) else str(value)


def cells(sheet: Any) -> list[list[object]]:
    """Filled cells of a sheet with row and column from 1."""
    found: list[list[object]] = []
    if sheet.height * sheet.width > MAX_AREA:
        raise MemoryError
    top, left = sheet.start or (0, 0)
    for row_number, row in enumerate(sheet.to_python(skip_empty_area=True), top + 1):
        for column, value in enumerate(row, left + 1):
            if value not in ("", None):
                found.append([row_number, column, type(value).__name__, as_text(value)])
            if len(found) > MAX_CELLS:
                raise MemoryError
    return found


TABLE = "urn:oasis:names:tc:opendocument:xmlns:table:1.0 "
LINES = {f"{TABLE}table-row": "rows", f"{TABLE}table-column": "columns"}


def not_shown(path: Path) -> dict[str, dict[str, list[list[int]]]]:
    """By sheet of an .ods file the ranges of rows and of columns that are hidden or filtered."""
    if not zipfile.is_zipfile(path):
        return {}
    found: dict[str, dict[str, list[list[int]]]] = {}
    last = dict.fromkeys(LINES.values(), 0)
    sheet = ""

    def begin(name: str, about: dict[str, str]) -> None:
        nonlocal sheet
        if name == f"{TABLE}table":
            sheet = about.get(f"{TABLE}name", "")
            found[sheet] = {kind: [] for kind in last}
            last.update(dict.fromkeys(last, 0))
        elif sheet and name in LINES:
            kind = LINES[name]
            first = last[kind] + 1
            last[kind] += int(about.get(f"{TABLE}number-{kind}-repeated", 1))
            if about.get(f"{TABLE}visibility", "visible") != "visible":
                found[sheet][kind].append([first, last[kind]])

    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler = begin
    with zipfile.ZipFile(path) as archive:
        if "content.xml" in archive.namelist():
            with archive.open("content.xml") as content:
                parser.ParseFile(content)
    return found


def opened(path: Path) -> Any:
    """The workbook. Its name says what it is; the content decides where the name does not fit."""
    calamine: Any = import_module("python_calamine")
    if path.suffix.lower() in {".xls", ".ods"}:
        return calamine.CalamineWorkbook.from_path(str(path))
    with path.open("rb") as file:
        return calamine.CalamineWorkbook.from_filelike(file)


def main(path: Path) -> int:
    """Read the file and print its sheets; the exit status says what went wrong."""
    from python_calamine import (  # noqa: PLC0415 - after the memory limit
        CalamineError,
        PasswordError,
        SheetVisibleEnum,
    )

    try:
        book = opened(path)
        hidden = not_shown(path)
        for about in book.sheets_metadata:
            sheet = book.get_sheet_by_name(about.name)
            visible = about.visible == SheetVisibleEnum.Visible
            line = {"name": about.name, "visible": visible, "cells": cells(sheet)}
            line |= hidden.get(about.name, {})
            sys.stdout.buffer.write(json.dumps(line).encode() + b"\n")
    except PasswordError:
        return PASSWORD
    except MemoryError:
        return TOO_LARGE
    except (CalamineError, OSError, expat.ExpatError, zipfile.BadZipFile) as problem:
        return TOO_LARGE if "limit exceeded" in str(problem) else DAMAGED
    return 0


if __name__ == "__main__":
    limit_memory()
    sys.exit(main(Path(sys.argv[1])))
