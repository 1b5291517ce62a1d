"""What must be mounted on a station for a piece of work: belt, rail, die, cutter, roller."""

from __future__ import annotations

from planner.abrasives import Grade
from planner.changeovers import MountedState
from planner.finisher.geometry import LEAST_GAP_NM
from planner.finisher.suggest import thickest_rail_nm
from planner.shop import Belt, Rail, Shop, Station, StationKind, Tool, ToolKind, What
from planner.tube import Family, TubeSpec
from planner.units import NM_PER_MM


def belt_for(shop: Shop, grade: Grade, family: Family, coarse: bool = False) -> Belt | None:
    """The belt of a grade that may touch a family; None when the shop has none.

    Where there are several, the first; or, if the shop wants worn belts used up on coarse work,
    the most worn one for a pass whose marks a finer belt takes out again (`coarse`) and the
    least worn one for the others.
    """
    fits = [belt for belt in shop.belts if belt.grade == grade and family in belt.families]
    if shop.house.worn_first:
        fits.sort(key=worn_share, reverse=coarse)
    return next(iter(fits), None)


def worn_share(belt: Belt) -> float:
    """Share of its life that the belt in use has behind it, by minutes or by area, whichever is
    more; 0 where nobody counts it."""
    by_time = belt.used_min / belt.life_min if belt.life_min else 0.0
    by_area = belt.used_cm2 / belt.life_cm2 if belt.life_cm2 else 0.0
    return min(1.0, max(by_time, by_area))


def rail_for(shop: Shop, od_nm: int, family: Family) -> Rail | None:
    """The thickest rail for a family that leaves a gap with its front a quarter of the OD from
    the belt, to a mark of the shop's rule, and the thinnest of the family where none does; None
    when there is no rail."""
    rails = sorted(
        (rail for rail in shop.rails if family in rail.families),
        key=lambda rail: rail.thickness_nm,
    )
    limit = thickest_rail_nm(od_nm, LEAST_GAP_NM, shop.house.mark_nm)
    roomy = [rail for rail in rails if rail.thickness_nm <= limit]
    return next(iter(roomy[-1:] or rails[:1]), None)


def tools_for(shop: Shop, station: Station, kind: ToolKind, od_nm: int) -> list[Tool]:
    """The tools of a kind and OD that fit a station, in the order of the shop."""
    return [
        tool
        for tool in shop.tools
        if tool.station == station.name and tool.kind == kind and tool.od_nm == od_nm
    ]


def die_for(
    shop: Shop, station: Station, od_nm: int, clr_nm: int, finished: bool = False
) -> Tool | None:
    """The die for an OD and centreline radius, a soft or clean one first for finished tube."""
    dies = [die for die in tools_for(shop, station, ToolKind.DIE, od_nm) if die.clr_nm == clr_nm]
    return min(dies, key=lambda die: finished and not die.soft, default=None)


def bender_for(shop: Shop, spec: TubeSpec, clr_nm: int) -> Station | None:
    """The first bender with a die for the tube at this centreline radius, else the first that
    takes its OD; None when no bender does."""
    benders = [bender for bender in shop.of_kind(StationKind.BENDER) if takes(bender, spec, 0)]
    with_die = [bender for bender in benders if die_for(shop, bender, spec.od_nm, clr_nm)]
    return next(iter((*with_die, *benders)), None)


def finisher_state(shop: Shop, spec: TubeSpec, belt: Belt) -> MountedState:
    """What a pass needs mounted on a finisher."""
    rail = rail_for(shop, spec.od_nm, spec.family)
    state = {What.OD: str(spec.od_nm), What.BELT: belt.name, What.FAMILY: spec.family.value}
    return {**state, What.RAIL: rail.name} if rail else state


def saw_state(spec: TubeSpec) -> MountedState:
    """What cutting a tube needs mounted on a saw: its jaws or vees for the OD."""
    return {What.OD: str(spec.od_nm)}


def notcher_state(shop: Shop, station: Station, spec: TubeSpec, saddle_nm: int) -> MountedState:
    """What a saddle needs mounted on a notcher: a cutter or roller of the OD it sits on.

    Without such a tool the saddle's OD stands in its place.
    """
    state = {What.OD: str(spec.od_nm)}
    kinds = ((ToolKind.CUTTER, What.CUTTER), (ToolKind.ROLLER, What.ROLLER))
    for kind, what in kinds:
        for tool in tools_for(shop, station, kind, saddle_nm)[:1]:
            state[what] = tool.name
    if len(state) == 1:
        state[missing_tool(shop, station)] = str(saddle_nm)
    return state


SMALLEST_OD_NM = NM_PER_MM
"""No tube is thinner, so a smaller number is a tool's name."""


def size_nm(mounted: str) -> int | None:
    """The OD that stands in a state as its nanometres; None where a name stands."""
    is_size = mounted.isascii() and mounted.isdigit() and int(mounted) >= SMALLEST_OD_NM
    return int(mounted) if is_size else None


def missing_tool(shop: Shop, station: Station) -> What:
    """What a saddle for which a notcher has no tool is cut with: a roller where all its tools are
    rollers, else a cutter."""
    kinds = {tool.kind for tool in shop.tools if tool.station == station.name}
    return What.ROLLER if kinds == {ToolKind.ROLLER} else What.CUTTER


def bender_state(
    shop: Shop, station: Station, spec: TubeSpec, clr_nm: int, finished: bool
) -> MountedState | None:
    """What a bend needs mounted on a bender; None when it has no die for it."""
    die = die_for(shop, station, spec.od_nm, clr_nm, finished)
    return {What.DIE: die.name} if die else None


def takes(station: Station, spec: TubeSpec, longest_nm: int) -> bool:
    """Whether a station takes tube of this OD and length."""
    fits = station.od_min_nm <= spec.od_nm <= station.od_max_nm
    return fits and (station.longest_nm is None or longest_nm <= station.longest_nm)
