"""What lies on the shop's racks, what it can buy, and its remnants."""

# ruff: noqa: E501 - a row of a table is one line
from __future__ import annotations

from demo_orders.tables import Cells, table
from planner_io.workbook.stock_sheet import STOCK

_KEYS = (
    "key",
    "material",
    "grade",
    "od",
    "wall",
    "surface",
    "length",
    "price",
    "count",
    "lead_days",
    "remnant",
    "finished",
    "location",
)

_STICKS = """
C1-20   | carbon    | A513     | 1            | .065 | bright | 20 ft | 21.00  |    |   |     |  | rack A1
C114-20 | carbon    | A513     | 1-1/4        | .083 | scaled | 20 ft | 33.00  |    |   |     |  | rack A2
C114-24 | "         | "        | "            | "    | "      | 24 ft | 39.50  | 6  |   |     |  | "
C112-20 | carbon    | A513     | 1-1/2        | .083 | scaled | 20 ft | 40.00  |    |   |     |  | rack A3
C112-24 | "         | "        | "            | "    | "      | 24 ft | 48.00  |    | 2 |     |  | "
C2-20   | carbon    | A513     | 2            | .120 | scaled | 20 ft | 73.00  | 8  |   |     |  | rack A4
C2-24   | "         | "        | "            | "    | "      | 24 ft | 87.00  |    | 1 |     |  | "
P114-21 | carbon    | A53      | 1-1/4 sch 40 |      | scaled | 21 ft | 63.00  |    |   |     |  | rack B1
P112-21 | carbon    | A53      | 1-1/2 sch 40 |      | scaled | 21 ft | 76.00  |    |   |     |  | rack B2
P2-21   | carbon    | A53      | 2 sch 40     |      | scaled | 21 ft | 102.00 |    | 1 |     |  | rack B3
M34-20  | alloy     | 4130     | 3/4          | .049 | bright | 20 ft | 66.00  |    |   |     |  | rack C1
M1-20   | alloy     | 4130     | 1            | .065 | bright | 20 ft | 84.00  |    |   |     |  | rack C2
M114-20 | alloy     | 4130     | 1-1/4        | .065 | bright | 20 ft | 106.00 | 5  |   |     |  | rack C3
M114-17 | "         | "        | "            | "    | "      | 17 ft | 90.00  |    | 1 |     |  | "
S1-20   | stainless | 304      | 1            | .065 | bright | 20 ft | 52.00  |    |   |     |  | rack D1
S112-20 | stainless | 304      | 1-1/2        | .065 | bright | 20 ft | 81.00  |    |   |     |  | rack D2
S112-24 | "         | "        | "            | "    | "      | 24 ft | 97.00  | 6  |   |     |  | "
S2-20   | stainless | 304      | 2            | .065 | bright | 20 ft | 109.00 |    |   |     |  | rack D3
T112-20 | stainless | 316      | 1-1/2        | .065 | bright | 20 ft | 108.00 |    | 1 |     |  | rack D4
L114-20 | aluminium | 6063-T52 | 1-1/4        | .125 | bright | 20 ft | 62.00  |    |   |     |  | rack E1
L112-20 | aluminium | 6061-T6  | 1-1/2        | .125 | bright | 20 ft | 79.00  |    |   |     |  | rack E2
L158-20 | aluminium | 6061-T6  | 1-5/8        | .125 | bright | 20 ft | 86.00  |    |   |     |  | rack E3
L2-20   | aluminium | 6061-T6  | 2            | .125 | bright | 20 ft | 108.00 |    |   |     |  | rack E4
L2-24   | "         | "        | "            | "    | "      | 24 ft | 130.00 | 4  |   |     |  | "
"""

_REMNANTS = """
R-301 | carbon    | A513    | 1-1/4        | .083 | scaled | 88-1/2  | 6.00  | 1 | | yes |            | remnant rack 1
R-304 | carbon    | A513    | 1-1/2        | .083 | scaled | 61      | 5.00  | 1 | | yes |            | "
R-305 | carbon    | A53     | 1-1/2 sch 40 |      | scaled | 104     | 16.00 | 1 | | yes |            | "
R-309 | stainless | 304     | 1-1/2        | .065 | bright | 96-3/4  | 16.00 | 1 | | yes |            | remnant rack 2
R-311 | stainless | 304     | 1-1/2        | .065 | bright | 71      | 14.00 | 1 | | yes | Satin P240 | "
R-312 | stainless | 304     | 2            | .065 | bright | 118     | 26.00 | 1 | | yes |            | "
R-315 | alloy     | 4130    | 1            | .065 | bright | 58-1/4  | 10.00 | 2 | | yes |            | remnant rack 1
R-318 | aluminium | 6061-T6 | 2            | .125 | bright | 110-1/2 | 24.00 | 1 | | yes |            | remnant rack 3
"""


def demo_stock(*, remnants: bool = True) -> list[Cells]:
    """The rows of the Stock sheet."""
    return table(STOCK, _KEYS, _STICKS) + (table(STOCK, _KEYS, _REMNANTS) if remnants else [])
