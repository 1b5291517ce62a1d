"""From a plan to the bytes of its packet."""

from __future__ import annotations

import json
import shutil
import tempfile
from datetime import UTC, datetime, time
from pathlib import Path

import typst

from planner.records import Plan
from planner_io.letters import FONTS
from planner_io.packet.data import packet_data
from planner_io.packet.floor import TagKind
from planner_io.packet.tidy import tidy
from planner_io.views.index import Index

HERE = Path(__file__).parent

__all__ = ["TagKind", "write_packet"]


def write_packet(plan: Plan, tags: TagKind = TagKind.BUNDLES, font: Path | None = None) -> bytes:
    """The packet of a plan as PDF: planner's pages, each station's papers, tags.

    `tags` says whether every piece gets a tag of its own or the bundle of each order line. `font`
    is a font file for letters that the shipped type lacks.
    """
    pages, pictures = packet_data(Index(plan), tags)
    data = json.dumps({"pages": tidy(pages), "pictures": pictures}, ensure_ascii=False)
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as beside:
        if font is not None:
            shutil.copy(font, beside)  # alone, for other fonts of its folder would be taken too
        return typst.compile(
            HERE / "main.typ",
            root=HERE,
            font_paths=[FONTS, Path(beside)],
            ignore_system_fonts=True,
            pdf_tags=False,
            format="pdf",
            sys_inputs={"data": data},
            timestamp=datetime.combine(plan.options.start, time(), UTC),
        )
