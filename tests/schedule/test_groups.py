"""Where merge moves lead."""

from __future__ import annotations

from planner.schedule import Alternative, Base, Operation, Problem, Rule, Station
from planner.schedule.compiled import compile_problem
from planner.schedule.groups import make_groups

RULES = (Rule("belt", 6), Rule("family", 20), Rule("od", 18))


def groups_of_first(*states: tuple[str, str, str]) -> list[list[int]]:
    """Members of each group of the first operation, when these are mounted one by one."""
    attributes = [rule.attribute for rule in RULES]
    compiled = compile_problem(
        Problem(
            bases=(Base("finisher", RULES),),
            stations=(Station("finisher"),),
            operations=tuple(
                Operation(
                    str(i),
                    (Alternative("finisher", 10),),
                    dict(zip(attributes, state, strict=True)),
                )
                for i, state in enumerate(states)
            ),
            horizon_min=1000,
        )
    )
    groups, members, _ = make_groups(compiled)
    return [members[group] for group in groups[0]]


def test_work_that_differs_in_the_cheapest_attribute_alone_is_the_second_group() -> None:
    groups = groups_of_first(
        ("P80", "carbon", "38"),
        ("P80", "carbon", "38"),
        ("P120", "carbon", "38"),
        ("P80", "carbon", "42"),
        ("P80", "stainless", "38"),
    )
    assert groups[:2] == [[0, 1], [0, 1, 2]]


def test_work_that_mounts_what_no_other_does_still_goes_to_its_campaign() -> None:
    groups = groups_of_first(("P80", "carbon", "38"), ("P120", "carbon", "38"))
    assert groups[0] == [0, 1]
