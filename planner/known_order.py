"""Where the work of each order line stands in a run order, whatever lots the lines are in.

When the grouping changes, the operations of a new lot go where those of its lines stood.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from planner.drafts import Draft
from planner.records import Operation
from planner.schedule import Turn, Turns

Place = tuple[int, str]
"""How many operations come before in the run order, and the station."""
Places = Mapping[tuple[str, str], Place]
"""By line and operation, the name of the lot left out: a line's first pass is its first pass."""
Pick = Callable[[list[Place]], Place]


def listed(draft: Draft, places: Places, pick: Pick = min) -> Turns:
    """The draft's operations in the order in which the work of their lines stood; a lot whose
    lines stood apart goes to the first of their places, or the last, as `pick` says."""
    found: list[tuple[Place, int, Operation]] = []
    due = {lot.key: lot.due_min for lot in draft.lots}
    for operation, names in _roles(draft):
        known = [places[name] for name in names if name in places]
        if known:
            found.append((pick(known), due[operation.lot], operation))
    found.sort(key=lambda one: (one[0][0], one[1]))
    return tuple(Turn(operation.key, place[1]) for place, _, operation in found)


def places_of(draft: Draft, turns: Turns) -> Places:
    """Where each line's work stands in a run order."""
    at = {turn.operation: (number, turn.station) for number, turn in enumerate(turns)}
    return {name: at[operation.key] for operation, names in _roles(draft) for name in names}


def _roles(draft: Draft) -> Iterator[tuple[Operation, list[tuple[str, str]]]]:
    lines = {lot.key: lot.lines for lot in draft.lots}
    for operation in draft.operations:
        name = operation.key.removeprefix(operation.lot)
        of = lines[operation.lot] if operation.line is None else (operation.line,)
        yield operation, [(line, name) for line in of]
