"""The audit as a whole: a real plan holds, and names that mean nothing are found first."""

from __future__ import annotations

from datetime import date

import pytest
from pydantic import ValidationError

from planner.advice import LotsTried
from planner.audit import assert_plan_valid, audit
from planner.errors import AuditError, Finding, Severity
from planner.options import Options
from planner.orders import Step
from planner.records import Plan
from tests.audit.edits import (
    breaches,
    edited,
    lot_of,
    operation_of,
    with_blank,
    with_lot,
    with_operation,
    with_shop,
    with_slot,
    with_stick,
)
from tests.audit.weeks import a_plan

SAW = operation_of("1187/7", Step.SAW)


def test_a_plan_that_was_made_holds() -> None:
    assert audit(a_plan()) == ()


def test_the_week_of_these_tests_has_all_that_can_go_wrong() -> None:
    plan = a_plan()
    assert {operation.step for operation in plan.operations} == set(Step)
    assert plan.late
    assert plan.buy
    assert any(lot.saw_first for lot in plan.lots)
    assert any(stick.finished for cut_list in plan.cut_lists for stick in cut_list.sticks)


def test_a_plan_that_does_not_hold_is_refused_with_every_breach() -> None:
    broken = with_slot(SAW, run=7)
    with pytest.raises(AuditError, match="run 7 of Saw") as refused:
        assert_plan_valid(broken)
    assert refused.value.findings == audit(broken)


def without(part: str) -> Plan:
    return a_plan().model_copy(update={part: getattr(a_plan(), part)[1:]})


def doubled(part: str) -> Plan:
    records = getattr(a_plan(), part)
    return a_plan().model_copy(update={part: (*records, records[0])})


@pytest.mark.parametrize("part", ["blanks", "lots", "cut_lists", "slots", "done"])
def test_a_record_that_is_missing_is_found(part: str) -> None:
    assert "has no" in breaches(without(part), 0)


@pytest.mark.parametrize(
    "part",
    ["orders", "blanks", "stock", "lots", "cut_lists", "operations", "slots", "done", "late"],
)
def test_a_record_that_is_there_twice_is_found(part: str) -> None:
    assert "is there 2 times" in breaches(doubled(part), 0)


@pytest.mark.parametrize("part", ["recipes", "belts", "rails"])
def test_a_name_of_the_shop_that_is_there_twice_is_found(part: str) -> None:
    records = getattr(a_plan().shop, part)
    text = breaches(with_shop(**{part: (*records, records[0])}), 0)
    assert f"{records[0].name}: {part.removesuffix('s')} is there 2 times" in text


def test_work_of_a_line_that_is_of_the_lot_or_of_another_lot_is_found() -> None:
    bend = operation_of("1187/3", Step.BEND)
    for line in (None, "1187/7"):
        text = breaches(with_operation(bend, line=line), 0)
        assert f"{bend}: bend is no work of {line}" in text
    assert f"{SAW}: saw is no work of 1187/7" in breaches(with_operation(SAW, line="1187/7"), 0)


def test_a_lot_without_operations_is_found() -> None:
    lot, other = lot_of("1187/7"), lot_of("1187/1")
    plan = edited(a_plan(), "operations", lambda one: one.lot == lot, lot=other)
    assert f"{lot}: has no operation" in breaches(plan, 0)


def test_two_ways_at_one_station_are_found() -> None:
    plan = with_operation(SAW, alternatives=lambda one: one.alternatives * 2)
    assert f"{SAW}: has two ways at one station" in breaches(plan, 0)


def test_a_line_that_is_planned_and_refused_is_found() -> None:
    plan = a_plan().model_copy(update={"refused": a_plan().orders[:1]})
    assert "order line is there 2 times" in breaches(plan, 0)


def test_a_line_that_is_refused_without_a_word_is_found() -> None:
    line = a_plan().orders[0].model_copy(update={"order": "999"})
    plan = a_plan().model_copy(update={"refused": (line,)})
    assert "999/1: is refused, and no finding says why" in breaches(plan, 0)
    told = Finding(severity=Severity.ERROR, message="No tube.", subject="999/1")
    assert audit(plan.model_copy(update={"findings": (told,)})) == ()


def test_a_name_that_means_nothing_is_found() -> None:
    assert "no order line of that name" in breaches(
        with_lot(lot_of("1187/1"), lines=("1187/99",)), 0
    )
    assert "no person of that name" in breaches(with_slot(SAW, people=("Zoe",)), 0)
    assert "no operation of that name" in breaches(with_operation(SAW, after=("L9",)), 0)
    assert "no recipe of that name" in breaches(with_lot(lot_of("1187/1"), recipe="mirror"), 0)


def with_one_more(part: str, field: str, value: object) -> Plan:
    """A copy of a record in which one field names what is not in the plan."""
    records = getattr(a_plan(), part)
    other = records[0].model_copy(update={field: value})
    return a_plan().model_copy(update={part: (*records, other)})


@pytest.mark.parametrize(
    ("part", "field", "what"),
    [
        ("blanks", "line", "order line"),
        ("operations", "line", "order line"),
        ("done", "line", "order line"),
        ("late", "line", "order line"),
        ("cut_lists", "lot", "lot"),
        ("operations", "lot", "lot"),
        ("buy", "stock", "stock item"),
        ("slots", "operation", "operation"),
        ("slots", "station", "station"),
        ("ledger", "station", "station"),
        ("cards", "station", "station"),
    ],
)
def test_a_record_of_what_is_not_in_the_plan_is_found(part: str, field: str, what: str) -> None:
    text = breaches(with_one_more(part, field, "Nemo"), 0)
    assert f"Nemo: is named in the plan, but there is no {what} of that name" in text


def test_a_name_in_a_list_that_is_not_in_the_plan_is_found() -> None:
    way = a_plan().operations[0].alternatives[0].model_copy(update={"station": "Nemo"})
    tried = LotsTried(
        lots=("L77",), instead=(("9/9",),), cost_cents=1, material_cents=1, changeover_min=0,
        late_min=0,
    )  # fmt: skip
    assert "no operation of that name" in breaches(with_one_more("cards", "operations", ("L9",)), 0)
    assert "no station of that name" in breaches(
        with_one_more("operations", "alternatives", (way,)), 0
    )
    text = breaches(a_plan().model_copy(update={"lots_tried": (tried,)}), 0)
    assert "L77: is named in the plan, but there is no lot of that name" in text
    assert "9/9: is named in the plan, but there is no order line of that name" in text


def test_a_slot_where_its_operation_cannot_be_done_is_found() -> None:
    assert "none of its own" in breaches(with_slot(SAW, station="Bender"), 0)


def test_a_cut_list_without_sticks_is_found() -> None:
    plan = edited(a_plan(), "cut_lists", lambda one: one.lot == lot_of("1187/1"), sticks=())
    assert "has no stick" in breaches(plan, 0)


@pytest.mark.parametrize("steps", [(Step.FINISH,), (Step.FINISH, Step.SAW, Step.FINISH)])
def test_a_blank_that_is_not_sawn_or_has_a_step_twice_is_found(steps: tuple[Step, ...]) -> None:
    assert "do not name the saw, or one of them twice" in breaches(
        with_blank("1187/1", steps=steps), 0
    )


def test_a_shop_that_the_model_cannot_use_is_a_finding_and_no_crash() -> None:
    plan = a_plan().model_copy(update={"shop": a_plan().shop.model_copy(update={"wheels": ()})})
    assert "cannot be worked out again" in breaches(plan, 0)


def test_a_plan_of_nothing_is_no_plan() -> None:
    assert "plan: has no order line" in breaches(a_plan().model_copy(update={"orders": ()}), 0)


def test_a_lot_of_nothing_is_found() -> None:
    empty = a_plan().lots[0].model_copy(update={"key": "L99", "lines": ()})
    plan = a_plan().model_copy(update={"lots": (*a_plan().lots, empty)})
    assert "L99: has no order line" in breaches(plan, 0)


def test_a_stick_of_which_nothing_is_cut_is_found() -> None:
    tag = a_plan().cut_lists[0].sticks[0].tag
    assert f"{tag}: is a stick of a cut list, and no piece" in breaches(
        with_stick(tag, pieces=()), 0
    )


LAST = a_plan().options.days * 1440


@pytest.mark.parametrize(
    ("changes", "right"),
    [
        ({"end_min": LAST}, True),
        ({"end_min": LAST + 1}, False),
        ({"start_min": -1}, False),
        ({"setup_start_min": -1}, False),
        ({"setup_min": 10**20}, False),
        ({"pieces": ((430, 10**13),)}, False),
    ],
)
def test_work_on_days_that_the_plan_does_not_have_is_found(
    changes: dict[str, object], right: bool
) -> None:
    text = breaches(with_slot(SAW, **changes), 0)
    assert (f"{SAW}: is not within the plan's 28 days" not in text) == right


def test_numbers_that_cannot_be_worked_with_are_a_finding_and_no_crash() -> None:
    far = a_plan().options.model_copy(update={"start": date(9999, 12, 30)})
    plan = a_plan().model_copy(update={"options": far})
    assert "cannot be worked out again" in breaches(plan, 0)


def test_what_is_no_number_is_refused_before_it_is_audited() -> None:
    text = a_plan().model_dump_json().replace('"pace":1.0', '"pace":Infinity', 1)
    with pytest.raises(ValidationError, match="finite number"):
        Plan.model_validate_json(text)
    with pytest.raises(ValidationError, match="less than or equal to 3650"):
        Options(start=date(2027, 3, 1), days=3651)
