"""Which order lines travel through the shop together."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby

from planner.orders import OrderLine, Step
from planner.records import Blank, Lot
from planner.tube import TubeSpec

DAY_MIN = 1440

Family = tuple[TubeSpec, str | None, bool]
"""What lines must have in common to share a lot: spec, recipe, and whether they are sawn first."""


def saw_first(blank: Blank) -> bool:
    """Whether the pieces are sawn before they are finished."""
    steps = blank.steps
    return Step.FINISH in steps and steps.index(Step.SAW) < steps.index(Step.FINISH)


def families(
    orders: Sequence[OrderLine], blanks: Mapping[str, Blank], due_min: Mapping[str, int]
) -> Iterator[tuple[Family, list[OrderLine]]]:
    """Order lines by what they must have in common, each family in due order."""

    def family(line: OrderLine) -> Family:
        return line.spec, line.recipe, saw_first(blanks[line.key])

    def order(line: OrderLine) -> tuple[str, int, str]:
        return repr(family(line)), due_min[line.key], line.key

    for _, group in groupby(sorted(orders, key=order), key=lambda line: repr(family(line))):
        lines = list(group)
        yield family(lines[0]), lines


def split_by_due(
    lines: Sequence[OrderLine], due_min: Mapping[str, int], window_days: int | None
) -> list[list[OrderLine]]:
    """Cut a family, in due order, where a line is due `window_days` days or more after the first
    of its lot: 1 makes a lot for each due day, None one lot for all."""
    lots: list[list[OrderLine]] = []
    first_day = 0
    for line in lines:
        day = due_min[line.key] // DAY_MIN
        if not lots or (window_days is not None and day >= first_day + window_days):
            lots.append([])
            first_day = day
        lots[-1].append(line)
    return lots


def make_lots(
    orders: Sequence[OrderLine],
    blanks: Mapping[str, Blank],
    due_min: Mapping[str, int],
    window_days: Mapping[Family, int | None] | int | None,
    first: int = 1,
) -> tuple[Lot, ...]:
    """Lots in due order, named `L01`, `L02`, … from the number `first` on.

    `window_days` is how many days of due dates share a lot, for all families or for each one;
    see `split_by_due`.
    """
    found: list[tuple[int, Family, list[OrderLine]]] = []
    for family, lines in families(orders, blanks, due_min):
        window = window_days.get(family) if isinstance(window_days, Mapping) else window_days
        for part in split_by_due(lines, due_min, window):
            found.append((due_min[part[0].key], family, part))
    found.sort(key=lambda lot: (lot[0], lot[2][0].key))
    digits = max(2, len(str(first - 1 + len(found))))
    return tuple(
        Lot(
            key=f"L{number:0{digits}d}",
            spec=family[0],
            recipe=family[1],
            saw_first=family[2],
            lines=tuple(line.key for line in part),
            due_min=due,
        )
        for number, (due, family, part) in enumerate(found, start=first)
    )
