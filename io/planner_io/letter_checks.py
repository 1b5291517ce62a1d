"""Names that the papers cannot print, as no font that they are set in has the letters."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import cast

from planner.blank_checks import located
from planner.errors import Finding, Severity
from planner_io.letters import letters_of, shipped_letters
from planner_io.views.ruler import plural
from planner_io.workbook import Reading

_FIX = (
    "letters that the papers' type lacks print as boxes, while week.xlsx and the tablet show them: "
    "give `brightrun plan` a font that has them, with --font FILE"
)


def unprintable(reading: Reading, font: Path | None) -> tuple[Finding, ...]:
    """One warning for all order lines, at the first, and one for the shop and its stock.

    `font` is a font file that is used beside the shipped type; InputError if it is none.
    """
    has = shipped_letters() | letters_of(font) if font else shipped_letters()
    return (*_in_orders(reading, has), *_in_shop(reading, has))


def _in_orders(reading: Reading, has: frozenset[int]) -> Iterator[Finding]:
    rows = [
        (line, words)
        for line in reading.orders
        if (words := _lacking((line.order, line.customer, line.part, line.notes), has))
    ]
    if rows:
        line, words = rows[0]
        more = f" and {plural(len(rows) - 1, 'more line')}" if rows[1:] else ""
        message = f"Line {line.key}{more}: in “{words}” {_FIX}."
        yield located(line, Severity.WARNING, message)


def _in_shop(reading: Reading, has: frozenset[int]) -> Iterator[Finding]:
    items = [item.model_dump(mode="json") for item in reading.stock]
    words = _lacking(_texts([reading.shop.model_dump(mode="json"), items]), has)
    if words:
        message = f"The shop's own names: in “{words}” {_FIX}."
        yield Finding(severity=Severity.WARNING, message=message)


def _lacking(texts: Iterable[str], has: frozenset[int]) -> str:
    """The first text with a letter that no font has; empty if there is none."""
    return next(
        (
            text
            for text in texts
            if any(c.isprintable() and not c.isspace() and ord(c) not in has for c in text)
        ),
        "",
    )


def _texts(found: object) -> Iterator[str]:
    """Every text of JSON-like data."""
    if isinstance(found, str):
        yield found
    elif isinstance(found, Mapping):
        yield from _texts([*cast("Mapping[str, object]", found).values()])
    elif isinstance(found, list):
        for each in cast("list[object]", found):
            yield from _texts(each)
