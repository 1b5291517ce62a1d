"""Draw the pictures of `docs/pictures`: pages of the demo week's packet, as it is planned now.

`python -m demo_orders.pictures` plans the week and writes them. It needs poppler's `pdftoppm`,
which draws a page, and ImageMagick's `convert`, which makes the file small.
"""

from __future__ import annotations

import subprocess
import sys
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from pypdf import PdfReader

HERE = Path(__file__).parent
PICTURES = HERE.parent / "docs" / "pictures"
COLOURS = 64
"""Print is ink, one blue-grey and their edges, so that so many do."""


@dataclass(frozen=True)
class Page:
    """The first page with a heading, and how many dots an inch show it as wide as a screen page."""

    heading: str
    dots: int


PAGES = {
    "glance.png": Page("Week 49 at a glance", 96),
    "pick-list.png": Page("Finisher pick list", 80),
    "card.png": Page("Finisher set-up card 2", 80),
    "cuts.png": Page("Cold saw cut lists", 80),
}


def first_pages(packet: Path) -> Mapping[str, int]:
    """The number of the first page below each heading, from 1."""
    headings = [page.extract_text().partition("\n")[0] for page in PdfReader(packet).pages]
    return {
        page.heading: next(n for n, text in enumerate(headings, 1) if text.startswith(page.heading))
        for page in PAGES.values()
    }


def draw(packet: Path, number: int, dots: int, picture: Path) -> None:
    """One page of a packet as a PNG with a palette."""
    with tempfile.TemporaryDirectory() as folder:
        plain = Path(folder, "page")
        page = ("-f", str(number), "-singlefile", "-r", str(dots))
        subprocess.run(["pdftoppm", "-png", *page, str(packet), str(plain)], check=True)
        drawn = str(plain.with_suffix(".png"))
        subprocess.run(
            ["convert", drawn, "-strip", "+dither", "-colors", str(COLOURS), f"png8:{picture}"],
            check=True,
        )


def main() -> None:
    """Plan the demo week and draw all pictures."""
    with tempfile.TemporaryDirectory() as folder:
        book, out = str(HERE / "usual.xlsx"), Path(folder, "week")
        command = [sys.executable, "-m", "planner_io", "plan", book, "--out", str(out)]
        subprocess.run(command, check=True)
        packet = out / "packet.pdf"
        numbers = first_pages(packet)
        for name, page in PAGES.items():
            draw(packet, numbers[page.heading], page.dots, PICTURES / name)


if __name__ == "__main__":
    main()
