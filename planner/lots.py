"""Which order lines travel through the shop together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby

from planner.hours import DAY_MIN
from planner.orders import OrderLine, sawn_first
from planner.records import Blank, Lot
from planner.tube import TubeSpec

Kind = tuple[TubeSpec, str | None, bool]
"""What lines must have in common to share a lot: spec, recipe, and whether they are sawn first."""
Grouping = tuple[tuple[str, ...], ...]
"""Order lines by their keys, lot by lot, both in due order."""


def kinds(
    orders: Sequence[OrderLine], blanks: Mapping[str, Blank], due_min: Mapping[str, int]
) -> Iterator[tuple[Kind, list[OrderLine]]]:
    """Order lines by what they must have in common, each kind in due order."""

    def kind(line: OrderLine) -> Kind:
        return line.spec, line.recipe, sawn_first(blanks[line.key].steps)

    def order(line: OrderLine) -> tuple[str, int, str]:
        return repr(kind(line)), due_min[line.key], line.key

    for _, group in groupby(sorted(orders, key=order), key=lambda line: repr(kind(line))):
        lines = list(group)
        yield kind(lines[0]), lines


def split_by_due(
    lines: Sequence[OrderLine], due_min: Mapping[str, int], window_days: int | None
) -> list[list[OrderLine]]:
    """Cut a kind, in due order, where a line is due `window_days` days or more after the first
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


def windowed(
    orders: Sequence[OrderLine],
    blanks: Mapping[str, Blank],
    due_min: Mapping[str, int],
    window_days: int | None,
) -> Grouping:
    """The lines in lots by how many days of due dates may share one; see `split_by_due`."""
    return grouping(
        (
            [line.key for line in part]
            for _, lines in kinds(orders, blanks, due_min)
            for part in split_by_due(lines, due_min, window_days)
        ),
        due_min,
    )


def grouping(parts: Iterable[Iterable[str]], due_min: Mapping[str, int]) -> Grouping:
    """Groups of lines in due order, and the lines of each in due order."""

    def order(line: str) -> tuple[int, str]:
        return due_min[line], line

    made = (tuple(sorted(part, key=order)) for part in parts)
    return tuple(sorted(made, key=lambda part: order(part[0])))


def make_lots(
    groups: Grouping,
    orders: Mapping[str, OrderLine],
    blanks: Mapping[str, Blank],
    due_min: Mapping[str, int],
    first: int = 1,
    ordered_day: int = 0,
) -> tuple[Lot, ...]:
    """A lot for each group of lines, named `L01`, `L02`, … from the number `first` on, formed on a
    day of the plan."""
    digits = max(2, len(str(first - 1 + len(groups))))
    return tuple(
        Lot(
            key=f"L{number:0{digits}d}",
            spec=orders[part[0]].spec,
            recipe=orders[part[0]].recipe,
            saw_first=sawn_first(blanks[part[0]].steps),
            lines=part,
            due_min=due_min[part[0]],
            ordered_day=ordered_day,
        )
        for number, part in enumerate(groups, start=first)
    )
