"""What the operations of a group of bases must find mounted, and what it costs to mount it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from planner.schedule.compiled import Compiled, CompiledBase, Slot
from planner.schedule.floors.groups import BaseGroup

Part = tuple[int, ...]
"""A choice of attributes by their numbers."""
Value = tuple[str, ...]
"""One value name for each attribute of a part."""
MOST_ATTRIBUTES = 6
"""Of more attributes in a cluster only pairs are looked at besides the parts that say most."""
MOST_NAMES = 12
"""Of attributes with more names the changes are not counted one by one."""


@dataclass(frozen=True, slots=True)
class GroupStates:
    """Attributes of a group of bases by number; values by name, as bases number them apart."""

    attributes: tuple[str, ...]
    bases: tuple[CompiledBase, ...]
    needs: Mapping[int, Mapping[int, str]]
    """For each operation the values that it needs in whatever way it is done."""
    touches: Mapping[int, frozenset[int]]
    """For each operation the attributes that it sets in some way of doing it."""
    cheapest: Mapping[tuple[int, str], int]
    """The least minutes to change an attribute to a value, from any other one."""
    known: dict[Part, Mapping[Value, Sequence[int]]] = field(
        default_factory=dict[Part, Mapping[Value, Sequence[int]]]
    )
    """The values of the parts that were asked for."""

    @property
    def longest_counts(self) -> bool:
        """Whether minutes of several attributes may pass at the same time on some base."""
        return any(base.longest_counts for base in self.bases)

    def clusters(self) -> tuple[Part, ...]:
        """Attributes that the same operations set, always all of them together; an attribute that
        is now and then set by others is alone."""
        found: dict[tuple[int, ...], list[int]] = {}
        for q in range(len(self.attributes)):
            users = tuple(i for i, need in self.needs.items() if q in need)
            touched = sum(q in each for each in self.touches.values())
            if users:
                found.setdefault((-1 - q,) if touched > len(users) else users, []).append(q)
        return tuple(tuple(each) for each in found.values())

    def uneven(self, q: int) -> dict[tuple[str, str], int]:
        """Minutes from name to name of an attribute for which the origin matters; nothing where
        it does not, where bases differ, or where there are many names."""
        slots = [s for base in self.bases for s in base.slots if s.attribute == self.attributes[q]]
        first = slots[0]
        if first.values > MOST_NAMES:
            return {}
        if any((slot.names, slot.minutes) != (first.names, first.minutes) for slot in slots):
            return {}
        here = range(0 if any(slot.mounted == 0 for slot in slots) else 1, first.values)
        table = {
            (first.names[a], first.names[b]): first.minutes[a * first.values + b]
            for a in here
            for b in range(1, first.values)
            if a != b
        }
        even = all(minutes == self.cheapest[q, after] for (_, after), minutes in table.items())
        return {} if even else table

    def value(self, operation: int, part: Part) -> Value | None:
        """What the operation needs of the part; None if it leaves some of it as it is."""
        need = self.needs[operation]
        return tuple(need[q] for q in part) if all(q in need for q in part) else None

    def values(self, part: Part) -> Mapping[Value, Sequence[int]]:
        """The values of a part that must be mounted some time, each with its operations."""
        if part not in self.known:
            found: dict[Value, list[int]] = {}
            for i in self.needs:
                value = self.value(i, part)
                if value is not None:
                    found.setdefault(value, []).append(i)
            self.known[part] = found
        return self.known[part]

    def standing(self, part: Part, value: Value) -> int:
        """On how many bases the value is mounted at the start."""
        pairs = [(self.attributes[q], name) for q, name in zip(part, value, strict=True)]
        mounted = (
            {slot.attribute: slot.names[slot.mounted] for slot in base.slots} for base in self.bases
        )
        return sum(all(each.get(a) == name for a, name in pairs) for each in mounted)

    def cores(self) -> tuple[Part, ...]:
        """For each cluster the fewest attributes that tell all of its values apart."""
        return tuple(self._core(cluster) for cluster in self.clusters())

    def _core(self, cluster: Part) -> Part:
        part, count = cluster, len(self.values(cluster))
        for q in cluster:
            fewer = tuple(p for p in part if p != q)
            if fewer and len(self.values(fewer)) == count:
                part = fewer
        return part

    def joined(self) -> tuple[Part, ...]:
        """All parts of cores that have several attributes."""
        return tuple(
            part
            for core in self.cores()
            for size in range(2, len(core) + 1)
            for part in combinations(core, size)
        )

    def fewest(self) -> tuple[Part, ...]:
        """Every attribute alone and the cores."""
        singles = ((q,) for cluster in self.clusters() for q in cluster)
        return tuple(dict.fromkeys([*singles, *self.cores()]))

    def telling(self) -> tuple[Part, ...]:
        """Every attribute alone, the cores and their cells: few parts that say most."""
        return tuple(dict.fromkeys([*self.fewest(), *(c for p in self.cores() for c in cells(p))]))

    def every(self) -> tuple[Part, ...]:
        """Of these, all pairs and all other parts of clusters, those with more values than any
        smaller part of theirs: the others say nothing new."""
        numbers = [q for cluster in self.clusters() for q in cluster]
        parts: dict[Part, None] = dict.fromkeys(combinations(sorted(numbers), 2))
        for cluster in self.clusters():
            for size in range(3, len(cluster) + 1 if len(cluster) <= MOST_ATTRIBUTES else 3):
                parts.update(dict.fromkeys(combinations(cluster, size)))
        count: dict[Part, int] = {(q,): len(self.values((q,))) for q in numbers}
        kept: dict[Part, None] = dict.fromkeys(self.telling())
        for part in parts:
            count[part] = len(self.values(part))
            if count[part] > max(count[p] for p in combinations(part, len(part) - 1)):
                kept[part] = None
        return tuple(kept)


def cells(core: Part) -> tuple[Part, ...]:
    """A core without one of its attributes."""
    return tuple((*core[:at], *core[at + 1 :]) for at in range(len(core)) if len(core) > 1)


def states_of(compiled: Compiled, group: BaseGroup) -> GroupStates:
    """What the group's operations need, by name."""
    bases = tuple(compiled.bases[b] for b in group.bases)
    attributes = tuple(dict.fromkeys(slot.attribute for base in bases for slot in base.slots))
    number = {attribute: q for q, attribute in enumerate(attributes)}
    cheapest: dict[tuple[int, str], int] = {}
    for base in bases:
        for slot in base.slots:
            for value, name in enumerate(slot.names):
                key, least = (number[slot.attribute], name), _least(slot, value)
                cheapest[key] = min(least, cheapest.get(key, least))
    needs: dict[int, dict[int, str]] = {}
    touches: dict[int, frozenset[int]] = {}
    for i in group.operations:
        ways = [_needed(compiled, mode) for mode in compiled.ops[i].modes]
        touches[i] = frozenset(number[a] for way in ways for a in way)
        first, *others = ways
        needs[i] = {
            number[a]: name for a, name in first.items() if all(o.get(a) == name for o in others)
        }
    return GroupStates(attributes, bases, needs, touches, cheapest)


def _least(slot: Slot, value: int) -> int:
    """The unknown value is never come back to, so it is an origin only at the start."""
    return min(
        (
            slot.minutes[origin * slot.values + value]
            for origin in range(slot.values)
            if origin != value and (origin or slot.mounted == 0)
        ),
        default=0,
    )


def _needed(compiled: Compiled, number: int) -> dict[str, str]:
    mode = compiled.modes[number]
    base = compiled.bases[mode.base]
    slots = ((base.slots[need.slot - base.first_slot], need.value) for need in mode.needs)
    return {slot.attribute: slot.names[value] for slot, value in slots}
