"""The small week: twelve lines, enough to see every paper."""

# ruff: noqa: E501 - a row of a table is one line
from __future__ import annotations

from demo_orders.tables import Cells, table
from demo_orders.usual import KEYS
from planner_io.workbook.bends_sheet import BENDS
from planner_io.workbook.orders_sheet import ORDERS

_ORDERS = """
2601 | 1 | Oddwell Labs       | Bench leg        | 8  | stainless | 304 | 1-1/2 | .065 | Satin P240   | 33-1/4 | cut | square | square     | 2026-12-01 | normal | | |
"    | 2 | "                  | Bench cross rail | 4  | stainless | 304 | 1-1/2 | .065 | Satin P240   | 27-3/8 | axis to axis | saddle 1-1/2 @ 90 | saddle 1-1/2 @ 90 | 2026-12-01 | normal | | |
"    | 3 | "                  | Shelf bar        | 12 | stainless | 304 | 1     | .065 | Satin P180   | 26-1/8 | cut | square | square     | 2026-12-01 | normal | | |
2602 | 1 | Yonder Lane School | Bike stand loop  | 6  | carbon | A513 | 1-1/2 | .083 | Mill-scale removal |    | bent | square | square    | 2026-12-01 | rush   | | |
"    | 2 | "                  | Bike stand rail  | 3  | carbon | A513 | 1-1/2 | .083 | Mill-scale removal | 96 | cut | square | square     | 2026-12-01 | rush   | | |
2603 | 1 | Copperwren Cafés   | Table column     | 6  | carbon | A513 | 2     | .120 | Satin P180   | 27-1/2 | cut | square | square     | 2026-12-02 | normal | | | clear coat
"    | 2 | "                  | Table foot       | 12 | carbon | A513 | 1-1/4 | .083 | Satin P180   | 17-3/4 | axis to axis | saddle 2 @ 90 | square | 2026-12-02 | normal | | | clear coat
2604 | 1 | Saltgrebe Marine   | Bimini bow       | 2  | aluminium | 6061-T6 | 1-5/8 | .125 | Non-woven satin | | bent | square | square | 2026-12-02 | high   | | 8 | bag each piece
"    | 2 | "                  | Bimini stay      | 4  | aluminium | 6061-T6 | 1-1/2 | .125 | Non-woven satin | 38-1/2 | cut | square | square | 2026-12-02 | high | | |
2605 | 1 | Trundlebee Trailers | Side frame      | 8  | alloy | 4130 | 1 | .065 | Primer-ready     |        | bent | square | square     | 2026-12-02 | normal | | |
"    | 2 | "                  | Cross tube       | 12 | alloy | 4130 | 1 | .065 | Primer-ready     | 20-1/4 | axis to axis | saddle 1 @ 90 | saddle 1 @ 90 | 2026-12-02 | normal | | |
"    | 3 | "                  | Sleeve           | 8  | alloy | 4130 | 1 | .065 | none             | 9      | cut | square | square     | 2026-12-02 | low    | | |
"""

_BENDS = """
Bike stand loop | 34     |    | 90  | 4-1/2
"               | 16     |    | 90  | 4-1/2
"               | 34
Bimini bow      | 30     |    | 80  | 6
"               | 52     |    | 80  | 6
"               | 30
Side frame      | 9      |    | 90  | 3
"               | 21-1/4 |    | 90  | 3
"               | 9
"""

orders: list[Cells] = table(ORDERS, KEYS, _ORDERS)
bends: list[Cells] = table(BENDS, ("part", "straight", "rotation", "angle", "clr"), _BENDS)
