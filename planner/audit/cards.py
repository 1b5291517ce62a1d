"""Invariant 6, on set-up cards: each run has its own, with the numbers that the shop's model gives.

A wrong number on a card ruins tube or hurts hands, so all of them are worked out again. That is
done only for a plan that holds otherwise, as the cards follow from everything else.
"""

from __future__ import annotations

from collections import Counter
from itertools import zip_longest

from planner.audit.facts import Breaches, Facts, breach
from planner.cards import Work, make_cards
from planner.records import Card, Setting
from planner.wiping import oiled_items


def check_card_places(facts: Facts) -> Breaches:
    """Operations that are not on just one card of their run."""
    on_cards = Counter(
        (card.station, card.run, key) for card in facts.plan.cards for key in card.operations
    )
    in_plan = Counter((slot.station, slot.run, slot.operation) for slot in facts.plan.slots)
    for station, run, key in sorted((on_cards - in_plan) | (in_plan - on_cards)):
        place = (station, run, key)
        text = (
            f"is on {on_cards[place]} cards of run {run} of {station}, {in_plan[place]} is right."
        )
        yield breach(6, key, text)


def check_card_numbers(facts: Facts) -> Breaches:
    """Cards with other numbers than the shop's model gives, in a plan that holds otherwise."""
    right = _right(facts)
    if [card.operations for card in facts.plan.cards] != [card.operations for card in right]:
        yield breach(6, "set-up cards", "are not one for each run and tilt, in their order.")
        return
    for said, real in zip(facts.plan.cards, right, strict=True):
        for given, setting in zip_longest(said.settings, real.settings):
            if _numbers(given) != _numbers(setting):
                text = f"it says {_words(given)} where the model gives {_words(setting)}."
                yield breach(6, _called(said), text)


def check_card_words(facts: Facts) -> Breaches:
    """Cards that lack a caution or a remark, or have another, in a plan that holds otherwise."""
    for said, right in zip(facts.plan.cards, _right(facts), strict=True):
        for what, lines, needed in (
            ("caution", said.cautions, right.cautions),
            ("remark", said.remarks, right.remarks),
            ("word on a setting", _on_settings(said), _on_settings(right)),
        ):
            lacking, strange = Counter(needed) - Counter(lines), Counter(lines) - Counter(needed)
            for line in lacking:
                yield breach(6, _called(said), f"it lacks the {what}: {line}")
            for line in strange:
                yield breach(6, _called(said), f"it has a {what} that is not its own: {line}")


def _on_settings(card: Card) -> tuple[str, ...]:
    """What is remarked on each setting."""
    return tuple(f"{each.name}: {each.remark}" for each in card.settings if each.remark)


def _right(facts: Facts) -> tuple[Card, ...]:
    """The cards that the plan should have."""
    work = Work(
        shop=facts.shop,
        orders=facts.orders,
        blanks=facts.blanks,
        lots=facts.lots,
        cut_lists=facts.cut_lists,
        oiled=oiled_items(facts.plan.stock),
        operations=facts.operations,
    )
    return tuple(make_cards(work, facts.plan.slots))


def _called(card: Card) -> str:
    return f"{card.station}, card of run {card.run}"


def _numbers(setting: Setting | None) -> tuple[str, int | None, int | None, str] | None:
    """What hands set, and to what."""
    if setting is None:
        return None
    return setting.name, setting.length_nm, setting.angle_mdeg, setting.value


def _words(setting: Setting | None) -> str:
    if setting is None:
        return "nothing"
    numbers = [f"{setting.length_nm} nm"] if setting.length_nm is not None else []
    if setting.angle_mdeg is not None:
        numbers.append(f"{setting.angle_mdeg / 1000:g}°")
    numbers += [setting.value] if setting.value else []
    return f"{setting.name}: {', '.join(numbers)}"
