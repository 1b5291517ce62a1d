"""Text that people typed, made fit for a page: printable, breakable, and of a sensible length."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import cast

from planner_io.drawing.ink import printable

LONGEST_WORD = 24
"""A longer word may be broken, or it would run out of its column."""
LONGEST_NAME = 60
"""What is cut off a longer name stands in the workbook."""

_LONG = re.compile(rf"\S{{{LONGEST_WORD},}}")
_PART = re.compile(r"\S{12}(?=\S)")
_ZERO_WIDTH_SPACE = "\u200b"


def name(words: str, longest: int = LONGEST_NAME) -> str:
    """A customer, part or station, not longer than a table can show.

    >>> name("Harrow Fields"), name("abcdefgh", 5)
    ('Harrow Fields', 'abcd…')
    """
    words = " ".join(printable(words).split())
    return words if len(words) <= longest else words[: longest - 1].rstrip() + "…"


def breakable(words: str) -> str:
    """The text with places to break its longest words at, and nothing that cannot be printed."""
    return _LONG.sub(lambda m: _PART.sub(rf"\g<0>{_ZERO_WIDTH_SPACE}", m[0]), printable(words))


def tidy(found: object) -> object:
    """Every text within JSON-like data made printable and breakable."""
    if isinstance(found, str):
        return breakable(found)
    if isinstance(found, Mapping):
        pairs = cast("Mapping[str, object]", found)
        return {key: tidy(value) for key, value in pairs.items()}
    if isinstance(found, list | tuple):
        return [tidy(value) for value in cast("Sequence[object]", found)]
    return found
