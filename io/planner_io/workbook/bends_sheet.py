"""The Bends sheet."""

from __future__ import annotations

from planner_io.workbook.columns import Column, Kind, SheetSpec

BENDS = SheetSpec(
    "Bends",
    "The straights and bends of bent parts, one row for each straight and the bend after it; "
    "the last row of a part is a straight alone.",
    (
        Column(
            "part",
            "Part",
            Kind.TEXT,
            "Part as in Orders. Left blank, it is the one of the row above.",
            "Part number, Part name, Item, Piece, Drawing, Mark, Piece mark, Part ID",
            required=True,
            example="EXAMPLE",
        ),
        Column(
            "row",
            "Row",
            Kind.WHOLE,
            "Order of the rows; left blank, they are taken from top to bottom.",
            "Row number, Bend, Bend number, Step, Sequence, Number",
            example="1",
        ),
        Column(
            "straight",
            "Straight",
            Kind.ALLOWANCE,
            "Length of the straight before the bend, between tangent points.",
            "Straight length, Feed, Length, Distance between bends, DBB, Leg, Tangent, L, Y",
            required=True,
            never="apex vertex intersection overall total",
            example="10",
        ),
        Column(
            "rotation",
            "Rotation",
            Kind.TURN,
            "Turn of the tube before this bend, degrees; blank or 0 stays in one plane.",
            "Rotate, Turn, Twist, Plane, Plane of bend, POB, Rot, B, R",
            example="0",
        ),
        Column(
            "angle",
            "Angle",
            Kind.ANGLE,
            "Angle of the bend, degrees; blank in the last row of a part.",
            "Bend angle, Degree of bend, DOB, Deg, Degrees, A, C",
            never="included inside internal",
            example="90",
        ),
        Column(
            "clr",
            "CLR",
            Kind.LENGTH,
            "Centreline radius of the bend, or how many ODs: `3D`; within 0.5 mm of a die's it is "
            "taken as that.",
            "Centerline radius, Centre line radius, Radius, Rad, Bend radius, R, CL radius",
            never="inside inner internal outside outer",
            example="4-1/2",
        ),
    ),
    "Bend, Bending, Bend table, Bend data, Bent parts, LRA, YBC",
)
