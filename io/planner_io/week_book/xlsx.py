"""The part of xlsxwriter that a week needs, with the types that the library does not carry."""

from __future__ import annotations

import io
from collections.abc import Mapping, Sequence
from datetime import date
from typing import Protocol, cast

import xlsxwriter

_NO_MAGIC = {
    "in_memory": True,
    "strings_to_formulas": False,
    "strings_to_urls": False,
    "strings_to_numbers": False,
}


class Format(Protocol):
    """How a cell looks."""


class Page(Protocol):
    """One worksheet."""

    def write_string(self, row: int, col: int, string: str, cell_format: Format, /) -> int:
        """Write text, whatever it looks like."""
        ...

    def write_number(self, row: int, col: int, number: float, cell_format: Format, /) -> int:
        """Write a number."""
        ...

    def write_datetime(self, row: int, col: int, when: date, cell_format: Format, /) -> int:
        """Write a date or a time."""
        ...

    def write_blank(self, row: int, col: int, blank: None, cell_format: Format, /) -> int:
        """Write an empty cell that has a look."""
        ...

    def merge_range(
        self, row: int, col: int, last_row: int, last_col: int, text: str, look: Format, /
    ) -> int:
        """Write text across several cells."""
        ...

    def set_column(self, first: int, last: int, width: float, /) -> int:
        """Set the width of columns, in characters."""
        ...

    def set_row(self, row: int, height: float, /) -> int:
        """Set the height of a row, in points."""
        ...

    def autofilter(self, row: int, col: int, last_row: int, last_col: int, /) -> None:
        """Put filter arrows on a heading row."""
        ...

    def freeze_panes(self, row: int, col: int, /) -> None:
        """Keep rows above and columns left in view."""
        ...

    def repeat_rows(self, first: int, /) -> None:
        """Print a row again on each page."""
        ...

    def print_area(self, row: int, col: int, last_row: int, last_col: int, /) -> int:
        """Print these cells alone."""
        ...

    def set_landscape(self) -> None:
        """Print across."""
        ...

    def set_portrait(self) -> None:
        """Print upright."""
        ...

    def set_h_pagebreaks(self, rows: Sequence[int], /) -> None:
        """Begin a page before each of these rows, counted from 0."""
        ...

    def set_paper(self, paper: int, /) -> None:
        """Paper by its number in the file format."""
        ...

    def fit_to_pages(self, width: int, height: int, /) -> None:
        """Shrink to so many pages across and down; 0 for as many as it takes."""
        ...

    def set_margins(self, *, left: float, right: float, top: float, bottom: float) -> None:
        """Margins in inches."""
        ...

    def set_header(self, header: str, /) -> None:
        """What stands on top of each printed page."""
        ...

    def set_footer(self, footer: str, /) -> None:
        """What stands at the foot of each printed page."""
        ...


class Book(Protocol):
    """The workbook."""

    def add_worksheet(self, name: str, /) -> Page:
        """A new sheet."""
        ...

    def add_format(self, properties: Mapping[str, object], /) -> Format:
        """A new look."""
        ...

    def set_properties(self, properties: Mapping[str, object], /) -> None:
        """Title and date of the file."""
        ...

    def close(self) -> None:
        """Write the file."""
        ...


def new_book(out: io.BytesIO) -> Book:
    """A workbook that goes to `out` when it is closed and takes text for nothing but text."""
    return cast("Book", xlsxwriter.Workbook(out, _NO_MAGIC))
