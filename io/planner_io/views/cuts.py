"""Cut lists for the saw: sticks that are cut alike in one bar, pieces in cutting order."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby

from planner.hours import when_minute
from planner.orders import Step
from planner.records import CutList, Operation, Piece, Stick
from planner.shaping import Marks, shaping
from planner.standard_sizes import MILL_SHORT_NM
from planner.stop import Status
from planner.tube import TubeSpec
from planner_io.drawing.cut_bar import Bar, BarPiece
from planner_io.views import places
from planner_io.views.index import Index
from planner_io.views.losses import MOST_TAGS, Losses
from planner_io.views.ruler import money, some


@dataclass(frozen=True)
class PieceGroup:
    """Pieces that follow each other on a stick and are the same."""

    first: int
    """Number in cutting order, from 1."""
    last: int
    length_nm: int
    length: str
    other: str
    line: str
    part: str
    customer: str
    next_station: str
    ends: str
    """How its ends are mitred; empty for square cuts."""
    tags: tuple[str, ...]
    """Of one stick; the other sticks of the pattern have their own."""

    @property
    def count(self) -> int:
        """How many they are on one stick."""
        return self.last - self.first + 1

    @property
    def numbers(self) -> str:
        """`3` or `3–7`."""
        return str(self.first) if self.count == 1 else f"{self.first}–{self.last}"


@dataclass(frozen=True)
class Pattern:
    """Sticks that follow each other and are cut alike."""

    sticks: tuple[str, ...]
    """Their tags."""
    place: str
    """Where the saw takes them from."""
    length_nm: int
    length: str
    groups: tuple[PieceGroup, ...]
    drop_nm: int
    drop: str
    """What becomes of the drop, in words."""
    kept: bool
    watch: str
    """Where a stick that the mill cut short would leave a piece too short; else empty."""
    bar: Bar

    def left_out(self, lost: Collection[str]) -> str:
        """What of it is not cut where some sticks do not come; empty where all of its come."""
        gone, count = [tag for tag in self.sticks if tag in lost], len(self.sticks)
        if not gone:
            return ""
        what = f"Cut {count - len(gone)} of {count}" if len(gone) < count else "Leave this out"
        return f"{what}: {some(gone, MOST_TAGS)} {'do' if len(gone) > 1 else 'does'} not come"


@dataclass(frozen=True)
class CutSheet:
    """The cut list of one lot as the saw gets it."""

    lot: str
    station: str
    step_number: int
    start: str
    people: tuple[str, ...]
    spec: TubeSpec
    tube: str
    material: str
    kerf: str
    trims: tuple[str, ...]
    stick_count: int
    piece_count: int
    money: str
    """Cost, and how good it is provably."""
    care: str
    short: str
    """What of it is lost, and is not cut."""
    lost: tuple[str, ...]
    """Tags of the sticks that were lost before the week was planned again."""
    patterns: tuple[Pattern, ...]


def cut_sheets(index: Index) -> tuple[CutSheet, ...]:
    """All cut lists in the order in which the saws cut them."""
    saws = [operation for operation in index.plan.operations if operation.step == Step.SAW]
    saws.sort(key=lambda operation: index.slots[operation.key].start_min)
    return tuple(_sheet(index, operation) for operation in saws)


def _sheet(index: Index, operation: Operation) -> CutSheet:
    cut_list = index.cut_lists[operation.lot]
    slot = index.slots[operation.key]
    spec, lost = index.lots[operation.lot].spec, Losses(index, index.plan.scrap)
    return CutSheet(
        lot=operation.lot,
        station=slot.station,
        step_number=index.step_numbers[operation.key],
        start=when_minute(slot.start_min, index.start),
        people=slot.people,
        spec=spec,
        tube=index.ruler.tube(spec),
        material=f"{spec.grade} {spec.surface.value}",
        kerf=index.ruler.length(cut_list.kerf_nm),
        trims=tuple(_trims(index, cut_list)),
        stick_count=len(cut_list.sticks),
        piece_count=sum(len(stick.pieces) for stick in cut_list.sticks),
        money=proof(index, cut_list),
        care=places.care(index, operation),
        short=lost.told(operation),
        lost=lost.sticks(operation),
        patterns=tuple(_patterns(index, operation)),
    )


def _trims(index: Index, cut_list: CutList) -> Iterator[str]:
    if cut_list.stick_trim_nm:
        yield f"trim {index.ruler.length(cut_list.stick_trim_nm)} off each stick first"
    if cut_list.end_trim_nm:
        yield f"leave {index.ruler.length(cut_list.end_trim_nm)} at the end for the clamp"


def proof(index: Index, cut_list: CutList) -> str:
    """What a cut list costs and how far it can be from the best, in words."""
    currency = index.plan.shop.house.currency
    cost = f"tube and finishing {money(cut_list.cost_cents, currency)}"
    if cut_list.status == Status.PROVEN:
        return f"{cost}, proven the cheapest"
    return f"{cost}, {money(cut_list.floor_cents, currency)} at the least (proven)"


def _patterns(index: Index, saw: Operation) -> Iterator[Pattern]:
    """The sticks of a cut list, those alike and next to each other as one."""
    for _, alike in groupby(index.cut_lists[saw.lot].sticks, key=_look):
        yield _pattern(index, saw, list(alike))


def _look(stick: Stick) -> tuple[object, ...]:
    pieces = tuple((piece.line, piece.length_nm) for piece in stick.pieces)
    return stick.stock, stick.length_nm, pieces, stick.drop_nm, stick.kept, stick.finished


def _pattern(index: Index, saw: Operation, sticks: list[Stick]) -> Pattern:
    cut_list, first = index.cut_lists[saw.lot], sticks[0]
    groups = tuple(_groups(index, first.pieces))
    drop = drop_words(index, sticks)
    return Pattern(
        sticks=tuple(stick.tag for stick in sticks),
        place=places.at_saw(index, saw, first),
        length_nm=first.length_nm,
        length=index.ruler.length(first.length_nm),
        groups=groups,
        drop_nm=first.drop_nm,
        drop=drop,
        kept=first.kept,
        watch=_watch(index, first),
        bar=Bar(
            first.length_nm,
            cut_list.stick_trim_nm,
            tuple(
                BarPiece(piece.length_nm, str(number), index.ruler.length(piece.length_nm))
                for number, piece in enumerate(first.pieces, start=1)
            ),
            first.drop_nm,
            drop,
        ),
    )


def drop_words(index: Index, sticks: list[Stick]) -> str:
    """What becomes of the drops of sticks that are cut alike."""
    first = sticks[0]
    if first.drop_nm <= 0:
        return ""
    length = index.ruler.length(first.drop_nm)
    if not first.kept:
        return f"scrap {length}"
    tags = [remnant_tag(index, stick) for stick in sticks]
    several = f" to {tags[-1]}" if len(tags) > 1 else ""
    return f"keep {length} as {tags[0]}{several}"


def _watch(index: Index, stick: Stick) -> str:
    item = index.stock.get(stick.stock)
    if stick.drop_nm >= MILL_SHORT_NM or item is None or item.remnant:
        return ""
    short = index.ruler.length(MILL_SHORT_NM)
    return f"measure each stick first: a mill may cut it up to {short} short (ASTM A500)"


def remnant_tag(index: Index, stick: Stick) -> str:
    """The name of a kept drop, unique over the weeks: year, week, stick.

    A week has few sticks whose tags could clash with those of another plan of the same week.
    """
    year, week, _ = index.start.isocalendar()
    return f"R{year % 100:02d}{week:02d}-{stick.tag}"


def _groups(index: Index, pieces: Iterable[Piece]) -> Iterator[PieceGroup]:
    numbered = list(enumerate(pieces, start=1))
    for (line, length), alike in groupby(numbered, key=lambda row: (row[1].line, row[1].length_nm)):
        rows = list(alike)
        order = index.orders[line]
        yield PieceGroup(
            first=rows[0][0],
            last=rows[-1][0],
            length_nm=length,
            length=index.ruler.length(length),
            other=index.ruler.other(length),
            line=line,
            part=order.part,
            customer=order.customer,
            next_station=next_station(index, line),
            ends=_ends(index, line),
            tags=tuple(piece.tag for _, piece in rows),
        )


def _ends(index: Index, line: str) -> str:
    house = index.plan.shop.house
    marks = Marks(house.unit, house.denominator)
    return "; ".join(shaping(index.orders[line], index.blanks[line], Step.SAW, marks))


def next_station(index: Index, line: str) -> str:
    """Where pieces of an order line go from the saw."""
    return index.first_after_saw.get(line, "done")
