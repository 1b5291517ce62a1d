"""Build finish recipes from the Recipes sheet: a row for each belt, coarse to fine."""

from __future__ import annotations

from collections.abc import Iterable

from planner.shop import Recipe, RecipeStep
from planner.tube import Surface
from planner_io.workbook import cells
from planner_io.workbook.kinds import build, read_fields
from planner_io.workbook.names import plain_name
from planner_io.workbook.rows import RowReader

_WHOLE = ("families", "ra_low_uin", "ra_high_uin", "remark")
"""Fields of the recipe; its first row that fills one counts."""


def read_recipes(rows: Iterable[RowReader]) -> list[Recipe]:
    """The recipes of a sheet, in order; one with a row in error is left out."""
    grouped: dict[str, list[RowReader]] = {}
    names: dict[str, str] = {}
    name = ""
    for reader in rows:
        if reader.raw("name") is None and name:
            reader.report.note("finish taken from the row above", reader.row.place("name"))
        else:
            name = reader.text("name")
        names.setdefault(plain_name(name), name)
        grouped.setdefault(plain_name(name), []).append(reader)
    built = [_recipe(names[key], readers) for key, readers in grouped.items()]
    return [recipe for recipe in built if recipe is not None]


def _recipe(name: str, readers: list[RowReader]) -> Recipe | None:
    steps: list[RecipeStep] = []
    whole: dict[str, object] = {}
    for reader in readers:
        fields = read_fields(reader, without=("name",))
        for key in _WHOLE:
            if key in fields:
                whole.setdefault(key, fields[key])
        step = _step(reader, fields)
        if step is not None:
            steps.append(step)
    if any(reader.failed for reader in readers):
        return None
    return build(readers[0], Recipe, {"name": name, "steps": tuple(steps), **whole})


def _step(reader: RowReader, fields: dict[str, object]) -> RecipeStep | None:
    passes = {surface: fields[surface] for surface in Surface if surface in fields}
    if not any(passes.values()) and not reader.failed:
        reader.fail(
            "bright",
            "no passes are written; write how many this belt makes, or delete the row",
            cells.text(reader.raw("grade") or ""),
            "passes for at least one surface",
        )
    step = {"grade": fields.get("grade"), "passes": passes}
    if "least_overlap" in fields:
        step["least_overlap"] = fields["least_overlap"]
    return build(reader, RecipeStep, step)
