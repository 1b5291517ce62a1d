"""The finish record: what was measured or seen on a lot, and what follows from it.

No standard defines a finish by a single roughness (neither ASTM A480 nor EN 10088-2), so a
recipe has a range. A lot out of its range goes back one grade.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from statistics import fmean

from planner.errors import input_error
from planner.shop import Recipe, RecipeStep
from planner.tube import Surface

AGAIN = ", again from"
"""What the name of a recipe gets when its lot goes back."""


class Seen(StrEnum):
    """What the eye says."""

    GOOD = "good"
    MARKS = "marks of the last belt"
    UNEVEN = "uneven"


@dataclass(frozen=True, slots=True)
class FinishCheck:
    """One entry of the record: readings along the tube, or a look at it, or both."""

    lot: str
    readings_uin: tuple[float, ...] = ()
    """Roughness readings, µin Ra."""
    seen: Seen | None = None
    who: str = ""


class Verdict(StrEnum):
    """What follows from a check."""

    GOOD = "in range"
    AGAIN = "back one grade"
    SMOOTH = "finer than asked"
    UNKNOWN = "no range to judge by"


@dataclass(frozen=True, slots=True)
class Judgement:
    """A verdict with its reason."""

    verdict: Verdict
    reason: str


def judge(recipe: Recipe, check: FinishCheck) -> Judgement:
    """Compare a check with the recipe's range; raises InputError when it says nothing."""
    if any(not reading > 0 for reading in check.readings_uin):
        raise input_error(
            f"A roughness of lot {check.lot} is not above zero: enter readings in µin Ra.",
            subject=check.lot,
        )
    if not check.readings_uin and check.seen is None:
        raise input_error(
            f"The record of lot {check.lot} is empty: enter readings or what was seen.",
            subject=check.lot,
        )
    if check.seen is Seen.MARKS or check.seen is Seen.UNEVEN:
        return Judgement(Verdict.AGAIN, f"seen: {check.seen.value}")
    return _by_readings(recipe, check)


def _by_readings(recipe: Recipe, check: FinishCheck) -> Judgement:
    if not check.readings_uin:
        return Judgement(Verdict.GOOD, "seen: good")
    low, high = recipe.ra_low_uin, recipe.ra_high_uin
    mean, worst = fmean(check.readings_uin), max(check.readings_uin)
    said = f"{mean:.0f} µin Ra on average, {worst:.0f} at most"
    if low is None and high is None:
        return Judgement(Verdict.UNKNOWN, f"{said}; {recipe.name} gives no range")
    if high is not None and worst > high:
        return Judgement(Verdict.AGAIN, f"{said}, above {high:g}")
    if low is not None and mean < low:
        return Judgement(Verdict.SMOOTH, f"{said}, below {low:g}")
    return Judgement(Verdict.GOOD, said)


def rework_recipe(recipe: Recipe, surface: Surface, reached: int | None = None) -> Recipe | None:
    """The recipe of a lot that goes back one grade: what was done, then once more from the grade
    before the last one to the end.

    `reached` is the place, from 1, of the last step done among the steps that this surface
    needs; None for all. None is returned when the recipe has no passes for the surface.
    Raises InputError for a place that none of these steps has.
    """
    steps = [_only(step, surface) for step in recipe.steps if step.passes.get(surface, 0) > 0]
    if not steps:
        return None
    last = len(steps) if reached is None else reached
    if not 1 <= last <= len(steps):
        raise input_error(
            f"{recipe.name} has {len(steps)} steps for {surface.value} tube, so step {last} "
            "cannot have been the last one done.",
            subject=recipe.name,
        )
    first, *rest = steps[max(0, last - 2) :]
    back = first.model_copy(update={"again": True})
    name = f"{recipe.name}{AGAIN} {first.grade.label}"
    return recipe.model_copy(update={"name": name, "steps": (*steps[:last], back, *rest)})


def _only(step: RecipeStep, surface: Surface) -> RecipeStep:
    return step.model_copy(update={"passes": {surface: step.passes[surface]}})
