"""The program of the process that reads one .xls or .ods file; it needs nothing of brightrun.

Usage: `python legacy_child.py FILE`. Writes one line of JSON a sheet:
`{"name", "visible", "cells": [[row, column, type, text], ...]}`.
"""

from __future__ import annotations

import datetime as dt
import json
import sys
from pathlib import Path
from typing import Any

PASSWORD = 3
DAMAGED = 4
MEMORY_BYTES = 1_500_000_000
MAX_CELLS = 2_000_000


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
    top, left = sheet.start or (0, 0)
    for row_number, row in enumerate(sheet.to_python(skip_empty_area=True), top + 1):
        for column, value in enumerate(row, left + 1):
            if value not in ("", None):
                found.append([row_number, column, type(value).__name__, as_text(value)])
            if len(found) > MAX_CELLS:
                raise MemoryError
    return found


def main(path: str) -> int:
    """Read the file and print its sheets; the exit status says what went wrong."""
    from python_calamine import (  # noqa: PLC0415 - after the memory limit
        CalamineError,
        CalamineWorkbook,
        PasswordError,
        SheetVisibleEnum,
    )

    try:
        with Path(path).open("rb") as file:
            book = CalamineWorkbook.from_filelike(file)
        for about in book.sheets_metadata:
            sheet = book.get_sheet_by_name(about.name)
            visible = about.visible == SheetVisibleEnum.Visible
            line = {"name": about.name, "visible": visible, "cells": cells(sheet)}
            sys.stdout.buffer.write(json.dumps(line).encode() + b"\n")
    except PasswordError:
        return PASSWORD
    except (CalamineError, OSError):
        return DAMAGED
    return 0


if __name__ == "__main__":
    limit_memory()
    sys.exit(main(sys.argv[1]))
