"""What the hands need to shape one piece: the cut of each end, and where on the blank bends begin.

Marks are measured along the blank from its first end, grip included, to the tangent point where
a bend begins.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.bends import (
    MOST_OVALITY,
    OVALITY_FROM_ODS,
    arc_nm,
    minimum_wall_factor,
    thinning,
)
from planner.cope import mitre_reach_nm, saddle
from planner.orders import Bent, BentBlank, EndCut, EndKind, OrderLine, Step
from planner.records import Blank
from planner.tube import TubeSpec
from planner.units import Unit, format_angle, format_length, format_size

GRIP = "grip for the clamp"
TRIM = "trim after bending"


@dataclass(frozen=True, slots=True)
class Marks:
    """How lengths are written: the shop's unit and the finest mark of its tapes."""

    unit: Unit
    denominator: int = 32

    def length(self, nm: int) -> str:
        """A length to the nearest mark."""
        return format_length(nm, self.unit, self.denominator)

    def size(self, nm: int) -> str:
        """An OD or radius as the catalogue names it."""
        return format_size(nm, self.unit)


@dataclass(frozen=True, slots=True)
class BendMark:
    """One bend of a part and where it begins on the blank, nm from the blank's first end."""

    number: int
    start_nm: int
    angle_mdeg: int
    clr_nm: int
    rotation_mdeg: int


def bend_marks(line: OrderLine, blank: Blank) -> tuple[BendMark, ...]:
    """The bends of a part in order, with their tangent points on the blank.

    Straights between bends add up; a turn of the tube before a row without a bend is no mark.
    """
    at_nm = sum(term.length_nm for term in blank.terms if term.what == GRIP)
    marks: list[BendMark] = []
    for row in line.shape.rows if isinstance(line.shape, Bent) else ():
        start = at_nm + row.straight_nm
        at_nm = start + arc_nm(row.clr_nm, row.angle_mdeg)
        if row.angle_mdeg:
            bend = (row.angle_mdeg, row.clr_nm, row.rotation_mdeg)
            marks.append(BendMark(len(marks) + 1, start, *bend))
    return tuple(marks)


def shaping(line: OrderLine, blank: Blank, step: Step, marks: Marks) -> tuple[str, ...]:
    """What to do to one piece at a step, a sentence an end or bend; nothing for plain cuts."""
    if step is Step.SAW:
        return tuple(_mitres(line, marks))
    if step is Step.NOTCH:
        return tuple(_saddles(line, marks))
    if step is Step.BEND:
        return (*_bends(line, blank, marks), *_cut_off(blank, marks))
    return ()


def _ends(line: OrderLine, kind: EndKind) -> Iterator[tuple[str, EndCut]]:
    """The ends that are cut so, with their names; two that are cut alike are one."""
    first, second = line.ends
    if first == second:
        yield from [("both ends", first)] if first.kind is kind else []
        return
    for number, end in enumerate(line.ends, start=1):
        if end.kind is kind:
            yield f"end {number}", end


def _mitres(line: OrderLine, marks: Marks) -> Iterator[str]:
    for name, end in _ends(line, EndKind.MITRE):
        short = marks.length(2 * mitre_reach_nm(line.spec.od_nm, end.angle_mdeg))
        angle = format_angle(end.angle_mdeg)
        yield f"{name}: mitre {angle} off square, {short} from long to short point"
    if all(end.kind is EndKind.MITRE for end in line.ends):
        yield _twist(line.twist_mdeg)


def _twist(mdeg: int) -> str:
    """How two mitres stand to each other."""
    if mdeg % 360_000 == 0:
        return "long points of both ends on one side"
    if mdeg % 360_000 == 180_000:
        return "long points of the two ends on opposite sides"
    turn, way = format_angle(abs(mdeg)), "clockwise" if mdeg > 0 else "counter-clockwise"
    return f"end 2 turned {turn} {way} against end 1, as seen from end 1"


def _saddles(line: OrderLine, marks: Marks) -> Iterator[str]:
    for name, end in _ends(line, EndKind.SADDLE):
        cut = saddle(line.spec.od_nm, end.on_od_nm, end.angle_mdeg)
        on, angle = marks.size(end.on_od_nm), format_angle(end.angle_mdeg)
        deep = marks.length(cut.depth_nm)
        yield f"{name}: saddle on {on} at {angle} between the axes, {deep} deep"


def _bends(line: OrderLine, blank: Blank, marks: Marks) -> Iterator[str]:
    if isinstance(line.shape, BentBlank):
        times = "1 bend" if blank.bends == 1 else f"{blank.bends} bends"
        yield f"{times} at CLR {marks.size(blank.clr_nm)}, where and by how much as on its drawing"
    for mark in bend_marks(line, blank):
        turned = mark.rotation_mdeg and mark.number > 1
        turn = f"turn the tube {format_angle(mark.rotation_mdeg)}, " if turned else ""
        yield (
            f"bend {mark.number}: {turn}start {marks.length(mark.start_nm)} from the first end, "
            f"{format_angle(mark.angle_mdeg)} at CLR {marks.size(mark.clr_nm)}"
        )


def _cut_off(blank: Blank, marks: Marks) -> Iterator[str]:
    ends = {GRIP: "first", TRIM: "other"}
    for term in blank.terms:
        if term.what in ends:
            yield f"then cut {marks.length(term.length_nm)} off the {ends[term.what]} end"


def bend_remarks(spec: TubeSpec, clr_nm: int) -> tuple[str, ...]:
    """What a bend does to the wall, for the card of its set-up."""
    loss = f"The outside of the bend thins by about {100 * thinning(spec.od_nm, clr_nm):.0f} %"
    factor = minimum_wall_factor(spec.od_nm, clr_nm)
    if factor is None:
        return (f"{loss}; tables of minimum wall end at a radius of 3 ODs, so bend a trial piece.",)
    wall = f"{loss}: where a wall must be left, begin with {factor:g} times that wall."
    if clr_nm < OVALITY_FROM_ODS * spec.od_nm:
        return (wall,)
    return wall, f"Out of round by up to {100 * MOST_OVALITY:g} % of the OD is within the tables."
