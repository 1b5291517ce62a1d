"""How often values must be mounted: counting over attributes and whole states, in periods.

A *visit* is a stretch of a base's order through which some attributes (a *part* of the state) keep
their values and in which an operation needs these. Each visit but the one that is there at the
start begins with an *entry*, a change of at least one of the attributes to its value in the
visit. Hence, for each part, entries of its values are at most the changes of its attributes, which
are what changeovers cost; and each value of each part must be visited.

*Periods*: where operations have to end by certain times, the order of each base is cut after the
last operation that ends by the end of each period; an entry is in the period in which the operation
ends for which it is made. Whatever share of an operation is done in a range of periods, as much of
a visit is entered in it or carried over into it.

*Sequence* (coarse before fine): if an operation with value b must come after one with value a of
the same *cell* (equal in all other attributes), then either the cell is not entered with b in
place, or the cell or b in it is visited once more; the same for leaving it with a in place.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from planner.schedule.compiled import Compiled
from planner.schedule.floors.linear import Linear
from planner.schedule.floors.states import GroupStates, Part, Value, cells

Place = tuple[Part, Value]


class Visits:
    """The columns and rows of one group of bases in a linear program of `count` periods."""

    def __init__(
        self, linear: Linear, states: GroupStates, parts: Sequence[Part], count: int = 1
    ) -> None:
        self.linear = linear
        self.states = states
        self.parts = parts
        self.count = count
        self.entry: dict[Place, list[int]] = {}
        """For each period the column of entries."""
        self.carry: dict[Place, list[int]] = {}
        """For each period but the last one the column of visits that go on into the next."""
        self.members: dict[Place, Sequence[int]] = {}
        """Operations that need it."""
        self.cost: list[list[tuple[int, int]]] = []
        """For each period what its changeovers take at least."""
        self.kept: list[tuple[Part, int, dict[Value, int], dict[Value, int]]] = []
        """A core and one of its attributes, and for each value the columns of entering it, and of
        leaving it, with this attribute alone unchanged."""
        self.total: list[tuple[int, int]] = []
        """What all changeovers take at least."""
        self.change: dict[tuple[int, str, str], int] = {}
        """Columns of changes of an attribute from one name to another, where their minutes depend
        on both."""
        self._columns()
        self._cost()
        self._carried()

    def _columns(self) -> None:
        bases = len(self.states.bases)
        for part in self.parts:
            for value, operations in self.states.values(part).items():
                place = part, value
                most = len(operations)
                self.entry[place] = [self.linear.column(most) for _ in range(self.count)]
                self.carry[place] = [self.linear.column(bases) for _ in range(self.count - 1)]
                self.members[place] = operations

    def standing(self, place: Place) -> int:
        """Visits that are there at the start."""
        return self.states.standing(*place)

    def singles(self, q: int) -> Iterator[Place]:
        """The places of one attribute."""
        return (place for place in self.entry if place[0] == (q,))

    def _minutes(self, place: Place) -> int:
        (q,), (name,) = place
        return self.states.cheapest[q, name]

    def _cost(self) -> None:
        """The minutes of each period: the sum over the attributes, or at least each of them."""
        for k in range(self.count):
            by_attribute = [
                [(self.entry[p][k], self._minutes(p)) for p in self.singles(q)]
                for q in range(len(self.states.attributes))
            ]
            if not self.states.longest_counts:
                self.cost.append([term for each in by_attribute for term in each])
                continue
            most = sum(self.linear.highs[c] * m for each in by_attribute for c, m in each)
            longest = self.linear.column(most, 1)
            for each in by_attribute:
                self.linear.at_most([*each, (longest, -1)], 0)
            self.cost.append([(longest, 1)])
        if self.states.longest_counts:
            self.total = [term for cost in self.cost for term in cost]
            return
        for q in range(len(self.states.attributes)):
            self.total += self._from_each(q) or [
                (column, self._minutes(place)) for place in self.singles(q)
                for column in self.entry[place]
            ]  # fmt: skip
        for column, minutes in self.total:
            self.linear.costs[column] = minutes

    def _from_each(self, q: int) -> list[tuple[int, int]]:
        """Changes from name to name: no name is left more often than it stood or was entered."""
        table = self.states.uneven(q)
        most = sum(q in each for each in self.states.touches.values())
        own = {pair: self.linear.column(most) for pair in table}
        self.change |= {(q, *pair): column for pair, column in own.items()}
        for (_, (name,)), columns in ((p, self.entry[p]) for p in self.singles(q) if table):
            into = [(column, -1) for (_, after), column in own.items() if after == name]
            self.linear.at_most([*((column, 1) for column in columns), *into], 0)
        for name in {before: None for before, _ in table}:
            left = [(column, 1) for (before, _), column in own.items() if before == name]
            into = [(column, -1) for (_, after), column in own.items() if after == name]
            self.linear.at_most([*left, *into], self.states.standing((q,), (name,)))
        return [(column, table[pair]) for pair, column in own.items()]

    def _carried(self) -> None:
        """Entries are changes; a base carries one value; what is carried was there or entered."""
        for part in self.parts:
            values = list(self.states.values(part))
            for k in range(self.count):
                if len(part) > 1:
                    self.linear.at_most([*self._entries(part, k), *self._changes(part, k)], 0)
                if k == self.count - 1:
                    continue
                carried = {value: self.carry[part, value][k] for value in values}
                self.linear.at_most([(c, 1) for c in carried.values()], len(self.states.bases))
                for value, column in carried.items():
                    before, stood = self._before((part, value), k)
                    entered = (self.entry[part, value][k], -1)
                    self.linear.at_most([(column, 1), entered, *before], stood)
                if len(part) > 1:
                    self._carried_alike(part, carried, k)

    def _carried_alike(self, part: Part, carried: Mapping[Value, int], k: int) -> None:
        """Where a value of several attributes is carried over, each of them is."""
        for at, q in enumerate(part):
            for name in {value[at]: None for value in carried}:
                columns = [(c, 1) for value, c in carried.items() if value[at] == name]
                self.linear.at_most([*columns, (self.carry[(q,), (name,)][k], -1)], 0)

    def _entries(self, part: Part, k: int) -> list[tuple[int, int]]:
        return [(self.entry[part, value][k], 1) for value in self.states.values(part)]

    def _changes(self, part: Part, k: int) -> list[tuple[int, int]]:
        names = {(q, v[at]): None for v in self.states.values(part) for at, q in enumerate(part)}
        return [(self.entry[(q,), (name,)][k], -1) for q, name in names]

    def _before(self, place: Place, k: int) -> tuple[list[tuple[int, int]], int]:
        """What is carried into period k: a term to subtract, or the number that stood there."""
        if k == 0:
            return [], self.standing(place)
        return [(self.carry[place][k - 1], -1)], 0

    def cover(self, spans: Mapping[int, tuple[int, int]]) -> None:
        """Every operation is done, within its span of periods, while its values are mounted."""
        known = {
            (place, spans[i]): None
            for place, operations in self.members.items()
            for i in operations
        }
        for place, (first, last) in known:
            self.mounted(place, first, last, [], 1)

    def mounted(
        self, place: Place, first: int, last: int, terms: Sequence[tuple[int, int]], share: int
    ) -> None:
        """The place is entered in a range of periods, or carried into it, `share` times less the
        terms."""
        before, stood = self._before(place, first)
        entered = [(column, 1) for column in self.entry[place][first : last + 1]]
        carried = [(column, -factor) for column, factor in before]
        self.linear.at_least([*entered, *carried, *terms], share - stood)

    def in_sequence(self, compiled: Compiled) -> None:
        """Add what follows from operations that come after others of their cell."""
        for part in self.states.joined():
            for at, cell in enumerate(cells(part)):
                arcs = set(self._arcs(compiled, part, at))
                if arcs and part in self.parts and cell in self.parts:
                    self._sequence(part, cell, at, arcs)

    def _arcs(self, compiled: Compiled, part: Part, at: int) -> Iterator[tuple[Value, Value]]:
        """Values of operations that differ only in one attribute and follow each other."""
        for j in self.states.needs:
            after = self.states.value(j, part)
            for pred in compiled.ops[j].preds:
                if pred.operation not in self.states.needs or pred.lag < 0:
                    continue
                before = self.states.value(pred.operation, part)
                same = before and after and _without(before, at) == _without(after, at)
                if before and after and same and before != after:
                    yield before, after

    def _sequence(self, part: Part, cell: Part, at: int, arcs: set[tuple[Value, Value]]) -> None:
        values = self.states.values(part)
        most = {value: len(operations) for value, operations in values.items()}
        into = {value: self.linear.column(most[value]) for value in values}
        out = {v: self.linear.column(most[v] + self.standing((part, v))) for v in values}
        self.kept.append((part, part[at], into, out))
        sides = ((into, {after for _, after in arcs}), (out, {before for before, _ in arcs}))
        for columns, held in sides:
            for value, column in columns.items():
                own, stood = self._visits((part, value))
                self.linear.at_most([(column, 1), *own], stood)
                if value in held:
                    whole, there = self._visits((cell, _without(value, at)))
                    self.linear.at_most([(column, 1), *own, *whole], stood + there - 2)
            for inside in self.states.values(cell):
                self._once(columns, held, (cell, inside), (part, at))
        for name in {value[at]: None for value in values}:
            same = [value for value in values if value[at] == name]
            self.linear.at_most(
                [*((into[v], 1) for v in same), *((out[v], -1) for v in same)],
                self.states.standing((part[at],), (name,)),
            )
        entries = [term for k in range(self.count) for term in self._entries(part, k)]
        changes = [(c, -1) for place in self.singles(part[at]) for c in self.entry[place]]
        self.linear.at_most([*entries, *changes, *((c, -1) for c in into.values())], 0)

    def _once(
        self, columns: Mapping[Value, int], held: set[Value], inside: Place, split: tuple[Part, int]
    ) -> None:
        """Of the visits to one cell: each is entered (left) once; on a single base the first (the
        last) of them not in place of a held value, unless that is visited once more."""
        part, at = split
        here = [value for value in columns if _without(value, at) == inside[1]]
        whole, there = self._visits(inside)
        self.linear.at_most([*((columns[v], 1) for v in here), *whole], there)
        late = [value for value in here if value in held]
        if len(self.states.bases) > 1 or not late:
            return
        visits = [self._visits((part, value)) for value in late]
        terms = [*((columns[v], 1) for v in late), *whole, *(t for own, _ in visits for t in own)]
        self.linear.at_most(terms, there - 1 + sum(stood - 1 for _, stood in visits))

    def _visits(self, place: Place) -> tuple[list[tuple[int, int]], int]:
        """All entries as terms to subtract, and the visits that are there at the start."""
        return [(column, -1) for column in self.entry[place]], self.standing(place)


def _without(value: Value, at: int) -> Value:
    return (*value[:at], *value[at + 1 :])
