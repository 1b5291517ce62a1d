"""The unit that a spreadsheet shows behind a number although the cell holds the number alone.

>>> shown_unit('0.0" mm"'), shown_unit("# ??/??\\\\\\""), shown_unit("0'"), shown_unit("0.00")
('mm', '"', "'", '')
>>> with_unit(3, "0'"), with_unit(36.5, "0.00"), with_unit(1200, '#,##0" mm";-0" mm"')
("3 '", 36.5, '1200 mm')
"""

from __future__ import annotations

import re
from functools import lru_cache

_LENGTHS = ("mm", "cm", "m", "in", "inch", "inches", "ft", "feet", '"', "'", "ga", "gauge", "gage")
_COUNTS = ("pr", "prs", "pair", "pairs", "doz", "dozen", "dz")
_TIMES = ("s", "sec", "min", "h", "hr", "hrs")
_UNITS = frozenset((*_LENGTHS, *_COUNTS, *_TIMES))
"""Units that change what a number says; others, such as money and pcs, do not."""
_TOKEN = re.compile(r'"(?P<quoted>[^"]*)"|\\(?P<escaped>.)|\[\$(?P<named>[^\]-]*)[^\]]*\]|[_*].|.')
_DIGITS = frozenset("0#?")


@lru_cache(maxsize=256)
def shown_unit(number_format: str) -> str:
    """The unit at the end of a number format for numbers above zero; empty for none."""
    shown = ""
    for token in _TOKEN.finditer(number_format):
        if token[0] == ";":
            break
        literal = next((text for text in token.groups() if text is not None), None)
        if token[0] in _DIGITS:
            shown = ""
        elif literal is not None or token[0] == "'":
            shown += token[0] if literal is None else literal
    unit = shown.strip().lower().removesuffix(".")
    return unit if unit in _UNITS else ""


def with_unit(value: float, number_format: str) -> float | str:
    """A number as the spreadsheet shows it, where that is with a unit; else as it is."""
    unit = shown_unit(number_format)
    if not unit:
        return value
    number = f"{value:.9f}".rstrip("0").rstrip(".") if isinstance(value, float) else str(value)
    return f"{number} {unit}"
