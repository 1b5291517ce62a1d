"""What the set-up card of a finisher run shows: every number, in the order hands set them."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from math import pi

from planner.finisher.feed import FeedSetting
from planner.finisher.geometry import BeltFace, Machine, Margins, RailPlate, SetUp, SetUpProblem
from planner.finisher.suggest import Suggestion, suggest_set_up
from planner.mounting import rail_for
from planner.records import Setting
from planner.shop import Belt, GoodSetting, Rail, RecipeStep, Shop, Station, Wheels
from planner.times import feed_setting, wheels_of
from planner.tube import TubeSpec
from planner.units import NM_PER_MM, format_both, format_size

MM_PER_FOOT = 304.8
THICK_BELT_NM = 3 * NM_PER_MM
"""From here on a belt needs clearance at the stop guide and a lowered platen."""


@dataclass(frozen=True, slots=True)
class FinisherCard:
    """The numbers of one run's set-up, what to watch, and the solved circles for the drawing."""

    settings: tuple[Setting, ...]
    remarks: tuple[str, ...]
    problem: SetUpProblem | None
    """None when the shop has no rail for the family."""
    set_up: SetUp | None
    """None where the machine must not be set as the circles came out, or there are none."""
    feed: FeedSetting


def _set_up_problem(
    shop: Shop, station: Station, od_nm: int, belt: Belt, rail: Rail
) -> SetUpProblem:
    """The circles of one tube on one finisher, as the shop's sheets describe it."""
    wheels = wheels_of(shop, station)
    return SetUpProblem(
        machine=Machine(
            contact_nm=wheels.contact_nm,
            brake_nm=wheels.brake_nm,
            brake_rise_nm=wheels.brake_rise_nm,
            stop_min_nm=wheels.stop_min_nm,
            stop_max_nm=wheels.stop_max_nm,
            od_min_nm=station.od_min_nm,
            od_max_nm=station.od_max_nm,
            centre_above_base_nm=wheels.centre_nm or None,
        ),
        belt=BeltFace(belt.thickness_nm, belt.width_nm, belt.non_woven),
        rail=RailPlate(rail.thickness_nm, min(rail.edge_radius_nm, rail.thickness_nm)),
        od_nm=od_nm,
        rail_front_nm=od_nm // 4,
        drop_nm=od_nm // 4,
        margins=Margins(stop_closer_nm=wheels.stop_margin_nm, stop_clear_nm=wheels.stop_clear_nm),
        unit=shop.house.unit,
    )


def set_up_for(shop: Shop, station: Station, od_nm: int, belt: Belt, rail: Rail) -> Suggestion:
    """The rail and the stop of one tube on one finisher, and what speaks against them.

    Raises InputError when the shop gives no wheels for the finisher.
    """
    return suggest_set_up(_set_up_problem(shop, station, od_nm, belt, rail), shop.house.mark_nm)


def make_card(
    shop: Shop,
    station: Station,
    spec: TubeSpec,
    belt: Belt,
    step: RecipeStep,
    walls_nm: Collection[int] = (),
) -> FinisherCard:
    """The card of one run: one OD and family on one belt of one finisher; `walls_nm` are those of
    all tube in the run, where there is more than `spec`.

    Raises InputError when the shop gives no wheels for the finisher.
    """
    feed = feed_setting(shop, station, belt, step, spec.od_nm)
    springs = _springs(shop, station, spec.od_nm, walls_nm or (spec.wall_nm,))
    rail = rail_for(shop, spec.od_nm, spec.family)
    notes = tuple(finding.message for finding in feed.findings)
    if rail is None:
        missing = (
            f"The shop has no rail for {spec.family.value}: add one to the sheet Rails before "
            "this run.",
        )
        settings = (*_mounting(belt, None), *_motion(shop, station, feed), *springs)
        return FinisherCard(settings, (*missing, *notes), None, None, feed)
    made = set_up_for(shop, station, spec.od_nm, belt, rail)
    value = made.result.value if made.result.usable else None
    settings = (
        *_mounting(belt, rail),
        *(_positions(value) if value else _NO_POSITIONS),
        *_motion(shop, station, feed),
        *springs,
    )
    remarks = (*(f.message for f in made.result.findings), *notes, *_thick(shop, belt, made))
    return FinisherCard(settings, remarks, made.problem, value, feed)


def _mounting(belt: Belt, rail: Rail | None) -> tuple[Setting, ...]:
    settings = (
        Setting(name="belt", value=belt.name, remark=belt.grade.label),
        Setting(name="brake wheel", value="parallel", remark="to the contact wheel, before tilt"),
    )
    if rail is None:
        return settings
    return (
        *settings,
        Setting(name="rail", length_nm=rail.thickness_nm, value=rail.name, remark=rail.material),
    )


_NO_POSITIONS = (
    Setting(name="rail and stop", value="none found", remark="do not run it: see what to watch"),
)


def _positions(value: SetUp) -> tuple[Setting, ...]:
    above = value.rail_top_above_base_nm
    height = (
        (Setting(name="rail top above the table", length_nm=above),) if above is not None else ()
    )
    return (
        Setting(
            name="rail front to belt face",
            length_nm=value.rail_front_nm,
            remark="rule laid on top of the rail",
        ),
        Setting(name="gap between belt and rail", length_nm=value.gap_nm, remark="check"),
        Setting(name="rail top below the line of centres", length_nm=value.rail_top_drop_nm),
        *height,
        Setting(
            name="tube centre below the line of centres", length_nm=value.drop_nm, remark="check"
        ),
        Setting(name="wheel gap with the tube in", length_nm=value.wheel_gap_nm, remark="check"),
        Setting(name="stop", length_nm=value.stop_nm, remark="brake wheel to belt, no tube"),
    )


def _motion(shop: Shop, station: Station, feed: FeedSetting) -> tuple[Setting, ...]:
    from_right = feed.tilt_mdeg >= 0
    side = "right" if from_right else "left"
    feeds = _both(shop, feed.feed_mm_min / MM_PER_FOOT, 1, feed.feed_mm_min / 1000, 2)
    speed = (Setting(name="speed", value=station.speed),) if station.speed else ()
    return (
        Setting(
            name="tilt of the brake wheel",
            angle_mdeg=abs(feed.tilt_mdeg),
            remark=f"feeds from the {side}; kept there by {feed.because}",
        ),
        *speed,
        *_belt_speed(shop, wheels_of(shop, station)),
        Setting(name="feed", value=feeds[0], remark=feeds[1]),
        Setting(
            name="turns under the belt",
            value=f"{feed.turns:.1f}",
            remark=f"tube turns {feed.tube_rpm:.0f} a minute",
        ),
    )


def _belt_speed(shop: Shop, wheels: Wheels) -> tuple[Setting, ...]:
    """What to check with a tachometer, where the shop knows it."""
    m_min = wheels.belt_speed_m_min
    if not m_min:
        return ()
    value, other = _both(shop, m_min * 1000 / MM_PER_FOOT, 0, m_min, 0)
    turns = m_min * 1000 / (pi * wheels.contact_nm / NM_PER_MM)
    remark = f"{other}; check: the contact wheel turns {turns:,.0f} a minute"
    return (Setting(name="belt speed", value=value, remark=remark),)


def _both(shop: Shop, feet: float, digits: int, metres: float, m_digits: int) -> tuple[str, str]:
    """A speed in the shop's unit, and in the other."""
    speeds = f"{feet:,.{digits}f} ft/min", f"{metres:,.{m_digits}f} m/min"
    return speeds if shop.house.unit == "inch" else (speeds[1], speeds[0])


def _springs(
    shop: Shop, station: Station, od_nm: int, walls_nm: Collection[int]
) -> tuple[Setting, ...]:
    """How the spring stands; wall by wall where that differs."""
    walls_of: dict[str, list[int]] = {}
    for wall_nm in walls_nm:
        good = last_good(shop, station, od_nm, wall_nm)
        walls_of.setdefault(good.spring if good else "", []).append(wall_nm)
    if len(walls_of) == 1:
        return (_spring("spring", last_good(shop, station, od_nm, *walls_nm)),)
    return tuple(
        _spring(f"spring at {_walls(shop, walls)}", last_good(shop, station, od_nm, *walls))
        for walls in walls_of.values()
    )


def _walls(shop: Shop, walls_nm: Collection[int]) -> str:
    return ", ".join(format_size(wall_nm, shop.house.unit) for wall_nm in walls_nm)


def _spring(name: str, good: GoodSetting | None) -> Setting:
    if good is None:
        remark = "none logged as good here for this OD and wall yet"
        return Setting(name=name, value="by feel", remark=remark)
    return Setting(name=name, value=good.spring, remark=f"logged as good on {good.day}")


def last_good(shop: Shop, station: Station, od_nm: int, *walls_nm: int) -> GoodSetting | None:
    """The latest setting that the log calls good at this finisher for the OD and one of the
    walls."""
    there = [good for good in shop.good if good.is_for(station.name, od_nm)]
    fitting = [good for good in there if good.wall_nm in walls_nm]
    return fitting[-1] if fitting else None


def _thick(shop: Shop, belt: Belt, made: Suggestion) -> tuple[str, ...]:
    """What a thick, non-woven belt needs before it runs (common practice)."""
    if not belt.non_woven and belt.thickness_nm < THICK_BELT_NM:
        return ()
    usual = min(other.thickness_nm for other in (*shop.belts, belt))
    moved = format_both(belt.thickness_nm - usual, made.problem.unit)
    return (
        f"Thick belt: its face is {moved} nearer to the tube than a thin belt's, so set the rail "
        "anew. Give it clearance at the belt's stop guide and lower the platen before starting.",
    )
