"""Whatever single value of what comes out is changed, the audit says that the plan does not hold.

So it is in the first plan of a week, and in one that was planned again after something was lost.
Each field is changed in the first, middle and last record that says something there: to the next
number, another text, or a value that stands elsewhere in the same field; a list loses its last item
or has it twice.
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
from planner.confidence import Spreads
from planner.errors import has_errors
from planner.finisher.intervals import nothing_logged, with_likely
from planner.records import Plan
from planner.risk import with_risk
from tests.audit.test_lost import again as after_losses
from tests.audit.weeks import a_plan

Path = tuple[str | int, ...]

OUT = (
    "blanks", "lots", "cut_lists", "operations", "slots", "cards", "done", "late", "buy",
    "ledger", "yardsticks", "floors", "status",
)  # fmt: skip
ONLY_AGAIN = ("replan", "risk", "likely")
FREE = {
    "blanks.*.terms.*.what": "the name of a length, but for grip and trim",
    "cut_lists.*.stage": "how the search ended",
    "floors.*.basis": "words of the search",
    "floors.*.floor": "a claim of the search, not above the value",
    "late.*.chain": "may tell less",
    "late.*.reason": "a sentence on what was tried",
    "slots.*.held_by": "a sentence on what the search met",
    "yardsticks": "with how many other orders it is compared",
    "yardsticks.*.placings": "any order will do that comes to the same minutes and lateness",
    "yardsticks.*.name": "what another order is called, but for that by due date",
}
"""What the audit takes on trust, and why."""
FREE_AGAIN = {
    "replan.held.*.actual": "what the floor recorded may be as issued",
    "replan.held.*.note": "words of the planner",
    "replan.issued": "the plan that was issued is another one",
    "replan.issued.*.end_min": "the plan that was issued is another one",
    "replan.issued.*.setup_start_min": "the plan that was issued is another one",
    "replan.scrap": "what the floor said",
    "replan.scrap.*.operation": "what the floor said",
    "replan.scrap.*.pieces": "what the floor said",
    "risk.spreads.*.run": "nothing is drawn of a station without work",
    "risk.spreads.*.run_shared": "nothing is drawn of a station without work",
    "risk.spreads.*.setup": "nothing is drawn of a station without work",
    "risk.spreads.*.setup_shared": "nothing is drawn of a station without work",
}
"""The same of what only a week planned again has here."""


@cache
def document(again: bool) -> dict[str, Any]:
    plan = planned_again() if again else a_plan()
    found: dict[str, Any] = json.loads(plan.model_dump_json())
    return found


@cache
def planned_again() -> Plan:
    """The week of `test_lost`, with how sure it is."""
    plan = after_losses()
    return with_likely(with_risk(plan, Spreads(), 500), nothing_logged(plan.shop))


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


def places(again: bool) -> dict[str, list[Path]]:
    found: dict[str, list[Path]] = {}

    def walk(value: Any, place: Path) -> None:
        found.setdefault(pattern(place), []).append(place)
        for step in steps(value):
            walk(value[step], (*place, step))

    for part in ONLY_AGAIN if again else OUT:
        walk(document(again)[part], (part,))
    return found


PLACES = {again: places(again) for again in (False, True)}


def others(value: Any, same: list[Any]) -> Iterator[Any]:
    """What may stand in place of a value; `same` is what stands in other records."""
    if isinstance(value, bool):
        yield not value
    elif isinstance(value, int):
        yield from (value + 1, value - 1)
    elif isinstance(value, float):
        yield from (value + 0.01, value - 0.01)
    elif isinstance(value, list) and value:
        yield from (value[:-1], [*value, value[-1]])
    elif isinstance(value, str):
        yield f"{value}x"
    yield from (each for each in same if each != value)


def tried(name: str, again: bool) -> Iterator[tuple[Path, Any]]:
    whole = document(again)
    found = [place for place in PLACES[again][name] if at(place, whole)] or PLACES[again][name]
    for place in {found[0], found[len(found) // 2], found[-1]}:
        same = [at(other, whole) for other in (found[0], found[-1])]
        yield from ((place, other) for other in others(at(place, whole), same))


def is_refused(place: Path, value: Any, again: bool) -> bool:
    changed = copy.deepcopy(document(again))
    at(place[:-1], changed)[place[-1]] = value
    try:
        plan = Plan.model_validate(changed)
    except ValidationError:
        return True
    return has_errors(audit(plan))


EACH = [
    (name, again)
    for again in (False, True)
    for name in PLACES[again]
    if name not in FREE | FREE_AGAIN and any(tried(name, again))
]


@pytest.mark.parametrize(("name", "again"), EACH)
def test_a_value_that_is_changed_is_refused(name: str, again: bool) -> None:
    for place, value in tried(name, again):
        assert is_refused(place, value, again), (place, at(place, document(again)), value)


@pytest.mark.parametrize("name", FREE | FREE_AGAIN)
def test_what_is_taken_on_trust_is_not_refused(name: str) -> None:
    again = name in FREE_AGAIN
    assert not all(is_refused(place, value, again) for place, value in tried(name, again))
