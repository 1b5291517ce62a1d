"""How long work takes: seconds by the shop's settings, whole minutes in the plan."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from math import ceil

from planner.changeovers import change_minutes
from planner.errors import input_error
from planner.finisher.belts import area_m2, life_of, life_used
from planner.finisher.feed import Drive, FeedLimits, FeedSetting, Hand, suggest_feed
from planner.orders import OrderLine
from planner.records import Blank, Lot, Stick
from planner.shop import Belt, Recipe, RecipeStep, Shop, Station, StationKind, What, Wheels
from planner.tube import Surface, TubeSpec


def whole_minutes(seconds: float) -> int:
    """Minutes that the plan allows for some seconds: rounded up, at least one."""
    return max(1, ceil(seconds / 60 - 1e-9))


def planned_minutes(station: Station, seconds: float) -> int:
    """Whole minutes that a plan allows at a station for work of so many seconds."""
    return whole_minutes(seconds * station.pace)


def passes(recipe: Recipe, surface: Surface) -> Iterator[tuple[int, RecipeStep]]:
    """The passes of a recipe on an incoming surface, numbered from 1, coarse to fine as the
    recipe lists them."""
    steps = (step for step in recipe.steps for _ in range(step.passes.get(surface, 0)))
    return enumerate(steps, start=1)


def step_of_pass(shop: Shop, lot: Lot, pass_no: int) -> RecipeStep:
    """The step of its recipe that a pass of a finished lot belongs to; passes count from 1."""
    return dict(passes(shop.recipe(lot.recipe or ""), lot.spec.surface))[pass_no]


def wheels_of(shop: Shop, station: Station) -> Wheels:
    """The wheels of a finisher; InputError when the shop does not give them."""
    for wheels in shop.wheels:
        if wheels.station == station.name:
            return wheels
    raise input_error(without_wheels(station), sheet="Wheels", subject=station.name)


def without_wheels(station: Station) -> str:
    """What a finisher lacks whose wheels the shop does not give."""
    return (
        f"{station.name} has no wheels: enter the diameters of its contact and brake wheel and "
        "the brake wheel's turns a minute in the sheet Wheels."
    )


def feed_setting(
    shop: Shop, station: Station, belt: Belt, step: RecipeStep, od_nm: int
) -> FeedSetting:
    """Tilt and feed of one pass: the largest tilt that the recipe and the shop's limits allow."""
    wheels, settings = wheels_of(shop, station), station.finisher
    limits = FeedLimits(
        least_turns=step.least_overlap or settings.least_overlap,
        feed_min_mm_min=settings.feed_min_mm_min,
        feed_max_mm_min=settings.feed_max_mm_min,
        tilt_min_mdeg=settings.tilt_min_mdeg,
        tilt_max_mdeg=settings.tilt_max_mdeg,
        gentle_mdeg=proven_tilt_mdeg(shop, station, od_nm),
    )
    drive = Drive(wheels.brake_nm, wheels.brake_rpm, settings.slip)
    hand = Hand.RIGHT if settings.from_right else Hand.LEFT
    return suggest_feed(drive, od_nm, belt.width_nm, limits, hand)


def proven_tilt_mdeg(shop: Shop, station: Station, od_nm: int) -> int:
    """The largest tilt to begin with: gentle, or what the log calls good there for this OD."""
    logged = (good.tilt_mdeg for good in shop.good if good.is_for(station.name, od_nm))
    return max(station.finisher.first_tilt_mdeg, *logged, 0)


def travel_nm(station: Station, belt: Belt, length_nm: int) -> int:
    """How far a stick travels in a pass: its length, and a third of the belt's width, as it is
    laid in a third of the width in and taken out at two thirds (common practice)."""
    return length_nm if station.finisher.continuous else length_nm + belt.width_nm // 3


def pass_s(
    shop: Shop,
    station: Station,
    belt: Belt,
    step: RecipeStep,
    spec: TubeSpec,
    lengths_nm: Sequence[int],
) -> float:
    """Seconds of one pass of all sticks or blanks: travel over feed, handling each, and its
    share of changing the worn belt."""
    settings = station.finisher
    contact = contact_s(shop, station, belt, step, spec.od_nm, lengths_nm)
    life = life_of(belt)
    worn = life_used(life, spec.family, contact / 60, area_m2(spec.od_nm, lengths_nm))
    handling = sum(
        settings.short_handling_s if length <= settings.carry_nm else settings.handling_s
        for length in lengths_nm
    )
    return contact + handling + _wear_s(shop, station, belt, worn)


def contact_s(
    shop: Shop,
    station: Station,
    belt: Belt,
    step: RecipeStep,
    od_nm: int,
    lengths_nm: Sequence[int],
) -> float:
    """Seconds of one pass in which tube is under the belt."""
    feed = feed_setting(shop, station, belt, step, od_nm).feed_mm_min * 1e6 / 60
    return sum(travel_nm(station, belt, length) for length in lengths_nm) / feed


def _wear_s(shop: Shop, station: Station, belt: Belt, worn: float) -> float:
    """Seconds that changing the worn belt costs a pass: those of a belt change, by the share of
    the belt's life that the pass uses up. 0 where the shop does not count its life."""
    if not worn:
        return 0.0
    return 60 * change_minutes(shop, station, What.BELT, belt.name, belt.name) * worn


def finisher_people(station: Station, longest_nm: int) -> int:
    """How many people feed a stick of this length."""
    return max(station.people, 2 if longest_nm > station.finisher.two_people_over_nm else 1)


def saw_s(station: Station, sticks: Sequence[Stick]) -> float:
    """Seconds to saw a cut list in its order: loading, cuts, and settings of the stop."""
    saw = station.saw
    pieces = [piece.length_nm for stick in sticks for piece in stick.pieces]
    trims = len(sticks) if saw.stick_trim_nm else 0
    stops = sum(length != before for length, before in zip(pieces, [None, *pieces], strict=False))
    return len(sticks) * saw.stick_s + (len(pieces) + trims) * saw.cut_s + stops * saw.stop_s


def notch_s(station: Station, ends: int) -> float:
    """Seconds for a number of saddled ends."""
    return ends * station.notcher.end_s


def bend_s(shop: Shop, station: Station, line: OrderLine, blank: Blank) -> float:
    """Seconds to bend all pieces of an order line; touch-up is done there and then in a shop
    without a bench for it."""
    bends = blank.quantity * (station.bender.piece_s + blank.bends * station.bender.bend_s)
    return bends if shop.of_kind(StationKind.BENCH) else bends + touch_up_s(line)


def touch_up_s(line: OrderLine) -> float:
    """Seconds of handwork after bending for all pieces of an order line."""
    return line.quantity * line.touch_up_s
