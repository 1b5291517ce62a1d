"""A finish and a grit in columns of their own are one finish where they agree, else an error."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner_io.workbook import read_workbook
from planner_io.workbook.read import Reading
from tests.planner_io.workbook.sheets import Cell, an_order, some_orders


def one_line(path: Path, finish: Cell, grit: Cell) -> Reading:
    return read_workbook(some_orders(path / "w.xlsx", an_order(Finish=finish, Grit=grit)))


@pytest.mark.parametrize(
    ("finish", "grit", "recipe"),
    [
        ("Satin", 180, "Satin P180"),
        ("satin", "240 grit", "Satin P240"),
        ("Brushed", "K180", "Satin P180"),
        ("Primer", 180, "Satin P180"),
        ("Satin P240", 240, "Satin P240"),
        ("Satin P240", "120-180-240", "Satin P240"),
        ("Satin P240", "180/240", "Satin P240"),
        ("Non-woven satin", 180, "Non-woven satin"),
        ("Non-woven satin", "non-woven fine", "Non-woven satin"),
        (None, 180, "Satin P180"),
        (None, "P240", "Satin P240"),
        (None, "none", None),
        (None, "–", None),
        (None, "—", None),
        ("Satin P180", None, "Satin P180"),
        ("Satin P180", "-", "Satin P180"),
        ("none", 0, None),
        ("none", "n/a", None),
    ],
)
def test_a_grit_beside_a_finish_names_its_recipe(
    tmp_path: Path, finish: Cell, grit: Cell, recipe: str | None
) -> None:
    found = one_line(tmp_path, finish, grit)
    assert [line.recipe for line in found.orders] == [recipe]
    if finish in {"Satin", "satin", "Brushed", "Primer"}:
        words = f"finish “{finish}” with grit {grit} read as {recipe}"
        assert any(words in each for each in found.readings)


@pytest.mark.parametrize(
    ("finish", "grit", "why"),
    [
        ("Satin P180", 240, "L2 says grit 240, but Satin P180 is P80, P120, P180; correct one"),
        ("Satin P240", "80/240", "but Satin P240 is P120, P180, P240"),
        ("Satin P240", 180, "but Satin P240 is P120, P180, P240"),
        ("Satin P180", 240, "correct one of them; Satin P240 would end so"),
        ("Satin P180", 100, "for a finish that ends so add a recipe of 100 to Recipes, and its"),
        ("none", 180, "L2 says grit 180, but the finish is none"),
        ("mill finish", "P180", "but the finish is none"),
        ("Satin P180", "see drawing", "says grit see drawing, but"),
        ("Mirror", 800, "Mirror 800"),
        ("primer", 100, "no recipe ends with P100: write one of them, or add one that does to the"),
    ],
)
def test_a_grit_that_contradicts_its_finish_is_refused_at_its_place(
    tmp_path: Path, finish: Cell, grit: Cell, why: str
) -> None:
    found = one_line(tmp_path, finish, grit)
    assert found.orders == ()
    (error,) = (each for each in found.findings if each.severity == "error")
    assert error.cell == "H2"
    assert why.replace("L2", "Orders!K2") in error.message


def test_a_column_of_grits_alone_is_the_finish(tmp_path: Path) -> None:
    order = {key: value for key, value in an_order(Grain=240).items() if key != "Finish"}
    found = read_workbook(some_orders(tmp_path / "w.xlsx", order))
    assert [line.recipe for line in found.orders] == ["Satin P240"]
    assert not any("no column Finish" in each.message for each in found.findings)
