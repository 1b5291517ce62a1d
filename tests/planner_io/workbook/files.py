"""Files that are no .xlsx, made by hand for tests."""

from __future__ import annotations

import zipfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from xml.sax.saxutils import escape

_NS = (
    'xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0" '
    'xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" '
    'xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0"'
)
_MANIFEST = (
    '<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0">'
    '<manifest:file-entry manifest:full-path="/" manifest:media-type="'
    'application/vnd.oasis.opendocument.spreadsheet"/></manifest:manifest>'
)
_MIME = "application/vnd.oasis.opendocument.spreadsheet"


def an_ods(
    path: Path,
    rows: Sequence[Sequence[str]],
    gap: int = 0,
    hidden: Mapping[int, str] | None = None,
    hidden_column: int = 0,
) -> Path:
    """An OpenDocument spreadsheet with one sheet, Orders; `gap` blank rows before the last one.

    `hidden` gives the visibility of rows, from 1, that are not shown.
    """
    not_shown = hidden or {}
    lines = [_row(row, not_shown.get(number, "")) for number, row in enumerate(rows, 1)]
    if hidden_column:
        before = f'<table:table-column table:number-columns-repeated="{hidden_column - 1}"/>'
        lines.insert(0, f'{before}<table:table-column table:visibility="collapse"/>')
    if gap:
        lines.insert(-1, f'<table:table-row table:number-rows-repeated="{gap}"/>')
    content = (
        f'<?xml version="1.0"?><office:document-content {_NS}><office:body><office:spreadsheet>'
        f'<table:table table:name="Orders">{"".join(lines)}</table:table>'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("mimetype", _MIME)
        archive.writestr("META-INF/manifest.xml", _MANIFEST)
        archive.writestr("content.xml", content)
    return path


def _row(row: Sequence[str], visibility: str) -> str:
    cells = "".join(
        f'<table:table-cell office:value-type="string"><text:p>{escape(text)}</text:p>'
        "</table:table-cell>"
        for text in row
    )
    shown = f' table:visibility="{visibility}"' if visibility else ""
    return f"<table:table-row{shown}>{cells}</table:table-row>"
