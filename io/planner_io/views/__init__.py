"""What papers, workbooks and screens show of a plan, in words and rows, each worked out once.

Pure functions from a Plan to frozen dataclasses: no files, no clock, no layout.  Texts are as the
shop reads them, in its own unit.  May import `planner` and `planner_io.drawing`'s plain records.
"""
