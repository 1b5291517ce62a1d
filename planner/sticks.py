"""Which sticks a tube spec and recipe may be cut from, how long a piece they give, and which
lengths of them are finished."""

from __future__ import annotations

from collections.abc import Sequence

from planner.mounting import takes
from planner.records import CutList, Lot
from planner.shop import SawSettings, Shop, Station, StationKind
from planner.stock import StockItem
from planner.tube import TubeSpec

_NO_LIMIT_NM = 10**15


def able(shop: Shop, kind: StationKind, spec: TubeSpec) -> list[Station]:
    """The stations of a kind that take tube of this OD."""
    return [station for station in shop.of_kind(kind) if takes(station, spec, 0)]


def finisher_longest_nm(station: Station) -> int:
    """The longest stick that a finisher and its stands carry."""
    return min(station.finisher.longest_nm, station.longest_nm or _NO_LIMIT_NM)


def longest_stick_nm(shop: Shop, spec: TubeSpec, finished_whole: bool) -> int:
    """The longest stick that fits a saw, and a finisher and its stands if it goes there whole."""
    saws = [station.longest_nm or _NO_LIMIT_NM for station in able(shop, StationKind.SAW, spec)]
    longest = max(saws, default=_NO_LIMIT_NM)
    if not finished_whole:
        return longest
    stands = [finisher_longest_nm(station) for station in able(shop, StationKind.FINISHER, spec)]
    return min(longest, max(stands, default=longest))


def sticks_for(
    shop: Shop, spec: TubeSpec, recipe: str | None, sawn_first: bool, stock: Sequence[StockItem]
) -> tuple[StockItem, ...]:
    """The stock items that may be cut for a spec and recipe: not finished otherwise, and not too
    long for the stations that they go to as sticks."""
    longest = longest_stick_nm(shop, spec, recipe is not None and not sawn_first)
    return tuple(
        item
        for item in stock
        if item.spec == spec
        and item.count != 0
        and (item.finished is None or (item.finished == recipe and not sawn_first))
        and item.length_nm <= longest
    )


def lengths_to_finish_nm(lot: Lot, cut_list: CutList) -> list[int]:
    """Lengths of what a lot sends through the finisher: its sticks, or its blanks where it is
    sawn first; remnants that are finished already stay out."""
    sticks = [stick for stick in cut_list.sticks if not stick.finished]
    if lot.saw_first:
        return [piece.length_nm for stick in sticks for piece in stick.pieces]
    return [stick.length_nm for stick in sticks]


def longest_piece_nm(saw: SawSettings, stick_nm: int) -> int:
    """The longest piece that can be cut from a stick of this length."""
    behind_head = stick_nm - saw.stick_trim_nm - saw.end_trim_nm
    whole = behind_head - saw.end_trim_nm
    return min(whole, behind_head - saw.clamp_nm - saw.kerf_nm) if saw.clamp_nm else whole
