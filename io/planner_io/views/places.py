"""Where a step's tube is, and how finished tube must be treated there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from planner.hours import clock, day_name
from planner.orders import Step
from planner.records import Operation, Stick
from planner.stock import StockItem
from planner.wiping import is_oiled, oiled_items
from planner_io.views.index import Index
from planner_io.views.ruler import day_of, plural

AFTER_LAST_PASS = "Finished: sleeve each stick or rack it on soft supports, faces apart."
SAW_FINISHED = "Finished tube: soft, clean jaws; keep the sleeve on but for the cut."
NOTCH_FINISHED = "Finished tube: soft jaws, wiped clean; back into the sleeve or rack."
BEND_FINISHED = "Finished tube: soft or clean tooling only; wipe die and clamp before each piece."
TOUCH_UP_FINISHED = "Finished tube: soft supports; blend clamp marks along the lay."
"""Care of finished tube is common practice of the trade."""
OILED = "Oiled tube: take the oil off first; it clogs the belt and lets the tube slip."
"""Likewise."""


def care(index: Index, operation: Operation) -> str:
    """What the list says about finished or oiled tube at a step; empty when it is raw and dry."""
    lot = index.lots[operation.lot]
    if lot.recipe is None:
        return ""
    if operation.step is Step.SAW and lot.saw_first:
        return ""
    finished = _care_of_finished(operation.step)
    if operation.step is not Step.FINISH:
        return finished
    oiled = is_oiled(lot, index.cut_lists[lot.key], index.orders, oiled_items(index.stock.values()))
    before = OILED if operation.pass_no == 1 and oiled else ""
    after = finished if operation.pass_no == operation.passes else ""
    return f"{before} {after}".strip()


def _care_of_finished(step: Step) -> str:
    match step:
        case Step.FINISH:
            return AFTER_LAST_PASS
        case Step.SAW:
            return SAW_FINISHED
        case Step.NOTCH:
            return NOTCH_FINISHED
        case Step.BEND:
            return BEND_FINISHED
        case Step.TOUCH_UP:
            return TOUCH_UP_FINISHED


def where(index: Index, operation: Operation) -> str:
    """Where the tube is when the step begins: the stock's places, or the station before."""
    last = _before(index, operation)
    if last is None:
        return from_stock(index, operation)
    slot = index.slots[last]
    until = f"{day_name(index.day(day_of(slot.end_min)))} {clock(slot.end_min)}"
    text = f"{_step_before(index, last)}, ready {until}"
    ready = _ready_sticks(index, operation) if operation.step == Step.SAW else []
    return "; ".join([text, *_places(index, ready)])


def at_saw(index: Index, operation: Operation, stick: Stick) -> str:
    """Where the saw takes a stick from: the step that finished it, or its place in stock."""
    last = _before(index, operation)
    item = index.stock.get(stick.stock)
    if last is None or stick.finished:
        return place(item, stick.stock)
    name = f" (remnant {stick.stock})" if item and item.remnant else ""
    return _step_before(index, last) + name


def _before(index: Index, operation: Operation) -> str | None:
    """The last operation that a step waits for, of its own lot if there is one."""
    before = [index.operations[key] for key in operation.after if key in index.slots]
    before = [other for other in before if other.lot == operation.lot] or before
    if not before:
        return None
    return max(before, key=lambda other: index.slots[other.key].end_min).key


def _step_before(index: Index, key: str) -> str:
    return f"from {index.slots[key].station} step {index.step_numbers[key]}"


def from_stock(index: Index, operation: Operation) -> str:
    """The places in stock of the sticks that an operation begins with."""
    sticks = index.cut_lists[operation.lot].sticks
    if operation.step == Step.FINISH:
        sticks = tuple(stick for stick in sticks if not stick.finished)
    return "; ".join(_places(index, sticks))


def _ready_sticks(index: Index, operation: Operation) -> list[Stick]:
    """Sticks that come to the saw straight from stock, as they are finished already."""
    return [stick for stick in index.cut_lists[operation.lot].sticks if stick.finished]


def _places(index: Index, sticks: Iterable[Stick]) -> list[str]:
    counts = Counter((stick.stock, stick.length_nm) for stick in sticks)
    return [
        f"{count} × {index.ruler.length(length)} {place(index.stock.get(stock), stock)}"
        for (stock, length), count in counts.items()
    ]


def place(item: StockItem | None, key: str) -> str:
    """Where the sticks of a stock item are."""
    if item is None:
        return f"from {key}"
    kind = "remnant " if item.remnant else ""
    if item.finished:
        kind = f"remnant finished {item.finished}, "
    name = f"{kind}{item.key}" if item.remnant else ""
    if item.location:
        return f"from {item.location}" + (f" ({name})" if name else "")
    if item.count is None:
        return f"to buy ({key})"
    arrives = f", there {day_name(item.arrives)}" if item.arrives else ""
    return f"from stock, {name or key}{arrives}"


def lengths(index: Index, operation: Operation) -> str:
    """How many of what length go through a step: `6 × 20' 0", 2 × 12' 0"`."""
    if operation.line:
        length = index.blanks[operation.line].length_nm
        return f"{operation.count} × {index.ruler.length(length)}"
    sticks = index.cut_lists[operation.lot].sticks
    if operation.step == Step.FINISH and index.lots[operation.lot].saw_first:
        pieces = [piece.length_nm for stick in sticks for piece in stick.pieces]
        return counted(index, pieces)
    if operation.step == Step.FINISH:
        return counted(index, [stick.length_nm for stick in sticks if not stick.finished])
    return counted(index, [stick.length_nm for stick in sticks])


def counted(index: Index, lengths_nm: list[int]) -> str:
    """Lengths with how many of each, the longest first."""
    counts = Counter(lengths_nm)
    shown = [
        f"{count} × {index.ruler.length(length)}"
        for length, count in sorted(counts.items(), reverse=True)
    ]
    rest = len(shown) - 4
    return ", ".join(shown[:4]) + (f" and {plural(rest, 'more length')}" if rest > 0 else "")


def count(index: Index, operation: Operation) -> str:
    """How many sticks, blanks or pieces."""
    return plural(operation.count, fed(index, operation))


def to_do(index: Index, operation: Operation) -> str:
    """The same; of a run that stood still, how many of them are left."""
    part, all_of_it = index.paused.get(operation.key), count(index, operation)
    if part is None or part.pieces is None:
        return all_of_it
    return f"{operation.count - part.pieces} of {all_of_it}"


def fed(index: Index, operation: Operation) -> str:
    """What goes through a step one by one: a stick, a blank or a piece."""
    if operation.line:
        return "piece"
    is_blanks = operation.step == Step.FINISH and index.lots[operation.lot].saw_first
    return "blank" if is_blanks else "stick"
