"""Invariant 6 catches losses that cannot be: elsewhere, twice, or of more than there was."""

from __future__ import annotations

from functools import cache

import pytest

from planner.audit import audit
from planner.options import LotPolicy
from planner.plan import make_plan
from planner.records import Plan
from planner.replan import replan
from planner.replan.scrap import Scrapped
from planner.scrap import Scrap
from tests.audit.edits import breaches
from tests.week import a_week_shop, options, some_orders, some_stock

NOW = 600


@cache
def again() -> Plan:
    """A small week planned again after a stick was lost in a pass and a piece at a bend."""
    orders = [line.model_copy(update={"quantity": 30}) for line in some_orders(8)]
    args = orders, some_stock(), a_week_shop()
    issued = make_plan(*args, options(seconds=0.2, lots=LotPolicy.BY_DUE_DATE))
    bend = next(one for one in issued.operations if one.line and one.step == "bend")
    cut = next(each for each in issued.cut_lists if each.lot == bend.lot)
    stick = cut.sticks[0]
    on_it = {piece.line for piece in stick.pieces}
    lost = (
        Scrap(operation=bend.key, line=bend.line or "", pieces=1),
        *(
            Scrap(
                operation=f"{bend.lot}.P1",
                line=line,
                stick=stick.tag,
                pieces=sum(piece.line == line for piece in stick.pieces),
            )
            for line in sorted(on_it)
        ),
    )
    rows = [Scrapped(one) for one in lost]
    return replan(issued, *args, options(seconds=0.2, start_min=NOW), scrapped=rows)


BEND, STICK = again().scrap[:2]
LOT = STICK.operation.removesuffix(".P1")
PIECES = next(line.quantity for line in again().orders if line.key == BEND.line)


def found(*scrap: Scrap) -> str:
    replanned = again().replan
    assert replanned is not None
    replanned = replanned.model_copy(update={"scrap": scrap})
    return breaches(again().model_copy(update={"replan": replanned}), 6)


def other(one: Scrap, **changes: object) -> Scrap:
    return one.model_copy(update=changes)


def test_what_was_lost_holds() -> None:
    assert audit(again()) == ()
    assert again().scrap[:2] == (BEND, STICK)
    assert found(other(BEND, operation=LOT), STICK) == ""


@pytest.mark.parametrize(
    "changes", [{"operation": "L99"}, {"operation": "L99.P1"}, {"line": "9999/9"}, {"line": ""}]
)
def test_a_loss_where_nothing_of_it_was(changes: dict[str, str]) -> None:
    one = other(BEND, **changes)
    assert f"{one.operation}: does not work on {one.line}, and cannot lose any" in found(one)


def test_a_loss_at_the_work_of_another_line() -> None:
    (line,) = (
        key for lot in again().lots for key in lot.lines if lot.key == LOT and key != BEND.line
    )
    assert f"{BEND.operation}: does not work on {line}" in found(other(BEND, line=line))
    assert found(other(BEND, operation=f"{LOT}.SAW", line=line)) == ""


@pytest.mark.parametrize("pieces", [0, -1])
def test_a_loss_of_nothing(pieces: int) -> None:
    text = f"is said to have lost {pieces} pieces of {BEND.line}, not 1"
    assert text in found(other(BEND, pieces=pieces))


def test_more_is_lost_than_there_was() -> None:
    words = f"{BEND.line}: is said to have lost {PIECES + 1} of its {PIECES} pieces"
    assert found(other(BEND, pieces=PIECES)) == ""
    assert words in found(other(BEND, pieces=PIECES + 1))
    assert words in found(other(BEND, pieces=PIECES), other(BEND, operation=LOT))


def test_a_stick_with_another_number_of_pieces_or_of_no_cut_list() -> None:
    for one in (other(STICK, pieces=STICK.pieces + 1), other(STICK, stick="L99-01")):
        right = STICK.pieces if one.stick == STICK.stick else 0
        words = f"is said to have lost {one.pieces} pieces of {STICK.line} of stick {one.stick}"
        assert f"{words}, not {right}" in found(one)


def test_what_is_said_to_be_lost_twice() -> None:
    assert f"{BEND.operation}: is said 2 times to have lost {BEND.line}" in found(BEND, BEND)
    assert found(BEND, other(BEND, operation=LOT)) == ""
    twice = found(STICK, other(STICK, operation=LOT))
    assert f"{STICK.stick}: is said 2 times to have lost {STICK.line}" in twice
