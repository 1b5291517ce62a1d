"""The order of work on a part, as people write it.

>>> [str(step) for step in route("saw first").value]
['saw', 'finish', 'notch', 'bend']
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Final

from planner.orders import USUAL_ROUTE, Step
from planner.units.reading import refuse
from planner_io.workbook.cells import Parsed
from planner_io.workbook.names import find_name, plain_name

EXPECTED: Final = "usual, saw first, bend before notch, or steps such as saw, finish, notch, bend"

_USUAL = frozenset({"", "usual", "normal", "standard", "default", "std"})
_WORDS: Mapping[Step, tuple[str, ...]] = {
    Step.FINISH: (
        "finish",
        "finishing",
        "grind",
        "polish",
        "centreless",
        "centerless",
        "belt",
        "sand",
        "finisher",
    ),
    Step.SAW: ("saw", "sawing", "cut", "cutting", "cut to length"),
    Step.NOTCH: ("notch", "notching", "cope", "coping", "saddle", "fishmouth", "notcher"),
    Step.BEND: ("bend", "bending", "bender", "form"),
    Step.TOUCH_UP: ("touch up", "touchup", "hand finish", "bench"),
}
STEP_OF_WORD: Mapping[str, Step] = {
    plain_name(word): step for step, words in _WORDS.items() for word in words
}
"""Every word for a step, as `plain_name` writes it."""
_STEP_WORD = "|".join(
    sorted((word.replace(" ", "[ -]") for word in STEP_OF_WORD), key=len, reverse=True)
)
_FIRST = re.compile(rf"({_STEP_WORD})(?:s|es|ning|ing)? first")
_BEFORE = re.compile(rf"({_STEP_WORD})\w* before ({_STEP_WORD})\w*")
_AFTER = re.compile(rf"({_STEP_WORD})\w* after ({_STEP_WORD})\w*")
_BETWEEN = re.compile(r"\s*(?:,|;|>|→|/|\+|\bthen\b|\band\b)\s*")
_BLANKS = re.compile(r"(?:as|in) blanks|blanks first")


def route(value: str) -> Parsed[tuple[Step, ...]]:
    """The steps in the order that a text names; those left out come where they usually do.

    Any order is read, also one that the shop cannot work in. Raises InputError for other text.
    """
    words = " ".join(value.lower().replace("-", " ").split())
    if plain_name(words) in _USUAL:
        return Parsed(USUAL_ROUTE)
    clauses = _clauses(words)
    if clauses is not None:
        return Parsed(clauses)
    parts = [part for part in _BETWEEN.split(words) if part]
    if len(parts) == 1 and plain_name(parts[0]) not in STEP_OF_WORD:
        parts = words.split()
    steps = [match.value for part in parts if (match := find_name(part, STEP_OF_WORD))]
    if not steps or len(steps) != len(parts):
        raise refuse(value, EXPECTED)
    if len(set(steps)) != len(steps):
        raise refuse(value, EXPECTED, "a step stands twice")
    return Parsed(tuple(steps))


def _clauses(words: str) -> tuple[Step, ...] | None:
    """`saw first`, `bend before notch`, `finish after saw`, or several of them."""
    steps: list[Step] = list(USUAL_ROUTE)
    found = False
    if match := _FIRST.search(words):
        steps = _moved(steps, _step(match[1]), 0)
        found = True
    elif _BLANKS.search(words):
        steps = _moved(steps, Step.SAW, 0)
        found = True
    pairs = [(match[1], match[2]) for match in _BEFORE.finditer(words)]
    pairs += [(match[2], match[1]) for match in _AFTER.finditer(words)]
    for one, other in pairs:
        early, late = _step(one), _step(other)
        if early in steps and late in steps:
            found = True
            if steps.index(early) > steps.index(late):
                steps = _moved(steps, late, steps.index(early))
    return tuple(steps) if found else None


def _step(word: str) -> Step:
    return STEP_OF_WORD[plain_name(word)]


def _moved(steps: list[Step], step: Step, index: int) -> list[Step]:
    rest = [other for other in steps if other != step]
    return [*rest[:index], step, *rest[index:]]
