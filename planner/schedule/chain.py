"""One annealing chain: a compiled problem inside one instance of the kernel.

`_shop` and `work_in` write the kernel's `Shop` structure (planner/kernel/schedule/shop.h) field by
field; every field there is four bytes, so that it is an array of 32-bit integers and addresses.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import chain as flattened
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.kernel import Kernel
from planner.schedule.compiled import NOWHERE, TERMS, Compiled, is_timeless
from planner.schedule.dispatch import Start
from planner.schedule.groups import make_groups
from planner.schedule.kinds import kinds_of
from planner.schedule.rows import (
    CREW_FIELDS,
    MODE_FIELDS,
    Hours,
    calendar_rows,
    crew_rows,
    firsts,
    followers,
    manned,
    member_bits,
    mode_rows,
    needs_nobody,
    op_rows,
    pred_rows,
    span_index,
    span_rows,
)

PLAN_FIELDS = (
    "seq", "pos", "mode", "change", "mounted", "start", "end", "freed", "counted", "worked", "seen",
    "hands",
)  # fmt: skip


class Chain:
    """A current and a best schedule in the kernel; deterministic for its seed.

    Where lateness follows from when bases are free, latest minutes tell without decoding what
    comes of the work after a change; `foresees` is off only to prove that it changes nothing.
    `tried` counts the moves of all runs.
    """

    def __init__(self, compiled: Compiled, *, foresees: bool = True) -> None:
        self.compiled = compiled
        self.kernel = Kernel("schedule")
        self.tried = 0
        self.slots = max((len(base.slots) for base in compiled.bases), default=0)
        issued = any(op.issued_start >= 0 for op in compiled.ops)
        self._plain = foresees and not issued and not manned(compiled)
        self._alone = np.array([needs_nobody(mode) for mode in compiled.modes])
        self.at = {**self._counts(), **self._addresses()}
        """Every field of the kernel's `Shop`, in its order: numbers and addresses."""
        self._add_plan("now")
        self._add_plan("cand")
        self._add_work()
        self._shop = self._put(self.at.values())
        self._open = self.kernel.alloc(0)
        self.work_in(Hours.usual(compiled))
        self._mount()

    @property
    def simple(self) -> bool:
        """Whether nobody is needed and nothing is charged."""
        return bool(self.at["simple"])

    def work_in(self, hours: Hours) -> None:
        """Work in these hours from the next `begin` on; what has been put into the kernel since it
        was loaded is lost."""
        self.kernel.free(self._open)
        shift, blocks, index = span_index(hours.calendars)
        self.at |= {
            "block_shift": shift,
            "blocks": blocks,
            "simple": int(self._plain and not hours.priced),
            "calendar": self._rows(calendar_rows(hours.calendars)),
            "span": self._rows(span_rows(hours.calendars)),
            "span_index": self._put(index),
            "priced": self._rows(row for each in hours.calendars for row in each.priced),
        }
        modes = self._table("mode", MODE_FIELDS, hours.of_modes)
        crews = self._table("crew", CREW_FIELDS, hours.of_crews)
        hours.write(modes, crews, self._alone)
        self.kernel.view(self._shop, np.int32, len(self.at))[:] = list(self.at.values())
        self.kernel.call("load", self._shop)

    def begin(self, start: Start, seed: int, energy: Sequence[float]) -> tuple[int, ...]:
        """Put a schedule in, weigh each term's minutes by `energy`; its terms come back."""
        self._write("now.seq", start.order)
        self._write("now.mode", start.modes)
        self.weigh(energy)
        self.kernel.call("restart", seed)
        self.kernel.call("forget")
        return tuple(int(t) for t in self.kernel.view(self.at["now.terms"], np.int64, len(TERMS)))

    def _mount(self) -> None:
        """What is mounted at the start: the state after a sentinel before each base's work."""
        n, width = len(self.compiled.ops), self.slots
        count = (n + len(self.compiled.bases)) * width
        states = self.kernel.view(self.at["now.mounted"], np.int32, count)
        for number, base in enumerate(self.compiled.bases):
            first = (n + number) * width
            states[first : first + len(base.slots)] = [slot.mounted for slot in base.slots]

    def weigh(self, energy: Sequence[float]) -> None:
        """Set the energy of one minute of each term."""
        self.kernel.view(self.at["weight"], np.float64, len(TERMS))[:] = energy

    def anneal(self, iterations: int, hot: float, cold: float, merges: int) -> int:
        """Run; the number of accepted moves comes back."""
        self.tried += iterations
        return int(self.kernel.call("anneal", iterations, float(hot), float(cold), merges))

    def best(self) -> Start:
        """The best schedule since `begin`."""
        return self._read("best_seq", "best_mode", "best_terms")

    def best_terms(self) -> tuple[int, ...]:
        """Terms of the best schedule since `begin`."""
        terms = self.kernel.view(self.at["best_terms"], np.int64, len(TERMS)).tolist()
        return tuple(int(term) for term in terms)

    def now(self) -> Start:
        """The current schedule."""
        return self._read("now.seq", "now.mode", "now.terms")

    def times(self) -> tuple[list[int], list[int]]:
        """Starts and ends of all operations in the current schedule."""
        n = len(self.compiled.ops)
        view = self.kernel.view
        starts, ends = (view(self.at[f"now.{name}"], np.int32, n) for name in ("start", "end"))
        return starts.tolist(), ends.tolist()

    def _read(self, seq: str, mode: str, terms: str) -> Start:
        n, view = len(self.compiled.ops), self.kernel.view
        return Start(
            tuple(view(self.at[seq], np.int32, n).tolist()),
            tuple(view(self.at[mode], np.int32, n).tolist()),
            tuple(view(self.at[terms], np.int64, len(TERMS)).tolist()),
        )

    def _write(self, name: str, values: Sequence[int]) -> None:
        self.kernel.view(self.at[name], np.int32, len(values))[:] = values

    def _put(self, values: Iterable[int] | NDArray[Any], dtype: Any = np.int32) -> int:
        """Address of the values in the kernel's memory."""
        flat = np.fromiter(values, dtype=dtype)
        return self.kernel.put(flat if flat.size else np.zeros(1, dtype))

    def _rows(self, rows: Iterable[Sequence[int]]) -> int:
        return self._put(flattened.from_iterable(rows))

    def _table(self, name: str, fields: int, of: NDArray[np.int32]) -> NDArray[np.int32]:
        return self.kernel.view(self.at[name], np.int32, fields * len(of)).reshape(-1, fields)

    def _counts(self) -> dict[str, int]:
        """The first fields; 0 where they tell of hours."""
        c = self.compiled
        return {
            "ops": len(c.ops),
            "movables": len(self._movable()),
            "slots": self.slots,
            "bases": len(c.bases),
            "people": len(c.people_free),
            "block_shift": 0,
            "blocks": 0,
            "timeless": int(is_timeless(c)),
            "jobs": len(c.due),
            "by_kind": 0,
            "simple": 0,
        }

    def _movable(self) -> list[int]:
        """Operations on some base that are not fixed."""
        c = self.compiled
        return [
            i for i, op in enumerate(c.ops)
            if op.fixed_start < 0 and any(c.modes[m].base != NOWHERE for m in op.modes)
        ]  # fmt: skip

    def _addresses(self) -> dict[str, int]:
        """The fields that describe the work; 0 where they tell of hours."""
        c = self.compiled
        by_base = [[i for i, m in enumerate(c.modes) if m.base == b] for b in range(len(c.bases))]
        succs = followers(c)
        groups, members, sides = make_groups(c)
        bits = member_bits(members, len(c.modes))
        kinds, start_kinds = self._kinds()
        by_kind = all(after or not m.needs for m, (_, after, _) in zip(c.modes, kinds, strict=True))
        return {
            "by_kind": by_kind,
            "op": self._rows(op_rows(c, succs)),
            "mode": self._rows(mode_rows(c, groups, kinds)),
            "pred": self._rows(pred_rows(c)),
            "succ": self._rows(succs),
            "op_job": self._rows(op.jobs for op in c.ops),
            "job": self._rows(zip(c.due, c.weight, c.aim, c.spare, strict=True)),
            "crew": self._rows(crew_rows(c)),
            "need": self._rows(self._need_rows()),
            "longest_counts": self._put(base.longest_counts for base in c.bases),
            "start_kind": self._put(start_kinds),
            **dict.fromkeys(("calendar", "span", "span_index", "priced"), 0),
            "movable": self._put(self._movable()),
            "op_mode": self._put([*(op.modes[0] for op in c.ops), len(c.modes)]),
            "base_mode": self._rows(by_base),
            "base_mode_first": self._put(firsts(by_base)),
            "mode_group": self._rows(groups),
            "group": self._rows(zip(firsts(members), map(len, members), sides, strict=False)),
            "member": self._rows(members),
            "is_member": self.kernel.put(bits),
            "member_words": bits.shape[1],
            "level": self._put((w for row in c.weights for w in row), np.int64),
            "levels": len(c.weights),
        }

    def _add_plan(self, name: str) -> None:
        c = self.compiled
        n = len(c.ops)
        chained = n + len(c.bases)
        counted = 2 * len(TERMS) * n
        seen = n * len(c.people_free)
        sizes = [*[n] * 4, chained * self.slots, n, n, chained, counted, n, seen, 3 * n]
        for field, size in zip(PLAN_FIELDS, sizes, strict=True):
            self.at[f"{name}.{field}"] = self.kernel.alloc(4 * size + 4)
        self.at[f"{name}.terms"] = self.kernel.alloc(8 * len(TERMS))

    def _add_work(self) -> None:
        c = self.compiled
        n, bases = len(c.ops), len(c.bases)
        sizes = {
            "prev": 4 * n,
            "next": 4 * (n + bases),
            "new_prev": 4 * n,
            "new_next": 4 * (n + bases),
            "relinked": 4 * (n + bases),
            "is_relinked": 4 * (n + bases),
            "latest_worked": 4 * len(c.modes),
            "latest_free": 4 * n,
            "latest_ready": 4 * n,
            "best_seq": 4 * n,
            "best_mode": 4 * n,
            "best_terms": 8 * len(TERMS),
            "mark": 4 * n,
            "moved": 4 * n,
            "free_now": 4 * (bases + len(c.people_free)) + 4,
            "touched": 4 * n,
            "last": 4 * bases + 4,
            "agenda": 8 * (n // 64 + 1),
            "easing": 8 * (n // 64 + 1),
            "again": 4 * n,
            "passed": 4 * n,
            "shifted": 4 * n,
            "is_shifted": 4 * n,
            "overdue_tree": 8 * (n + 1),
            "late": 4 * n + 4,
            "weight": 8 * len(TERMS),
        }
        for name, size in sizes.items():
            self.at[name] = self.kernel.alloc(size)

    def _kinds(self) -> tuple[list[tuple[int, int, int]], list[int]]:
        """For each mode its kind and the addresses of the minutes to it from every kind, and from
        it to every kind, or 0; and by base the kind that is mounted at the start."""
        found, starts = [(0, 0, 0)] * len(self.compiled.modes), [0] * len(self.compiled.bases)
        for base in range(len(self.compiled.bases)):
            kinds = kinds_of(self.compiled, base)
            if kinds is None:
                continue
            rows, width = kinds.minutes.shape
            after, before = self.kernel.put(kinds.minutes.T), self.kernel.put(kinds.minutes)
            starts[base] = rows - 1
            for mode, kind in kinds.kind.items():
                found[mode] = kind, after + 4 * rows * kind, before + 4 * width * kind
        return found, starts

    def _need_rows(self) -> Iterable[tuple[int, int, int]]:
        """Needs, each with the address of the minutes to its value from every other."""
        bases = self.compiled.bases
        slots = [slot for base in bases for slot in base.slots]
        tables = [
            self._put(np.array(s.minutes, np.int32).reshape(s.values, s.values).T.reshape(-1))
            for s in slots
        ]
        for mode in self.compiled.modes:
            for need in mode.needs:
                row = tables[need.slot] + 4 * need.value * slots[need.slot].values
                yield need.slot - bases[mode.base].first_slot, need.value, row
