"""The gap: a changeover as a broken line as long as its minutes. Lost time looks like lost time."""

from __future__ import annotations

from dataclasses import dataclass

from planner_io.drawing.ink import INK, fit, line, text, text_width

_BROKEN = f'stroke="{INK}" stroke-width="0.35" stroke-dasharray="1 0.8"'
_END = f'stroke="{INK}" stroke-width="0.35"'

CLEAR_MM = 0.4
"""Room that words keep from the work at both sides together."""


@dataclass(frozen=True)
class Gap:
    """A changeover: minutes from midnight of the plan's first day, and what changes, in words."""

    start_min: int
    end_min: int
    words: str

    @property
    def minutes(self) -> int:
        """How long it takes."""
        return self.end_min - self.start_min


def gap_marks(gap: Gap, x: float, width: float, middle: float, size: float) -> str:
    """The broken line from x to x + width at the height `middle`, words above, minutes below.

    No prime stands for minutes: beside tube it would be read as feet.
    """
    words = _words_that_fit(gap.words, width, size)
    below = _minutes_that_fit(gap.minutes, width, size)
    centre = x + width / 2
    return "".join(
        [
            broken_line(x, width, middle),
            text(centre, middle - 0.9, words, size, anchor="middle"),
            text(centre, middle + size + 0.3, below, size, bold=True, anchor="middle"),
        ]
    )


def broken_line(x: float, width: float, middle: float) -> str:
    """The broken line alone, with its ends."""
    return "".join(
        [
            line(x, middle, x + width, middle, _BROKEN),
            line(x, middle - 0.7, x, middle + 0.7, _END),
            line(x + width, middle - 0.7, x + width, middle + 0.7, _END),
        ]
    )


def _minutes_that_fit(minutes: int, width: float, size: float) -> str:
    """The minutes with a word, else bare, else nothing, clear of the work at both sides."""
    shown = (f"{minutes} min", str(minutes))
    return next((m for m in shown if text_width(m, size, bold=True) + CLEAR_MM <= width), "")


def _words_that_fit(words: str, width: float, size: float) -> str:
    """Whole words, as many as there is room for, clear of the work at both sides: half a word
    helps nobody."""
    kept = ""
    for word in words.split():
        longer = f"{kept} {word}".strip()
        if fit(longer, width - CLEAR_MM, size) != longer:
            break
        kept = longer
    return kept
