"""Words of a row that nothing is planned by: a note of a bend, a rush, or that it is cancelled."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planner_io.workbook import cells
from planner_io.workbook.grid import address
from planner_io.workbook.headers import SETS, match_headers
from planner_io.workbook.names import plain_name
from planner_io.workbook.per_set import counts_all
from planner_io.workbook.report import Place, Report
from planner_io.workbook.table import Row, Table


@dataclass(frozen=True)
class Words:
    """Words, the columns in which they count, and those that would say it if they were filled."""

    said: re.Pattern[str]
    where: tuple[str, ...]
    unless: tuple[str, ...]
    so: str


def _words(text: str) -> re.Pattern[str]:
    """Any of these words, unless one before it denies it."""
    denied = r"(?<!\bno )(?<!\bnot )(?<!\bnon)(?<!\bohne )(?<!\bsans )(?<!\bsin )(?<!\bkeine )"
    return re.compile(rf"\b{denied}(?:{text})(?!\w)", re.IGNORECASE)


_NEWER = frozenset(
    map(
        plain_name,
        (
            *(
                "2",
                "ii",
                "spare",
                "extra",
                "outside",
                "inside",
                "new",
                "rev",
                "revised",
                "updated",
                "changed",
                "corrected",
                "actual",
                "final",
            ),
            *("neu", "neue", "neuer", "neues", "geändert", "nouveau", "nouvelle", "nuevo", "nueva"),
        ),
    )
)
"""Words of a header that say that it stands beside another one, or takes its place."""
_PLANNED_BY = (
    *("quantity", "material", "grade", "od", "wall", "length", "recipe", "grit", "due"),
    *("end_1", "end_2", "ends", "bent"),
)
"""Columns of which another one like it would be missed."""
_LISTS = (
    Words(
        _words(
            r"cancel(?:l?ed)?|void(?:ed)?|on hold|do not (?:make|run|start|cut)|storniert"
            r"|annul[ée]e?|anulad[oa]|cancelad[oa]"
        ),
        ("order", "customer", "part", "notes"),
        ("status",),
        "but it is planned; write hold or cancelled under Status, or take the words out",
    ),
    Words(
        re.compile(
            r"[(\[] ?(?:[x×] ?[2-9][0-9]*|[2-9][0-9]* ?(?:[x×]|off|sets?|kits?)) ?[)\]]",
            re.IGNORECASE,
        ),
        ("order", "customer", "part"),
        (),
        "but Quantity is taken as it stands; write the pieces in all there, and take this out",
    ),
    Words(
        _words(r"rush|urgent|a\.?s\.?a\.?p|hot job|expedite|eilig|eilt|dringend|urgente"),
        ("notes",),
        ("priority",),
        "but it is planned like all others; write rush under Priority if it is meant so",
    ),
    Words(
        _words(r"bends?|bent|gebogen|biegen|cintr(?:er|é|ée|és)|doblad[oa]s?|doblar"),
        ("notes",),
        ("bent",),
        "but no bend is planned; write how many under Bent",
    ),
    Words(
        _words(
            r"coped?|copes|notch(?:ed|es)?|saddles?|fish ?mouth(?:ed|s)?|mit(?:er|re)(?:ed|d|s)?"
            r"|gehrung(?:en)?|onglets?|inglete|coupe (?:à )?[0-9]+ ?°|[0-9]+ ?° (?:cut|ends?)"
        ),
        ("notes",),
        ("end_1", "end_2", "ends"),
        "but both ends are planned square; write them under End 1 and End 2",
    ),
    Words(
        _words(
            r"polish(?:ed)?|brush(?:ed)?|satin|grit|poliert|geschliffen|gebürstet|brossée?s?|polie?s?"
            r"|cepillad[oa]|pulid[oa]"
        ),
        ("notes",),
        ("recipe", "grit"),
        "but no finish is planned; write it under Finish, or none there",
    ),
)


def doubt_words(row: Row, report: Report, bent: bool) -> None:
    """Warn of what a row says in words and leaves blank in the column that is planned by; `bent` is
    whether its bends are planned."""
    for key, said, so in _doubts(row, {*row.values, *(["bent"] if bent else [])}):
        report.warn(row.place(key), f"says “{said}”, {so}", cells.text(row.values[key])[:80])


def doubt_column(table: Table, index: int, rows: Iterable[Row], report: Report) -> None:
    """Warn of a column that is not read and says what no column of the sheet does, once for each
    kind of work; and of one that counts sets."""
    title = str(table.grid.rows[table.header_row][index])
    place = Place(table.grid.name, address(table.header_row, index))
    counted = table.headers.get("quantity")
    if title.strip().lower() in SETS and counted and not counts_all(counted.text):
        report.warn(
            place,
            f"the column “{title}” is not read, and Quantity is taken as the pieces in all; if it "
            "is of one set, write the pieces in all there",
        )
    _doubt_newer(table, index, title, rows, report)
    below = [(row.number, cells.text(table.grid.rows[row.number].get(index, ""))) for row in rows]
    for words in _LISTS:
        if "notes" not in words.where or not table.headers.keys().isdisjoint(words.unless):
            continue
        said = ((number, match[0]) for number, text in below if (match := words.said.search(text)))
        for number, word in list(said)[:1]:
            report.warn(
                place,
                f"the column “{title}” is not read, and row {number} says “{word}” there, "
                f"{words.so}",
            )


def _doubt_newer(table: Table, index: int, title: str, rows: Iterable[Row], report: Report) -> None:
    """Warn of a column called `New qty` or `Qty 2` beside one that is read as the quantity."""
    words = title.split()
    rest = " ".join(word for word in words if plain_name(word) not in _NEWER)
    known, _ = match_headers({1: rest}, table.spec) if rest and rest != title else ({}, [])
    read = next((key for key in known if key in table.headers and key in _PLANNED_BY), None)
    said = next((row.number for row in rows if index in table.grid.rows[row.number]), None)
    if read and said and _NEWER.isdisjoint(map(plain_name, table.headers[read].text.split())):
        used = table.headers[read]
        report.warn(
            Place(table.grid.name, address(table.header_row, index)),
            f"the column “{title}” is not read, though row {said} has something there: "
            f"{used.column.title} is “{used.text}”; write what counts in that one, and delete the "
            "other",
        )


def _doubts(row: Row, filled: set[str]) -> Iterator[tuple[str, str, str]]:
    for words in _LISTS:
        if not filled.isdisjoint(words.unless):
            continue
        found = (
            (key, match[0])
            for key in words.where
            if key in row.values and (match := words.said.search(cells.text(row.values[key])))
        )
        for key, said in list(found)[:1]:
            yield key, said, words.so
