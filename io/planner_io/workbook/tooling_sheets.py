"""The sheets of belts, finishes, rails, tools and wheels, and of what is mounted."""

from __future__ import annotations

from dataclasses import replace

from planner.shop import ToolKind, What
from planner_io.workbook.columns import Column, Kind, SheetSpec
from planner_io.workbook.words import FAMILY_WORDS

WHAT_MEANT = (
    (What.ATTACHMENT, "head, swap"),
    (What.OD, "diameter, outside diameter, size, tube size"),
    (What.BELT, "grit, abrasive, belt change"),
    (What.RAIL, "guide, guide rail"),
    (What.FAMILY, "material, material change, family, cleaning, clean up"),
    (What.DIE, "bend die, bending die"),
    (What.CUTTER, "hole saw, end mill"),
)
"""Other words for what is changed or mounted."""

_STATION = Column(
    "station",
    "Station",
    Kind.TEXT,
    "Name of the station, as in Stations.",
    "Machine, Station name, Work centre, Work center",
    required=True,
)
_FAMILIES = Column(
    "families",
    "Families",
    Kind.FAMILIES,
    f"Material families, of {', '.join(FAMILY_WORDS)}; blank for all.",
    "Family, Materials, Material, For, Material families, Used for",
)

BELTS = SheetSpec(
    "Belts",
    "Belts that the shop keeps. Belts for stainless touch stainless only.",
    (
        Column("name", "Belt", Kind.TEXT, "Name of the belt.", "Name, Belt name", required=True),
        Column(
            "grade",
            "Grade",
            Kind.GRADE,
            "P80, 120 CAMI, non-woven fine.",
            "Grit, Grit size, Abrasive",
            required=True,
        ),
        replace(_FAMILIES, help="Material families that it may touch.", required=True),
        Column("width_nm", "Width", Kind.LENGTH, "Width of the belt.", "Belt width", required=True),
        Column(
            "thickness_nm",
            "Thickness",
            Kind.LENGTH,
            "Thickness of the belt.",
            "Belt thickness, Thk, Thick",
            required=True,
        ),
        Column(
            "non_woven",
            "Non-woven",
            Kind.YES_NO,
            "yes for a thick non-woven belt; blank goes by the grade.",
            "Nonwoven, Surface conditioning",
            choices=("yes", "no"),
        ),
        Column(
            "life_min",
            "Life",
            Kind.MINUTES,
            "Minutes of contact that a new one lasts; blank if not counted.",
            "Belt life, Lasts, Life minutes",
        ),
        Column(
            "used_min",
            "Used",
            Kind.MINUTES,
            "Minutes that the mounted one has run.",
            "Used minutes, Run",
        ),
        Column(
            "life_cm2",
            "Life area",
            Kind.AREA,
            "Outside of tube that a new one finishes in a pass; blank if not counted. Where Life "
            "is given too, whichever is used up first counts.",
            "Area, Life in area, Belt life area, Area life",
        ),
        Column(
            "used_cm2",
            "Used area",
            Kind.AREA,
            "What the mounted one has finished.",
            "Area used, Area run",
        ),
        Column(
            "wear",
            "Wear",
            Kind.FACTORS,
            "How much faster a family wears it, such as stainless 1.5; 1 for families not named.",
            "Wear factor, Wear factors, Harder on it",
        ),
        Column(
            "count",
            "Count",
            Kind.WHOLE,
            "New ones on the shelf.",
            "Qty, Quantity, On hand, On shelf, Spare",
        ),
        Column("price_cents", "Price", Kind.MONEY, "Price of one.", "Cost, Price each"),
    ),
    "Belt, Abrasives, Abrasive belts",
)

RECIPES = SheetSpec(
    "Recipes",
    "One row for each belt of a finish, coarse to fine.",
    (
        Column(
            "name",
            "Finish",
            Kind.TEXT,
            "Name of the finish. Left blank, it is the one of the row above.",
            "Recipe, Name, Recipe name, Finish recipe",
            required=True,
        ),
        Column("grade", "Grade", Kind.GRADE, "Grade of the belt.", "Belt, Grit", required=True),
        Column(
            "scaled",
            "Passes scaled",
            Kind.WHOLE,
            "Passes on scaled tube.",
            "Scaled, Passes on scaled, Passes",
        ),
        Column(
            "bright",
            "Passes bright",
            Kind.WHOLE,
            "Passes on bright tube.",
            "Bright, Passes on bright, Passes",
        ),
        Column(
            "polished",
            "Passes polished",
            Kind.WHOLE,
            "Passes on polished tube.",
            "Polished, Passes on polished, Passes",
        ),
        Column(
            "least_overlap",
            "Turns",
            Kind.DECIMAL,
            "Turns that the tube makes under the belt, at least; blank for the finisher's.",
            "Overlap, Least turns, Least overlap, Turns under the belt",
        ),
        _FAMILIES,
        Column(
            "ra_low_uin",
            "Ra from",
            Kind.DECIMAL,
            "Roughness that the shop accepts, microinches Ra, lower end.",
            "Ra low, Ra min, Ra",
        ),
        Column("ra_high_uin", "Ra to", Kind.DECIMAL, "The same, upper end.", "Ra high, Ra max"),
        Column(
            "remark",
            "Remark",
            Kind.TEXT,
            "What to know about it.",
            "Note, Notes, Remarks, Comment, Description",
        ),
    ),
    "Recipe, Finishes, Finish, Finish recipes",
)

RAILS = SheetSpec(
    "Rails",
    "Guide rails of the finisher.",
    (
        Column(
            "name",
            "Rail",
            Kind.TEXT,
            "Name of the rail.",
            "Name, Rail name, Blade",
            required=True,
        ),
        Column(
            "thickness_nm",
            "Thickness",
            Kind.LENGTH,
            "Thickness of the rail.",
            "Thk, Thick, Rail thickness",
            required=True,
        ),
        Column(
            "edge_radius_nm",
            "Edge radius",
            Kind.ALLOWANCE,
            "Rounding of the front edge that the tube rests on; 0 for a square one.",
            "Radius, Edge, Front edge",
        ),
        Column(
            "material",
            "Made of",
            Kind.TEXT,
            "What it is made of.",
            "Rail material, Of, Facing",
        ),
        _FAMILIES,
    ),
    "Rail, Guide rails, Work rests",
)

TOOLING = SheetSpec(
    "Tooling",
    "Bending dies, notching cutters and rollers.",
    (
        Column(
            "name",
            "Tool",
            Kind.TEXT,
            "Name of the tool.",
            "Name, Tool name, Die",
            required=True,
        ),
        Column(
            "kind",
            "Kind",
            Kind.CHOICE,
            "die, cutter or roller.",
            "Type, Tool kind",
            required=True,
            choices=tuple(ToolKind),
        ),
        _STATION,
        Column(
            "od_nm",
            "OD",
            Kind.OD,
            "OD of the tube (die) or of the tube that the saddle sits on (cutter, roller).",
            "Size, Tube OD, Diameter, For OD",
            required=True,
        ),
        Column(
            "clr_nm",
            "CLR",
            Kind.ALLOWANCE,
            "Centreline radius of a die, or how many times the OD: 3D.",
            "Radius, Bend radius, Centre line radius, Centerline radius",
            never="inside inner internal outside outer",
        ),
        Column(
            "clamp_nm",
            "Clamp",
            Kind.ALLOWANCE,
            "Straight that its clamp needs; blank for the bender's rule.",
            "Clamp length, Grip, Clamp straight",
        ),
        Column(
            "soft",
            "Soft",
            Kind.YES_NO,
            "yes if it is fit for finished tube.",
            "Soft tooling, Clean, Non marring",
            choices=("yes", "no"),
        ),
    ),
    "Tool, Tools, Dies, Die list, Tool list, Cutters",
)

WHEELS = SheetSpec(
    "Wheels",
    "Wheels of each finisher as measured, and the reach of its stop.",
    (
        _STATION,
        Column(
            "contact_nm",
            "Contact wheel",
            Kind.LENGTH,
            "Diameter of the contact wheel without belt.",
            "Contact wheel diameter, Contact, Contact diameter",
            required=True,
        ),
        Column(
            "brake_nm",
            "Brake wheel",
            Kind.LENGTH,
            "Diameter of the brake wheel.",
            "Brake wheel diameter, Brake, Brake diameter",
            required=True,
        ),
        Column(
            "brake_rpm",
            "Brake wheel turns",
            Kind.DECIMAL,
            "Turns a minute of the brake wheel at the finishing speed.",
            "Brake rpm, Brake wheel rpm, Rpm, Brake wheel speed, Turns a minute",
            required=True,
        ),
        Column(
            "belt_speed_m_min",
            "Belt speed",
            Kind.DECIMAL,
            "Metres a minute at the finishing speed; 0 where nobody measured it. Cards give it to "
            "check.",
            "Belt speed m min, Belt m min",
        ),
        Column(
            "stop_margin_nm",
            "Stop margin",
            Kind.ALLOWANCE,
            "How much closer than the tube the stop lets the wheels come.",
            "Margin",
        ),
        Column(
            "stop_clear_nm",
            "Stop clearance",
            Kind.ALLOWANCE,
            "How far from belt and rail the brake wheel stays on its stop.",
            "Clearance, Stop clear",
        ),
        Column(
            "stop_min_nm",
            "Stop least",
            Kind.ALLOWANCE,
            "Smallest distance between the wheels that the stop holds.",
            "Stop min, Stop minimum",
        ),
        Column(
            "stop_max_nm",
            "Stop most",
            Kind.LENGTH,
            "Largest distance likewise.",
            "Stop max, Stop maximum",
        ),
        Column(
            "centre_nm",
            "Centre height",
            Kind.ALLOWANCE,
            "Height of the contact wheel's centre above the table that the rail stands on; 0 "
            "where nobody measured it.",
            "Center height, Wheel centre, Wheel center, Centre above table, Center above table",
        ),
        Column(
            "brake_rise_nm",
            "Brake wheel higher",
            Kind.OFFSET,
            "How far the brake wheel's centre is above the contact wheel's; with a minus if it is "
            "lower.",
            "Brake wheel rise, Brake rise, Brake wheel height, Brake higher",
        ),
    ),
    "Wheel, Finisher wheels",
)

MOUNTED = SheetSpec(
    "Mounted",
    "What stands on each station when the plan starts.",
    (
        Column(
            "station",
            "Station",
            Kind.TEXT,
            "Name of the station or base.",
            "Machine, Base",
            required=True,
        ),
        Column(
            "what",
            "What",
            Kind.CHOICE,
            "Attachment, OD, belt, rail, …",
            "Attribute, Item",
            required=True,
            choices=tuple(What),
            meant=WHAT_MEANT,
        ),
        Column(
            "value",
            "Value",
            Kind.TEXT,
            "What is mounted, by its name; an OD by its size.",
            "Is, Mounted, Now, Name",
            required=True,
        ),
    ),
    "Mounted now, State, On the machines, Set up now",
)
