"""Where work is done, and how each kind of station is run."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from pydantic import Field

from planner.frozen import Frozen
from planner.orders import Step


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
    wipe_s: int = 0
    """Seconds to wipe the oil off a stick before its first pass; 0 where others do."""
    wipe_piece_s: int = 0
    """The same for a piece that is sawn first, wet with the saw's fluid or oil."""
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
    """Least feed that the shop runs at, mm a minute; below it cards warn."""
    feed_max_mm_min: int = 6_000
    """Largest feed that the shop runs at, mm a minute."""
    tilt_min_mdeg: int = 2_000
    """Least tilt of the brake wheel that the shop sets, millidegrees; below it cards warn."""
    tilt_max_mdeg: int = 10_000
    """Largest tilt of the brake wheel, millidegrees."""
    first_tilt_mdeg: int = 5_000
    """Largest tilt to begin with, until the shop has found a better one."""
    continuous: bool = False
    """Sticks follow each other end to end, so that the travel of a stick is its length alone."""
    from_right: bool = True
    """Tube is laid in from the right and travels to the left."""


class SawSettings(Frozen):
    """How the saw cuts."""

    kerf_nm: int = 2_400_000
    """Width of a cut, nm."""
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
    """Seconds a bend."""
    piece_s: int = 40
    """Seconds to load and unload a piece."""
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
    """Smallest OD that it takes, nm."""
    od_max_nm: int = 1_000_000_000
    """Largest OD that it takes, nm."""
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
