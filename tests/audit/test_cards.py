"""Invariant 6 catches cards for other runs, and numbers that the shop's model does not give."""

from __future__ import annotations

from importlib.metadata import version

import pytest

from planner.audit import assert_plan_valid, audit
from planner.errors import Severity
from planner.orders import Step
from planner.records import Card, Plan, Setting
from tests.audit.edits import breaches, edited, operation_of
from tests.audit.weeks import a_plan

FINISH = operation_of("1187/1", Step.FINISH)


def found(plan: Plan) -> str:
    return breaches(plan, 6)


def with_card(**changes: object) -> Plan:
    return edited(a_plan(), "cards", lambda card: FINISH in card.operations, **changes)


def numbers() -> list[int]:
    """Places of the settings on the card that are numbers to set."""
    card = next(card for card in a_plan().cards if FINISH in card.operations)
    return [
        place
        for place, setting in enumerate(card.settings)
        if setting.length_nm is not None or setting.angle_mdeg is not None
    ]


def test_a_card_that_leaves_an_operation_out() -> None:
    plan = with_card(operations=())
    assert f"{FINISH}: is on 0 cards" in found(plan)


def test_a_card_for_another_run() -> None:
    assert "is on 0 cards of run" in found(with_card(run=99))


@pytest.mark.parametrize("place", numbers())
def test_a_number_on_a_card_that_is_wrong(place: int) -> None:
    def wrong(card: Card) -> tuple[Setting, ...]:
        right = card.settings[place]
        off = right.model_copy(
            update={
                "length_nm": None if right.length_nm is None else right.length_nm + 1,
                "angle_mdeg": None if right.angle_mdeg is None else right.angle_mdeg + 1,
            }
        )
        return (*card.settings[:place], off, *card.settings[place + 1 :])

    assert "where the model gives" in found(with_card(settings=wrong))


def test_a_setting_that_is_left_out() -> None:
    def shorter(card: Card) -> tuple[Setting, ...]:
        return card.settings[:-1]

    assert "it says nothing where the model gives" in found(with_card(settings=shorter))


def test_a_number_under_the_name_of_another() -> None:
    def renamed(card: Card) -> tuple[Setting, ...]:
        first, *others = card.settings
        return (first.model_copy(update={"name": others[0].name}), *others)

    assert "where the model gives" in found(with_card(settings=renamed))


def test_a_caution_that_is_left_out() -> None:
    assert "it lacks the caution: " in found(with_card(cautions=()))


def test_a_caution_in_place_of_another() -> None:
    def softer(card: Card) -> tuple[str, ...]:
        return (*card.cautions[:-1], "Mind the machine.")

    assert "it lacks the caution: Local codes" in found(with_card(cautions=softer))


def test_a_remark_that_is_left_out() -> None:
    plan = edited(a_plan(), "cards", lambda card: bool(card.remarks), remarks=())
    assert "it lacks the remark: " in found(plan)


def test_a_remark_and_a_caution_that_are_not_the_cards_own() -> None:
    def more_remarks(card: Card) -> tuple[str, ...]:
        return (*card.remarks, "All is well.")

    def more_cautions(card: Card) -> tuple[str, ...]:
        return (*card.cautions, "All is well.")

    text = found(with_card(remarks=more_remarks))
    assert "it has a remark that is not its own: All is well." in text
    text = found(with_card(cautions=more_cautions))
    assert "it has a caution that is not its own: All is well." in text


def test_a_word_on_a_setting_that_is_another() -> None:
    def bare(card: Card) -> tuple[Setting, ...]:
        return tuple(one.model_copy(update={"remark": ""}) for one in card.settings)

    assert "it lacks the word on a setting: " in found(with_card(settings=bare))


def test_cards_in_another_order() -> None:
    plan = a_plan().model_copy(update={"cards": a_plan().cards[::-1]})
    assert "are not one for each run and tilt, in their order" in found(plan)


def test_words_that_another_version_put_on_cards_are_warnings_that_say_so() -> None:
    plan = with_card(cautions=()).model_copy(update={"version": "0.0.1"})
    first, *others = audit(plan)
    assert f"by another version, brightrun 0.0.1; {version('brightrun')}, here" in first.message
    assert [one.message for one in others] == [one.message for one in audit(with_card(cautions=()))]
    assert {one.severity for one in (first, *others)} == {Severity.WARNING}
    assert_plan_valid(plan)


def test_numbers_on_cards_of_another_version_are_errors_all_the_same() -> None:
    def shorter(card: Card) -> tuple[Setting, ...]:
        return card.settings[:-1]

    plan = with_card(settings=shorter, cautions=())
    found = audit(plan.model_copy(update={"version": "0.0.1"}))
    assert {one.severity for one in found} == {Severity.ERROR}


def test_words_of_the_same_version_are_errors() -> None:
    found = audit(with_card(cautions=()))
    assert found
    assert {one.severity for one in found} == {Severity.ERROR}
