"""`brightrun template`: a workbook to fill in."""

from __future__ import annotations

from pathlib import Path

from planner.errors import input_error
from planner_io.console import say
from planner_io.folder import write_file
from planner_io.workbook import write_template


def template(file: Path, force: bool, metric: bool) -> None:
    """Write a workbook to fill in, with sizes in inches or in millimetres."""
    if file.suffix.lower() != ".xlsx":
        raise input_error(f"{file}: a template is an .xlsx workbook; give it that ending.")
    if file.exists() and not force:
        raise input_error(f"{file}: it is there already; give another name, or --force.")
    write_file(file, write_template("mm" if metric else "inch"))
    say(f"{file} is ready: fill in the sheets, then run `brightrun check {file}`.")
