"""The time of day in a date, at either end of it.

>>> split_time("fri 4 pm"), split_time("noon fri"), split_time("dec 4 am")
(('fri', 960, ''), ('fri', 720, ''), ('dec 4', 720, ', by noon'))
"""

from __future__ import annotations

import re

from planner_io.workbook.cells import clock

NOON = 720

_MONTH_ONLY = re.compile(
    r"(?:[a-z]+\.?,? )?(jan|feb|mar|apr|may|jun|jul|aug|sep|sept|oct|nov|dec)[a-z]*\.?"
)
_CLOCK = r"[0-9]{1,2}(?::[0-9]{2}){1,2} ?(?:[ap]\.?m\.?)?|[0-9]{1,2} ?[ap]\.?m\.?|noon|midday"
_BEHIND = re.compile(rf"^(.*?)(?:[ ,]+|(?<=[0-9])t| at | ?@ ?)({_CLOCK})$")
_BEFORE = re.compile(rf"^({_CLOCK})(?:,? on |,? )(.*[a-z0-9].*)$")
_HALF = re.compile(
    r"(.*[0-9a-z])\.?,? (?:\(?(?:(a\.?m\.?|(?:in the )?morning)|p\.?m\.?|(?:in the )?afternoon)\)?)"
)
"""A date, and the half of it by which something is wanted."""
_TIME_ALONE = re.compile(rf"(?:{_CLOCK}|eod|cob|end of day|morning|afternoon)")
_NO_HOUR = re.compile(
    r"\b(?:first thing|night|evening|lunch(?:time)?|midnight|shift|start of day)\b"
)
_AM_OR_PM = re.compile(r"(?:^|[ ,])(?:at|by|before) ([1-9]|1[0-2])$")
_TODAY = re.compile(r"\b(?:today|tomorrow|next|this|coming)\b")


def split_time(words: str) -> tuple[str, int | None, str]:
    """A date without its time of day, that time in minutes, and how half a day was read.

    In `dec 4 am` the 4 is the day, since nothing else is.
    """
    match = _BEHIND.match(words)
    if match and match[1] and not _MONTH_ONLY.fullmatch(match[1]):
        return match[1].rstrip(" ,"), _minute(match[2]), ""
    if before := _BEFORE.match(words):
        return before[2], _minute(before[1]), ""
    half = _HALF.fullmatch(words)
    if half is None:
        return words, None, ""
    return (half[1], NOON, ", by noon") if half[2] else (half[1], None, ", by the end of the day")


def _minute(shown: str) -> int | None:
    return NOON if shown == "midday" else clock(shown).value or None


def why_no_day(words: str) -> str:
    """What to do about a date of which only the time is clear, or not even that; empty for none."""
    if _TIME_ALONE.fullmatch(words):
        return "which day? Write it before the time"
    if hour := _AM_OR_PM.search(words):
        return f"write {hour[1]} am or {hour[1]} pm"
    if _NO_HOUR.search(words):
        return "write the hour by which it is wanted, as in Fri 7:00"
    return "write the date" if _TODAY.search(words) else ""
