"""Bases that share work: operations with alternatives on several bases tie these together."""

from __future__ import annotations

from dataclasses import dataclass

from planner.schedule.compiled import NOWHERE, Compiled


@dataclass(frozen=True, slots=True)
class BaseGroup:
    """Bases that can stand in for each other, and the operations that only they can do."""

    bases: tuple[int, ...]
    operations: tuple[int, ...]


def base_groups(compiled: Compiled) -> tuple[BaseGroup, ...]:
    """Every base in exactly one group; work that need not come to any base is left out."""
    root = list(range(len(compiled.bases)))

    def find(base: int) -> int:
        while root[base] != base:
            base = root[base]
        return base

    at = [sorted({compiled.modes[m].base for m in op.modes}) for op in compiled.ops]
    for bases in at:
        for other in bases[1:]:
            if bases[0] != NOWHERE:
                root[find(other)] = find(bases[0])
    return tuple(
        BaseGroup(
            bases=tuple(b for b in range(len(root)) if find(b) == first),
            operations=tuple(
                i for i, bases in enumerate(at) if bases[0] != NOWHERE and find(bases[0]) == first
            ),
        )
        for first in sorted({find(b) for b in range(len(root))})
    )
