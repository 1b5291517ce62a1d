"""New lots stand where the work of their lines stood."""

from __future__ import annotations

from planner import schedule
from planner.cutting import Cut
from planner.drafts import Draft
from planner.known_order import Place, listed
from planner.orders import Step
from planner.records import Lot, Operation
from tests.trade import a_spec


def a_draft(**due_min: int) -> Draft:
    """A lot to saw for each name, of the line or lines of its letters."""
    lots = tuple(
        Lot(key=name, spec=a_spec(), recipe=None, saw_first=False, lines=tuple(name), due_min=due)
        for name, due in due_min.items()
    )
    operations = tuple(
        Operation(key=f"{lot.key}.SAW", step=Step.SAW, lot=lot.key, alternatives=(), count=1)
        for lot in lots
    )
    problem = schedule.Problem((), (), horizon_min=1)
    return Draft(lots, Cut((), ()), operations, problem)


def places(**of: Place) -> dict[tuple[str, str], Place]:
    return {(line, ".SAW"): place for line, place in of.items()}


def test_work_keeps_its_place_and_station_whatever_its_due_time() -> None:
    turns = listed(a_draft(a=5, b=9), places(a=(3, "Band"), b=(1, "Cold")))
    assert [(turn.operation, turn.station) for turn in turns] == [
        ("b.SAW", "Cold"),
        ("a.SAW", "Band"),
    ]


def test_of_lots_that_stood_as_one_the_one_due_first_goes_first() -> None:
    turns = listed(a_draft(b=9, a=5), places(a=(1, "Saw"), b=(1, "Saw")))
    assert [turn.operation for turn in turns] == ["a.SAW", "b.SAW"]


def test_lines_that_stood_apart_go_to_the_first_of_their_places_or_the_last() -> None:
    stood = places(a=(1, "Band"), b=(2, "Saw"), c=(3, "Cold"))
    first, last = (listed(a_draft(b=1, ac=5), stood, pick) for pick in (min, max))
    assert [(turn.operation, turn.station) for turn in first] == [
        ("ac.SAW", "Band"),
        ("b.SAW", "Saw"),
    ]
    assert [turn.station for turn in last] == ["Saw", "Cold"]


def test_work_that_stood_nowhere_is_left_out() -> None:
    turns = listed(a_draft(a=1, b=2, ac=3), places(b=(1, "Saw"), c=(2, "Cold")))
    assert [(turn.operation, turn.station) for turn in turns] == [
        ("b.SAW", "Saw"),
        ("ac.SAW", "Cold"),
    ]
