"""A finish is a recipe by name, by its words, or by its last grit; anything else is refused."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from planner.abrasives import parse_grade
from planner.errors import InputError
from planner.shop import Recipe, RecipeStep
from planner_io.workbook.finishes import finish
from tests.planner_io.workbook.readings import reading, the_error, the_line
from tests.planner_io.workbook.sheets import Cell, an_order


def a_recipe(name: str, *grades: str) -> Recipe:
    steps = tuple(RecipeStep(grade=parse_grade(each).grade, passes={}) for each in grades)
    return Recipe(name=name, steps=steps)


RECIPES = (
    a_recipe("Satin 180", "P120", "P180"),
    a_recipe("Satin 320", "P120", "P180", "P320"),
    a_recipe("Brushed P240", "P120", "P240"),
    a_recipe("Dairy 240", "P120", "P180", "P240"),
)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Satin 320", "Satin 320"),
        ("satin 320 grit", "Satin 320"),
        ("320 grit satin", "Satin 320"),
        ("Satin P320", "Satin 320"),
        ("K320", "Satin 320"),
        ("G180", "Satin 180"),
        ("180 grit", "Satin 180"),
        ("240 grit brushed", "Brushed P240"),
    ],
)
def test_a_finish_is_read_by_its_words_and_grit_in_any_order(text: str, name: str) -> None:
    found = finish(text, RECIPES)
    assert found.value == name
    assert found.note == ("" if text == name else f"finish “{text}” read as {name}")


@pytest.mark.parametrize("text", ["descale", "Mill scale off", "de-scaled", "entzundert"])
def test_taking_scale_off_is_the_only_recipe_with_it_in_its_name(text: str) -> None:
    scale = a_recipe("Mill-scale removal", "P80")
    assert finish(text, [*RECIPES, scale]).value == scale.name
    for known in (RECIPES, [scale, a_recipe("Scale and satin", "P80", "P180")]):
        with pytest.raises(InputError):
            finish(text, known)


@pytest.mark.parametrize("text", ["240", "K240", "Satin 240", "Mirror 320", "Satin", "poliert"])
def test_a_finish_that_is_none_or_could_be_two_is_refused_with_the_choice(text: str) -> None:
    with pytest.raises(InputError, match="Satin 180, Satin 320, Brushed P240, Dairy 240"):
        finish(text, RECIPES)


@pytest.mark.parametrize(
    "text",
    [
        "geschliffen K180",
        "Korn 180",
        "brossé grain 180",
        "gebürstet 180",
        "brushed 180",
        "ground G180",
        "Polish 180",
    ],
)
def test_words_for_belt_work_say_nothing_beside_a_grit_that_one_recipe_ends_with(
    text: str,
) -> None:
    found = finish(text, RECIPES)
    assert (found.value, found.note) == ("Satin 180", f"finish “{text}” read as Satin 180")
    with pytest.raises(InputError):
        finish(text.replace("180", "320"), (*RECIPES, a_recipe("Other", "P320")))


@pytest.mark.parametrize(
    "text", ["none", "roh", "brut", "ohne", "sans", "aucune", "ninguno", "keine", "raw"]
)
def test_words_for_no_finish_are_known_in_four_languages(text: str) -> None:
    assert finish(text, RECIPES) == finish("-", RECIPES)


def test_a_remark_behind_none_is_told() -> None:
    found = finish("none (galvanised)", RECIPES)
    assert (found.value, found.note) == (None, "finish “none (galvanised)” read as none")


@pytest.mark.parametrize(
    ("text", "name"), [("Satn 320", "Satin 320"), ("Brushd P240", "Brushed P240")]
)
def test_a_misspelt_finish_is_guessed_but_never_its_grit(text: str, name: str) -> None:
    assert finish(text, RECIPES).value == name
    with pytest.raises(InputError):
        finish(text.replace("3", "8").replace("P2", "P4"), RECIPES)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("oiled", None),
        ("lightly oiled", None),
        ("none, oiled", None),
        ("satin 320, oiled", "Satin 320"),
    ],
)
def test_oil_is_no_finish_and_told(text: str, name: str | None) -> None:
    found = finish(text, RECIPES)
    assert found.value == name
    assert f"finish “{text}” read as {name or 'none'}: oiling is not planned" == found.note


def test_oil_does_not_hide_a_finish_that_nobody_has() -> None:
    with pytest.raises(InputError, match="Recipes has"):
        finish("Mirror, oiled", RECIPES)


@pytest.mark.parametrize("text", ["TBD", "?", "tbc"])
def test_a_finish_that_is_not_decided_is_not_left_out(text: str) -> None:
    with pytest.raises(InputError, match="or write none"):
        finish(text, RECIPES)


@pytest.mark.parametrize("text", ["P-180", "p 180", "K-180", "G180"])
def test_a_grit_may_have_a_dash_or_blank_before_its_number(text: str) -> None:
    assert finish(text, RECIPES).value == "Satin 180"


def test_misspelt_finishes_are_read_and_told(tmp_path: Path) -> None:
    found = reading(tmp_path, an_order(Finish="satn p180"))
    assert found.orders[0].recipe == "Satin P180"
    assert any("satn p180" in text for text in found.readings)


@pytest.mark.parametrize("none", [None, "none", "-", "n/a", "mill finish"])
def test_no_finish_is_no_recipe(none: Cell, tmp_path: Path) -> None:
    assert the_line(tmp_path, Finish=none).recipe is None


@pytest.mark.parametrize("finish", ["no", "No finish", "mill finish"])
def test_words_for_no_finish_are_known(tmp_path: Path, finish: str) -> None:
    assert the_line(tmp_path, Finish=finish).recipe is None


@pytest.mark.parametrize("finish", ["180#", "#180", "180 grit"])
def test_a_finish_may_be_called_by_its_last_grade(tmp_path: Path, finish: str) -> None:
    assert the_line(tmp_path, Finish=finish).recipe == "Satin P180"


def test_an_unknown_finish_may_be_added_to_recipes(tmp_path: Path) -> None:
    assert "add this one to the sheet Recipes" in the_error(tmp_path, Finish="mirror")[1]


COATED = (*RECIPES, a_recipe("Primer-ready", "P80"), a_recipe("Scale off", "P60"))


@pytest.mark.parametrize(
    ("text", "name", "coat"),
    [
        ("primer 80", "Primer-ready", "primer"),
        ("P80 for powder coat", "Primer-ready", "powder coat"),
        ("60 grit, to be painted", "Scale off", "painted"),
        ("satin 180 + paint", "Satin 180", "paint"),
        ("for primer", "Primer-ready", "primer"),
    ],
)
def test_a_coat_is_no_finish_and_the_grit_beside_it_is(text: str, name: str, coat: str) -> None:
    found = finish(text, COATED)
    assert found.value == name
    assert found.note.endswith(
        f"read as {name}: the belts before the coat; {coat} itself is not planned"
    )


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("primed", "primed is a coat and no finish by belt: write the recipe that it wants"),
        ("powder coat", "powder coat is a coat and no finish by belt"),
        (
            "primer 100",
            "no recipe ends with P100: write one of them, or add one that does to the sheet",
        ),
        ("primer 240", "Brushed P240 and Dairy 240 end with P240: write the one that is meant"),
        ("satin 100", "no recipe ends with P100"),
    ],
)
def test_a_coat_or_grit_without_a_recipe_says_what_to_write(text: str, why: str) -> None:
    with pytest.raises(InputError, match=re.escape(why)):
        finish(text, COATED)


def test_of_two_recipes_with_a_grit_the_one_that_is_named_after_the_coat_is_meant() -> None:
    assert finish("primer 80", (*COATED, a_recipe("Rough", "P80"))).value == "Primer-ready"
    with pytest.raises(InputError):
        finish("paint 80", (*COATED, a_recipe("Rough", "P80")))
