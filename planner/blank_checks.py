"""What speaks against a blank: reasons to refuse it, and things to be warned about."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from planner.abrasives import check_steps
from planner.bends import MOST_BEND_INDEX, bend_index, clamp_straight_nm, thinning
from planner.errors import Finding, Severity
from planner.material import saw_settings
from planner.mounting import belt_for, bender_for, die_for, missing_tool, takes
from planner.orders import Bent, BentBlank, EndKind, OrderLine, Step, bend_radii, sawn_first
from planner.records import Blank
from planner.roughness import doubt
from planner.set_up_checks import check_set_ups
from planner.shaping import GRIP
from planner.shop import KIND_OF_STEP, Recipe, RecipeStep, Shop, Station, StationKind
from planner.sticks import (
    able,
    finisher_longest_nm,
    longest_piece_nm,
    longest_stick_nm,
    sticks_for,
)
from planner.stock import StockItem
from planner.stock_hints import stock_hint
from planner.tube import TubeSpec, spec_name
from planner.units import format_length, format_limit, format_size

LEAST_RING = 4
"""A piece shorter than this part of its OD is asked about."""

Said = tuple[Severity, str]
"""A finding without its place."""


def located(line: OrderLine, severity: Severity, message: str) -> Finding:
    """A finding about an order line, at the cell where the line was read."""
    sheet, _, cell = line.place.rpartition("!")
    return Finding(
        severity=severity,
        message=message,
        sheet=sheet or None,
        cell=cell if sheet else None,
        subject=line.key,
    )


def _refused(text: str) -> Said:
    return Severity.ERROR, text


def _warned(text: str) -> Said:
    return Severity.WARNING, text


def check_blank(
    line: OrderLine, blank: Blank, stock: Sequence[StockItem], shop: Shop
) -> Iterator[Finding]:
    """Everything that speaks against one blank."""
    said = (
        *_route(blank),
        *_short(line, blank, shop),
        *_stations(line, blank, shop),
        *_recipe(line, shop),
        *_bends(line, blank, shop),
        *_saddles(line, blank, shop),
        *_sticks(line, blank, stock, shop),
        *_sliver(line, blank, shop),
    )
    for severity, text in said:
        yield located(line, severity, f"Line {line.key}: {text}")


def _length(shop: Shop, length_nm: int) -> str:
    return format_length(length_nm, shop.house.unit, shop.house.denominator)


def _limit(shop: Shop, length_nm: int) -> str:
    return format_limit(length_nm, shop.house.unit, shop.house.denominator)


def _size(shop: Shop, length_nm: int) -> str:
    return format_size(length_nm, shop.house.unit)


def _route(blank: Blank) -> Iterator[Said]:
    place = {step: number for number, step in enumerate(blank.steps)}
    last = len(blank.steps)
    if place.get(Step.BEND, last) < place.get(Step.FINISH, 0):
        yield _refused(
            "its route finishes after bending, but bent tube cannot go through the finisher; "
            "finish it first and give touch-up minutes for the clamp's marks."
        )
    elif place.get(Step.NOTCH, last) < place.get(Step.FINISH, 0):
        yield _refused(
            "its route finishes after notching, but the points of a saddle catch the belt; "
            "finish it before notching."
        )
    if min(place.get(Step.NOTCH, last), place.get(Step.BEND, last)) < place[Step.SAW]:
        yield _refused("its route notches or bends before sawing; saw it first.")


def _stations(line: OrderLine, blank: Blank, shop: Shop) -> Iterator[Said]:
    """Every step needs a station that takes the OD and the blank; touch-up does not, as a shop
    without a bench does it at the bender."""
    for step in blank.steps:
        kind = KIND_OF_STEP[step]
        if step is Step.TOUCH_UP:
            continue
        if not shop.of_kind(kind):
            yield _refused(f"the shop has no {kind} for it; add one to the sheet Stations.")
        elif not able(shop, kind, line.spec):
            yield _refused(_out_of_range(line, kind, shop))
        elif step is not Step.FINISH and not _takes_blank(shop, kind, line, blank):
            long = _length(shop, blank.length_nm)
            yield _refused(
                f"its blank of {long} is too long for the {kind}; make it in parts, or correct "
                "Longest in the sheet Stations."
            )


def _takes_blank(shop: Shop, kind: StationKind, line: OrderLine, blank: Blank) -> bool:
    return any(takes(station, line.spec, blank.length_nm) for station in shop.of_kind(kind))


def _out_of_range(line: OrderLine, kind: StationKind, shop: Shop) -> str:
    stations = shop.of_kind(kind)
    ranges = ", ".join(
        f"{s.name} {_size(shop, s.od_min_nm)} to {_size(shop, s.od_max_nm)}" for s in stations
    )
    od = _size(shop, line.spec.od_nm)
    cure = "leave the finish out" if kind is StationKind.FINISHER else "change the OD"
    return (
        f"its OD of {od} is outside what the {kind} takes ({ranges}); {cure}, or correct the sheet "
        "Stations."
    )


def _recipe(line: OrderLine, shop: Shop) -> Iterator[Said]:
    if line.recipe is None:
        return
    recipe = {recipe.name: recipe for recipe in shop.recipes}.get(line.recipe)
    if recipe is None:
        names = ", ".join(recipe.name for recipe in shop.recipes) or "none"
        yield _refused(f"there is no recipe {line.recipe}; the shop has: {names}.")
        return
    if line.spec.family not in recipe.families:
        yield _refused(f"recipe {recipe.name} is not meant for {line.spec.family}; choose another.")
    steps = _used(recipe, line.spec)
    if not steps:
        yield _refused(
            f"recipe {recipe.name} has no pass for {line.spec.surface} tube; enter its passes, or "
            "leave the finish out."
        )
    for step in steps:
        if belt_for(shop, step.grade, line.spec.family) is None:
            yield _refused(
                f"there is no {step.grade.label} belt for {line.spec.family}; add one to the sheet "
                "Belts, or choose another recipe."
            )
    for finding in check_steps(step.grade for step in _since_back(steps)):
        if finding.severity is Severity.ERROR:
            yield _refused(f"recipe {recipe.name} is out of order: {finding.message}")


def _used(recipe: Recipe, spec: TubeSpec) -> list[RecipeStep]:
    """The steps of a recipe that tube with this surface goes through."""
    return [step for step in recipe.steps if step.passes.get(spec.surface, 0)]


def _since_back(steps: list[RecipeStep]) -> list[RecipeStep]:
    """The steps since a check last sent the lot back to a coarser belt: all, as a rule."""
    back = [number for number, step in enumerate(steps) if step.again]
    return steps[back[-1] :] if back else steps


def _bends(line: OrderLine, blank: Blank, shop: Shop) -> Iterator[Said]:
    radii = sorted(set(bend_radii(line.shape)))
    if len(radii) > 1:
        yield _refused("its bends have different radii; one part is bent on one die.")
    benders = able(shop, StationKind.BENDER, line.spec)
    for clr_nm in radii:
        with_die = [b for b in benders if die_for(shop, b, line.spec.od_nm, clr_nm)]
        if benders and not with_die:
            yield _refused(_no_die(line, clr_nm, benders, shop))
        yield from _thin_wall(line, clr_nm, shop)
    bender = bender_for(shop, line.spec, blank.clr_nm) if radii else None
    if bender:
        yield from _clamp(line, blank, bender, shop)


def _no_die(line: OrderLine, clr_nm: int, benders: Sequence[Station], shop: Shop) -> str:
    names = {bender.name for bender in benders}
    have = sorted(
        {
            tool.clr_nm
            for tool in shop.tools
            if tool.kind == "die" and tool.od_nm == line.spec.od_nm and tool.station in names
        }
    )
    od, clr = _size(shop, line.spec.od_nm), _size(shop, clr_nm)
    others = ", ".join(_size(shop, radius) for radius in have) or "none"
    if not clr_nm:
        return (
            f"the radius of its bends is not known; write it under CLR. Dies for {od} OD: {others}."
        )
    return (
        f"there is no die for {od} OD at CLR {clr}; dies for this OD: {others}. Add the die to the "
        "sheet Tooling, or correct CLR."
    )


def _saddles(line: OrderLine, blank: Blank, shop: Shop) -> Iterator[Said]:
    """Saddles of an OD for which a notcher that has cutters or rollers has none."""
    if Step.NOTCH not in blank.steps:
        return
    notchers = {notcher.name: notcher for notcher in able(shop, StationKind.NOTCHER, line.spec)}
    tools = [tool for tool in shop.tools if tool.kind != "die" and tool.station in notchers]
    have = sorted({tool.od_nm for tool in tools})
    saddled = {end.on_od_nm for end in line.ends if end.kind is EndKind.SADDLE}
    for od_nm in sorted(saddled.difference(have)) if have else ():
        what = missing_tool(shop, notchers[tools[0].station])
        yield _warned(
            f"there is no cutter or roller for a saddle on {_size(shop, od_nm)}; the shop has them "
            f"for {', '.join(_size(shop, nm) for nm in have)}. Have one ready: its change is "
            f"counted as a {what.value}'s, and the card names no tool until the sheet Tooling has "
            "it."
        )


def _thin_wall(line: OrderLine, clr_nm: int, shop: Shop) -> Iterator[Said]:
    if not clr_nm:
        return
    spec = line.spec
    index = bend_index(spec.od_nm, spec.wall_nm, clr_nm)
    if index > MOST_BEND_INDEX:
        wall, clr = _size(shop, spec.wall_nm), _size(shop, clr_nm)
        loss = 100 * thinning(spec.od_nm, clr_nm)
        yield _warned(
            f"a wall of {wall} is thin for a bend at CLR {clr} (index {index:.1f}, common practice "
            f"up to {MOST_BEND_INDEX:g}; the outside thins by {loss:.0f} %); bend a trial piece, "
            "on a mandrel if you have one, or take a thicker wall."
        )


def _clamp(line: OrderLine, blank: Blank, bender: Station, shop: Shop) -> Iterator[Said]:
    """The clamp holds the straight before each bend; the grip allowance lengthens the first."""
    die = die_for(shop, bender, line.spec.od_nm, blank.clr_nm)
    need = clamp_straight_nm(line.spec.od_nm, bender.bender.clamp_ods)
    if die and die.clamp_nm is not None:
        need = die.clamp_nm
    grip = sum(term.length_nm for term in blank.terms if term.what == GRIP)
    rows = line.shape.rows if isinstance(line.shape, Bent) else ()
    for number, row in enumerate(rows, start=1):
        straight = row.straight_nm + (grip if number == 1 else 0)
        if row.angle_mdeg and straight < need:
            yield _refused(
                f"straight {number} of {_length(shop, straight)} is shorter than the "
                f"{_length(shop, need)} the clamp needs; lengthen it, or choose another die."
            )
    if isinstance(line.shape, BentBlank) and blank.length_nm < blank.bends * need:
        yield _refused(
            f"its blank of {_length(shop, blank.length_nm)} is shorter than {blank.bends} times "
            f"the {_length(shop, need)} the clamp needs before a bend; correct Length or Bent."
        )


def _sticks(
    line: OrderLine, blank: Blank, stock: Sequence[StockItem], shop: Shop
) -> Iterator[Said]:
    name = spec_name(line.spec, shop.house.unit)
    if not any(item.spec == line.spec for item in stock):
        yield _refused(f"there is no stock of {name}; {stock_hint(line, stock, shop.house.unit)}")
        return
    as_blanks = sawn_first(blank.steps)
    sticks = sticks_for(shop, line.spec, line.recipe, as_blanks, stock)
    if not sticks:
        whole = Step.FINISH in blank.steps and not as_blanks
        limit = _length(shop, longest_stick_nm(shop, line.spec, whole))
        yield _refused(f"every stick of {name} is used up, finished otherwise or over {limit}.")
        return
    saw = saw_settings(shop, line.spec)
    longest = max(longest_piece_nm(saw, stick.length_nm) for stick in sticks)
    if blank.length_nm > longest:
        need, most = _length(shop, blank.length_nm), _length(shop, longest)
        yield _refused(
            f"its blank of {need} is longer than any stick of {name} gives ({most}); buy longer "
            "sticks or make it in parts."
        )


def _sliver(line: OrderLine, blank: Blank, shop: Shop) -> Iterator[Said]:
    """A piece shorter than the saw's kerf, or than a part of its OD, was hardly meant so: 2.4 of
    metres are read as millimetres where those are the shop's."""
    kerf, ring = saw_settings(shop, line.spec).kerf_nm, line.spec.od_nm // LEAST_RING
    if blank.length_nm >= max(kerf, ring):
        return
    piece, cut, od = (_size(shop, nm) for nm in (blank.length_nm, kerf, line.spec.od_nm))
    is_dust = blank.length_nm < kerf
    than = f"the {cut} that the saw cuts away" if is_dust else f"a quarter of its OD, {od}"
    yield _warned(
        f"its piece of {piece} is shorter than {than}; correct its length, or write the unit "
        "beside it."
    )


def too_short(line: OrderLine, steps: Sequence[Step], length_nm: int, shop: Shop) -> bool:
    """Whether a piece that is sawn first is too short to be fed to the finisher by hand."""
    if not sawn_first(steps):
        return False
    finishers = able(shop, StationKind.FINISHER, line.spec)
    return bool(finishers) and all(length_nm < s.finisher.short_nm for s in finishers)


def _short(line: OrderLine, blank: Blank, shop: Shop) -> Iterator[Said]:
    """The warning for a piece that is finished as a stick although its route saws first."""
    if Step.FINISH not in blank.steps or sawn_first(blank.steps) or not sawn_first(line.route):
        return
    for finisher in able(shop, StationKind.FINISHER, line.spec)[:1]:
        short, least = _length(shop, blank.length_nm), _limit(shop, finisher.finisher.short_nm)
        yield _warned(
            f"its piece of {short} is too short to feed by hand (under {least}), so it is finished "
            "as a stick before sawing; change its route to agree."
        )


def check_week(
    orders: Sequence[OrderLine], stock: Sequence[StockItem], shop: Shop
) -> Iterator[Finding]:
    """Warnings that concern the week as a whole: recipes with wide steps, tube that a finisher
    cannot be set up for, sticks that need stands."""
    seen: set[Finding] = set()
    for line in orders:
        for finding in _recipe_warnings(line, shop) if line.recipe else ():
            if finding not in seen:
                yield finding
            seen.add(finding)
    yield from check_set_ups(orders, shop)
    yield from _stands([line.spec for line in orders if line.recipe is not None], stock, shop)


def _recipe_warnings(line: OrderLine, shop: Shop) -> Iterator[Finding]:
    recipe = shop.recipe(line.recipe or "")
    grades = [step.grade for step in _since_back(_used(recipe, line.spec))]
    texts = [finding.message for finding in check_steps(grades)]
    texts.append(doubt(grades[-1], recipe.ra_low_uin, recipe.ra_high_uin))
    for text in filter(None, texts):
        message = f"Recipe {recipe.name}: {text}"
        yield Finding(severity=Severity.WARNING, message=message, subject=recipe.name)


def _stands(specs: Sequence[TubeSpec], stock: Sequence[StockItem], shop: Shop) -> Iterator[Finding]:
    """One warning for each finisher whose sticks are longer than it holds without stands."""
    for station in shop.of_kind(StationKind.FINISHER):
        longest = max(
            (
                item.length_nm
                for item in stock
                if item.spec in specs
                and takes(station, item.spec, item.length_nm)
                and item.length_nm <= finisher_longest_nm(station)
            ),
            default=0,
        )
        if longest > station.finisher.stands_over_nm:
            yield Finding(
                severity=Severity.WARNING,
                message=_stands_text(station, longest, shop),
                subject=station.name,
            )


def _stands_text(station: Station, longest: int, shop: Shop) -> str:
    settings = station.finisher
    text = (
        f"{station.name}: sticks of up to {_limit(shop, longest)} go through; set stands on both "
        f"sides for those over {_limit(shop, settings.stands_over_nm)}"
    )
    if longest > settings.two_people_over_nm:
        text += f", and feed those over {_limit(shop, settings.two_people_over_nm)} with two people"
    return f"{text}."
