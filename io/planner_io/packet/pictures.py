"""The pictures of a packet, each kept once however often it is shown."""

from __future__ import annotations

from dataclasses import dataclass, field
from io import BytesIO

import segno

from planner.tube import TubeSpec
from planner_io.drawing.cut_bar import Bar, cut_bar
from planner_io.drawing.lay import Lay, lay_strip
from planner_io.drawing.ring import ring
from planner_io.packet.sizes import RING_MM

LAY_MM = 24.0


@dataclass
class Pictures:
    """SVG texts by name; the template shows a picture by its name."""

    ring_scale: float
    svg: dict[str, str] = field(default_factory=dict[str, str])

    def ring(self, spec: TubeSpec) -> str:
        """The name of a tube's ring."""
        name = f"ring-{spec.od_nm}-{spec.wall_nm}"
        if name not in self.svg:
            self.svg[name] = ring(spec.od_nm, spec.wall_nm, self.ring_scale, RING_MM)
        return name

    def lay(self, lay: Lay | None, width_mm: float = LAY_MM) -> str:
        """The name of a belt's strip; empty for work without a belt."""
        if lay is None:
            return ""
        name = f"lay-{lay.micron}-{lay.non_woven}-{width_mm}"
        if name not in self.svg:
            self.svg[name] = lay_strip(lay, width_mm)
        return name

    def bar(self, bar: Bar, width_mm: float, mm_per_nm: float) -> str:
        """The name of a stick's cut bar."""
        return self.add("bar", cut_bar(bar, width_mm, mm_per_nm))

    def square_code(self, words: str) -> str:
        """The name of a QR code that says `words`."""
        code = segno.make(words, error="m", micro=False)
        page = BytesIO()
        code.save(page, kind="svg", border=0, omitsize=True, xmldecl=False)
        return self.add("qr", page.getvalue().decode())

    def add(self, kind: str, svg: str) -> str:
        """Keep a picture that is shown in one place."""
        name = f"{kind}-{len(self.svg)}"
        self.svg[name] = svg
        return name
