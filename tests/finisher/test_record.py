"""The finish record: ranges, verdicts, and the passes of a lot that goes back one grade."""

import pytest

from planner.abrasives import parse_grade
from planner.errors import InputError
from planner.finisher.record import (
    FinishCheck,
    Seen,
    Verdict,
    judge,
    rework_recipe,
)
from planner.shop import Recipe, RecipeStep
from planner.tube import Surface


def a_recipe(*labels: str, low: float | None = 20, high: float | None = 45) -> Recipe:
    steps = tuple(
        RecipeStep(
            grade=parse_grade(label).grade,
            passes={Surface.SCALED: 2, Surface.BRIGHT: 0 if label == "P80" else 1},
        )
        for label in labels or ("P80", "P120", "P180")
    )
    return Recipe(name="satin", steps=steps, ra_low_uin=low, ra_high_uin=high)


def a_check(*readings: float, seen: Seen | None = None) -> FinishCheck:
    return FinishCheck("L4", readings, seen)


@pytest.mark.parametrize(
    ("check", "verdict"),
    [
        (a_check(28, 33, 40), Verdict.GOOD),
        (a_check(28, 33, 60), Verdict.AGAIN),
        (a_check(12, 15), Verdict.SMOOTH),
        (a_check(28, seen=Seen.MARKS), Verdict.AGAIN),
        (a_check(seen=Seen.UNEVEN), Verdict.AGAIN),
        (a_check(seen=Seen.GOOD), Verdict.GOOD),
    ],
)
def test_a_check_is_judged_by_the_recipes_range_and_by_eye(
    check: FinishCheck, verdict: Verdict
) -> None:
    assert judge(a_recipe(), check).verdict is verdict


def test_without_a_range_there_is_no_verdict_from_numbers() -> None:
    found = judge(a_recipe(low=None, high=None), a_check(30))
    assert found.verdict is Verdict.UNKNOWN
    assert "gives no range" in found.reason


@pytest.mark.parametrize(
    ("low", "high", "reading", "verdict"),
    [
        (None, 45, 46, Verdict.AGAIN),
        (None, 45, 1, Verdict.GOOD),
        (20, None, 19, Verdict.SMOOTH),
        (20, None, 400, Verdict.GOOD),
        (20, 45, 45, Verdict.GOOD),
        (20, 45, 20, Verdict.GOOD),
    ],
)
def test_a_range_may_be_open_at_one_end_and_its_ends_are_within_it(
    low: float | None, high: float | None, reading: float, verdict: Verdict
) -> None:
    assert judge(a_recipe(low=low, high=high), a_check(reading)).verdict is verdict


@pytest.mark.parametrize("check", [a_check(), a_check(0), a_check(-3), a_check(float("nan"))])
def test_an_entry_that_says_nothing_is_refused(check: FinishCheck) -> None:
    with pytest.raises(InputError):
        judge(a_recipe(), check)


def labels(recipe: Recipe | None) -> list[str]:
    assert recipe is not None
    return [("again " if step.again else "") + step.grade.label for step in recipe.steps]


def test_a_lot_out_of_range_goes_back_one_grade() -> None:
    again = rework_recipe(a_recipe(), Surface.SCALED)
    assert labels(again) == ["P80", "P120", "P180", "again P120", "P180"]
    assert again is not None
    assert again.name == "satin, again from P120"


def test_in_the_middle_of_a_recipe_it_goes_back_and_on_to_the_end() -> None:
    again = rework_recipe(a_recipe(), Surface.SCALED, reached=2)
    assert labels(again) == ["P80", "P120", "again P80", "P120", "P180"]


def test_steps_that_the_surface_does_not_need_are_not_gone_back_to() -> None:
    again = rework_recipe(a_recipe(), Surface.BRIGHT, reached=1)
    assert labels(again) == ["P120", "again P120", "P180"]
    assert rework_recipe(a_recipe(), Surface.POLISHED) is None


def test_a_step_that_cannot_have_been_reached_is_refused() -> None:
    with pytest.raises(InputError, match="cannot have been"):
        rework_recipe(a_recipe(), Surface.BRIGHT, reached=3)
