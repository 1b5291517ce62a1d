"""The Log sheet: what a run really took, one row a pass."""

from __future__ import annotations

from planner.shop import What
from planner_io.workbook.columns import Column, Kind, SheetSpec
from planner_io.workbook.words import FAMILY_WORDS

SETUP_COLUMNS = {
    "od_change": What.OD,
    "belt_change": What.BELT,
    "rail_change": What.RAIL,
    "clean_down": What.FAMILY,
    "swap": What.ATTACHMENT,
}
"""Columns with the minutes of one kind of change."""

_HELP = {
    What.OD: "Minutes that setting to another OD took. Blank: not changed.",
    What.BELT: "Minutes that the belt change took. Blank: not changed.",
    What.RAIL: "Minutes that the rail change took. Blank: not changed.",
    What.FAMILY: "Minutes that cleaning down for another material took. Blank: not done.",
    What.ATTACHMENT: "Minutes that mounting the finisher on its base took. Blank: not done.",
}
_TITLES = {
    What.OD: ("OD change", "OD setup, Size change, Setup OD, Change OD"),
    What.BELT: ("Belt change", "Belt setup, Setup belt, Change belt"),
    What.RAIL: ("Rail change", "Rail setup, Setup rail, Change rail"),
    What.FAMILY: ("Clean-down", "Clean down, Cleaning, Cleandown, Clean up"),
    What.ATTACHMENT: ("Attachment swap", "Swap, Attachment change, Attachment"),
}

LOG = SheetSpec(
    "Log",
    "What runs at the finisher really took: one row for each pass of some pieces on one belt.",
    (
        Column(
            "day",
            "Day",
            Kind.DATE,
            "The day of the run.",
            "Date, When, Logged, Run date",
            required=True,
            example="EXAMPLE",
        ),
        Column(
            "station",
            "Station",
            Kind.TEXT,
            "The finisher. Blank where the shop has one.",
            "Machine, Finisher",
        ),
        Column(
            "belt",
            "Belt",
            Kind.TEXT,
            "The belt, as named in Belts.",
            "Belt name, Belt used",
            required=True,
            example="P120 stainless",
        ),
        Column(
            "family",
            "Material",
            Kind.TEXT,
            "Material family.",
            "Family, Material family, Mat, Metal",
            required=True,
            choices=FAMILY_WORDS,
            example="stainless",
        ),
        Column(
            "od",
            "OD",
            Kind.OD,
            "Outside diameter or pipe size.",
            "Outside diameter, Diameter, Dia, Tube OD, Size, Tube",
            required=True,
            example="1-1/2",
        ),
        Column(
            "wall",
            "Wall",
            Kind.WALL,
            "Wall thickness, gauge or schedule; needed to remember the spring.",
            "Wall thickness, WT, Gauge, Gage, Schedule",
            example=".065",
        ),
        Column(
            "length",
            "Length",
            Kind.LENGTH,
            "Length of one piece.",
            "Piece length, Stick length, Len, Length each",
            required=True,
            example="20 ft",
        ),
        Column(
            "count",
            "Pieces",
            Kind.WHOLE,
            "Pieces that went through.",
            "Qty, Quantity, Count, Pcs, Sticks, Number",
            required=True,
            example="12",
        ),
        Column(
            "tilt",
            "Tilt",
            Kind.ANGLE,
            "Tilt of the brake wheel, degrees.",
            "Tilt angle, Angle, Brake wheel tilt",
            required=True,
            example="5",
        ),
        Column(
            "minutes",
            "Minutes",
            Kind.SECONDS,
            "From the first piece laid in to the last taken out, without changeover.",
            "Time, Run time, Run minutes, Took, Duration, Run",
            required=True,
            example="48 min",
            or_else="begun",
        ),
        Column(
            "begun",
            "Start",
            Kind.CLOCK,
            "Time of day when the first piece was laid in, where Minutes is blank.",
            "Started, Begin, Began, Begun, From, Start time, Time on",
        ),
        Column(
            "ended",
            "End",
            Kind.CLOCK,
            "Time of day when the last piece was taken out, where Minutes is blank; breaks count.",
            "Ended, Stop, Stopped, Finish, Finished, Until, To, End time, Stop time, Time off",
        ),
        Column(
            "timed",
            "Timed",
            Kind.YES_NO,
            "yes for one tube timed with a watch from laying in to taking out.",
            "Watch, Stopwatch, By watch",
            choices=("yes", "no"),
        ),
        *(
            Column(key, _TITLES[what][0], Kind.SECONDS, _HELP[what], _TITLES[what][1])
            for key, what in SETUP_COLUMNS.items()
        ),
        Column("who", "Who", Kind.TEXT, "Who ran it.", "Operator, By, Person, Name"),
        Column(
            "spring",
            "Spring",
            Kind.TEXT,
            "How the spring stood, in the shop's own words, if this setting was good.",
            "Spring setting, Spring pressure, Pressure",
            example="3 turns",
        ),
    ),
    "Logbook, Runs, Run log, Finisher log, Times, Records",
)
