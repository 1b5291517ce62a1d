"""The cut bar: one stick to scale, its pieces in cutting order, kerfs as gaps, the drop open."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner_io.drawing.ink import (
    INK,
    PALE,
    STEEL,
    fit,
    line,
    rect,
    svg,
    text,
    text_width,
    true_fractions,
)

BAR_MM = 9.0
WORDS_MM = 4.2
KERF_MM = 0.7
"""A kerf to scale could not be seen; all are drawn this wide."""
_PIECE = f'fill="#fff" stroke="{INK}" stroke-width="0.3"'
_TRIM = f'fill="{STEEL}"'
_OPEN = f'stroke="{INK}" stroke-width="0.3" stroke-dasharray="1.2 0.9"'


@dataclass(frozen=True)
class BarPiece:
    """A piece of the stick: its length, its number in cutting order, and the words inside it."""

    length_nm: int
    number: str
    words: str


@dataclass(frozen=True)
class Bar:
    """One stick: trim, pieces and drop, with what becomes of the drop in words."""

    length_nm: int
    trim_nm: int
    pieces: tuple[BarPiece, ...]
    drop_nm: int
    drop_words: str


def cut_bar(bar: Bar, width: float, mm_per_nm: float) -> str:
    """The bar; `mm_per_nm` is the scale of the page, so that sticks compare by eye."""
    parts = list(_marks(bar, mm_per_nm, width))
    title = f"Cut bar with {len(bar.pieces)} pieces"
    return svg(width, BAR_MM + WORDS_MM, parts, title=title)


def _marks(bar: Bar, scale: float, width: float) -> Iterator[str]:
    x = 0.2
    if bar.trim_nm:
        trim = max(0.6, bar.trim_nm * scale)
        yield rect(x, 0.2, trim, BAR_MM - 0.4, _TRIM)
        x += trim
    gap = KERF_MM if _shortest(bar.pieces) * scale > 3 * KERF_MM else 0.25
    for piece in bar.pieces:
        end = x + piece.length_nm * scale
        yield rect(x, 0.2, max(0.3, end - x - gap), BAR_MM - 0.4, _PIECE)
        yield from _inside(piece, x, end - x - gap)
        x = end
    yield from _drop(bar, x, scale, width)


def _shortest(pieces: Sequence[BarPiece]) -> int:
    return min((piece.length_nm for piece in pieces), default=0)


def _inside(piece: BarPiece, x: float, width: float) -> Iterator[str]:
    """The number always if it fits, the length below it where there is room."""
    centre = x + width / 2
    if text_width(piece.words, 3.4, bold=True) + 0.6 <= width:
        yield text(centre, 3.3, piece.number, 2.3, anchor="middle", fill=PALE)
        yield text(centre, 7.2, true_fractions(piece.words), 3.4, bold=True, anchor="middle")
    elif text_width(piece.number, 2.6) + 0.3 <= width:
        yield text(centre, 5.6, piece.number, 2.6, anchor="middle")


def _drop(bar: Bar, x: float, scale: float, width: float) -> Iterator[str]:
    if bar.drop_nm <= 0:
        return
    end = min(width, x + bar.drop_nm * scale)
    yield line(x, 0.3, end, 0.3, _OPEN)
    yield line(x, BAR_MM - 0.3, end, BAR_MM - 0.3, _OPEN)
    yield line(x, 0.3, x, BAR_MM - 0.3, f'stroke="{INK}" stroke-width="0.3"')
    words = true_fractions(bar.drop_words)
    if text_width(words, 2.8) + 2 <= end - x:
        yield text(x + 1.2, BAR_MM / 2 + 1, words, 2.8)
    else:
        shown = fit(words, width, 2.8)
        right = min(width, max(end, text_width(shown, 2.8)))
        yield text(right, BAR_MM + 3.1, shown, 2.8, anchor="end")
