"""What was lost before a step, and so does not come to it."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from planner.orders import Step
from planner.records import Operation
from planner.scrap import Scrap
from planner_io.views import places
from planner_io.views.index import Index
from planner_io.views.ruler import plural, some
from planner_io.views.standing import is_done

MOST_TAGS = 6


@dataclass(frozen=True)
class Losses:
    """What is lost so far of a plan."""

    index: Index
    scrap: tuple[Scrap, ...]

    def before(self, operation: Operation) -> list[Scrap]:
        """What was lost of an operation's lines at the steps before it; in its lot too, where no
        step is named, as far as the operation was not done then."""
        if not self.scrap:
            return []
        places, lines = set(self._steps_before(operation)), self.index.lines_of(operation)
        if not is_done(self.index, operation.key):
            places.add(operation.lot)
        return [one for one in self.scrap if one.operation in places and one.line in lines]

    def _steps_before(self, operation: Operation) -> Iterator[str]:
        for key in operation.after:
            if key in self.index.operations:
                yield key
                yield from self._steps_before(self.index.operations[key])

    def sticks(self, operation: Operation) -> tuple[str, ...]:
        """Tags of the sticks that were lost before it."""
        return tuple(dict.fromkeys(one.stick for one in self.before(operation) if one.stick))

    def coming(self, operation: Operation) -> int:
        """How many sticks, blanks or pieces come to it."""
        if operation.step is Step.SAW or takes_sticks(self.index, operation):
            return operation.count - len(self.sticks(operation))
        return operation.count - sum(one.pieces for one in self.before(operation))

    def take(self, operation: Operation) -> str:
        """How many to take, in words: `7 of 8 sticks`; `8 sticks` where all come."""
        coming = self.coming(operation)
        if coming == operation.count:
            return places.to_do(self.index, operation)
        return f"{coming} of {places.count(self.index, operation)}"

    def told(self, operation: Operation) -> str:
        """`3 of 5 sticks come; lost at Finisher step 1: 2 sticks (L03-04, L03-05)`; empty where
        all come."""
        by_step: dict[str, list[Scrap]] = defaultdict(list)
        for one in self.before(operation):
            by_step[one.operation].append(one)
        if not by_step:
            return ""
        lost = [f"lost {self._where(key)}: {lost_words(found)}" for key, found in by_step.items()]
        return "; ".join([f"{self.take(operation)} come", *lost])

    def _where(self, key: str) -> str:
        slot = self.index.slots.get(key)
        step = f"at {slot.station} step {self.index.step_numbers[key]}" if slot else f"at {key}"
        return f"in lot {key}" if key in self.index.lots else step


def takes_sticks(index: Index, operation: Operation) -> bool:
    """Whether whole sticks go through a step that does not cut them."""
    return operation.step is Step.FINISH and not index.lots[operation.lot].saw_first


def lost_words(scrap: Iterable[Scrap]) -> str:
    """What is lost, in words: `2 sticks (L03-04, L03-05)`, `3 pieces of 1187/2`."""
    lost = list(scrap)
    tags = list(dict.fromkeys(one.stick for one in lost if one.stick))
    pieces: Counter[str] = Counter()
    for one in lost:
        pieces[one.line] += 0 if one.stick else one.pieces
    words = [f"{plural(len(tags), 'stick')} ({some(tags, MOST_TAGS)})"] if tags else []
    words += [f"{plural(count, 'piece')} of {line}" for line, count in pieces.items() if count]
    return ", ".join(words)
