"""The column Who of the Progress sheet: those who do the work, if not those who were to."""

from __future__ import annotations

import difflib
import re

from planner.records import Plan
from planner_io.typed_names import bare
from planner_io.workbook.names import listed
from planner_io.workbook.rows import RowReader

MOST_PEOPLE = 2
"""So many at most do one thing."""
_BETWEEN = re.compile(r"\s*(?:[,;/&+]|\band\b)\s*", re.IGNORECASE)


def read_who(reader: RowReader, issued: Plan) -> tuple[str, ...]:
    """The people whom a row names; nobody where it is blank or the shop has no people."""
    written = reader.text("who")
    if not written:
        return ()
    people = {bare(person.name): person.name for person in issued.shop.people}
    if not people:
        why = "not used, as the shop has no sheet People"
        reader.report.warn(reader.row.place("who"), why)
        return ()
    if bare(written) in people:
        return (people[bare(written)],)
    names = [name for name in _BETWEEN.split(written) if name]
    for name in names:
        if bare(name) not in people:
            near = difflib.get_close_matches(bare(name), people, 1)
            hint = f"; {people[near[0]]} comes close" if near else ""
            why = f"read “{name}”, who is not among the shop's people{hint}"
            reader.fail("who", why, written, f"one or two of {listed(list(people.values()), 8)}")
            return ()
    found = tuple(dict.fromkeys(people[bare(name)] for name in names))
    if len(found) > MOST_PEOPLE:
        reader.fail("who", f"{MOST_PEOPLE} people at most do one thing", written)
        return ()
    return found
