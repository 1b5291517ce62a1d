"""The gate to the compiled bounded knapsack: tables of values, and patterns behind them."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from planner.errors import EngineError
from planner.kernel import Kernel

Ints = NDArray[np.int32]
PAD = 8
TOP = 1 << 30
"""Values in a table stay below this, so that 32 bits hold every sum."""
SLOW = 4
"""Table cells that one cell with a count of lengths takes the time of."""
MEMORY = 1 << 30
"""Bytes that one table may take."""


class Knapsack:
    """Tables for one set of item sizes (table units, each above 0) and rooms up to `room`."""

    def __init__(self, sizes: Sequence[int], room: int, few: int | None = None) -> None:
        self.sizes = np.array(sizes, dtype=np.int32)
        self.room = room
        self.few = few if few is not None and few < len(sizes) else None
        self._kernel = Kernel("knapsack")
        self._most = np.zeros(len(sizes), dtype=np.int32)
        self._mix = np.random.default_rng(len(sizes)).permutation(len(sizes))
        self._free = 0
        self._rows: tuple[Ints, Ints] = (self._most[:0], self._most[:0])
        self._start = self._kernel.alloc(0)

    @property
    def cells(self) -> int:
        """Table cells that one `fill` computes: a measure of its effort."""
        if self.few is None:
            return (len(self._rows[0]) + 1) * (self.room + 1)
        return (SLOW * self.few * int(self._most.sum()) + 1) * (self.room + 1)

    def bound(self, most: Sequence[int] | Ints) -> None:
        """Set how many pieces of each item one pattern may hold."""
        fit = self.room // self.sizes
        most = np.minimum(np.asarray(most, dtype=np.int32), fit)
        if len(self._rows[0]) and np.array_equal(most, self._most):
            return
        self._most = most
        items, multiples = _split(most)
        mixed = np.argsort(self._mix[items], kind="stable")
        items, multiples = items[mixed], multiples[mixed]
        self._rows = (items, multiples)
        self._weights = self.sizes[items] * multiples
        self._layout()

    def _layout(self) -> None:
        kernel, rows, width = self._kernel, len(self._rows[0]), self.room + 1
        if self.few is None:
            self._stride = (self.room >> 3) + 1
            needs = [rows * 4, rows * 4, (PAD + width + 8) * 4, rows * self._stride, rows, 40]
        else:
            layers = self.few * len(self.sizes)
            n4 = len(self.sizes) * 4
            needs = [n4, n4, n4, (self.few + 1) * width * 4, layers * width * 2, n4]
        if sum(needs) > MEMORY:
            raise EngineError(f"a knapsack table would need {sum(needs) >> 20} MB")
        self._at = self._reserve(needs)
        first = self.sizes if self.few else self._weights
        kernel.view(self._at[0], np.int32, len(first))[:] = first
        if self.few:
            kernel.view(self._at[2], np.int32, len(self._most))[:] = self._most
        else:
            at = self._at
            block = [rows, at[0], at[1], self.room, at[2], at[3], self._stride, at[4], 0, 0]
            kernel.view(at[5], np.int32, len(block))[:] = block

    def _reserve(self, needs: Sequence[int]) -> list[int]:
        """Addresses of blocks in one region that is used again and again."""
        offsets = np.cumsum([0, *(-(-need // 16) * 16 for need in needs)])
        missing = int(offsets[-1]) - self._free
        if missing > 0:
            self._kernel.alloc(missing)
            self._free += -(-missing // 16) * 16
        return [self._start + int(offset) for offset in offsets[:-1]]

    def fill(self, values: Ints) -> Ints:
        """The most value in every room 0..room; item values 0 or more, see `TOP`."""
        kernel, at = self._kernel, self._at
        if self.few is None:
            items, multiples = self._rows
            kernel.view(at[1], np.int32, len(items))[:] = values[items] * multiples
            kernel.call("fill", at[5])
            return kernel.view(at[2] + 4 * PAD, np.int32, self.room + 1)
        kernel.view(at[1], np.int32, len(values))[:] = values
        count = len(values)
        kernel.call("fill_few", count, at[0], at[1], at[2], self.room, self.few, at[3], at[4])
        last = at[3] + 4 * self.few * (self.room + 1)
        return kernel.view(last, np.int32, self.room + 1)

    def trace(self, room: int, part: float = 1.0) -> Ints:
        """The counts of a pattern with the value that the last `fill` gave for `room`.

        With a `part` below 1, the best pattern that leaves out some of the items: the more,
        the smaller the part. (Not with a cap on lengths: there it changes nothing.)
        """
        kernel, at = self._kernel, self._at
        if self.few is not None:
            count = len(self.sizes)
            kernel.call("trace_few", count, at[0], self.room, self.few, room, at[4], at[5])
            return kernel.view(at[5], np.int32, count).copy()
        items, multiples = self._rows
        kernel.view(at[5], np.int32, 10)[8:] = (room, int(part * len(items)))
        kernel.call("trace", at[5])
        taken = kernel.view(at[4], np.uint8, len(items))
        return np.bincount(items, weights=taken * multiples, minlength=len(self.sizes)).astype(
            np.int32
        )


def _split(most: Ints) -> tuple[Ints, Ints]:
    """Rows (item, multiple) whose subsets give every count up to each bound."""
    left, step = most.copy(), 1
    items: list[Ints] = [np.zeros(0, dtype=np.int32)]
    multiples: list[Ints] = [np.zeros(0, dtype=np.int32)]
    while left.any():
        live = np.flatnonzero(left).astype(np.int32)
        take = np.minimum(left[live], step)
        left[live] -= take
        items.append(live)
        multiples.append(take)
        step *= 2
    return np.concatenate(items), np.concatenate(multiples)


class TooManyError(Exception):
    """An enumeration passed its limit."""


def enumerate_patterns(
    sizes: Sequence[int],
    most: Sequence[int],
    values: Ints,
    slots: Sequence[tuple[int, int, int]],
    few: int | None,
    limit: int,
    most_nodes: int,
) -> list[NDArray[np.uint8]]:
    """For each (room, above, threshold) all full patterns of size in (above, room] whose value
    is at least the threshold; raises TooManyError beyond `limit` patterns in all.
    """
    count, width = len(sizes), max(room for room, _, _ in slots) + 1
    if 4 * width * (count + 1) + limit * count > MEMORY:
        raise TooManyError
    kernel = Kernel("knapsack")
    at_sizes = kernel.put(np.array(sizes, dtype=np.int32))
    at_most = kernel.put(np.minimum(np.array(most), 255).astype(np.int32))
    at_values = kernel.put(values)
    at_counts = kernel.alloc(4 * count)
    at_tail = kernel.alloc(4 * width * (count + 1))
    at_out = kernel.alloc(max(1, limit * count))
    kernel.call("suffixes", count, at_sizes, at_values, at_most, width - 1, at_tail)
    found: list[NDArray[np.uint8]] = []
    for room, above, threshold in slots:
        number = kernel.call(
            "enumerate",
            count,
            at_sizes,
            at_most,
            at_values,
            room,
            width - 1,
            above,
            threshold,
            count + 1 if few is None else few,
            at_tail,
            at_counts,
            at_out,
            limit,
            most_nodes,
        )
        if number < 0:
            raise TooManyError
        rows = kernel.view(at_out, np.uint8, number * count).reshape(number, count)
        found.append(rows.copy())
        limit -= number
    return found
