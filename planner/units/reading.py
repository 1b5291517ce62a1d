"""What a parser hands back, the constants of length, and the one way to refuse a value."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from planner.errors import InputError, input_error

NM_PER_MM = 1_000_000
NM_PER_INCH = 25_400_000
NM_PER_FOOT = 12 * NM_PER_INCH
NM_PER_CM = 10 * NM_PER_MM
NM_PER_M = 1_000 * NM_PER_MM

Unit = Literal["inch", "mm"]
"""The units a shop may choose as its own."""

MIN_LENGTH_NM = 10_000
"""0.01 mm: anything shorter is a slip of the pen, not a length in a tube shop."""
MAX_LENGTH_NM = 100 * NM_PER_M
"""100 m: anything longer is a slip of the pen too."""


@dataclass(frozen=True)
class Reading:
    """A length in nm, and whether it was written in just one possible way.

    `literal` is False when the text was interpreted (a gauge number, a decimal comma, a pipe
    size); `note` then says how, for the planner to confirm.
    """

    nm: int
    literal: bool = True
    note: str = ""


def shown(value: object) -> str:
    """How a refused value is quoted back: printable and short."""
    if isinstance(value, int) and abs(value) >= 10**15:
        return "a huge number"
    text = "".join(c if c.isprintable() else " " for c in str(value))
    return text if len(text) <= 40 else text[:37] + "..."


def refuse(value: object, expected: str, why: str = "") -> InputError:
    """The error for a value that cannot be read; `why` names the culprit if it is known."""
    read = shown(value)
    reason = f" ({why})" if why else ""
    return input_error(f'read "{read}"{reason}, expected {expected}', read=read, expected=expected)


def or_mm(value: object, default: Unit) -> str:
    """The end of a sentence about a bare number that is too much for inches."""
    bare = default == "inch" and re.fullmatch(r"[0-9.,]+", str(value))
    return f"; if it is in mm, write {value} mm, or mm in the header" if bare else ""
