"""How often a late minute of a line counts."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.planner_io.workbook.readings import reading, the_line
from tests.planner_io.workbook.sheets import Cell, an_order


@pytest.mark.parametrize(
    ("priority", "weight"), [(None, 1), ("normal", 1), ("RUSH", 5), ("high", 3), (7, 7), ("no", 1)]
)
def test_priority_is_how_often_a_late_minute_counts(
    priority: Cell, weight: int, tmp_path: Path
) -> None:
    assert the_line(tmp_path, Priority=priority).weight == weight


@pytest.mark.parametrize(("ranks", "doubted"), [((1, 2, 3), True), ((1, 1), False), ((5,), False)])
def test_priorities_from_1_on_are_doubted(
    tmp_path: Path, ranks: tuple[int, ...], doubted: bool
) -> None:
    rows = [an_order(Line=str(n), Priority=rank) for n, rank in enumerate(ranks)]
    found = reading(tmp_path, *rows)
    assert [line.weight for line in found.orders] == list(ranks)
    assert ["if 1 is the most urgent" in f.message for f in found.findings] == [True] * doubted


@pytest.mark.parametrize(("said", "weight"), [("True", 5), ("FALSE", 1), (True, 5), (False, 1)])
def test_a_rush_may_be_true_or_false(tmp_path: Path, said: Cell, weight: int) -> None:
    (line,) = reading(tmp_path, {**an_order(), "IsRush": said}).orders
    assert line.weight == weight


@pytest.mark.parametrize(
    ("header", "said", "weight"),
    [("Prioridad", "alta", 3), ("Priorität", "eilig", 5), ("Priorité", "normale", 1)],
)
def test_priorities_may_be_german_french_or_spanish(
    tmp_path: Path, header: str, said: str, weight: int
) -> None:
    (line,) = reading(tmp_path, {**an_order(), header: said}).orders
    assert line.weight == weight
