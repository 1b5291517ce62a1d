"""Tags to cut out: one for each kept remnant, each order line's bundle, or each single piece."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from planner.hours import when
from planner.records import Piece, Stick
from planner.tube import TubeSpec
from planner_io.views.cuts import next_station, remnant_tag
from planner_io.views.index import Index
from planner_io.views.ruler import plural


@dataclass(frozen=True)
class Tag:
    """One tag: a big line, smaller lines, a ring, and what its square code says."""

    code: str
    title: str
    big: str
    lines: tuple[str, ...]
    spec: TubeSpec


def remnant_tags(index: Index) -> Iterator[Tag]:
    """A tag for every drop that is kept."""
    for cut_list in index.plan.cut_lists:
        lot = index.lots[cut_list.lot]
        finish = f"finished {lot.recipe}" if lot.recipe and not lot.saw_first else "not finished"
        for stick in cut_list.sticks:
            if stick.kept:
                yield _remnant(index, lot.spec, finish, stick)


def _remnant(index: Index, spec: TubeSpec, finish: str, stick: Stick) -> Tag:
    code = remnant_tag(index, stick)
    return Tag(
        code=code,
        title=code,
        big=index.ruler.length(stick.drop_nm),
        lines=(index.ruler.spec(spec), finish, f"remnant of stick {stick.tag}"),
        spec=spec,
    )


def bundle_tags(index: Index) -> Iterator[Tag]:
    """A tag for the pieces of every order line."""
    for line in index.plan.orders:
        blank = index.blanks.get(line.key)
        length = index.ruler.length(blank.length_nm) if blank else ""
        yield Tag(
            code=line.key,
            title=f"{line.key} → {next_station(index, line.key)}",
            big=f"{line.quantity} × {length}",
            lines=(
                " · ".join(filter(None, (line.part, line.customer))),
                index.ruler.spec(line.spec),
                " · ".join(filter(None, (line.recipe, f"due {when(line.due)}"))),
            ),
            spec=line.spec,
        )


def piece_tags(index: Index) -> Iterator[Tag]:
    """A tag for every single piece, in cutting order."""
    for cut_list in index.plan.cut_lists:
        for stick in cut_list.sticks:
            for piece in stick.pieces:
                yield _piece(index, index.lots[cut_list.lot].spec, piece)


def _piece(index: Index, spec: TubeSpec, piece: Piece) -> Tag:
    line = index.orders[piece.line]
    return Tag(
        code=piece.tag,
        title=f"{piece.tag} → {next_station(index, line.key)}",
        big=index.ruler.length(piece.length_nm),
        lines=(
            " · ".join(filter(None, (line.key, line.part))),
            index.ruler.spec(spec),
            f"one of {plural(line.quantity, 'piece')} · due {when(line.due)}",
        ),
        spec=spec,
    )
