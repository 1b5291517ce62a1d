"""What is proven is said so that an owner knows what could be saved, and what is not known."""

from __future__ import annotations

import pytest

from planner.records import Floor, FloorKind
from planner_io.views.floors import floors
from planner_io.views.index import Index
from tests.planner_io.plans import a_plan


def said(kind: FloorKind, value: int, floor: int) -> str:
    only = (Floor(kind=kind, value=value, floor=floor, basis="states to visit"),)
    (words,) = floors(Index(a_plan().model_copy(update={"floors": only})))
    return words


@pytest.mark.parametrize(
    ("kind", "value", "floor", "parts"),
    [
        (FloorKind.CHANGEOVER, 68, 55, ("Changeovers: 1 h 08.", "55 min at least", "save 13 min")),
        (FloorKind.LATENESS, 90, 30, ("Lateness: 1 h 30,", "30 min of it", "save 1 h at most")),
        (FloorKind.MATERIAL, 41_050, 41_000, ("$410.50", "less than $410.00", "save $0.50")),
    ],
)
def test_what_another_plan_could_save_is_the_value_less_what_is_proven(
    kind: FloorKind, value: int, floor: int, parts: tuple[str, ...]
) -> None:
    words = said(kind, value, floor)
    assert [part for part in parts if part not in words] == []
    assert "(proven)" in words


@pytest.mark.parametrize("kind", list(FloorKind))
def test_a_plan_at_its_floor_is_said_to_be_the_least(kind: FloorKind) -> None:
    words = said(kind, 500, 500)
    assert "(proven)" in words
    assert "could save" not in words
    assert any(word in words for word in ("less (proven)", "less late (proven)"))


@pytest.mark.parametrize("kind", list(FloorKind))
def test_where_nothing_is_proven_nothing_is_claimed(kind: FloorKind) -> None:
    words = said(kind, 500, 0)
    assert words.endswith("could save is not known.")
    assert "proven" not in words


def test_no_lateness_needs_no_proof_and_nothing_is_called_optimal() -> None:
    assert said(FloorKind.LATENESS, 0, 0) == "Lateness: none."
    every = " ".join(said(kind, value, 5) for kind in FloorKind for value in (5, 9))
    assert "optim" not in every
    assert "floor" not in every
    assert "states to visit" not in every
