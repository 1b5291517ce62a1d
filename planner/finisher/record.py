"""The finish record: what was measured or seen on a lot, and what follows from it.

No standard defines a finish by a single roughness (neither ASTM A480 nor EN 10088-2), so a
recipe has a range, and what a belt usually leaves is a range too: published figures, µin Ra,
widened to their neighbours. A lot out of its range goes back one grade.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from statistics import fmean

from planner.errors import input_error
from planner.shop import Recipe, RecipeStep
from planner.tube import Surface

UIN_PER_UM = 39.37007874

USUAL_RA_UIN: tuple[tuple[float, float, float], ...] = (
    (201.0, 52.0, 100.0),
    (125.0, 42.0, 80.0),
    (100.0, 30.0, 52.0),
    (82.0, 20.0, 42.0),
    (58.5, 12.0, 30.0),
    (46.2, 8.0, 20.0),
)
"""Grain in µm, and the roughness that a belt of it leaves, from and to, µin Ra: the published
80 · 70, 120 · 52, 150 · 42, 180 · 30 to 32, 240 · 15 to 20 and 320 · 10 to 12, each widened."""


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
    """The passes for a lot that goes back one grade, as a recipe of its own.

    `reached` is the place, from 1, of the last step done among the steps that this surface
    needs; None for all. It begins with the grade before that and goes on to the recipe's end.
    None when the recipe has no passes for the surface.
    """
    steps = [step for step in recipe.steps if step.passes.get(surface, 0) > 0]
    if not steps:
        return None
    last = len(steps) if reached is None else reached
    if not 1 <= last <= len(steps):
        raise input_error(
            f"{recipe.name} has {len(steps)} steps for {surface.value} tube, so step {last} "
            "cannot have been the last one done.",
            subject=recipe.name,
        )
    again = tuple(_only(step, surface) for step in steps[max(0, last - 2) :])
    name = f"{recipe.name}, again from {again[0].grade.label}"
    return recipe.model_copy(update={"name": name, "steps": again})


def _only(step: RecipeStep, surface: Surface) -> RecipeStep:
    return step.model_copy(update={"passes": {surface: step.passes[surface]}})


def usual_range_uin(micron: float) -> tuple[float, float] | None:
    """What a belt of this grain usually leaves, µin Ra; None outside the published grades."""
    coarsest, finest = USUAL_RA_UIN[0][0], USUAL_RA_UIN[-1][0]
    if not finest <= micron <= coarsest:
        return None
    nearest = min(USUAL_RA_UIN, key=lambda row: abs(row[0] - micron))
    return nearest[1], nearest[2]


def doubtful_range(recipe: Recipe) -> str | None:
    """A sentence when a recipe asks of its last belt what such a belt does not usually leave."""
    if recipe.ra_high_uin is None or not recipe.steps:
        return None
    last = recipe.steps[-1].grade
    usual = usual_range_uin(last.micron)
    if usual is None or recipe.ra_high_uin >= usual[0]:
        return None
    return (
        f"{recipe.name} asks for at most {recipe.ra_high_uin:g} µin Ra, and {last.label} usually "
        f"leaves {usual[0]:g} to {usual[1]:g}: add a finer belt or widen the range."
    )
