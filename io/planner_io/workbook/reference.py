"""The reference of sheets and columns in docs/workbook.md, written from their descriptions.

`python -m planner_io.workbook.reference docs/workbook.md` writes it.
"""

from __future__ import annotations

from collections.abc import Iterator

from planner_io.checks_sheet import CHECKS
from planner_io.generated import write_named
from planner_io.logbook_sheet import LOG
from planner_io.progress_sheet import PROGRESS
from planner_io.workbook.bends_sheet import BENDS
from planner_io.workbook.columns import Column, Kind, SheetSpec
from planner_io.workbook.grid import MAX_ROWS
from planner_io.workbook.load import MAX_BYTES
from planner_io.workbook.orders_sheet import ORDERS
from planner_io.workbook.settings import SETTINGS_OF, SIDE
from planner_io.workbook.shop_sheets import SHOP_SHEETS
from planner_io.workbook.stock_sheet import STOCK

_HEAD = f"""# The workbook

One workbook brings the week in: `.xlsx`, or `.xls`, `.ods` and `.csv` (a `.csv` is an Orders
sheet). `brightrun template FILE` writes one to fill in; `brightrun check FILE` says how it is
read and lists every problem with its cell.

* **Sheets** are found by name, in any order; other sheets are left alone. Orders is needed. The
  shop's own sheets may stand in the same file or in a shop file of their own (`--shop`); the
  sheet of the week's workbook comes first, and Settings of both count, row by row. The built-in
  starter shop fills in for shop sheets and a Stock sheet that neither has: that with metric sizes
  where the shop's own unit is millimetres, unless the other has more of the ODs in Orders. Where
  no sheet is called Orders, sheets called by days (`Monday`, `Di`, `4 Dec`) are read together, and
  their day is Due where they have no such column.
* **Headers** are found by meaning: any of the names below, in any order, upper or lower case, in
  the singular or plural, below title rows; units or second halves of titles may stand in the row
  below. A close misspelling is read and told. A unit in a header, such as `Length (mm)` or `OD,
  in`, is what its bare numbers mean; without one they are in the shop's own unit (Settings, Unit;
  without Settings and without bare sizes in sheets of the shop that may be inches, millimetres if
  OD has a metric header, or bare numbers that are all too large for inches, more than three for
  each OD in inches, and no other size has a header in inches; else inches). Orders and Stock have
  headers in German, French and Spanish, too. A fraction such as `1-1/2` is of an inch anywhere.
  Below `Pipe size` or `NPS`, and beside a schedule, `1-1/2` is a pipe size; a whole number from 7
  to 24 as a wall in inches is a gauge.
* **Rows**: blank ones are skipped; rows of totals, headings between orders, notes below the table
  and unchanged example rows are left out and told, and so are rows of which Done, Complete or
  Status say that they are made. A row with an error is listed and not planned, all others are.
  Hidden rows and columns count, and are told (in an `.xls` file it is not known what is hidden);
  hidden sheets do if no visible one will. Cells merged downwards count for each of their rows, and
  a ditto mark is the cell above. Comments on cells and strokes through them are not read, which
  is told. Where there are several sheets of order lines, one must be called Orders. Another table
  below, above or beside that of Orders, Stock or Bends is not read, which is an error; lines of
  dashes, and headers and titles that stand there again on each page, are left out and told.
* **Lengths** are read as `1-1/2`, `1 1/2`, `1.5"`, `5' 2-3/8"`, `12 ft`, `38.1 mm`; sizes also as
  `1-1/4 sch 40` or `1-1/2 x .065`, walls as `.065`, `16 ga` (Birmingham wire gauge), `16 SWG` or
  `sch 40`. In a column such as `Cope 1` a size alone is a saddle at 90°.
  One column may say size and material together, in either order: `1-1/2 x .120 A513`. Feet and
  inches may stand in two columns side by side, such as `Length (ft)` and `Inches`. A column `Unit`
  says what the bare lengths of its row are in, or the OD or wall to the left of it; in Bends it
  holds for the rows of a part. A number has the unit that its cell shows behind it in an `.xlsx`
  file. A quantity may be counted, as `12 pcs`, `2 doz`, `1 gross`, `1 pair`, `a dozen`,
  `six` or `3L + 3R`.
  An OD within 0.05 mm and a wall within 0.01 mm of the only such tube in Stock is that one,
  rounded. Likewise a bend's radius within 0.5 mm of the nearest die for its OD is that die's, and a
  tool within 0.05 mm of an OD that is ordered is for it; both are told.
* **Dates** are real dates, or text such as `2026-12-04`, `4 Dec 2026`, `Fri 4 Dec 14:00`. In
  `4/12/2026` the order is that of the setting Date order; without it that of the column's other
  dates, or the one that lies near the start of the plan (--start, else Settings, Plan starts; where
  neither says, the day of reading); where none of these tells, it is an error, but for
  `4.12.2026`: points have the day first. A date without a year is the nearest to that day. A
  weekday must be that of its date; alone it is the first such day of the plan, and `Fri 4th` the
  only one near it. `4 Dec AM` is by noon, `PM` by the end of the day; words in brackets behind a
  date are left out. Months and weekdays may be German, French or Spanish.
* **Log, Progress and Checks** may stand in the same workbook or in files of their own: `brightrun
  log FILE` and `brightrun plan --log FILE` read Log; `brightrun plan --after DIR --progress FILE`
  reads Progress and Checks.
* **Limits**: {MAX_ROWS:,} filled rows a sheet, {MAX_BYTES // 1_000_000} MB a file. Formulas count
  with their last result.
"""


def reference() -> str:
    """The whole reference as Markdown."""
    return "\n".join([_HEAD, *_sheets(), *_settings()])


def _sheets() -> Iterator[str]:
    for spec in (ORDERS, BENDS, STOCK, *SHOP_SHEETS, LOG, PROGRESS, CHECKS):
        yield f"## {spec.title}\n"
        yield f"{spec.help} Also found as: {spec.names}.\n"
        yield from _table(spec)


def _table(spec: SheetSpec) -> Iterator[str]:
    yield "| column | holds | what it says | other names |"
    yield "| --- | --- | --- | --- |"
    for column in spec.columns:
        needed = " (needed)" if column.required else ""
        yield f"| **{column.title}**{needed} | {_holds(column)} | {column.help} | {column.names} |"
    yield ""


def _holds(column: Column) -> str:
    if column.kind == Kind.CHOICE or (column.kind == Kind.TEXT and column.choices):
        return " · ".join(column.choices)
    return str(column.kind.value)


def _settings() -> Iterator[str]:
    yield "## The settings\n"
    yield (
        "Rows of the Settings sheet. Station is House, the name of a station, or a kind of "
        "station for all of that kind; a row for a name is stronger than one for its kind. Left "
        "blank it is House, or the only kind that has the setting.\n"
    )
    for where, columns in SETTINGS_OF.items():
        yield f"### {where if where == 'House' else f'a {where}'}\n"
        yield "| setting | holds | what it says | other names |"
        yield "| --- | --- | --- | --- |"
        for column in columns:
            yield f"| **{column.title}** | {_holds(column)} | {column.help} | {column.names} |"
        yield ""
    yield f"Any station also has **{SIDE.title}** ({SIDE.kind.value}): {SIDE.help}"
    yield ""


if __name__ == "__main__":
    write_named(reference(), __doc__)
