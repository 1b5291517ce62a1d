"""Pieces of one set or hand, or feet of tube: their column says nothing of the pieces in all."""

from __future__ import annotations

import re
from dataclasses import replace

from planner_io.workbook.grid import address, letters
from planner_io.workbook.headers import Header
from planner_io.workbook.names import plain_name
from planner_io.workbook.report import Place, Report
from planner_io.workbook.table import Table

_SETS = (
    r"sets?|ass(?:y|embly|emblies)|units?|frames?|kits?|products?|chairs?|tables?|gates?|sides?"
    r"|cars?|vehicles?|chassis|cages?|bikes?|boats?|hulls?|flights?|stairs?|bays?|panels?|sections?"
    r"|stool|bench|rack|seite|satz|gestell|fahrzeug|boot|stuhl|tisch|jeu|côté|cadre|bateau|chaise"
    r"|juego|lado|silla|mesa|barco|coche"
)
_PER = re.compile(
    r"\b(?:qty|quantity|pcs|pieces|number|no|menge|stk|stück|anzahl|qté|quantité|pièces|cant|cantidad)"
    r"\.? ?(?:/|per\b|ea\b|each\b|(?:in|on) (?:a|one|each)\b|je\b|pro\b|par\b|por\b|a\b) ?"
    rf"(?:{_SETS})\b",
    re.IGNORECASE,
)
_COUNTED_IN = re.compile(
    r"\b(?:pairs?|prs?|sets?|kits?|doz(?:ens?)?|dz|ft|feet|foot|m|mtrs?|met(?:er|re)s?|lbs?|kgs?)\b",
    re.IGNORECASE,
)
"""What a column of quantities counts, if not pieces."""
_HAND = re.compile(r"\b(?:([lr])(?:/?h)?|(left|right))\b", re.IGNORECASE)
_TOTAL = frozenset({"total", "tot", "ttl", "all", "gesamt", "totale"})
_PIECES = frozenset(
    plain_name(word)
    for word in (
        *("qty", "quantity", "pcs", "pieces", "pc", "off", "no", "in", "stk", "stück"),
        *("reqd", "req", "d", "required", "qté", "cant"),
    )
)


def in_all(table: Table, report: Report) -> Table | None:
    """The table with its pieces in all as Quantity, where another column has those of one set or of
    one hand, or sets, pairs or feet; None, and an error, where no column has them."""
    titles = table.grid.rows[table.header_row]
    texts = {index: text for index, text in titles.items() if isinstance(text, str)}
    per = next((index for index, text in texts.items() if _PER.search(text)), None)
    if per is None and (head := table.headers.get("quantity")):
        per = head.index if _COUNTED_IN.search(head.text) or _of_one_hand(head.text) else None
    if per is None:
        return table
    total = next((index for index, text in texts.items() if counts_all(text)), None)
    if total is None:
        report.error(
            Place(table.grid.name, address(table.header_row, per)),
            f"column {letters(per)}, “{texts[per]}”, has not the pieces in all, and no other "
            "column has them; add one called Total qty",
            texts[per],
            "a column such as Total qty",
        )
        return None
    report.note(
        f"column {letters(total)}, “{texts[total]}”, is read as Quantity",
        Place(table.grid.name, address(table.header_row, total)),
    )
    quantity = Header(table.spec.column("quantity"), total, texts[total])
    return replace(table, headers={**table.headers, "quantity": quantity})


def counts_all(text: str) -> bool:
    """Whether a header is of the pieces in all: `Total qty`, `Tot pcs`, `Pieces in all`."""
    words = frozenset(plain_name(text).split())
    return bool(words & _TOTAL and words & _PIECES and words <= _TOTAL | _PIECES)


def _of_one_hand(text: str) -> bool:
    """Whether a header of pieces is of the left or the right ones alone: `LH qty`."""
    return len({hand[1] or hand[2] for hand in _HAND.finditer(text)}) == 1
