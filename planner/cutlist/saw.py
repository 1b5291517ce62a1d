"""From a packing to what the saw does: patterns in order, sticks, pieces, labels, money.

Sticks of one pattern are cut side by side, so the stop moves once for each different length
of a pattern, and once less where a pattern starts with the length that the one before ended
with. Seen as a graph whose nodes are lengths and whose arcs are patterns, from first to last
length, an order with the fewest moves is a cover of the arcs by the fewest trails; as longer
pieces come first the graph has no cycle but loops, and walking on from any node that has more
arcs out than in gives that number.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Sequence

from planner.cutlist.model import Column, Packing, Scaled
from planner.cutlist.problem import Problem
from planner.cutlist.result import Fate, Money, Pattern, Piece, Stick


def patterns_for(problem: Problem, scaled: Scaled, packing: Packing) -> tuple[Pattern, ...]:
    """Patterns in an order that moves the saw's stop least; alike kinds are told apart."""
    left = {i: kind.count for i, kind in enumerate(problem.stock)}
    patterns: list[Pattern] = []
    for column, number in sorted(packing.items()):
        count = number
        lengths = tuple(
            scaled.lengths_nm[item] for item, copies in column.pieces for _ in range(copies)
        )
        if not problem.longest_first:
            lengths = lengths[::-1]
        for stock in scaled.stock_of[scaled.model.slots[column.slot].kind]:
            room = left[stock]
            take = count if room is None else min(count, room)
            if take:
                left[stock] = None if room is None else room - take
                count -= take
                patterns.append(pattern_of(problem, stock, take, lengths))
    return tuple(in_order(patterns))


def packing_for(scaled: Scaled, patterns: Sequence[Pattern]) -> Packing:
    """The packing that patterns of an earlier result stand for."""
    item_of = {length: item for item, length in enumerate(scaled.lengths_nm)}
    kind_of = {stock: kind for kind, same in enumerate(scaled.stock_of) for stock in same}
    packing: Packing = {}
    for pattern in patterns:
        counts = Counter(item_of[length] for length in pattern.lengths_nm)
        pieces = tuple(sorted(counts.items()))
        slot = scaled.model.slot_for(kind_of[pattern.stock], scaled.model.used(pieces))
        column = Column(slot, pieces)
        packing[column] = packing.get(column, 0) + pattern.count
    return packing


def pattern_of(problem: Problem, stock: int, count: int, lengths: tuple[int, ...]) -> Pattern:
    """One pattern with its losses and money, all recomputed from the lengths."""
    kind = problem.stock[stock]
    used = sum(lengths) + problem.kerf_nm * len(lengths)
    drop = problem.drop_nm(kind, used)
    (cost,) = problem.costs_cents(kind, [used])
    fate = Fate.NONE if not drop else Fate.SCRAP
    if drop and problem.is_kept(drop):
        finished = problem.leaves_finished or kind.is_finished
        fate = Fate.FINISHED_REMNANT if finished else Fate.REMNANT
    return Pattern(
        stock=stock,
        count=count,
        lengths_nm=lengths,
        trim_nm=problem.head_nm,
        kerf_nm=kind.length_nm - problem.head_nm - drop - sum(lengths),
        drop_nm=drop,
        fate=fate,
        cost_cents=cost,
        credit_cents=problem.stick_cents(kind) - cost,
    )


def stop_moves(patterns: Sequence[Pattern]) -> int:
    """How often the saw's stop is set when patterns are cut in this order."""
    moves, at = 0, -1
    for pattern in patterns:
        for length in pattern.lengths_nm:
            moves += length != at
            at = length
    return moves


def in_order(patterns: Sequence[Pattern]) -> list[Pattern]:
    """The same patterns in an order that moves the stop least."""
    arcs: dict[int, list[Pattern]] = defaultdict(list)
    surplus: dict[int, int] = defaultdict(int)
    for pattern in sorted(patterns, key=lambda p: (-p.lengths_nm[-1], p.lengths_nm, p.stock)):
        first, last = pattern.lengths_nm[0], pattern.lengths_nm[-1]
        arcs[first].append(pattern)
        surplus[first] += 1
        surplus[last] -= 1
    ordered: list[Pattern] = []
    while any(arcs.values()):
        open_nodes = [node for node, out in arcs.items() if out]
        starts = [node for node in open_nodes if surplus[node] > 0] or open_nodes
        node = max(starts)
        start = node
        while arcs.get(node):
            loop = next((p for p in arcs[node] if p.lengths_nm[-1] == node), None)
            pattern = loop or arcs[node][0]
            arcs[node].remove(pattern)
            ordered.append(pattern)
            node = pattern.lengths_nm[-1]
        surplus[start] -= 1
        surplus[node] += 1
    return ordered


def sticks_for(problem: Problem, patterns: Sequence[Pattern]) -> tuple[Stick, ...]:
    """Every stick with the order lines of its pieces, a line's pieces following each other."""
    waiting: dict[int, list[tuple[str, int]]] = defaultdict(list)
    for demand in problem.demands:
        if demand.quantity:
            waiting[demand.length_nm].append((demand.key, demand.quantity))
    cut: dict[str, int] = defaultdict(int)
    sticks: list[Stick] = []
    for index, pattern in enumerate(patterns):
        for _ in range(pattern.count):
            pieces = tuple(_next_piece(waiting[nm], nm, cut) for nm in pattern.lengths_nm)
            sticks.append(Stick(index, pieces))
    return tuple(sticks)


def _next_piece(queue: list[tuple[str, int]], length: int, cut: dict[str, int]) -> Piece:
    key, left = queue[0]
    queue[:1] = [(key, left - 1)] if left > 1 else []
    cut[key] += 1
    return Piece(key, length, f"{key}-{cut[key]}")


def interruptions(sticks: Sequence[Stick]) -> int:
    """How often an order line stops for at least one stick and is then taken up again."""
    last_seen: dict[str, int] = {}
    count = 0
    for index, stick in enumerate(sticks):
        for key in {piece.key for piece in stick.pieces}:
            count += key in last_seen and last_seen[key] < index - 1
            last_seen[key] = index
    return count


def money_for(problem: Problem, patterns: Sequence[Pattern]) -> Money:
    """Share out what the sticks cost by length: into pieces, kept drops and scrap."""
    paid = kept = scrapped = 0
    for pattern in patterns:
        kind = problem.stock[pattern.stock]
        is_kept = pattern.fate in {Fate.REMNANT, Fate.FINISHED_REMNANT}
        consumed = kind.length_nm - (pattern.drop_nm if is_kept else 0)
        lost = consumed - sum(pattern.lengths_nm)
        paid += pattern.count * problem.stick_cents(kind)
        kept += pattern.count * pattern.credit_cents
        scrapped += pattern.count * (pattern.cost_cents * lost // consumed)
    return Money(paid, paid - kept - scrapped, kept, scrapped)
