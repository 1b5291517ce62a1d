"""Sizes on paper that hands and eyes depend on; the template takes them from here."""

from __future__ import annotations

TICK_MM = 9.5
"""Side of a tick box: a carpenter's pencil in a glove hits 9 mm."""
SETTING_PT = 22
"""Type of the numbers on a set-up card, to be read at arm's length."""
NUMBER_MM = {"inch": 31.0, "mm": 38.0}
"""Width kept for those numbers: `1-15/16"` or `128.5 mm`."""
MARGIN_MM = 14.0
HEADER_MM = 24.0
"""From the top edge to the page's content."""
FOOT_MM = 10.0
RING_MM = 11.0
QR_MM = 22.0
TAG_MM = 34.5
"""Height of a tag."""

PAPERS_MM = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
"""Width and height of upright pages."""
TYPST_PAPER = {"letter": "us-letter", "a4": "a4"}


def inner_mm(paper: str, *, flipped: bool = False) -> tuple[float, float]:
    """Width and height of what fits inside a page's margins."""
    width, height = PAPERS_MM[paper]
    if flipped:
        width, height = height, width
    return width - 2 * MARGIN_MM, height - HEADER_MM - FOOT_MM
