"""What was lost on the floor: a record of the plan, and how to count it up.

What is said of an operation and a line, or of a stick, takes the place of what was said of them
before, so that saying it once more changes nothing.
"""

from __future__ import annotations

from collections.abc import Iterable

from planner.frozen import Frozen


class Scrap(Frozen):
    """Pieces of an order line that were lost, and that a line of its own makes once more."""

    operation: str
    """Where they were lost: an operation, or a lot."""
    line: str
    """Order line of the plan in which they were lost."""
    pieces: int
    stick: str = ""
    """Tag of the stick that they were to be cut from, if that was lost whole."""
    told_at: str = ""
    """Pieces lost in a lot: the operation that they were said of, where another one has that name
    now."""

    @property
    def what(self) -> tuple[str, str, str]:
        """What the number of pieces is said of; a stick is lost once, wherever that was."""
        where = f"{self.operation} {self.told_at}".rstrip()
        return "" if self.stick else where, self.line, self.stick


def in_all(before: Iterable[Scrap], said: Iterable[Scrap]) -> tuple[Scrap, ...]:
    """What is lost by now: what was known before, with what is said since in its place."""
    new: dict[tuple[str, str, str], Scrap] = {}
    for one in said:
        more = 0 if one.stick or one.what not in new else new[one.what].pieces
        new[one.what] = one.model_copy(update={"pieces": one.pieces + more})
    lost = {one.what: one for one in before} | new
    return tuple(one for one in lost.values() if one.pieces)
