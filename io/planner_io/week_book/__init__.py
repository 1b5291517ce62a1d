"""week.xlsx: the plan as a workbook to sort, filter and print, a sheet for each paper.

Text is always written as text, so that nothing a person typed becomes a formula or a link, and
the file's date is the plan's, so that the same plan always gives the same bytes.
"""

from planner_io.week_book.write import write_week

__all__ = ["write_week"]
