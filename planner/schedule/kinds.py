"""Kinds of work: modes of a base that mount the same, and the changeover from each to each.

Where every mode of a base mounts all its attributes, what is mounted after an operation is what it
needs, so that a changeover follows from two kinds alone.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.schedule.compiled import Compiled, CompiledBase

MOST = 1000
"""Kinds of a base, beyond which there is no table for it."""


@dataclass(frozen=True, slots=True)
class Kinds:
    """Of one base: the kind of each of its modes, and minutes by kind mounted and kind needed.

    The last row is of what is mounted at the start.
    """

    kind: dict[int, int]
    minutes: NDArray[np.int32]


def kinds_of(c: Compiled, number: int) -> Kinds | None:
    """The kinds of work of a base; None where they do not tell the changeovers, or are too many."""
    base = c.bases[number]
    modes = [m for m, mode in enumerate(c.modes) if mode.base == number]
    rows: dict[tuple[int, ...], int] = {}
    kind: dict[int, int] = {}
    for m in modes:
        values = [-1] * len(base.slots)
        for need in c.modes[m].needs:
            values[need.slot - base.first_slot] = need.value
        if min(values, default=-1) < 0:
            return None
        kind[m] = rows.setdefault(tuple(values), len(rows))
    if not 0 < len(rows) <= MOST:
        return None
    return Kinds(kind, _minutes(base, list(rows)))


def _minutes(base: CompiledBase, needed: list[tuple[int, ...]]) -> NDArray[np.int32]:
    before = np.array([*needed, tuple(slot.mounted for slot in base.slots)])
    after = np.array(needed)
    each = [
        np.array(slot.minutes, np.int32).reshape(slot.values, slot.values)[
            np.ix_(before[:, i], after[:, i])
        ]
        for i, slot in enumerate(base.slots)
    ]
    combined = np.max(each, axis=0) if base.longest_counts else np.sum(each, axis=0)
    return np.asarray(combined, np.int32)
