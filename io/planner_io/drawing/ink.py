"""What everything is drawn with: four inks, one type, and safe SVG text."""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.sax.saxutils import escape

INK = "#1d1d1b"
STEEL = "#34515c"
"""Blue-grey, for the machine's own parts and the belts' lays."""
RED = "#b3261e"
"""Late or unsafe, always with a word beside it."""
PALE = "#6b6862"
SHADE = "#eeebe3"
"""Hours in which nobody works."""
FONT = "Source Sans Pro"


_FRACTION = re.compile(r"(?<=\d)/(?=\d)")
_BEFORE_INCHES = re.compile(r'(?<=\d)/(?=\d+")')
_NARROW = frozenset("ijlftr.,:;'\"!|()[]-/ 1·")
_WIDE = frozenset("mwMW%@–—→×")


def num(value: float) -> str:
    """A coordinate with at most three decimals.

    >>> num(12.0), num(0.12345)
    ('12', '0.123')
    """
    return f"{value:.3f}".rstrip("0").rstrip(".")


def true_fractions(length: str) -> str:
    """A length with fraction bars, which the type sets as true fractions.

    >>> true_fractions('1-3/8"')
    '1-3⁄8"'
    """
    return _FRACTION.sub("\u2044", length)


def inch_fractions(words: str) -> str:
    """Words with lengths in them: only what an inch mark follows is a fraction.

    >>> inch_fractions('1187/2: start 9-1/16" from the end')
    '1187/2: start 9-1⁄16" from the end'
    """
    return _BEFORE_INCHES.sub("\u2044", words)


def text_width(text: str, size: float, bold: bool = False) -> float:
    """Width of text at a size, in the size's unit; an estimate on the wide side."""
    em = sum(0.3 if c in _NARROW else 0.88 if c in _WIDE else _usual_em(c) for c in text)
    return em * size * (1.06 if bold else 1.0)


def _usual_em(char: str) -> float:
    if ord(char) > 0x2E7F:
        return 1.0
    return 0.62 if char.isupper() else 0.52


def fit(text: str, width: float, size: float, bold: bool = False) -> str:
    """The text, shortened with an ellipsis until it fits; empty when not even that does.

    >>> fit("a very long name", 10, 2)
    'a very lon…'
    """
    if text_width(text, size, bold) <= width:
        return text
    for end in range(len(text) - 1, 1, -1):
        short = text[:end].rstrip() + "…"
        if text_width(short, size, bold) <= width:
            return short
    return ""


def text(
    x: float,
    y: float,
    words: str,
    size: float,
    *,
    bold: bool = False,
    anchor: str = "start",
    fill: str = INK,
) -> str:
    """One line of text with its baseline at `y`; nothing for no words."""
    if not words:
        return ""
    weight = ' font-weight="700"' if bold else ""
    place = f' text-anchor="{anchor}"' if anchor != "start" else ""
    colour = f' fill="{fill}"' if fill != INK else ""
    return (
        f'<text x="{num(x)}" y="{num(y)}" font-size="{num(size)}"{weight}{place}{colour}>'
        f"{escape(printable(words))}</text>"
    )


def printable(words: str) -> str:
    """Text without the control characters that XML cannot hold."""
    return "".join(c if c.isprintable() else " " for c in words)


def line(x1: float, y1: float, x2: float, y2: float, style: str) -> str:
    """A straight line; `style` is a row of SVG attributes."""
    return f'<line x1="{num(x1)}" y1="{num(y1)}" x2="{num(x2)}" y2="{num(y2)}" {style}/>'


def rect(x: float, y: float, width: float, height: float, style: str) -> str:
    """An upright rectangle."""
    return (
        f'<rect x="{num(x)}" y="{num(y)}" width="{num(max(0.0, width))}" '
        f'height="{num(max(0.0, height))}" {style}/>'
    )


def svg(width: float, height: float, parts: Iterable[str], title: str = "") -> str:
    """A whole picture of `width` × `height` mm; `title` says it in words for who cannot see it, and
    a picture without one adds nothing to the words beside it."""
    named = f"<title>{escape(printable(title))}</title>" if title else ""
    told = 'role="img"' if title else 'aria-hidden="true"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{num(width)}mm" height="{num(height)}mm" '
        f'viewBox="0 0 {num(width)} {num(height)}" font-family="{FONT}" fill="{INK}" '
        f"{told}>{named}{''.join(parts)}</svg>"
    )
