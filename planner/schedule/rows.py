"""A compiled problem as tables of numbers, row by row as the kernel's structures have them."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from planner.schedule.calendar import Calendar
from planner.schedule.compiled import NOWHERE, Compiled, Mode

NOBODY = -1
MAY_PAUSE, DONE, FIXED, ISSUED = 1, 2, 4, 8
BLOCKS = 4096
"""Most blocks of time by which a calendar's spans are found."""
MODE_FIELDS, MODE_CALENDAR, MODE_PLAIN = 16, 4, 12
"""Of the kernel's `Mode`: how many there are, and which of them tell of its hours."""
CREW_FIELDS, CREW_CALENDAR = 4, 2


def member_bits(members: Sequence[Sequence[int]], modes: int) -> NDArray[np.uint32]:
    """For each group a bit for every mode, 32 to a word, lowest first; at least one row."""
    words = modes // 32 + 1
    found = np.zeros((max(1, len(members)), 32 * words), np.bool_)
    for group, of in enumerate(members):
        found[group, list(of)] = True
    return np.packbits(found, axis=1, bitorder="little").view(np.uint32)


def manned(c: Compiled) -> bool:
    """Whether anybody is needed anywhere."""
    return bool(c.people_free) or any(len(mode.crews) > 1 for mode in c.modes)


def firsts(lists: Sequence[Sequence[int]]) -> list[int]:
    """Where each list begins when they are laid end to end, and the end."""
    return [0, *np.cumsum([len(each) for each in lists], dtype=int).tolist()]


def followers(c: Compiled) -> list[list[int]]:
    """One entry for each predecessor entry, so that the kernel can count them off."""
    found: list[list[int]] = [[] for _ in c.ops]
    for i, op in enumerate(c.ops):
        for pred in op.preds:
            found[pred.operation].append(i)
    return found


def op_rows(c: Compiled, succs: Sequence[Sequence[int]]) -> Iterable[tuple[int, ...]]:
    """Operations, with the first and the number of what hangs on each."""
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


def pred_rows(c: Compiled) -> Iterable[tuple[int, ...]]:
    """What operations wait for, one operation after the other."""
    for op in c.ops:
        for pred in op.preds:
            yield pred.operation, pred.lag, pred.from_start, pred.holding


def mode_rows(
    c: Compiled, groups: Sequence[Sequence[int]], kinds: Sequence[tuple[int, int, int]]
) -> Iterable[tuple[int, ...]]:
    """Hours are written by `Hours.write`: here they are 0."""
    crew = need = group = 0
    for mode, of, kind in zip(c.modes, groups, kinds, strict=True):
        free = 0 if mode.base == NOWHERE else c.bases[mode.base].free_from
        yield (
            mode.operation, mode.base, mode.duration, mode.attended, 0,
            crew, len(mode.crews), need, len(mode.needs), group, len(of), free, 0, *kind,
        )  # fmt: skip
        crew, need, group = crew + len(mode.crews), need + len(mode.needs), group + len(of)


def crew_rows(c: Compiled) -> Iterable[tuple[int, ...]]:
    """Hours are written by `Hours.write`: here they are 0."""
    for mode in c.modes:
        for crew in mode.crews:
            free = max((c.people_free[p] for p in crew.people), default=0)
            yield (*(*crew.people, NOBODY, NOBODY)[:2], 0, free)


@dataclass(frozen=True, slots=True)
class Hours:
    """All calendars, and by number those of the stations of all modes and of all their crews."""

    calendars: Sequence[Calendar]
    of_modes: NDArray[np.int32]
    of_crews: NDArray[np.int32]

    @staticmethod
    def usual(c: Compiled) -> Hours:
        """Those that the problem was compiled with."""
        return Hours(
            c.calendars,
            np.array([mode.calendar for mode in c.modes], np.int32),
            np.array([crew.calendar for mode in c.modes for crew in mode.crews], np.int32),
        )

    @property
    def priced(self) -> bool:
        """Whether any of them cost something."""
        return any(each.priced for each in self.calendars)

    def write(
        self, modes: NDArray[np.int32], crews: NDArray[np.int32], alone: NDArray[np.bool_]
    ) -> None:
        """Into the rows of modes and crews; modes that need nobody are `alone`."""
        always = np.array([each.starts == (0,) and not each.priced for each in self.calendars])
        modes[:, MODE_CALENDAR] = self.of_modes
        modes[:, MODE_PLAIN] = alone & always[self.of_modes] if len(always) else False
        crews[:, CREW_CALENDAR] = self.of_crews


def needs_nobody(mode: Mode) -> bool:
    """Whether it is done at a station without anybody."""
    return mode.base != NOWHERE and len(mode.crews) == 1 and not mode.crews[0].people


def calendar_rows(calendars: Sequence[Calendar]) -> Iterable[tuple[int, ...]]:
    """Where the spans and the overtime of each calendar are."""
    span = priced = 0
    for each in calendars:
        yield span, priced, priced + len(each.priced)
        span, priced = span + len(each.starts), priced + len(each.priced)


def span_rows(calendars: Sequence[Calendar]) -> Iterable[tuple[int, ...]]:
    """Every span, with the first overtime (numbered over all) that ends after its start."""
    before = 0
    for each in calendars:
        ends = [end for _, end, _ in each.priced]
        for start, end, worked in zip(each.starts, each.ends, each.worked, strict=True):
            yield start, end, worked, before + bisect_right(ends, start)
        before += len(ends)


def span_index(calendars: Sequence[Calendar]) -> tuple[int, int, list[int]]:
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
