"""How people write a number of pieces: in words, by the dozen or pair, by hand, or said twice.

>>> pieces("a dozen"), pieces("2 pair (4)"), pieces("3L + 3R"), pieces("1,200"), pieces("12 pcs")
(12, 4, 6, 1200, None)
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from fractions import Fraction

from planner.units.numbers import plain

_NAMES = (
    "one two three four five six seven eight nine ten eleven twelve thirteen fourteen fifteen "
    "sixteen seventeen eighteen nineteen twenty"
)
_NUMBERS = {name: number for number, name in enumerate(_NAMES.split(), 1)}
_DOZEN = r"doz(?:ens?)?|dz|dtzd|dutzend|douzaines?|docenas?"
_PAIR = r"pairs?|prs?|paare?|paires?"
EACH = (
    r"(?:pcs?|pieces?|ea|each|off|of|x|nos?|units?|tubes?|pipes?|stk?|stück|sticks?|lengths?|lg"
    r"|lgths?|bars?|uds?|unidades|pzs?|piezas?|pi[èe]ces?)"
)
_UNIT = re.compile(
    rf"(?P<number>[0-9]{{1,6}}(?:\.[0-9])?|[a-z]+) ?"
    rf"(?:(?P<twelve>{_DOZEN})|(?P<two>{_PAIR})|(?P<gross>gross))\.?"
)
_HALF = re.compile(rf"(?:a )?half (?:an? )?(?:{_DOZEN})\.?|1 ?/ ?2 (?:{_DOZEN})\.?")
_WORD = re.compile(rf"([a-z]+)(?: {EACH}\.?)?")
_HAND = r"([0-9]{1,6}) ?(?:ea\.? )?(lh|left|l|rh|right|r)"
_BY_HAND = re.compile(rf"{_HAND}[ ,;+/&]+{_HAND}")
_TWICE = re.compile(r"(?P<said>[^()]+?) ?\((?P<again>[^()]+)\)")
_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},(?!000)[0-9]{3}")
"""A number with a comma that is whole only if the comma stands before its hundreds."""

_VAGUE = re.compile(
    r"\b(?:sets?|kits?|s(?:a|ä)tze?|jeux?|juegos?|bundles?|lots?|couple|few|several|some|pairs?|doz(?:en)?|spares?)\b"
    r"|[0-9] ?[x+*] ?[0-9]|\bl(?:h|eft)? ?[&+/] ?r"
)

_OF_HOW_MANY = re.compile(r"[0-9]+ ?(?:/|of) ?[0-9]+")
"""`2/6`: so many of so many, and no fraction."""


_COUNTED_IN = re.compile(
    rf"(?:{EACH}|{_DOZEN}|{_PAIR}|sets?|kits?|bdls?|bundles?|lots?|box(?:es)?|bx)\.?"
)


def is_counted_in(word: str) -> bool:
    """Whether a word says what a number counts: pieces, pairs, bundles.

    >>> is_counted_in("ea"), is_counted_in("DZ"), is_counted_in("mm"), is_counted_in("")
    (True, True, False, False)
    """
    return bool(_COUNTED_IN.fullmatch(plain(word)))


def what_to_write(text: str) -> str:
    """What to do about a text from which no number of pieces follows; empty where that is plain."""
    words = plain(text)
    if _OF_HOW_MANY.fullmatch(words):
        return "write how many pieces are ordered, and those that are made under Done"
    return "write how many pieces that is in all" if _VAGUE.search(words) else ""


def pieces(text: str) -> int | None:
    """The number that a text says otherwise than in plain figures; None where it says none."""
    words = plain(text)
    readers: tuple[Callable[[str], int | None], ...] = (
        _dozens_or_pairs,
        _in_words,
        _by_hand,
        _thousands,
        _twice,
    )
    return next((found for read in readers if (found := read(words)) is not None), None)


def _dozens_or_pairs(words: str) -> int | None:
    if _HALF.fullmatch(words):
        return 6
    if re.fullmatch(_DOZEN, words):
        return 12
    match = _UNIT.fullmatch(words)
    number = _number(match["number"]) if match else None
    if match is None or number is None:
        return None
    found = number * (144 if match["gross"] else 12 if match["twelve"] else 2)
    return int(found) if found.denominator == 1 else None


def _number(word: str) -> Fraction | None:
    if word[0].isdigit():
        return Fraction(word)
    found = 1 if word in ("a", "an", "ein", "une", "una") else _NUMBERS.get(word)
    return None if found is None else Fraction(found)


def _in_words(words: str) -> int | None:
    match = _WORD.fullmatch(words)
    return _NUMBERS.get(match[1]) if match else None


def _by_hand(words: str) -> int | None:
    """Left and right ones: `3L + 3R`."""
    match = _BY_HAND.fullmatch(words)
    if match is None or match[2][0] == match[4][0]:
        return None
    return int(match[1]) + int(match[3])


def _thousands(words: str) -> int | None:
    return int(words.replace(",", "")) if _THOUSANDS.fullmatch(words) else None


def _twice(words: str) -> int | None:
    """A number with the same one, or what it is made of, in brackets: `2 pair (4)`."""
    match = _TWICE.fullmatch(words)
    if match is None:
        return None
    said = int(match["said"]) if match["said"].isdigit() else pieces(match["said"])
    again = int(match["again"]) if match["again"].isdigit() else pieces(match["again"])
    parts = [int(part) for part in re.findall(r"[0-9]{1,6}", match["again"])]
    made = {sum(parts), math.prod(parts)} if len(parts) > 1 else set[int]()
    return said if said is not None and said in {again, *made} else None
