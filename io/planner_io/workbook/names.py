"""Names as people write them: headers, sheets and lists compared by meaning, not by letter."""

from __future__ import annotations

import difflib
import re
import unicodedata
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Generic, TypeVar

T = TypeVar("T")

CLOSE = 0.84
"""Least similarity of a misspelt name (by matching blocks; `Quantitty` to `quantity` is .94)."""
SHORTEST = 4
"""Shorter names are never guessed."""

_WORDS = re.compile(r"[a-z0-9]+")
_SIGNS = str.maketrans(
    {
        **dict.fromkeys("#№", " number "),
        **dict.fromkeys("⌀øØ", " od "),
        **dict.fromkeys("$€£", " price "),
    }
)
_ALIKE = {"no": "number", "num": "number", "nr": "number", "centre": "center"}


@lru_cache(maxsize=4096)
def plain_name(text: str) -> str:
    """Lower-case words without accents, punctuation or plural, for comparing.

    >>> plain_name("Order No."), plain_name("End-cuts"), plain_name("Length  (mm)")
    ('order number', 'end cut', 'length mm')
    """
    flat = unicodedata.normalize("NFKD", text.translate(_SIGNS)).encode("ascii", "ignore").decode()
    return " ".join(_singular(word) for word in _WORDS.findall(flat.lower()))


def _singular(word: str) -> str:
    word = _ALIKE.get(word, word)
    if len(word) > 3 and word.endswith("ies"):
        return f"{word[:-3]}y"
    return word[:-1] if len(word) > 3 and word.endswith("s") and not word.endswith("ss") else word


@dataclass(frozen=True)
class Match(Generic[T]):
    """What a name was taken for, and whether that was a guess at a misspelling."""

    value: T
    guessed: bool = False


def find_name(text: str, known: Mapping[str, T]) -> Match[T] | None:
    """The value whose plain name is `text`, or the only one that is close; None when none is."""
    name = plain_name(text)
    if name in known:
        return Match(known[name])
    joined = {key.replace(" ", ""): value for key, value in known.items()}
    squeezed = name.replace(" ", "")
    if squeezed in joined:
        return Match(joined[squeezed])
    return _closest(squeezed, joined)


def _closest(name: str, known: Mapping[str, T]) -> Match[T] | None:
    if len(name) < SHORTEST:
        return None
    alike = [key for key in known if len(key) >= SHORTEST and _figures(key) == _figures(name)]
    near = difflib.get_close_matches(name, alike, n=3, cutoff=CLOSE)
    values = [known[key] for key in near]
    alone = values and all(value == values[0] for value in values)
    return Match(values[0], guessed=True) if alone else None


def _figures(name: str) -> str:
    """The figures of a name, which are never misspelt: `Satin 240` is not `Satin 320`."""
    return "".join(letter for letter in name if letter.isdigit())


def listed(names: Iterable[str], most: int = 12) -> str:
    """Names in a sentence, cut after `most`."""
    every = list(names)
    more = f" and {len(every) - most} more" if len(every) > most else ""
    return ", ".join(every[:most]) + more
