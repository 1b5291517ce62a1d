"""Whatever single value of what comes out is changed, the audit says that the plan does not hold.

Each field is changed in its first, middle and last record, to the next number, another text, or a
value that stands elsewhere in the same field; a list loses its last item or has it twice.
"""

from __future__ import annotations

import copy
import json
from collections.abc import Iterator
from functools import cache
from typing import Any, cast

import pytest
from pydantic import ValidationError

from planner.audit import audit
from planner.errors import has_errors
from planner.records import Plan
from tests.audit.weeks import a_plan

Path = tuple[str | int, ...]

OUT = (
    "blanks", "lots", "cut_lists", "operations", "slots", "cards", "done", "late", "buy",
    "ledger", "yardsticks", "floors", "status",
)  # fmt: skip
FREE = {
    "blanks.*.terms.*.what": "the name of a length, but for grip and trim",
    "cut_lists.*.stage": "how the search ended",
    "cut_lists.*.sticks.*.tag": "a name, which only must be there once",
    "cut_lists.*.sticks.*.pieces.*.tag": "a name, which only must be there once",
    "floors.*.basis": "words of the search",
    "floors.*.floor": "a claim of the search, not above the value",
    "late.*.chain": "may tell less",
    "late.*.reason": "a sentence on what was tried",
    "slots.*.held_by": "a sentence on what the search met",
    "yardsticks": "orders of the week that are not in the plan",
    "yardsticks.*.name": "orders of the week that are not in the plan",
    "yardsticks.*.late_lines": "orders of the week that are not in the plan",
    "yardsticks.*.late_min": "orders of the week that are not in the plan",
    "yardsticks.*.weighted_late_min": "orders of the week that are not in the plan",
}
"""What the audit takes on trust, and why."""


@cache
def document() -> dict[str, Any]:
    found: dict[str, Any] = json.loads(a_plan().model_dump_json())
    return found


def at(place: Path, of: Any) -> Any:
    for step in place:
        of = of[step]
    return of


def pattern(place: Path) -> str:
    return ".".join("*" if isinstance(step, int) else step for step in place)


def steps(value: Any) -> list[str | int]:
    """The indices of a list, the names of an object."""
    if isinstance(value, list):
        return list(range(len(cast("list[object]", value))))
    return list(cast("dict[str, object]", value)) if isinstance(value, dict) else []


def places() -> dict[str, list[Path]]:
    found: dict[str, list[Path]] = {}

    def walk(value: Any, place: Path) -> None:
        found.setdefault(pattern(place), []).append(place)
        for step in steps(value):
            walk(value[step], (*place, step))

    for part in OUT:
        walk(document()[part], (part,))
    return found


PLACES = places()


def others(value: Any, same: list[Any]) -> Iterator[Any]:
    """What may stand in place of a value; `same` is what stands in other records."""
    if isinstance(value, bool):
        yield not value
    elif isinstance(value, int):
        yield from (value + 1, value - 1)
    elif isinstance(value, list) and value:
        yield from (value[:-1], [*value, value[-1]])
    elif isinstance(value, str):
        yield f"{value}x"
    yield from (each for each in same if each != value)


def tried(name: str) -> Iterator[tuple[Path, Any]]:
    found = PLACES[name]
    for place in {found[0], found[len(found) // 2], found[-1]}:
        same = [at(other, document()) for other in (found[0], found[-1])]
        yield from ((place, other) for other in others(at(place, document()), same))


def is_refused(place: Path, value: Any) -> bool:
    changed = copy.deepcopy(document())
    at(place[:-1], changed)[place[-1]] = value
    try:
        plan = Plan.model_validate(changed)
    except ValidationError:
        return True
    return has_errors(audit(plan))


@pytest.mark.parametrize("name", [name for name in PLACES if name not in FREE])
def test_a_value_that_is_changed_is_refused(name: str) -> None:
    for place, value in tried(name):
        assert is_refused(place, value), (place, at(place, document()), value)


@pytest.mark.parametrize("name", FREE)
def test_what_is_taken_on_trust_is_not_refused(name: str) -> None:
    assert not all(is_refused(place, value) for place, value in tried(name))
