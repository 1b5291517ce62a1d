"""What order lines say to the floor, in the words of the workbook."""

from __future__ import annotations

from collections.abc import Iterable

from planner_io.views.index import Index
from planner_io.views.ruler import some

MOST_LINES = 5
"""How many order lines of one note are named before the rest are counted."""


def notes(index: Index, lines: Iterable[str]) -> tuple[str, ...]:
    """Each note once, behind the order lines that have it: `2622/1, 2622/2: clear coat`."""
    found: dict[str, list[str]] = {}
    for line in lines:
        if text := " ".join(index.orders[line].notes.split()):
            found.setdefault(text, []).append(line)
    return tuple(f"{some(keys, MOST_LINES)}: {text}" for text, keys in found.items())
