"""From order lines to blanks: how long each piece is cut, what is done to it, and why not.

A blank's length is the sum of its terms: for a bent part its straights, arcs and the shop's grip
and trim, or the length of its blank where that is ordered; for a piece between axes the distance
less what its saddles save; else the length ordered, long point to long point.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain

from planner.bends import arc_nm
from planner.blank_checks import check_blank, check_week, located, too_short
from planner.cope import mitre_reach_nm, saddle, short_side_nm
from planner.errors import Finding, InputError, Severity
from planner.mounting import bender_for
from planner.orders import (
    USUAL_ROUTE,
    AxisToAxis,
    Bend,
    Bent,
    BentBlank,
    EndCut,
    EndKind,
    OrderLine,
    Step,
    bend_radii,
)
from planner.records import Allowance, Blank
from planner.shaping import GRIP, TRIM
from planner.shop import BenderSettings, Shop
from planner.shop_checks import check_shop
from planner.stock import StockItem
from planner.units import format_angle, format_size
from planner.units.reading import Unit


@dataclass(frozen=True, slots=True)
class BlankResult:
    """Blanks of the lines that can be made, and everything found on the way.

    A line with an error among its findings (their `subject` is its key) has no blank.
    """

    blanks: tuple[Blank, ...]
    findings: tuple[Finding, ...]
    refused: tuple[str, ...]
    """Keys of the lines without a blank."""


def make_blanks(orders: Sequence[OrderLine], stock: Sequence[StockItem], shop: Shop) -> BlankResult:
    """A blank for each order line, or the reasons why it cannot be made as ordered."""
    made = [_of_line(line, stock, shop) for line in orders]
    twice = list(_entered_twice(orders))
    doubled = {finding.subject for finding in twice}
    blanks = tuple(blank for blank, _ in made if blank and blank.line not in doubled)
    kept = {blank.line for blank in blanks}
    planned = [line for line in orders if line.key in kept]
    return BlankResult(
        blanks=blanks,
        findings=(
            *check_shop(shop),
            *twice,
            *chain.from_iterable(findings for _, findings in made),
            *check_week(planned, stock, shop),
        ),
        refused=tuple(dict.fromkeys(line.key for line in orders if line.key not in kept)),
    )


def _entered_twice(orders: Sequence[OrderLine]) -> Iterator[Finding]:
    first: dict[str, OrderLine] = {}
    for line in orders:
        if line.key in first:
            where = first[line.key].place or "another row"
            text = f"Line {line.key} is entered at {where} too; give one of them another number."
            yield located(line, Severity.ERROR, text)
        first.setdefault(line.key, line)


def _of_line(
    line: OrderLine, stock: Sequence[StockItem], shop: Shop
) -> tuple[Blank | None, list[Finding]]:
    try:
        blank = make_blank(line, shop)
    except InputError as problem:
        return None, [located(line, f.severity, f.message) for f in problem.findings]
    findings = list(check_blank(line, blank, stock, shop))
    refused = any(finding.severity is Severity.ERROR for finding in findings)
    return (None if refused else blank), findings


def make_blank(line: OrderLine, shop: Shop) -> Blank:
    """The blank of one order line by geometry and route alone.

    A piece too short to be fed by hand is finished before it is sawn, whatever its route says.
    Raises InputError for ends that cannot be cut.
    """
    terms = tuple(term for term in _terms(line, shop) if term.length_nm)
    length_nm = sum(term.length_nm for term in terms)
    _check_ends(line, length_nm)
    radii = bend_radii(line.shape)
    steps = steps_of(line)
    if too_short(line, steps, length_nm, shop):
        steps = (Step.FINISH, *(step for step in steps if step is not Step.FINISH))
    return Blank(
        line=line.key,
        length_nm=length_nm,
        quantity=line.quantity,
        steps=steps,
        terms=terms,
        saddles_nm=tuple(end.on_od_nm for end in line.ends if end.kind is EndKind.SADDLE),
        bends=len(radii),
        clr_nm=radii[0] if radii else 0,
    )


def steps_of(line: OrderLine) -> tuple[Step, ...]:
    """What is done to a piece, in order: the steps of its route that it needs.

    A needed step that the route does not name comes where it usually does; touch-up comes last.
    """
    route: list[Step] = [step for step in line.route if step is not Step.TOUCH_UP]
    for step in USUAL_ROUTE:
        if step not in route:
            later = USUAL_ROUTE[USUAL_ROUTE.index(step) + 1 :]
            places = [route.index(after) for after in later if after in route]
            route.insert(min(places, default=len(route)), step)
    return tuple(step for step in (*route, Step.TOUCH_UP) if _needs(line, step))


def _needs(line: OrderLine, step: Step) -> bool:
    match step:
        case Step.FINISH:
            return line.recipe is not None
        case Step.SAW:
            return True
        case Step.NOTCH:
            return any(end.kind is EndKind.SADDLE for end in line.ends)
        case Step.BEND:
            return bool(bend_radii(line.shape))
        case Step.TOUCH_UP:
            return line.touch_up_s > 0


def _terms(line: OrderLine, shop: Shop) -> Iterator[Allowance]:
    unit = shop.house.unit
    if isinstance(line.shape, Bent):
        yield from _bent_terms(line.shape.rows, unit)
        yield from _allowances(line, shop)
    elif isinstance(line.shape, AxisToAxis):
        yield Allowance(what="axis to axis", length_nm=line.shape.length_nm)
        for end in line.ends:
            yield from _end_terms(line, end, unit)
    else:
        what = "blank" if isinstance(line.shape, BentBlank) else "length"
        yield Allowance(what=what, length_nm=line.shape.length_nm)


def _bent_terms(rows: Sequence[Bend], unit: Unit) -> Iterator[Allowance]:
    for number, row in enumerate(rows, start=1):
        yield Allowance(what=f"straight {number}", length_nm=row.straight_nm)
        if row.angle_mdeg:
            what = f"arc {format_angle(row.angle_mdeg)} at CLR {format_size(row.clr_nm, unit)}"
            yield Allowance(what=what, length_nm=arc_nm(row.clr_nm, row.angle_mdeg))


def _end_terms(line: OrderLine, end: EndCut, unit: Unit) -> Iterator[Allowance]:
    """What an end adds to, or saves from, the length between axes."""
    if end.kind is EndKind.SADDLE:
        cut = saddle(line.spec.od_nm, end.on_od_nm, end.angle_mdeg)
        on, at = format_size(end.on_od_nm, unit), format_angle(end.angle_mdeg)
        yield Allowance(what=f"saddle on {on} at {at}", length_nm=-cut.nearest_nm)
    elif end.kind is EndKind.MITRE:
        reach = mitre_reach_nm(line.spec.od_nm, end.angle_mdeg)
        yield Allowance(what=f"mitre {format_angle(end.angle_mdeg)}", length_nm=reach)


def _allowances(line: OrderLine, shop: Shop) -> Iterator[Allowance]:
    """Grip before the first bend and trim behind the last one, on ends that are cut afterwards.

    An end that is shaped before bending cannot be cut again, so it gets no allowance.
    """
    if not bend_radii(line.shape):
        return
    bender = _bender_settings(line, shop)
    first, last = (_is_cut_after_bending(line, end) for end in line.ends)
    yield Allowance(what=GRIP, length_nm=bender.grip_nm if first else 0)
    yield Allowance(what=TRIM, length_nm=bender.trim_nm if last else 0)


def _is_cut_after_bending(line: OrderLine, end: EndCut) -> bool:
    steps = steps_of(line)
    if end.kind is EndKind.SADDLE:
        return steps.index(Step.BEND) < steps.index(Step.NOTCH)
    return end.kind is EndKind.SQUARE


def _bender_settings(line: OrderLine, shop: Shop) -> BenderSettings:
    """Settings of the bender that the line may go to."""
    bender = bender_for(shop, line.spec, next(iter(bend_radii(line.shape)), 0))
    return bender.bender if bender else BenderSettings()


def _check_ends(line: OrderLine, length_nm: int) -> None:
    """Raise InputError for ends that cannot be cut on this tube or that meet each other."""
    od_nm = line.spec.od_nm
    mitres = [end.angle_mdeg for end in line.ends if end.kind is EndKind.MITRE]
    saddles = [end for end in line.ends if end.kind is EndKind.SADDLE]
    deep = sum(saddle(od_nm, end.on_od_nm, end.angle_mdeg).depth_nm for end in saddles)
    if short_side_nm(length_nm, od_nm, mitres, line.twist_mdeg) - deep <= 0:
        text = f"Line {line.key}: its ends meet each other; make it longer or its cuts less sharp."
        raise InputError((Finding(severity=Severity.ERROR, message=text),))


def nothing_to_plan() -> Finding:
    """What is wrong with a week without order lines."""
    return Finding(
        severity=Severity.ERROR,
        message="There is no order line to plan: fill in the sheet Orders.",
        sheet="Orders",
    )
