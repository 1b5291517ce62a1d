"""Routes are read in any words, and in any order, also one that cannot be worked."""

from __future__ import annotations

import pytest

from planner.errors import InputError
from planner.orders import Step
from planner_io.workbook.routes import STEP_OF_WORD, route


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("", "finish saw notch bend"),
        ("usual", "finish saw notch bend"),
        ("saw first", "saw finish notch bend"),
        ("Cut first", "saw finish notch bend"),
        ("as blanks", "saw finish notch bend"),
        ("bend before notch", "finish saw bend notch"),
        ("notch after bending", "finish saw bend notch"),
        ("saw first, bend before notch", "saw finish bend notch"),
        ("finish after bend", "saw notch bend finish"),
        ("saw, finish, notch, bend", "saw finish notch bend"),
        ("cut > polish > bend", "saw finish bend"),
        ("finish-saw-notch", "finish saw notch"),
        ("bend, finish", "bend finish"),
        ("finish; saw; touch-up", "finish saw touch-up"),
    ],
)
def test_a_route_is_read(text: str, steps: str) -> None:
    assert " ".join(route(text).value) == steps


@pytest.mark.parametrize("text", ["what", "saw, saw", "saw, fly", "42", "first"])
def test_other_words_are_refused(text: str) -> None:
    with pytest.raises(InputError, match="expected usual"):
        route(text)


def test_every_step_has_a_word() -> None:
    assert set(STEP_OF_WORD.values()) == set(Step)
