"""The usual week: sixty lines, ten outside diameters, four families, five finishes."""

# ruff: noqa: E501 - a row of a table is one line
from __future__ import annotations

from demo_orders.tables import Cells, table
from planner_io.workbook.bends_sheet import BENDS
from planner_io.workbook.orders_sheet import ORDERS

KEYS = (
    "order",
    "line",
    "customer",
    "part",
    "quantity",
    "material",
    "grade",
    "od",
    "wall",
    "recipe",
    "length",
    "length_is",
    "end_1",
    "end_2",
    "due",
    "priority",
    "route",
    "touch_up",
    "notes",
)

_ORDERS = """
2611 | 1 | Puddlewick Playgrounds | Climber post      | 8  | carbon | A53 | 2 sch 40     | | Primer-ready | 118    | cut          | square | square           | 2026-12-03 | normal | | |
"    | 2 | "                      | Climber rung      | 24 | carbon | A53 | 1-1/4 sch 40 | | Primer-ready | 36     | axis to axis | saddle 2.375 @ 90 | saddle 2.375 @ 90 | 2026-12-03 | normal | | |
"    | 3 | "                      | Climber arch      | 6  | carbon | A53 | 1-1/4 sch 40 | | Primer-ready |        | bent         | square | square           | 2026-12-03 | normal | | |
"    | 4 | "                      | Net frame rail    | 8  | carbon | A53 | 1-1/2 sch 40 | | Primer-ready | 94-1/2 | cut          | mitre 45 | mitre 45       | 2026-12-03 | normal | | |
2612 | 1 | Puddlewick Playgrounds | Swing leg         | 8  | carbon | A53 | 1-1/2 sch 40 | | Primer-ready | 102    | cut          | mitre 15 | square         | 2026-12-04 | normal | | |
"    | 2 | "                      | Swing top bar     | 2  | carbon | A53 | 2 sch 40     | | Primer-ready | 126    | cut          | square | square           | 2026-12-04 | normal | | |
"    | 3 | "                      | Swing brace       | 8  | carbon | A53 | 1-1/4 sch 40 | | Primer-ready | 30     | axis to axis | saddle 1.9 @ 45 | saddle 1.9 @ 90 | 2026-12-04 | normal | | |
2613 | 1 | Oddwell Labs           | Bench leg         | 16 | stainless | 304 | 1-1/2 | .065 | Satin P240 | 33-1/4  | cut | square | square     | 2026-12-02 | high | | |
"    | 2 | "                      | Bench long rail   | 8  | stainless | 304 | 1-1/2 | .065 | Satin P240 | 70-1/2  | cut | mitre 45 | mitre 45 | 2026-12-02 | high | | |
"    | 3 | "                      | Bench cross rail  | 8  | stainless | 304 | 1-1/2 | .065 | Satin P240 | 27-3/8  | axis to axis | saddle 1-1/2 @ 90 | saddle 1-1/2 @ 90 | 2026-12-02 | high | | |
"    | 4 | "                      | Shelf bar         | 24 | stainless | 304 | 1     | .065 | Satin P180 | 26-1/8  | cut | square | square     | 2026-12-02 | normal | | |
2614 | 1 | Oddwell Labs           | Fume hood upright | 4  | stainless | 304 | 2     | .065 | Satin P240 | 84      | cut | square | square     | 2026-12-04 12:00 | normal | | |
"    | 2 | "                      | Fume hood header  | 4  | stainless | 304 | 2     | .065 | Satin P240 | 58      | axis to axis | saddle 2 @ 90 | saddle 2 @ 90 | 2026-12-04 12:00 | normal | | |
"    | 3 | "                      | Gas rail          | 6  | stainless | 304 | 1     | .065 | Satin P180 | 48      | cut | square | square     | 2026-12-04 12:00 | normal | | |
2615 | 1 | Trundlebee Trailers    | Hitch arm         | 10 | alloy | 4130 | 1-1/4 | .065 | Primer-ready |        | bent | square | saddle 1-1/4 @ 90 | 2026-12-02 | normal | | |
"    | 2 | "                      | Side frame        | 20 | alloy | 4130 | 1     | .065 | Primer-ready |        | bent | square | square        | 2026-12-02 | normal | | |
"    | 3 | "                      | Cross tube        | 30 | alloy | 4130 | 1     | .065 | Primer-ready | 20-1/4 | axis to axis | saddle 1 @ 90 | saddle 1 @ 90 | 2026-12-02 | normal | | |
"    | 4 | "                      | Wheel stay        | 40 | alloy | 4130 | 3/4   | .049 | Primer-ready | 14-5/8 | axis to axis | saddle 1 @ 60 | saddle 1 @ 90 | 2026-12-02 | normal | | |
"    | 5 | "                      | Flag mast sleeve  | 20 | alloy | 4130 | 3/4   | .049 | none         | 9      | cut | square | square        | 2026-12-02 | normal | | |
2616 | 1 | Brackenstair Homes     | Guard post        | 14 | stainless | 316 | 1-1/2 | .065 | Satin P180 | 41-3/4 | cut | square | square        | 2026-12-04 | normal | | | coast: 316 only
"    | 2 | "                      | Guard top rail    | 6  | stainless | 316 | 1-1/2 | .065 | Satin P180 | 92     | cut | mitre 33 | square      | 2026-12-04 | normal | | |
"    | 3 | "                      | Guard infill bar  | 36 | stainless | 304 | 1     | .065 | Satin P180 | 34-1/2 | cut | square | square        | 2026-12-04 | normal | | |
2617 | 1 | Brackenstair Homes     | Landing post      | 6  | stainless | 304 | 2     | .065 | Satin P180 | 43     | cut | square | square        | 2026-12-03 | normal | | |
"    | 2 | "                      | Landing rail      | 3  | stainless | 304 | 2     | .065 | Satin P180 | 76-3/8 | cut | mitre 45 | square      | 2026-12-03 | normal | | |
2618 | 1 | Saltgrebe Marine       | Radar arch        | 2  | aluminium | 6061-T6 | 2     | .125 | Non-woven satin |        | bent | square | square | 2026-12-03 | high | | 12 | bag each piece
"    | 2 | "                      | Arch strut        | 4  | aluminium | 6061-T6 | 1-1/2 | .125 | Non-woven satin | 41     | axis to axis | saddle 2 @ 60 | square | 2026-12-03 | high | | |
"    | 3 | "                      | Arch cross bar    | 2  | aluminium | 6061-T6 | 1-5/8 | .125 | Non-woven satin | 62     | axis to axis | saddle 2 @ 90 | saddle 2 @ 90 | 2026-12-03 | high | | |
2619 | 1 | Saltgrebe Marine       | Bimini bow        | 4  | aluminium | 6061-T6 | 1-5/8 | .125 | Non-woven satin |        | bent | square | square | 2026-12-04 | normal | | 8 |
"    | 2 | "                      | Bimini stay       | 8  | aluminium | 6061-T6 | 1-1/2 | .125 | Non-woven satin | 38-1/2 | cut | square | square | 2026-12-04 | normal | | |
2620 | 1 | Mosslamp Greenhouses   | Bench frame side  | 10 | aluminium | 6063-T52 | 1-1/4 | .125 | none       | 72     | cut | mitre 45 | mitre 45 | 2026-12-04 | low | | |
"    | 2 | "                      | Bench frame end   | 10 | aluminium | 6063-T52 | 1-1/4 | .125 | none       | 30     | cut | mitre 45 | mitre 45 | 2026-12-04 | low | | |
"    | 3 | "                      | Hose rail         | 6  | aluminium | 6063-T52 | 1-1/4 | .125 | Satin P180 | 60     | cut | square | square | 2026-12-04 | low | | |
2621 | 1 | Mosslamp Greenhouses   | Trellis hoop      | 10 | carbon | A513 | 1     | .065 | Primer-ready    |        | bent | square | square | 2026-12-02 | normal | | |
"    | 2 | "                      | Trellis tie       | 20 | carbon | A513 | 1     | .065 | Primer-ready    | 22     | axis to axis | saddle 1 @ 90 | saddle 1 @ 90 | 2026-12-02 | normal | | |
2622 | 1 | Copperwren Cafés       | Table column      | 12 | carbon | A513 | 2     | .120 | Satin P180      | 27-1/2 | cut | square | square | 2026-12-04 | normal | | | clear coat
"    | 2 | "                      | Table foot        | 24 | carbon | A513 | 1-1/4 | .083 | Satin P180      | 17-3/4 | axis to axis | saddle 2 @ 90 | square | 2026-12-04 | normal | | | clear coat
"    | 3 | "                      | Chair frame       | 12 | carbon | A513 | 1     | .065 | Satin P180      |        | bent | square | square | 2026-12-04 | normal | | 3 | clear coat
2623 | 1 | Copperwren Cafés       | Foot rail         | 3  | stainless | 304 | 1-1/2 | .065 | Satin P240    | 88     | cut | square | square | 2026-12-03 | normal | | |
"    | 2 | "                      | Foot rail bracket | 9  | stainless | 304 | 1     | .065 | Satin P180    | 7-1/2  | cut | square | saddle 1-1/2 @ 90 | 2026-12-03 | normal | | | too short to feed by hand: finished as sticks
2624 | 1 | Yonder Lane School     | Bike stand loop   | 8  | carbon | A513 | 1-1/2 | .083 | Mill-scale removal |        | bent | square | square | 2026-12-01 | rush | | |
"    | 2 | "                      | Bike stand rail   | 4  | carbon | A513 | 1-1/2 | .083 | Mill-scale removal | 96     | cut | square | square | 2026-12-01 | rush | | |
2625 | 1 | Yonder Lane School     | Gate stile        | 4  | carbon | A513 | 1-1/2 | .083 | Mill-scale removal | 58     | cut | mitre 45 | mitre 45 | 2026-12-03 | normal | | |
"    | 2 | "                      | Gate rail         | 4  | carbon | A513 | 1-1/2 | .083 | Mill-scale removal | 44     | cut | mitre 45 | mitre 45 | 2026-12-03 | normal | | |
"    | 3 | "                      | Gate bar          | 20 | carbon | A513 | 1-1/4 | .083 | Mill-scale removal | 56-1/2 | axis to axis | saddle 1-1/2 @ 90 | saddle 1-1/2 @ 90 | 2026-12-03 | normal | | |
2626 | 1 | Fernhollow Markets     | Stall upright     | 12 | carbon | A513 | 1-1/2 | .083 | Primer-ready  | 84     | cut | square | square | 2026-12-02 | normal | | |
"    | 2 | "                      | Stall rafter      | 12 | carbon | A513 | 1-1/4 | .083 | Primer-ready  | 63     | cut | mitre 30 | square | 2026-12-02 | normal | | |
"    | 3 | "                      | Stall purlin      | 6  | carbon | A513 | 1-1/4 | .083 | Primer-ready  | 96     | cut | square | square | 2026-12-02 | normal | | |
2627 | 1 | Fernhollow Markets     | Sign hanger       | 6  | carbon | A513 | 1     | .065 | none          |        | bent | square | square | 2026-12-03 | low | | |
"    | 2 | "                      | Barrier leg       | 8  | carbon | A513 | 1-1/2 | .083 | none          | 39     | cut | square | saddle 1-1/2 @ 90 | 2026-12-03 | low | | |
2628 | 1 | Wrenfield Cycles       | Rack hoop         | 12 | stainless | 304 | 1-1/2 | .065 | Satin P180  |        | bent | square | square | 2026-12-04 | normal | | 4 |
"    | 2 | "                      | Rack base tube    | 6  | stainless | 304 | 1-1/2 | .065 | Satin P180  | 40     | axis to axis | saddle 1-1/2 @ 90 | saddle 1-1/2 @ 90 | 2026-12-04 | normal | | |
2629 | 1 | Wrenfield Cycles       | Repair arm        | 5  | alloy | 4130 | 1-1/4 | .065 | Primer-ready    | 36     | cut | square | saddle 1-1/4 @ 90 | 2026-12-04 | normal | | |
"    | 2 | "                      | Repair post       | 5  | alloy | 4130 | 1-1/4 | .065 | Primer-ready    | 60     | cut | square | square | 2026-12-04 | normal | | |
2630 | 1 | Oddwell Labs           | Glove box ring    | 6  | stainless | 304 | 1     | .065 | Satin P180    |        | bent | square | square | 2026-12-03 | normal | bend before notch | 2 |
"    | 2 | "                      | Drying peg        | 60 | stainless | 304 | 1     | .065 | Satin P180    | 13     | cut | square | square | 2026-12-03 | normal | saw first | | hand-fed blanks
2631 | 1 | Trundlebee Trailers    | Repair stays      | 6  | alloy | 4130 | 3/4   | .049 | Primer-ready    | 14-5/8 | axis to axis | saddle 1 @ 60 | saddle 1 @ 90 | 2026-12-01 | rush | | | customer waits
2632 | 1 | Saltgrebe Marine       | Dive ladder rail  | 2  | stainless | 316 | 1-1/2 | .065 | Satin P180    |        | bent | square | square | 2026-12-04 | normal | | 6 |
"    | 2 | "                      | Dive ladder rung  | 10 | stainless | 316 | 1-1/2 | .065 | Satin P180    | 14     | axis to axis | saddle 1-1/2 @ 90 | saddle 1-1/2 @ 90 | 2026-12-04 | normal | | |
2633 | 1 | Puddlewick Playgrounds | Seesaw handle     | 8  | carbon | A53 | 1-1/4 sch 40 | | Mill-scale removal |     | bent | square | square | 2026-12-04 | low | | |
"    | 2 | "                      | Seesaw beam       | 2  | carbon | A513 | 2 | .120 | Mill-scale removal | 132    | cut | square | square | 2026-12-04 | low | | |
"""

_BENDS = """
Climber arch    | 22     |    | 90  | 5
"               | 26     |    | 90  | 5
"               | 22
Hitch arm       | 14     |    | 35  | 3-3/4
"               | 9-1/2  | 180| 35  | 3-3/4
"               | 18
Side frame      | 9      |    | 90  | 3
"               | 21-1/4 |    | 90  | 3
"               | 9
Radar arch      | 34     |    | 75  | 6
"               | 50     |    | 75  | 6
"               | 34
Bimini bow      | 30     |    | 80  | 6
"               | 52     |    | 80  | 6
"               | 30
Trellis hoop    | 24     |    | 90  | 3
"               | 20     |    | 90  | 3
"               | 24
Chair frame     | 16-1/2 |    | 85  | 3
"               | 15     | 90 | 95  | 3
"               | 18
Bike stand loop | 34     |    | 90  | 4-1/2
"               | 16     |    | 90  | 4-1/2
"               | 34
Sign hanger     | 8      |    | 90  | 3
"               | 20
Rack hoop       | 33     |    | 90  | 4-1/2
"               | 14     |    | 90  | 4-1/2
"               | 33
Glove box ring  | 6      |    | 90  | 3
"               | 12     |    | 90  | 3
"               | 6
Dive ladder rail| 52     |    | 60  | 4-1/2
"               | 10     |    | 60  | 4-1/2
"               | 20
Seesaw handle   | 6      |    | 60  | 5
"               | 10     |    | 60  | 5
"               | 6
"""

orders: list[Cells] = table(ORDERS, KEYS, _ORDERS)
bends: list[Cells] = table(BENDS, ("part", "straight", "rotation", "angle", "clr"), _BENDS)
