"""The shop: stations and what they can do, hours, people, changeovers, belts, recipes, tooling."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from enum import StrEnum

from pydantic import Field

from planner.abrasives import Grade
from planner.frozen import Frozen
from planner.orders import Step
from planner.tube import Family, Surface
from planner.units import Unit


class StationKind(StrEnum):
    """What a station does."""

    FINISHER = "finisher"
    SAW = "saw"
    NOTCHER = "notcher"
    BENDER = "bender"
    BENCH = "bench"


KIND_OF_STEP: Mapping[Step, StationKind] = {
    Step.FINISH: StationKind.FINISHER,
    Step.SAW: StationKind.SAW,
    Step.NOTCH: StationKind.NOTCHER,
    Step.BEND: StationKind.BENDER,
    Step.TOUCH_UP: StationKind.BENCH,
}
"""Where each step of the work is done."""


class FinisherSettings(Frozen):
    """How one finisher is run; wheels are in `Wheels`."""

    slip: float = Field(default=0.9, gt=0, le=1.2)
    """Real feed over the feed of the formula."""
    handling_s: int = 25
    """Seconds to fetch, lay in and take out one stick."""
    short_handling_s: int = 12
    """The same for a piece that one hand carries."""
    short_nm: int = 304_800_000
    """Shortest piece that may be fed by hand, nm."""
    carry_nm: int = 1_524_000_000
    """Up to this length a piece counts as carried in one hand, nm."""
    stands_over_nm: int = 2_438_400_000
    """Longer ones need stands, nm."""
    two_people_over_nm: int = 4_876_800_000
    """Longer ones need two people, nm."""
    longest_nm: int = 7_620_000_000
    """Longest stick that the stands carry, nm."""
    least_overlap: float = 2.0
    """Turns that the tube makes under the belt in a pass, at least, unless the recipe says more."""
    feed_min_mm_min: int = 600
    feed_max_mm_min: int = 6_000
    tilt_min_mdeg: int = 2_000
    tilt_max_mdeg: int = 10_000
    first_tilt_mdeg: int = 5_000
    """Largest tilt to begin with, until the shop has found a better one."""
    continuous: bool = False
    """Sticks follow each other end to end, so that the travel of a stick is its length alone."""
    from_right: bool = True
    """Tube is laid in from the right and travels to the left."""


class SawSettings(Frozen):
    """How the saw cuts."""

    kerf_nm: int = 2_400_000
    stick_trim_nm: int = 0
    """Cut off each stick before the first piece, nm."""
    end_trim_nm: int = 0
    """Left at the end of each stick, nm; the clamp may hold it."""
    clamp_nm: int = 0
    """Dead length that the clamp holds and cannot be cut into a piece, nm."""
    cut_s: int = 20
    """Seconds a cut."""
    stick_s: int = 40
    """Seconds to load a stick."""
    stop_s: int = 60
    """Seconds to set the length stop to another length."""
    unattended: bool = False
    """The feed is automatic: a person is needed for the changeover only."""


class NotcherSettings(Frozen):
    """How long an end takes."""

    end_s: int = 60
    """Seconds for a saddled end, piece loaded and unloaded."""


class BenderSettings(Frozen):
    """How long bends take and what the bender needs of the tube."""

    bend_s: int = 45
    piece_s: int = 40
    grip_nm: int = 0
    """Extra length left on the blank for the clamp to hold, cut off afterwards, nm."""
    trim_nm: int = 0
    """Extra length left on the blank to be trimmed after bending, nm."""
    clamp_ods: float = 2.0
    """Straight that the clamp needs, in ODs, where the die does not say otherwise."""


class Station(Frozen):
    """One place where work is done. Only the settings of its own kind are used."""

    name: str
    kind: StationKind
    base: str | None = None
    """Machine that it is an attachment of; attachments of one base exclude each other."""
    od_min_nm: int = 0
    od_max_nm: int = 1_000_000_000
    longest_nm: int | None = None
    """Longest stick or blank that fits, nm; None for no limit."""
    speed: str = ""
    """What the speed lever says when this station runs, such as `low`."""
    people: int = 1
    """People that it needs."""
    pace: float = Field(default=1.0, gt=0)
    """Minutes planned for a run over the minutes that its settings give; above 1 in a plan that
    aims at more certainty than even odds."""
    finisher: FinisherSettings = FinisherSettings()
    saw: SawSettings = SawSettings()
    notcher: NotcherSettings = NotcherSettings()
    bender: BenderSettings = BenderSettings()

    @property
    def is_attended(self) -> bool:
        """Whether its people stay for the run, and not for the changeover alone."""
        return not (self.kind is StationKind.SAW and self.saw.unattended)


class Wheels(Frozen):
    """The wheels of one finisher and the reach of its stop."""

    station: str
    contact_nm: int = Field(gt=0)
    """Diameter of the contact wheel without belt, as measured, nm."""
    brake_nm: int = Field(gt=0)
    """Diameter of the brake wheel, as measured, nm."""
    brake_rpm: float = Field(gt=0)
    """Speed of the brake wheel at the finishing speed, turns a minute."""
    belt_speed_m_min: float = Field(default=0, ge=0)
    """Speed of the belt at the finishing speed, metres a minute; 0 where nobody measured it. With
    it, cards give it to check, and the turns of the contact wheel."""
    stop_margin_nm: int = 1_588_000
    """How much closer than the tube the stop lets the wheels come, nm."""
    stop_clear_nm: int = 1_588_000
    """How far from belt and rail the brake wheel stays on its stop, nm."""
    stop_min_nm: int = 3_000_000
    """Smallest and largest distance between the wheel faces that the stop can hold, nm."""
    stop_max_nm: int = 130_000_000
    centre_nm: int = 0
    """Height of the contact wheel's centre above the table that the rail stands on, nm; 0 where
    nobody measured it. With it, cards say how high the rail's top is above the table."""
    brake_rise_nm: int = 0
    """How far the brake wheel's centre is above the contact wheel's, nm; below 0 for lower."""


class HoursKind(StrEnum):
    """What a row of the Hours sheet says."""

    WORK = "work"
    BREAK = "break"
    OVERTIME = "overtime"
    CLOSED = "closed"


class HoursRow(Frozen):
    """Hours of one day. Rows of a date replace the rows of its weekday; rows of a station or a
    person replace those of the shop."""

    who: str = "shop"
    """`shop`, or the name of a station or a person."""
    weekday: int | None = Field(default=None, ge=0, le=6)
    """0 for Monday to 6 for Sunday, or None when `day` is given."""
    day: date | None = None
    kind: HoursKind = HoursKind.WORK
    start_min: int = Field(default=0, ge=0, le=1440)
    """Minutes from midnight."""
    end_min: int = Field(default=1440, ge=0, le=1440)


class Person(Frozen):
    """Somebody who works in the shop."""

    name: str
    stations: tuple[str, ...]
    """Names of the stations that this person may run."""


class What(StrEnum):
    """What can change between two operations; each is an attribute of the mounted state."""

    ATTACHMENT = "attachment"
    OD = "OD"
    BELT = "belt"
    RAIL = "rail"
    FAMILY = "clean-down"
    DIE = "die"
    CUTTER = "cutter"
    ROLLER = "roller"


class ChangeoverRow(Frozen):
    """Minutes for one change at one station; the most specific row counts."""

    station: str
    """Name or kind of a station, or the name of a base for attachments."""
    what: What
    before: str | None = None
    """What is mounted before (`carbon`, `P80`, …), or None for anything."""
    after: str | None = None
    minutes: int = Field(ge=0)


class Belt(Frozen):
    """A belt that the shop keeps. Its name is its identity: it is part of the mounted state."""

    name: str
    grade: Grade
    families: tuple[Family, ...]
    """Families that it may touch; stainless belts touch stainless only."""
    width_nm: int = Field(gt=0)
    thickness_nm: int = Field(gt=0)
    non_woven: bool = False
    life_min: int | None = None
    """Minutes of contact that a new one lasts, or None if the shop does not count."""
    used_min: int = 0
    """Minutes that the mounted or next one has run already."""
    life_cm2: int | None = None
    """Outside of tube that a new one finishes in a pass, cm², or None if the shop does not count
    it. Where minutes are counted too, whichever is used up first counts."""
    used_cm2: int = 0
    """What the mounted or next one has finished already, cm²."""
    wear: dict[Family, float] = Field(default_factory=dict[Family, float])
    """How much faster a family wears it than its life says; 1 where it is not named."""
    count: int = Field(default=1, ge=0)
    """New ones on the shelf, besides the one in use."""
    price_cents: int = 0


class RecipeStep(Frozen):
    """One belt of a recipe and its passes by incoming surface."""

    grade: Grade
    passes: dict[Surface, int]
    """Passes for each incoming surface; 0 or missing means that the step is passed over."""
    least_overlap: float | None = None
    """Turns under the belt in a pass, at least; None for the finisher's own."""
    again: bool = False
    """Goes back to a coarser belt on purpose, after a check of the finish."""


class Recipe(Frozen):
    """A finish: belts from coarse to fine with passes for each."""

    name: str
    steps: tuple[RecipeStep, ...]
    families: tuple[Family, ...] = tuple(Family)
    ra_low_uin: float | None = None
    """Roughness that the shop accepts, µin Ra, as a range."""
    ra_high_uin: float | None = None
    remark: str = ""


class Rail(Frozen):
    """A guide rail."""

    name: str
    thickness_nm: int = Field(gt=0)
    edge_radius_nm: int = 0
    """Rounding of the front edge that the tube rests on, nm; 0 for a square one."""
    material: str = ""
    families: tuple[Family, ...] = tuple(Family)
    """Families that may slide on it."""


class ToolKind(StrEnum):
    """Kinds of tooling that are mounted for an OD."""

    DIE = "die"
    CUTTER = "cutter"
    ROLLER = "roller"


class Tool(Frozen):
    """A bending die, a notching cutter, or a roller."""

    name: str
    kind: ToolKind
    station: str
    """Name of the station it fits."""
    od_nm: int = Field(gt=0)
    """OD of the tube (die, roller) or of the tube that the saddle sits on (cutter), nm."""
    clr_nm: int = 0
    """Die: centreline radius, nm."""
    clamp_nm: int | None = None
    """Die: straight that its clamp needs, nm; None for the bender's rule."""
    soft: bool = False
    """Soft or clean tooling, fit for finished tube."""


class Mounted(Frozen):
    """What stands on a station when the plan starts."""

    station: str
    what: What
    value: str


class GoodSetting(Frozen):
    """A setting of the finisher that the log calls good, for one OD and wall."""

    od_nm: int = Field(gt=0)
    wall_nm: int = Field(gt=0)
    spring: str
    """How the spring stood, in the shop's own words: turns, a mark, a feel."""
    tilt_mdeg: int = Field(gt=0)
    day: date


class House(Frozen):
    """The shop's general habits."""

    name: str = "Starter shop"
    unit: Unit = "inch"
    """What bare numbers mean and what papers print first."""
    denominator: int = 32
    """Fractions of an inch are printed to 1/denominator."""
    currency: str = "$"
    paper: str = "letter"
    """`letter` or `a4`."""
    remnant_nm: int = 609_600_000
    """Shortest drop worth keeping, nm."""
    remnant_share: float = Field(default=0.5, ge=0, le=1)
    """Value of a kept remnant as a share of its length's price."""
    longest_first: bool = True
    """Within a stick the longest piece is cut first."""
    worn_first: bool = False
    """Of several belts of one grade, the most worn takes the coarse work and the least worn the
    last passes."""
    minute_cents: int = 100
    """What a minute of the finisher costs, for finishing wasted on scrap, cents."""
    late_cents_h: int = 2_000
    """What an hour late costs for each unit of weight, cents; weighed when lots are formed."""
    spare_min: int = Field(default=120, ge=0)
    """Working minutes by which order lines are wanted ahead of their due times."""
    spare_worth_min: int = Field(default=0, ge=0)
    """Changeover minutes that may be spent to give all of them to a line that would otherwise end
    just when it is due; 0: time to spare decides only where changeovers are equal."""
    start: date | None = None
    """First day of the plan, if the workbook says so."""


class Shop(Frozen):
    """Everything about the shop that a plan rests on."""

    house: House = House()
    stations: tuple[Station, ...]
    wheels: tuple[Wheels, ...] = ()
    hours: tuple[HoursRow, ...]
    people: tuple[Person, ...] = ()
    """Empty: every station has its own person."""
    changeovers: tuple[ChangeoverRow, ...] = ()
    longest_of: tuple[str, ...] = ()
    """Names or kinds of stations whose changes are done side by side: the longest one counts
    instead of the sum."""
    belts: tuple[Belt, ...] = ()
    recipes: tuple[Recipe, ...] = ()
    rails: tuple[Rail, ...] = ()
    tools: tuple[Tool, ...] = ()
    mounted: tuple[Mounted, ...] = ()
    good: tuple[GoodSetting, ...] = ()
    """Settings logged as good, oldest first."""

    def of_kind(self, kind: StationKind) -> tuple[Station, ...]:
        """The stations of one kind, in the order of the shop."""
        return tuple(station for station in self.stations if station.kind == kind)

    def station(self, name: str) -> Station:
        """The station called `name`; KeyError when there is none."""
        return {station.name: station for station in self.stations}[name]

    def recipe(self, name: str) -> Recipe:
        """The recipe called `name`; KeyError when there is none."""
        return {recipe.name: recipe for recipe in self.recipes}[name]
