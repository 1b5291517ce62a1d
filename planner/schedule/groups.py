"""Which operations go well beside each other: where the search's merge moves lead.

Modes that mount the same belong to a group, and so do modes that share all but the attribute that
is cheapest to change, and modes that share one. A mode that shares nothing with any other (a
published matrix from operation to operation) gets its nearest neighbours instead: those after
which it is cheap, and those before which it is cheap.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.schedule.compiled import NOWHERE, Compiled, Mode, Slot

EITHER, AFTER, BEFORE = 0, 1, 2
NEAREST = 10

Key = tuple[object, ...]


def make_groups(c: Compiled) -> tuple[list[list[int]], list[list[int]], list[int]]:
    """For each mode its groups, for each group its member modes, and its side.

    The group of the whole mounted state comes first, that of all but the cheapest attribute second.
    """
    slots = [slot for base in c.bases for slot in base.slots]
    members: dict[Key, list[int]] = {}
    keys = [_keys(mode, slots) for mode in c.modes]
    for number, of in enumerate(keys):
        for key in of:
            members.setdefault(key, []).append(number)
    common = [k for k, of in members.items() if len({c.modes[m].operation for m in of}) > 1]
    number_of = {key: i for i, key in enumerate(common)}
    groups = [[number_of[key] for key in of if key in number_of] for of in keys]
    lists, sides = [members[key] for key in common], [EITHER] * len(common)
    lonely = [m for m, of in enumerate(groups) if not of and len(c.modes[m].needs) == 1]
    for slot in sorted({c.modes[m].needs[0].slot for m in lonely}):
        _add_nearest(c, slots[slot], [m for m in lonely if c.modes[m].needs[0].slot == slot],
                     groups, lists, sides)  # fmt: skip
    return groups, lists, sides


def _keys(mode: Mode, slots: Sequence[Slot]) -> list[Key]:
    if mode.base == NOWHERE or not mode.needs:
        return []
    named = tuple((slots[n.slot].attribute, slots[n.slot].names[n.value]) for n in mode.needs)
    pairs = [(pair,) for pair in named]
    if len(named) < 3:
        return [named, *pairs] if len(named) > 1 else [named]
    cheapest = min(range(len(named)), key=lambda i: max(slots[mode.needs[i].slot].minutes))
    return [named, (*named[:cheapest], *named[cheapest + 1 :]), *pairs]


def _add_nearest(
    c: Compiled,
    slot: Slot,
    modes: list[int],
    groups: list[list[int]],
    lists: list[list[int]],
    sides: list[int],
) -> None:
    if len(modes) < 3:
        return
    values = [c.modes[m].needs[0].value for m in modes]
    minutes = np.array(slot.minutes).reshape(slot.values, slot.values)[np.ix_(values, values)]
    np.fill_diagonal(minutes, np.iinfo(minutes.dtype).max)
    for side, table in ((AFTER, minutes.T), (BEFORE, minutes)):
        for mode, nearest in zip(modes, _smallest(table), strict=True):
            groups[mode].append(len(lists))
            lists.append([modes[n] for n in nearest])
            sides.append(side)


def _smallest(table: NDArray[Any]) -> list[list[int]]:
    count = min(NEAREST, table.shape[1] - 1)
    found: list[list[int]] = np.argsort(table, axis=1, kind="stable")[:, :count].tolist()
    return found
