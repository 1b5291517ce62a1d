"""A finish beside a grit in a column of its own: `Satin` and `180` are one where they agree."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from planner.abrasives import System, parse_grade
from planner.errors import InputError
from planner.shop import Recipe
from planner.units.reading import refuse
from planner_io.workbook import cells
from planner_io.workbook.cells import Parsed
from planner_io.workbook.coats import before_coat
from planner_io.workbook.finishes import finish, grit_of, recipe_named
from planner_io.workbook.rows import RowReader

_BETWEEN = re.compile(
    r"\s*(?:[/,;+→]|\bthen\b|\bto\b)\s*|(?<=[0-9])\s*(?:-+>?|>)\s*(?=[gkp]?[0-9])", re.IGNORECASE
)
"""What stands between the grits of several steps, as in `120-180-240`."""


def read_finish(reader: RowReader, recipes: Iterable[Recipe]) -> str | None:
    """The recipe of a row by its finish and grit, None for none or where the row fails."""
    known = tuple(recipes)
    grit = reader.raw("grit")
    if grit is None or cells.is_nothing(grit) or cells.text(grit) == "0":
        return reader.take("recipe", lambda value: finish(cells.text(value), known), None)
    if reader.raw("recipe") is None:
        return reader.take("grit", lambda value: finish(cells.text(value), known), None)
    if problem := reader.unusable("grit", grit):
        reader.refuse("grit", problem)
        return None
    beside = Beside(cells.text(grit), str(reader.row.place("grit")))
    return reader.take("recipe", lambda value: _both(cells.text(value), beside, known), None)


@dataclass(frozen=True)
class Beside:
    """The grit beside a finish, and where it stands."""

    text: str
    place: str


def _both(words: str, grit: Beside, recipes: tuple[Recipe, ...]) -> Parsed[str | None]:
    """The recipe that is meant by both: a finish that names one must end with the grit, and one
    that names none is read with the grit behind it, as `Satin 180`."""
    try:
        found = finish(words, recipes)
    except InputError:
        found = None
    if found is None or _is_a_coat(words, recipes):
        both = finish(f"{words} {grit.text}", recipes)
        name = both.value or "none"
        more = both.note.partition(f" read as {name}")[2]
        return Parsed(both.value, f"finish “{words}” with grit {grit.text} read as {name}{more}")
    recipe = next((each for each in recipes if each.name == found.value), None)
    if recipe is None:
        raise _contradicts(words, grit, "the finish is none")
    if not _agree(recipe, grit.text):
        steps = ", ".join(step.grade.label for step in recipe.steps)
        why = f"{recipe.name} is {steps or 'without belts'}"
        raise _contradicts(words, grit, why, _instead(grit.text, recipes))
    return found


def _is_a_coat(words: str, recipes: tuple[Recipe, ...]) -> bool:
    """Whether words name a coat alone, of which the grit beside it says what belts it wants."""
    rest, coat = before_coat(words)
    return bool(coat and not rest) and recipe_named(words, recipes) is None


def _instead(grit: str, recipes: tuple[Recipe, ...]) -> str:
    """What to write for a grit that the recipe named beside it does not end with."""
    ending = [each.name for each in recipes if _agree(each, grit)]
    if ending:
        return f"{' or '.join(ending)} would end so"
    return f"for a finish that ends so add a recipe of {grit} to Recipes, and its belt to Belts"


def _agree(recipe: Recipe, grit: str) -> bool:
    """Whether a recipe has all the grits that are written, and ends with the last of them, or with
    non-woven after it."""
    steps = [step.grade for step in recipe.steps]
    coated = [grade for grade in steps if grade.system != System.NON_WOVEN]
    try:
        grades = [parse_grade(grit_of(word)).grade for word in _BETWEEN.split(grit)]
    except InputError:
        return False
    return set(grades) <= set(steps) and grades[-1] in (steps[-1], *coated[-1:])


def _contradicts(words: str, grit: Beside, why: str, instead: str = "") -> InputError:
    text = f"{grit.place} says grit {grit.text}, but {why}; correct one of them"
    text += f"; {instead}" if instead else ""
    return refuse(words, "a finish that ends with its grit", text)
