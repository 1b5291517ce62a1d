"""One annealing chain: a compiled problem inside one instance of the kernel.

`_shop` writes the kernel's `Shop` structure (planner/kernel/schedule.c) field by field; every
field there is four bytes, so that the structure is an array of 32-bit integers and addresses.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from planner.kernel import Kernel
from planner.schedule.calendar import Calendar
from planner.schedule.compiled import NOWHERE, TERMS, Compiled, Mode, is_timeless
from planner.schedule.dispatch import Start
from planner.schedule.groups import make_groups
from planner.schedule.kinds import kinds_of

NOBODY = -1
MAY_PAUSE, DONE, FIXED, ISSUED = 1, 2, 4, 8
BLOCKS = 4096
"""Most blocks of time by which a calendar's spans are found."""
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
        self.simple = foresees and _unmanned(compiled) and not _charged(compiled)
        self.kernel = Kernel("schedule")
        self.tried = 0
        self.slots = max((len(base.slots) for base in compiled.bases), default=0)
        self.at: dict[str, int] = {}
        self.kernel.call("load", self._shop())
        self._mount()

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

    def on_base(self, base: int) -> list[int]:
        """The operations of a base in the current schedule, in their order."""
        n = len(self.compiled.ops)
        links = self.kernel.view(self.at["next"], np.int32, n + len(self.compiled.bases)).tolist()
        found: list[int] = []
        op = links[n + base]
        while op >= 0 and len(found) < n:
            found.append(op)
            op = links[op]
        return found

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
        return self._put(value for row in rows for value in row)

    def _shop(self) -> int:
        c = self.compiled
        movable = [
            i for i, op in enumerate(c.ops)
            if op.fixed_start < 0 and any(c.modes[m].base != NOWHERE for m in op.modes)
        ]  # fmt: skip
        by_base = [[i for i, m in enumerate(c.modes) if m.base == b] for b in range(len(c.bases))]
        shift, blocks, index = _span_index(c.calendars)
        succs = _succs(c)
        groups, members, sides = make_groups(c)
        membership = _membership(members, len(c.modes))
        kinds, start_kinds = self._kinds()
        by_kind = all(after or not m.needs for m, (_, after, _) in zip(c.modes, kinds, strict=True))
        counts = [
            len(c.ops), len(movable), self.slots, len(c.bases), len(c.people_free),
            shift, blocks, int(is_timeless(c)), len(c.due), by_kind, int(self.simple),
        ]  # fmt: skip
        addresses = [
            self._rows(_op_rows(c, succs)),
            self._rows(_mode_rows(c, groups, kinds)),
            self._rows(_pred_rows(c)),
            self._rows(succs),
            self._rows(op.jobs for op in c.ops),
            self._rows(zip(c.due, c.weight, c.aim, c.spare, strict=True)),
            self._rows(_crew_rows(c)),
            self._rows(self._need_rows()),
            self._put(base.longest_counts for base in c.bases),
            self._put(start_kinds),
            self._rows(_calendar_rows(c.calendars)),
            self._rows(_span_rows(c.calendars)),
            self._put(index),
            self._rows(row for each in c.calendars for row in each.priced),
            self._put(movable),
            self._put([*(op.modes[0] for op in c.ops), len(c.modes)]),
            self._rows(by_base),
            self._put(_firsts(by_base)),
            self._rows(groups),
            self._rows(zip(_firsts(members), map(len, members), sides, strict=False)),
            self._rows(members),
            self.kernel.put(membership),
            membership.shape[1],
            self._put((w for row in c.weights for w in row), np.int64),
            len(c.weights),
        ]  # fmt: skip
        fields = [*counts, *addresses, *self._plan("now"), *self._plan("cand"), *self._work()]
        return self._put(fields)

    def _plan(self, name: str) -> list[int]:
        c = self.compiled
        n = len(c.ops)
        chained = n + len(c.bases)
        counted = 2 * len(TERMS) * n
        seen = n * len(c.people_free)
        sizes = [*[n] * 4, chained * self.slots, n, n, chained, counted, n, seen, 3 * n]
        found = [self.kernel.alloc(4 * size + 4) for size in sizes]
        terms = self.kernel.alloc(8 * len(TERMS))
        for field, address in zip((*PLAN_FIELDS, "terms"), (*found, terms), strict=True):
            self.at[f"{name}.{field}"] = address
        return [*found, terms]

    def _work(self) -> list[int]:
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
        return [self.at[name] for name in sizes]

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


def _membership(members: Sequence[Sequence[int]], modes: int) -> NDArray[np.uint32]:
    """For each group a bit for every mode, 32 to a word, lowest first; at least one row."""
    words = modes // 32 + 1
    found = np.zeros((max(1, len(members)), 32 * words), np.bool_)
    for group, of in enumerate(members):
        found[group, list(of)] = True
    return np.packbits(found, axis=1, bitorder="little").view(np.uint32)


def _unmanned(c: Compiled) -> bool:
    """Whether nobody is needed anywhere."""
    return not c.people_free and all(len(mode.crews) <= 1 for mode in c.modes)


def _charged(c: Compiled) -> bool:
    """Whether hours cost something, or moving what was issued."""
    return any(each.priced for each in c.calendars) or any(op.issued_start >= 0 for op in c.ops)


def _firsts(lists: Sequence[Sequence[int]]) -> list[int]:
    """Where each list begins when they are laid end to end, and the end."""
    return [0, *np.cumsum([len(each) for each in lists], dtype=int).tolist()]


def _succs(c: Compiled) -> list[list[int]]:
    """One entry for each predecessor entry, so that the kernel can count them off."""
    succs: list[list[int]] = [[] for _ in c.ops]
    for i, op in enumerate(c.ops):
        for pred in op.preds:
            succs[pred.operation].append(i)
    return succs


def _op_rows(c: Compiled, succs: Sequence[Sequence[int]]) -> Iterable[tuple[int, ...]]:
    pred = succ = job = 0
    for i, op in enumerate(c.ops):
        pair = (*op.fixed_people, NOBODY, NOBODY)[:2]
        fixed = op.fixed_start >= 0 and not op.done
        flags = MAY_PAUSE * op.may_pause + DONE * op.done + FIXED * fixed
        flags += ISSUED * (op.issued_start >= 0)
        yield (
            op.release, op.latest_end, flags, op.fixed_start, op.fixed_end, *pair,
            op.issued_mode, op.issued_start, op.issued_charge,
            pred, len(op.preds), succ, len(succs[i]), job, len(op.jobs),
        )  # fmt: skip
        pred, succ, job = pred + len(op.preds), succ + len(succs[i]), job + len(op.jobs)


def _pred_rows(c: Compiled) -> Iterable[tuple[int, ...]]:
    for op in c.ops:
        for pred in op.preds:
            yield pred.operation, pred.lag, pred.from_start, pred.holding


def _mode_rows(
    c: Compiled, groups: Sequence[Sequence[int]], kinds: Sequence[tuple[int, int, int]]
) -> Iterable[tuple[int, ...]]:
    crew = need = group = 0
    for mode, of, kind in zip(c.modes, groups, kinds, strict=True):
        free = 0 if mode.base == NOWHERE else c.bases[mode.base].free_from
        yield (
            mode.operation, mode.base, mode.duration, mode.attended, mode.calendar,
            crew, len(mode.crews), need, len(mode.needs), group, len(of), free, _plain(c, mode),
            *kind,
        )  # fmt: skip
        crew, need, group = crew + len(mode.crews), need + len(mode.needs), group + len(of)


def _plain(c: Compiled, mode: Mode) -> bool:
    """Whether nobody is needed and the station never closes."""
    calendar = c.calendars[mode.calendar] if mode.base != NOWHERE else None
    always = calendar is not None and calendar.starts == (0,) and not calendar.priced
    return always and mode.crews[0].people == () and len(mode.crews) == 1


def _crew_rows(c: Compiled) -> Iterable[tuple[int, ...]]:
    for mode in c.modes:
        for crew in mode.crews:
            free = max((c.people_free[p] for p in crew.people), default=0)
            yield (*(*crew.people, NOBODY, NOBODY)[:2], crew.calendar, free)


def _calendar_rows(calendars: Sequence[Calendar]) -> Iterable[tuple[int, ...]]:
    span = priced = 0
    for each in calendars:
        yield span, priced, priced + len(each.priced)
        span, priced = span + len(each.starts), priced + len(each.priced)


def _span_rows(calendars: Sequence[Calendar]) -> Iterable[tuple[int, ...]]:
    """Every span, with the first overtime (numbered over all) that ends after its start."""
    before = 0
    for each in calendars:
        ends = [end for _, end, _ in each.priced]
        for start, end, worked in zip(each.starts, each.ends, each.worked, strict=True):
            yield start, end, worked, before + bisect_right(ends, start)
        before += len(ends)


def _span_index(calendars: Sequence[Calendar]) -> tuple[int, int, list[int]]:
    """Block size as a shift, number of blocks, and for each calendar and block the first span
    (numbered over all calendars) that ends after the block begins."""
    last = max((each.starts[-1] for each in calendars), default=0)
    shift = 6
    while last >> shift >= BLOCKS:
        shift += 1
    blocks = (last >> shift) + 2
    index: list[int] = []
    first = 0
    for each in calendars:
        ends = np.array(each.ends)
        begins = np.minimum(np.arange(blocks) << shift, ends[-1] - 1)
        index.extend((first + np.searchsorted(ends, begins, side="right")).tolist())
        first += len(each.ends)
    return shift, blocks, index
