"""The messy week: what a planner really gets, with things to read, to doubt and to refuse."""

# ruff: noqa: E501 - a row of a table is one line
from __future__ import annotations

import datetime as dt
import io
import re
from collections.abc import Mapping
from typing import Any

import xlsxwriter  # type: ignore[import-untyped]  # has no stubs

_ORDERS = r"""
Third Kiln Tubeworks - open orders, week 49
lengths in mm unless marked; ask before you change anything

Job # | Pos | Client                 | Piece mark      | Quantety  | Matl          | Dia          | Gauge  | Condition | Surface finish     | Length (mm) | Length type  | End A               | End B               | Ship by          | Rush | Routing      | Touch up (s) | Remarks                      | Quoted  | Clerk
'2701 | 1   | Oddwell Labs           | Rack post       | 6         | '304          | 1-1/2        | 16     |           | Satin P180         | 900         |              | square              | saddle 38.1 mm @ 90 | 2026-12-03       | no   |              |              |                              | '112.50 | ab
      | 2   | Oddwell Labs           | Rack bar        | 8 pcs     | stainless 304 | 25.4mm       | .065   |           | satin p180         | 5' 2-3/8"   | oal          |                     |                     | 4 Dec 2026       |      |              |              |                              |         | ab
      | 3   | Oddwell Labs           | Rack brace      | 4         | SS            | '1           | 16     |           | Satn P180          | '420        | c-c          | cope on 1-1/2 at 45 | cope on 1-1/2 at 45 | Fri 4 Dec

'2702 | 1   | Puddlewick Playgrounds | Gate post       | 4         | A53           | 1-1/2 sch 40 |        | black     | Primer-ready       | 1500        | cut          |                     |                     | 11/30/2026       | yes
'2702 | 2   | Puddlewick Playgrounds | Gate rail       | 6         | A53           | 1-1/4 pipe   | sch 40 | black     | Primer-ready       | 1100        | axis to axis | saddle 1.9          | saddle 1.9          | 12/3/2026
'2703 | 1   | Trundlebee Trailers    | Side frame      | 6         | '4130         | '1           | .065   |           | Primer-ready       | see bends   |              |                     |                     | 46360            |      |              | 90           | day number of the old system
'2703 | 1   | Trundlebee Trailers    | Side frame      | 6         | '4130         | '1           | .065   |           | Primer-ready       | see bends   |              |                     |                     | 46360            |      |              | 90           | typed twice
'2704 | 1   | Copperwren Cafés       | Table column    | 0         | mild steel    | '2           | .120   | HR        | Satin P180         | 700         |              |                     |                     | @2026-12-03
'2704 | 2   | Copperwren Cafés       | Table foot      | 2.5       | mild steel    | 1-1/4        | .083   | HR        | Satin P180         | 450         |              |                     |                     | @2026-12-03
'2704 | 3   | Copperwren Cafés       | Counter rail    | 2         | '304          | '2           | 16     |           | Mirror No. 8       | 1800        |              |                     |                     | @2026-12-03
'2705 | 1   | Saltgrebe Marine       | Arch            | 2         | 6061-T6       | '2           | .125   |           | Non-woven satin    | see bends   |              |                     |                     | @2026-12-03      | hot  | bend, finish | 600          | wants no clamp marks
'2705 | 2   | Saltgrebe Marine       | Hoop            | 2         | 6061-T6       | 1-1/2        | .125   |           | Non-woven satin    | see bends   |              |                     |                     | @2026-12-03
'2705 | 3   | Saltgrebe Marine       | Mast tube       | 1         | 6061-T6       | '4           | .125   |           | Satin P180         | 2000        |              |                     |                     | @2026-12-03
'2705 | 4   | Saltgrebe Marine       | Boom            | 1         | 6061-T6       | '2           | .125   |           | none               | 30 ft       |              |                     |                     | @2026-12-03
'2706 | 1   | Wrenfield Cycles       | Short hook      | 4         | '304          | '1           | .065   |           | Satin P180         | see bends   |              |                     |                     | @2026-12-03
'2706 | 2   | Wrenfield Cycles       | Peg             | 20        | '304          | '1           | .065   |           | Satin P180         | 8"          |              |                     |                     | @2026-12-03      |      | saw first
'2706 | 3   | Wrenfield Cycles       | Thin bow        | 2         | '304          | 1-1/2        | .035   |           | Satin P180         | see bends   |              |                     |                     | @2026-12-03
'2707 | 1   | Mosslamp Greenhouses   | Frame side      | 4         | 6063-T52      | 1-1/4        | .125   |           | Quick satin        | 1500        |              | miter 45            | '45                 | @2026-12-03
'2707 | 2   | Mosslamp Greenhouses   | Hose rail       | 2         | unobtainium   | 1-1/4        | .125   |           | none               | 1500        |              |                     |                     | @2026-12-03
'2707 | 3   | Mosslamp Greenhouses   | Door bar        | 2         | 6063-T52      | 1-1/4        | .125   |           | none               | 12 ft 3 x   |              |                     |                     | soon
'2707 | 4   | Mosslamp Greenhouses   | Vent bar        | =E5*#REF! | 6063-T52      | 1-1/4        | .125   |           | none               | 800         |              |                     |                     | @2026-12-03
'2708 | 1   | Yonder Lane School     | Gate bar        | 8         | A513          | 1-1/4        | .083   | scale     | Mill-scale removal | 1200        | axis to axis | square              | square              | @2026-12-03
'2708 | 2   | Yonder Lane School     | Gate stile      | 4         | A513          | 1-1/2        | .083   | scale     | Mill-scale removal | 1400        |              | mitre 45            | mitre 45            | 2026-12-03 11:00 | '3
'2708 | 3   | Yonder Lane School     | Bike stand loop | 4         | A513          | 1-1/2        | .083   | scale     | Mill-scale removal | '2493       |              |                     |                     | @2026-12-03
Total |     |                        |                 | 96
"""

_BENDS = r"""
Piece mark      | Leg (in) | Turn | Bend angle | Radius (in)
Side frame      | 9        |      | 90         | 3
                | 21.25    |      | 90         | 3
 | 9
Arch            | 34       |      | 75         | 6
                | 50       |      | 75         | 6
 | 34
Hoop            | 20       |      | 90         | 7
 | 20
Short hook      | 8        |      | 90         | 3
                | 1        |      | 90         | 3
 | 6
Thin bow        | 20       |      | 90         | 4.5
 | 20
Bike stand loop | 34       |      | 90         | 4.5
                | 16       |      | 90         | 4.5
 | 34
Old sign        | 10       |      | 90         | 3
 | 10
"""

_STOCK = r"""
Tag   | Matl     | Dia          | Wall  | Condition | Stick length | Price/ft | On hand   | ETA        | Offcut | Rack
S1    | '304     | '1           | .065  |           | 20'          | 2.6      | as needed |            |        | D1
S112  | '304     | 1-1/2        | 16 ga |           | 20'          | 4.05     | as needed |            |        | D2
S112T | '304     | 1-1/2        | .035  |           | 20'          | 2.6      | 2         |            |        | D2
S2    | '304     | '2           | 16 ga |           | 20'          | 5.45     | 4         |            |        | D3
P114  | A53      | 1-1/4 sch 40 |       | black     | 21'          | 3.0      | as needed |            |        | B1
P112  | A53      | 1-1/2 sch 40 |       | black     | 21'          | 3.6      | 6         |            |        | B2
M1    | '4130    | '1           | .065  |           | 20'          | 4.2      | 3         |            |        | C2
C114  | A513     | 1-1/4        | .083  | scale     | 20'          | 1.65     | as needed |            |        | A2
C112  | A513     | 1-1/2        | .083  | scale     | 20'          | 2.0      | 4         |            |        | A3
C112n | A513     | 1-1/2        | .083  | scale     | 20'          | 2.0      | 10        | 2 Dec 2026 |        | truck
L114  | 6063-T52 | 1-1/4        | .125  |           | 20'          | 3.1      | as needed |            |        | E1
L2    | 6061-T6  | '2           | .125  |           | 20'          | 5.4      | as needed |            |        | E4
L112  | 6061-T6  | 1-1/2        | .125  |           | 20'          | 3.95     | as needed |            |        | E2
L4    | 6061-T6  | '4           | .125  |           | 20'          | 11.0     | as needed |            |        | E9
R-401 | '304     | 1-1/2        | .065  |           | 2.1 m        | 1.5      | 1         |            | yes    | R2
R-401 | '304     | 1-1/2        | .065  |           | 1900 mm      | 1.5      | 1         |            | yes    | R2
"""

_FINISHES = r"""
Finish             | Grit           | Passes | Families
Mill-scale removal | P80            | 2      | carbon, alloy
                   | P120           | 1
Primer-ready       | '80            | 1      | carbon, alloy
Satin P180         | P120           | 1      | all
                   | P180           | 1
Non-woven satin    | P120           | 1      | stainless, aluminum
                   | P180           | 1
                   | non-woven fine | 1
Quick satin        | P120           | 1      | aluminum
                   | P320           | 1
"""

_SETTINGS = r"""
Where    | Name               | Value
House    | Shop name          | Third Kiln Tubeworks
         | Week starts        | 30 Nov 2026
         | Shortest remnant   | 30 in
         | Colour of the door | green
Cold saw | Kerf               | 3/32
"""

SHEETS: Mapping[str, str] = {
    "Open orders": _ORDERS,
    "Bend data": _BENDS,
    "Inventory": _STOCK,
    "Finishes": _FINISHES,
    "Settings": _SETTINGS,
    "Phone list": "nobody needs this sheet",
}
"""Sheets as text, one row a line. A cell of digits is a number, with an apostrophe before it a
text; `@` marks a date, and `=` a formula that the spreadsheet program could not work out."""

_NUMBER = re.compile(r"[0-9]+(?:\.[0-9]+)?")


def write_messy() -> bytes:
    """The workbook, as a spreadsheet program would leave it."""
    file = io.BytesIO()
    book: Any = xlsxwriter.Workbook(file, {"in_memory": True})
    book.set_properties({"created": dt.datetime(2026, 1, 1)})
    date = book.add_format({"num_format": "d/m/yy"})
    for name, text in SHEETS.items():
        sheet = book.add_worksheet(name)
        for number, line in enumerate(text.strip("\n").splitlines()):
            for column, word in enumerate(line.split("|")):
                _write(sheet, number, column, word.strip(), date)
    book.close()
    return file.getvalue()


def _write(sheet: Any, row: int, column: int, word: str, date: Any) -> None:
    if word.startswith("="):
        sheet.write_formula(row, column, word, None, "#REF!")
    elif word.startswith("@"):
        sheet.write_datetime(row, column, dt.datetime.fromisoformat(word[1:]), date)
    elif _NUMBER.fullmatch(word):
        sheet.write_number(row, column, float(word))
    elif word:
        sheet.write_string(row, column, word.removeprefix("'"))
