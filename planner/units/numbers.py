"""The grammar of amounts: whole numbers, decimals, fractions and mixed fractions, exact.

Nothing here evaluates text: a number is matched whole or refused.

>>> amount("1-1/2").value
Fraction(3, 2)
>>> amount("1,5")
Amount(value=Fraction(3, 2), note='decimal comma read as 1.5')
>>> amount("9**9") is None
True
"""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass
from fractions import Fraction

MAX_TEXT = 64
"""Longer text is no amount; the limit also bounds the work on hostile input."""

_DASHES = "‐‑‒–—―−﹣-"
_DOUBLE_QUOTES = "″”“„‟〃ˮ"
_SINGLE_QUOTES = "′’‘‛`´ʹʼ"
_SLASHES = "⁄∕/"
_SUPERSCRIPT = str.maketrans("⁰¹²³⁴⁵⁶⁷⁸⁹₀₁₂₃₄₅₆₇₈₉", "01234567890123456789")
_PLAIN = str.maketrans(
    dict.fromkeys(_DASHES, "-")
    | dict.fromkeys(_DOUBLE_QUOTES, '"')
    | dict.fromkeys(_SINGLE_QUOTES, "'")
    | dict.fromkeys(_SLASHES, "/")
)
_STACKED = re.compile(r"[⁰¹²³⁴-⁹]+[/⁄∕][₀-₉]+")

VULGAR_FRACTIONS = tuple(
    chr(code)
    for code in range(0xBC, 0x2190)
    if unicodedata.decomposition(chr(code)).startswith("<fraction>")
)
"""Every Unicode character that is a fraction, ½ to ⅞ and ⅟; none stands outside this range."""


def _vulgar_text(char: str) -> str:
    plain = unicodedata.normalize("NFKC", char).replace("⁄", "/")
    return f" {plain}" if plain.endswith("/") else f" {plain} "


_VULGAR = str.maketrans({char: _vulgar_text(char) for char in VULGAR_FRACTIONS})

_WHOLE = r"([0-9]{1,9})"
_FRACTION = r"([0-9]{1,9}) ?/ ?([0-9]{1,9})"
_MIXED_RE = re.compile(rf"{_WHOLE}(?: ?- ?| ){_FRACTION}", re.ASCII)
_LOOSE = re.compile(r" -[0-9]")
"""A dash that could be a minus: 36 -1/16."""
_DOTTED_RE = re.compile(rf"{_WHOLE}\. ?{_FRACTION}", re.ASCII)
_FRACTION_RE = re.compile(_FRACTION, re.ASCII)
_POINT_RE = re.compile(r"[0-9]+\.?[0-9]*|\.[0-9]+", re.ASCII)
_COMMA_RE = re.compile(r"[0-9]*,[0-9]+", re.ASCII)
_AMBIGUOUS_RE = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}", re.ASCII)
_THOUSANDS = (
    re.compile(r"[0-9]{1,3}(?:,[0-9]{3})+\.[0-9]*|[0-9]{1,3}(?:,[0-9]{3}){2,}", re.ASCII),
    re.compile(r"[0-9]{1,3}(?:\.[0-9]{3})+,[0-9]+|[0-9]{1,3}(?:\.[0-9]{3}){2,}", re.ASCII),
    re.compile(r"[0-9]{1,3}(?: [0-9]{3})+(?:[.,][0-9]+)?", re.ASCII),
)


@dataclass(frozen=True)
class Amount:
    """An exact number and, if its writing left a choice, how it was read."""

    value: Fraction
    note: str = ""


class AmbiguousAmountError(Exception):
    """The amount has two sensible meanings, or is a slip; the text says which."""


def plain(text: str) -> str:
    """Text with typographic dashes, quotes, spaces and fractions made plain, in lower case.

    >>> plain("5′ 2⅜″")
    '5\\' 2 3/8 "'
    """
    text = _STACKED.sub(lambda m: f" {m.group().translate(_SUPERSCRIPT)} ", text)
    text = text.translate(_VULGAR).translate(_PLAIN).replace("''", '"')
    return " ".join(text.lower().split())


def amount(text: str, *, is_rest: bool = False) -> Amount | None:
    """Read one plain amount, or None when it is none. `1.1/4` is 1-1/4, with a note.

    A fraction behind a whole number is less than one, and so is one that `is_rest`, such as of
    feet; only alone it may be more, as in 5/4, which is what some call 1-1/4.

    Raises AmbiguousAmountError for `1,234`, which is 1.234 to some and 1234 to others, for `1 5/4`,
    and for `24/36`, which may be two sizes.
    """
    if match := _MIXED_RE.fullmatch(text):
        whole, over, under = (int(group) for group in match.groups())
        found = _rest(over, under, whole)
        told = f"read as {whole}-{over}/{under}, and no tolerance" if _LOOSE.search(text) else ""
        return found and Amount(found.value, found.note or told)
    if match := _DOTTED_RE.fullmatch(text):
        whole, over, under = (int(group) for group in match.groups())
        found = _rest(over, under, whole)
        return found and Amount(found.value, found.note or f"{text} read as {whole}-{over}/{under}")
    if match := _FRACTION_RE.fullmatch(text):
        over, under = int(match[1]), int(match[2])
        return _rest(over, under) if is_rest else _alone(over, under)
    return _decimal(text)


def _alone(over: int, under: int) -> Amount | None:
    found = _fraction(over, under)
    if found and found.note:
        msg = f"{found.note}: two sizes, or one?"
        raise AmbiguousAmountError(msg)
    return found


def _rest(over: int, under: int, whole: int = 0) -> Amount | None:
    if over >= under > 0:
        msg = f"{over}/{under} after a larger number is one or more"
        raise AmbiguousAmountError(msg)
    return _fraction(over, under, whole)


def _fraction(over: int, under: int, whole: int = 0) -> Amount | None:
    if under == 0:
        return None
    on_a_rule = under <= 128 and under.bit_count() == 1
    note = "" if on_a_rule else f"{over}/{under} is not a fraction of an inch rule"
    return Amount(whole + Fraction(over, under), note)


def _decimal(text: str) -> Amount | None:
    if _POINT_RE.fullmatch(text):
        return Amount(Fraction(text))
    if _AMBIGUOUS_RE.fullmatch(text):
        msg = f"{text} may mean {text.replace(',', '.')} or {text.replace(',', '')}"
        raise AmbiguousAmountError(msg)
    if _COMMA_RE.fullmatch(text):
        point = text.replace(",", ".")
        return Amount(Fraction(point), f"decimal comma read as {point}")
    return _grouped(text)


def _grouped(text: str) -> Amount | None:
    for pattern, groups in zip(_THOUSANDS, (",", ".", " "), strict=True):
        if pattern.fullmatch(text):
            point = text.replace(groups, "").replace(",", ".")
            return Amount(Fraction(point), f"read as {point.rstrip('.')}")
    return None
