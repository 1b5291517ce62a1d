"""What can be set for the house and for each kind of station."""

from __future__ import annotations

from collections.abc import Mapping

from planner.shop import StationKind
from planner_io.workbook.columns import Column, Kind
from planner_io.workbook.dates import Order

HOUSE = "House"
DATE_ORDER = "date_order"
SIDE_BY_SIDE = "side_by_side"

_L, _A, _S = Kind.LENGTH, Kind.ALLOWANCE, Kind.SECONDS

SETTINGS_OF: Mapping[str, tuple[Column, ...]] = {
    HOUSE: (
        Column("name", "Shop name", Kind.TEXT, "Printed on every paper.", "Name, Shop"),
        Column(
            "unit",
            "Unit",
            Kind.CHOICE,
            "What bare numbers mean and papers print first.",
            "Units, Unit of length, Length unit",
            choices=("inch", "mm"),
            meant=(
                ("inch", "in, inches, imperial"),
                ("mm", "metric, millimetre, millimeter, millimetres, millimeters"),
            ),
        ),
        Column(
            "denominator",
            "Fractions to 1/",
            Kind.WHOLE,
            "Fractions of an inch are printed to this denominator.",
            "Denominator, Fractions, Fraction",
            choices=("8", "16", "32", "64"),
        ),
        Column("currency", "Currency", Kind.TEXT, "Sign before sums of money."),
        Column(
            "paper",
            "Paper",
            Kind.CHOICE,
            "Size of the printed sheets.",
            "Paper size",
            choices=("letter", "a4"),
            meant=(("letter", "US letter"), ("a4", "DIN A4")),
        ),
        Column(
            "remnant_nm",
            "Shortest remnant to keep",
            _L,
            "Shorter drops are scrap.",
            "Shortest remnant, Remnant from, Keep from",
        ),
        Column(
            "remnant_share",
            "Value of a remnant",
            Kind.SHARE,
            "As a share of the price of its length.",
            "Remnant value, Remnant share",
        ),
        Column(
            "longest_first",
            "Longest piece first",
            Kind.YES_NO,
            "Within a stick the longest piece is cut first.",
            "Longest first",
        ),
        Column(
            "worn_first",
            "Worn belts on coarse work",
            Kind.YES_NO,
            "yes to give coarse work to the most worn of several belts of one grade, and last "
            "passes to the least worn.",
            "Worn belts first, Use up worn belts",
        ),
        Column(
            "minute_cents",
            "Cost of a finisher minute",
            Kind.MONEY,
            "For finishing that ends in scrap.",
            "Finisher minute, Minute costs",
        ),
        Column(
            "late_cents_h",
            "Cost of an hour late",
            Kind.MONEY,
            "For each unit of priority; weighed when lots are joined or split.",
            "Hour late, Late hour",
        ),
        Column(
            "spare_min",
            "Time to spare before due",
            Kind.MINUTES,
            "Working time by which order lines are wanted ahead of their due times, where that "
            "costs no changeover; 0 for none.",
            "Time to spare, Spare time, Spare before due",
        ),
        Column(
            "spare_worth_min",
            "Changeovers for time to spare",
            Kind.MINUTES,
            "Changeover time that may be spent to give a line all its time to spare that would "
            "otherwise end just when it is due; 0 for none.",
            "Worth of time to spare, Spare is worth",
        ),
        Column(
            "start",
            "Plan starts",
            Kind.DATE,
            "First day of the plan.",
            "Start, Start date, Week of, Week starts, First day, Plan start",
        ),
        Column(
            DATE_ORDER,
            "Date order",
            Kind.CHOICE,
            "Which number of a date such as 4/12/2026 comes first.",
            "Dates, Date format, Dates written",
            choices=tuple(order.value for order in Order),
            meant=(
                (Order.DAY_FIRST.value, "dd/mm/yyyy, d/m/y, day/month, DMY, European"),
                (Order.MONTH_FIRST.value, "mm/dd/yyyy, m/d/y, month/day, MDY, US"),
            ),
        ),
    ),
    StationKind.FINISHER: (
        Column(
            "slip", "Slip", Kind.DECIMAL, "Real feed as a share of the formula's.", "Slip factor"
        ),
        Column(
            "handling_s",
            "Handling a stick",
            _S,
            "To fetch, lay in and take out one stick, seconds.",
            "Handling",
        ),
        Column(
            "short_handling_s",
            "Handling a short piece",
            _S,
            "The same for a piece that one hand carries, seconds.",
            "Short handling",
        ),
        Column(
            "wipe_s",
            "Wiping a stick",
            _S,
            "To take the oil off a stick before its first pass, where tube comes in oiled, "
            "seconds; 0 where that is done elsewhere.",
            "Wiping, Wipe a stick, Degreasing a stick, Taking oil off",
        ),
        Column(
            "wipe_piece_s",
            "Wiping a piece",
            _S,
            "To wipe a piece before its first pass that is sawn first, and wet from the saw, "
            "seconds; 0 for a saw that cuts dry.",
            "Wipe a piece, Degreasing a piece",
        ),
        Column(
            "short_nm",
            "Shortest piece by hand",
            _L,
            "Shorter ones are finished as a stick.",
            "Shortest by hand, Shortest piece",
        ),
        Column(
            "carry_nm",
            "Carried in one hand up to",
            _L,
            "Longest piece that one hand carries.",
            "One hand up to",
        ),
        Column(
            "stands_over_nm",
            "Stands over",
            _L,
            "Longer sticks need stands.",
            "Stands for sticks over",
        ),
        Column("two_people_over_nm", "Two people over", _L, "Longer sticks need two people."),
        Column(
            "longest_nm",
            "Longest on the stands",
            _L,
            "Longest stick that the stands carry.",
            "Longest stick, Stands carry",
        ),
        Column(
            "least_overlap",
            "Turns under the belt",
            Kind.DECIMAL,
            "Turns that the tube makes under the belt in a pass, at least.",
            "Least overlap, Least turns, Turns",
        ),
        Column(
            "feed_min_mm_min",
            "Slowest feed",
            Kind.FEED,
            "Millimetres a minute.",
            "Least feed, Feed from",
        ),
        Column(
            "feed_max_mm_min",
            "Fastest feed",
            Kind.FEED,
            "Millimetres a minute.",
            "Most feed, Feed to",
        ),
        Column(
            "tilt_min_mdeg",
            "Least tilt",
            Kind.ANGLE,
            "Tilt of the brake wheel, degrees.",
            "Tilt from",
        ),
        Column(
            "tilt_max_mdeg",
            "Most tilt",
            Kind.ANGLE,
            "Tilt of the brake wheel, degrees.",
            "Tilt to",
        ),
        Column(
            "first_tilt_mdeg",
            "First tilt",
            Kind.ANGLE,
            "Tilt with which a new set-up begins, degrees; it is raised from there.",
            "Gentle tilt, Tilt to begin with",
        ),
        Column(
            "continuous",
            "Sticks end to end",
            Kind.YES_NO,
            "Sticks follow each other without a gap.",
            "Continuous",
        ),
        Column(
            "from_right",
            "Laid in from the right",
            Kind.YES_NO,
            "yes when tube travels from right to left.",
            "From the right, From right",
        ),
    ),
    StationKind.SAW: (
        Column("kerf_nm", "Kerf", _A, "Width of the cut.", "Blade, Saw kerf, Blade width"),
        Column(
            "stick_trim_nm",
            "Trim at the start",
            _A,
            "Cut off each stick before the first piece.",
            "Stick trim, Start trim",
        ),
        Column("end_trim_nm", "Trim at the end", _A, "Left at the end of each stick.", "End trim"),
        Column(
            "clamp_nm",
            "Dead length in the clamp",
            _A,
            "Length that the clamp holds and cannot be cut into a piece.",
            "Dead length, Clamp",
        ),
        Column("cut_s", "A cut", _S, "Seconds a cut.", "Cut, Cutting"),
        Column(
            "stick_s",
            "Loading a stick",
            _S,
            "Seconds to load a stick.",
            "Load a stick, Loading",
        ),
        Column(
            "stop_s",
            "Setting the stop",
            _S,
            "Seconds to set another length.",
            "Stop, Length stop",
        ),
        Column(
            "unattended",
            "Cuts alone",
            Kind.YES_NO,
            "yes when a person is needed for the changeover only.",
            "Unattended",
        ),
    ),
    StationKind.NOTCHER: (
        Column(
            "end_s",
            "A saddled end",
            _S,
            "Seconds for an end, loaded and unloaded.",
            "End, Notch, Saddle",
        ),
    ),
    StationKind.BENDER: (
        Column("bend_s", "A bend", _S, "Seconds a bend.", "Bend, Bending"),
        Column(
            "piece_s",
            "Loading a piece",
            _S,
            "Seconds to load and unload a piece.",
            "Load a piece, Piece",
        ),
        Column(
            "grip_nm",
            "Extra for the grip",
            _A,
            "Left on the blank for the clamp and cut off afterwards.",
            "Grip",
        ),
        Column("trim_nm", "Extra for trimming", _A, "Left on the blank to be trimmed.", "Trim"),
        Column(
            "clamp_ods",
            "Clamp in ODs",
            Kind.DECIMAL,
            "Straight that the clamp needs, in ODs, where a die does not say.",
            "Clamp length in ODs, Clamp straight in ODs",
        ),
    ),
}
"""What can be set: House, and each kind of station that has settings."""

SIDE = Column(
    SIDE_BY_SIDE,
    "Changes side by side",
    Kind.YES_NO,
    "yes when the changes at a station are made at the same time, so that the longest one counts.",
    "Side by side, Changes at the same time",
)
"""A setting of any station."""
