"""What is guessed where the floor says too little, in the words in which that is told.

A guess keeps the planner going; each names the row and what to write there to say it better.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from planner.errors import Finding, Severity
from planner.progress import Progress

OVERDUE_SHARE = 0.25
"""What still runs after it should have ended, and says no more, is taken to need this share of its
minutes from now on."""

Words = Callable[[int], str]
"""A minute as people say it."""


def minutes_left(minutes: int) -> int:
    """What a run that is overdue is taken to need, of so many planned minutes."""
    return max(1, round(OVERDUE_SHARE * minutes))


def runs_on(row: Progress, key: str, due: int, end: int, words: Words) -> Finding:
    """It should have ended, and runs."""
    return row.doubt(
        f"{key} runs, and should have ended at {words(due)}: it is taken to end at {words(end)}, a "
        "quarter of its minutes from now. If you know better, write the Pieces done so far or the "
        "expected End in its row of Progress, or done under State with its End."
    )


def has_ended(row: Progress, key: str, then: str, minute: int, words: Words) -> Finding:
    """It is said to run, but what cannot begin before its end has begun."""
    return row.doubt(
        f"{key} is said to be running, but {then} began at {words(minute)}: it is taken to have "
        "ended by then. If you know better, write done under State in its row of Progress, with "
        "its End."
    )


def stood_still(
    row: Progress, key: str, then: str, begun: int, since: int, words: Words
) -> Finding:
    """It stands still, but it is not said since when, or later than something else was begun."""
    said = f"{then} was put in at {words(begun)}"
    if row.end_min is None:
        said = f"is paused without an End, and {said}"
    else:
        said = f"is said to stand still since {words(row.end_min)}, but {said}"
    return row.doubt(
        f"{key} {said}: it is taken to stand still since {words(since)}. If you know better, write "
        f"since when under End in its row of Progress, and the Start of {then} in that one's."
    )


def is_at_the_later(row: Progress, first: str, then: str, people: Sequence[str]) -> Finding:
    """Two things run, and the same people were to be at both."""
    names, were = " and ".join(people), "were" if len(people) > 1 else "was"
    return row.doubt(
        f"{first} and {then} both run, and {names} {were} to be at both: taken to be at {then}, "
        f"which began later. If {first} has ended, write done under State in its row of Progress, "
        "with its End."
    )


def goes_on_without(row: Progress | None, key: str, off: Sequence[str]) -> Finding:
    """It runs, and somebody who was to be at it is off by now."""
    names, were, are = " and ".join(off), *(("were", "are") if len(off) > 1 else ("was", "is"))
    message = (
        f"{key} is running, but {names}, who {were} to be at it, {are} off by now: it is "
        f"taken to go on without {names}. If somebody else runs it, write them under Who in its "
        "row of Progress; if it stands still, say paused there."
    )
    if row is None:
        return Finding(severity=Severity.WARNING, message=message, subject=key)
    return row.doubt(message)
