"""From a file to grids, whatever the format; the content decides, not the file's name."""

from __future__ import annotations

import zipfile
from pathlib import Path

from planner_io.workbook.delimited import read_delimited
from planner_io.workbook.gate import opening, unusable
from planner_io.workbook.grid import Grid
from planner_io.workbook.legacy import read_legacy
from planner_io.workbook.xlsx import read_xlsx

MAX_BYTES = 50_000_000
"""Largest file that is opened."""
MAX_UNPACKED_BYTES = 400_000_000
"""Largest content of a zipped workbook, so that a small file cannot fill the memory."""

_ZIP = b"PK\x03\x04"
_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_ENCRYPTED = "EncryptedPackage".encode("utf-16-le")
_NOT_TABLES = {
    b"%PDF": "a PDF",
    b"\x89PNG": "a picture",
    b"\xff\xd8\xff": "a picture",
    b"{\\rtf": "a text document",
    b"<?xm": "an XML file",
    b"<": "a web page",
}


def load_grids(path: Path) -> tuple[Grid, ...]:
    """The sheets of a workbook.

    Raises InputError when the file cannot be used at all: missing, empty, encrypted, too large,
    damaged, or no table.
    """
    with opening(path):
        size = path.stat().st_size
        if path.is_dir():
            raise IsADirectoryError
        if size == 0:
            raise unusable(path, "the file is empty; save the workbook again")
        if size > MAX_BYTES:
            raise unusable(
                path,
                f"the file has {size // 1_000_000} MB, more than {MAX_BYTES // 1_000_000}; "
                "remove pictures and old sheets",
            )
        with path.open("rb") as file:
            head = file.read(8)
        if head.startswith(_ZIP):
            return _zipped(path)
        if head == _OLE:
            return _compound(path)
        return _text(path, head)


def _zipped(path: Path) -> tuple[Grid, ...]:
    with zipfile.ZipFile(path) as archive:
        names = set(archive.namelist())
        unpacked = sum(entry.file_size for entry in archive.infolist())
    if unpacked > MAX_UNPACKED_BYTES:
        raise unusable(path, "its content is far too large for a week's orders; copy the rows out")
    if "xl/workbook.bin" in names:
        raise unusable(path, "binary workbooks (.xlsb) are not read; save it as .xlsx")
    if "content.xml" in names:
        return read_legacy(path)
    if not any(name.startswith("xl/") for name in names):
        raise unusable(path, "this is no workbook; give an .xlsx, .xls, .ods or .csv file")
    return read_xlsx(path)


def _compound(path: Path) -> tuple[Grid, ...]:
    if _ENCRYPTED in path.read_bytes():
        raise unusable(path, "it is protected by a password; save it without one")
    return read_legacy(path)


def _text(path: Path, head: bytes) -> tuple[Grid, ...]:
    for magic, what in _NOT_TABLES.items():
        if head.removeprefix(b"\xef\xbb\xbf").lstrip().upper().startswith(magic.upper()):
            raise unusable(
                path,
                f"this is {what}, whatever its name; give an .xlsx, .xls, .ods or .csv file, or "
                "open it in a spreadsheet program and save it as .xlsx",
            )
    return (read_delimited(path),)
