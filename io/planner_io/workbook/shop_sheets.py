"""The shop's own sheets. The key of a column is the field of the model that it fills."""

from __future__ import annotations

from planner.shop import HoursKind, StationKind, What
from planner_io.workbook.columns import Column, Kind, SheetSpec
from planner_io.workbook.tooling_sheets import (
    BELTS,
    MOUNTED,
    RAILS,
    RECIPES,
    TOOLING,
    WHAT_MEANT,
    WHEELS,
)

SETTINGS = SheetSpec(
    "Settings",
    "One setting a row: of the house, of a station, or of all stations of a kind.",
    (
        Column(
            "station",
            "Station",
            Kind.TEXT,
            "House, the name of a station, or a kind of station. Blank means House.",
            "Machine, Where, For, Section",
        ),
        Column(
            "setting",
            "Setting",
            Kind.TEXT,
            "What is set, as in the list below.",
            "Name, What, Parameter, Option",
            required=True,
        ),
        Column(
            "value",
            "Value",
            Kind.TEXT,
            "Its value, with a unit where it has one.",
            "Is, Set to, Setting value",
            required=True,
        ),
    ),
    "Setting, Options, House, Shop settings, Parameters, Shop",
)

STATIONS = SheetSpec(
    "Stations",
    "Where work is done.",
    (
        Column(
            "name",
            "Station",
            Kind.TEXT,
            "Name of the station.",
            "Name, Machine, Station name, Work centre, Work center",
            required=True,
        ),
        Column(
            "kind",
            "Kind",
            Kind.CHOICE,
            "What it does.",
            "Type, Does, Station kind, Station type",
            required=True,
            choices=tuple(StationKind),
            meant=(
                (StationKind.FINISHER, "grinder, belt grinder, sander, belt sander, polisher"),
                (StationKind.SAW, "cold saw, band saw, chop saw, cut-off saw, cutting, sawing"),
                (StationKind.NOTCHER, "notching, coper, coping"),
                (StationKind.BENDER, "bend, bending, tube bender"),
                (StationKind.BENCH, "table, deburring, hand work"),
            ),
        ),
        Column(
            "base",
            "Base",
            Kind.TEXT,
            "Machine that it is an attachment of; attachments of one base exclude each other.",
            "Attachment of, Shared base, Machine base, On base",
        ),
        Column(
            "od_min_nm",
            "Smallest OD",
            Kind.ALLOWANCE,
            "Thinnest tube that fits.",
            "OD min, Min OD, OD from, Minimum OD",
        ),
        Column(
            "od_max_nm",
            "Largest OD",
            Kind.LENGTH,
            "Thickest tube that fits.",
            "OD max, Max OD, OD to, Maximum OD",
        ),
        Column(
            "longest_nm",
            "Longest",
            Kind.LENGTH,
            "Longest stick or blank that fits; blank for no limit.",
            "Max length, Longest stick, Length max, Maximum length",
        ),
        Column(
            "speed",
            "Speed",
            Kind.TEXT,
            "Position of the speed lever when it runs.",
            "Speed lever, Lever, Gear",
        ),
        Column(
            "people",
            "People",
            Kind.WHOLE,
            "People that it needs.",
            "Crew, Operators, People needed, Persons",
        ),
    ),
    "Station, Machines, Machine, Work centres, Work centers, Equipment",
)

HOURS = SheetSpec(
    "Hours",
    "When the shop, a station or a person works. Rows of a date replace those of its weekday.",
    (
        Column(
            "who",
            "Who",
            Kind.TEXT,
            "shop, or the name of a station or a person.",
            "For, Station, Person, Name, Shop",
        ),
        Column(
            "day",
            "Day",
            Kind.TEXT,
            "A weekday, a range such as Mon-Fri, or a date.",
            "Weekday, Date, Days, When",
            required=True,
        ),
        Column(
            "kind",
            "Kind",
            Kind.CHOICE,
            "work, break (or lunch), overtime (or OT) or closed (or off, holiday).",
            "Type, What",
            choices=tuple(HoursKind),
            meant=(
                (HoursKind.WORK, "open, shift, 1st shift, 2nd shift, 3rd shift, day shift"),
                (HoursKind.WORK, "first shift, second shift, third shift, late shift, night shift"),
                (HoursKind.BREAK, "lunch, lunch break, dinner, coffee, tea, pause, rest, meal"),
                (HoursKind.OVERTIME, "OT, extra, extra hours"),
                (HoursKind.CLOSED, "off, day off, holiday, public holiday, vacation, leave, sick"),
                (HoursKind.CLOSED, "away, absent, shut, shutdown"),
            ),
        ),
        Column(
            "start_min",
            "From",
            Kind.CLOCK,
            "Time of day at which it begins.",
            "Start, Begin, Begins, Starts, Open, Opens",
        ),
        Column(
            "end_min",
            "To",
            Kind.CLOCK,
            "Time of day at which it ends.",
            "End, Until, Ends, Stop, Close, Closes, Till",
        ),
    ),
    "Hour, Calendar, Shifts, Shift, Working hours, Opening hours, Working times",
)

PEOPLE = SheetSpec(
    "People",
    "Who works in the shop. Without this sheet every station has a person of its own.",
    (
        Column(
            "name",
            "Person",
            Kind.TEXT,
            "Name.",
            "Name, Who, Operator, Employee",
            required=True,
        ),
        Column(
            "stations",
            "Stations",
            Kind.LIST,
            "Stations or kinds of stations that this person may run, all, or all but some.",
            "Skills, Runs, May run, Station, Can run, Machines",
            required=True,
        ),
    ),
    "Person, Operators, Crew, Staff, Skills, Employees, Team",
)

CHANGEOVERS = SheetSpec(
    "Changeovers",
    "Minutes for each change; the row that says most about a change counts.",
    (
        Column(
            "station",
            "Station",
            Kind.TEXT,
            "Name or kind of a station, or the name of a base for attachments.",
            "Machine, Where, Base",
            required=True,
        ),
        Column(
            "what",
            "What",
            Kind.CHOICE,
            "What is changed.",
            "Change, Change of, Changes, Attribute",
            required=True,
            choices=tuple(What),
            meant=WHAT_MEANT,
        ),
        Column(
            "before",
            "From",
            Kind.TEXT,
            "What is mounted before; blank for anything.",
            "Before, Old, Is",
        ),
        Column(
            "after",
            "To",
            Kind.TEXT,
            "What is mounted after; blank for anything.",
            "After, New, Becomes",
        ),
        Column(
            "minutes",
            "Minutes",
            Kind.MINUTES,
            "How long it takes.",
            "Time, Min, Duration, Setup, Set up, Takes",
            required=True,
        ),
    ),
    "Changeover, Change overs, Set ups, Setups, Setup times, Changeover times",
)

SHOP_SHEETS = (
    SETTINGS,
    STATIONS,
    HOURS,
    PEOPLE,
    CHANGEOVERS,
    BELTS,
    RECIPES,
    RAILS,
    TOOLING,
    WHEELS,
    MOUNTED,
)
