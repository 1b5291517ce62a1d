"""The states that each base has to visit, as a tree: where rules see changeovers to come.

The attributes of a base are sorted by what a change of them costs; a state is then a path from
the dearest attribute to the cheapest, and the tour through the tree that never comes back is what
a shop makes that does everything of one family, in it of one OD, and so on.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from planner.schedule.compiled import Compiled, CompiledBase, Need, Slot

LEVELS = 6
"""Attributes of a state that are counted (the same number in planner/kernel/dispatch.h)."""
NO_NODE = -1

Path = tuple[tuple[int, int], ...]
"""Of (slot, value), the dearest attribute first."""


@dataclass(frozen=True, slots=True)
class States:
    """States by base, their modes in the order of `rank`, and the nodes of the trees."""

    state_first: tuple[int, ...]
    """By base, and the end."""
    members: tuple[tuple[int, ...], ...]
    """Modes by state."""
    nodes: tuple[tuple[int, ...], ...]
    """By state its path of nodes, `LEVELS` long."""
    node_first: tuple[int, ...]
    """By base, and the end."""
    node_minutes: tuple[float, ...]


def make_states(compiled: Compiled, rank: Sequence[int]) -> States:
    """All of it; `rank` orders the members of a state."""
    members: dict[tuple[int, tuple[Need, ...]], list[int]] = {}
    for number in sorted(range(len(compiled.modes)), key=rank.__getitem__):
        mode = compiled.modes[number]
        members.setdefault((mode.base, mode.needs), []).append(number)
    states = [[needs for at, needs in members if at == base] for base in range(len(compiled.bases))]
    node_number: dict[tuple[int, Path], int] = {}
    minutes: list[float] = []
    nodes: list[tuple[int, ...]] = []
    state_first, node_first = [0], [0]
    for number, base in enumerate(compiled.bases):
        cost = _minutes(base)
        for needs in states[number]:
            path = _path(needs, cost)
            row = [
                node_number.setdefault((number, path[:end]), len(node_number))
                for end in range(1, len(path) + 1)
            ]
            for (slot, _), node in zip(path, row, strict=True):
                if node == len(minutes):
                    minutes.append(cost[slot])
            nodes.append((*row, *[NO_NODE] * LEVELS)[:LEVELS])
        state_first.append(len(nodes))
        node_first.append(len(minutes))
    return States(
        state_first=tuple(state_first),
        members=tuple(
            tuple(members[number, needs]) for number, of in enumerate(states) for needs in of
        ),
        nodes=tuple(nodes),
        node_first=tuple(node_first),
        node_minutes=tuple(minutes),
    )


def _path(needs: tuple[Need, ...], cost: dict[int, float]) -> Path:
    """The needs, the dearest attribute first; the cheapest are left out beyond `LEVELS`."""
    ordered = sorted(needs, key=lambda need: (-cost[need.slot], need.slot))
    return tuple((need.slot, need.value) for need in ordered[:LEVELS])


def _minutes(base: CompiledBase) -> dict[int, float]:
    """Mean minutes of a change by attribute."""
    return {base.first_slot + i: mean_change(slot) for i, slot in enumerate(base.slots)}


def mean_change(slot: Slot) -> float:
    """Mean minutes from a value to another one."""
    pairs = slot.values * (slot.values - 1)
    return sum(slot.minutes) / pairs if pairs else 0.0
