"""Orders workbooks: from cells to orders, stock and shop, and back to a template.

Data flows left to right::

    file -> grids (load, xlsx, legacy, delimited) -> tables (find, table) -> rows (rows)
         -> parsers of cells (cells, dates, ends, materials, routes, kinds)
         -> builders (orders, bends, stock, shop) -> Reading

Parsers know how a cell is written and nothing of the trade; builders know the trade and never
see a file. Sheets and columns are described once (orders_sheet, bends_sheet, stock_sheet,
shop_sheets, tooling_sheets, settings), for reading, template and reference alike. `gate` is the
one place where exceptions of spreadsheet libraries become InputError. May import the core and
spreadsheet libraries; no solver.
"""

from planner_io.workbook.check import Checked, blanks_of, checked
from planner_io.workbook.read import Reading, read_workbook
from planner_io.workbook.report import NOT_USED
from planner_io.workbook.template import write_template

__all__ = [
    "NOT_USED",
    "Checked",
    "Reading",
    "blanks_of",
    "checked",
    "read_workbook",
    "write_template",
]
