"""Set-up cards: what to set, in the order in which hands set it, and what to watch."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from planner.hours import when_minute
from planner.records import Card, Setting, Slot
from planner.shop import StationKind
from planner_io.views import standing, words
from planner_io.views.index import Index
from planner_io.views.pick_lists import Changeover, PickStep, pick_step
from planner_io.views.runs import Run, run


@dataclass(frozen=True)
class Line:
    """One setting: the number first, then what it is, the other unit and a remark."""

    number: str
    other: str
    name: str
    remark: str
    measured: bool
    """Whether the number is a length or an angle, and not words."""


@dataclass(frozen=True)
class SetUpCard:
    """One card."""

    station: str
    number: int
    """Counted from 1 at its station."""
    run: Run
    kind: StationKind
    start: str
    settings: tuple[Line, ...]
    remarks: tuple[str, ...]
    cautions: tuple[str, ...]
    care: tuple[str, ...]
    """How to hold the tube; before that, of what stood still, how far it is."""
    changeover: Changeover | None
    steps: tuple[PickStep, ...]
    following: str
    """The station's next step after this card and when it starts; empty after the last."""


def set_up_cards(index: Index) -> tuple[SetUpCard, ...]:
    """All cards, in the order of the plan: by station and time."""
    return tuple(_card(index, *index.cards[card.operations[0]]) for card in index.plan.cards)


@dataclass(frozen=True)
class UsualCaution:
    """What at least half of a station's cards warn of, and which they are."""

    sentence: str
    cards: tuple[int, ...]
    """Their numbers; empty for all."""


def usual_cautions(found: Sequence[SetUpCard]) -> tuple[UsualCaution, ...]:
    """The usual cautions of a station's cards, those of all first; none where it has one card."""
    of = {each: [card.number for card in found if each in card.cautions] for each in _all(found)}
    usual = (
        UsualCaution(sentence, tuple(numbers) if len(numbers) < len(found) else ())
        for sentence, numbers in of.items()
        if len(numbers) > 1 and 2 * len(numbers) >= len(found)
    )
    return tuple(sorted(usual, key=lambda caution: bool(caution.cards)))


def _all(found: Sequence[SetUpCard]) -> Iterator[str]:
    return (sentence for card in found for sentence in card.cautions)


def _card(index: Index, number: int, card: Card) -> SetUpCard:
    slots = [index.slots[key] for key in card.operations]
    steps = tuple(pick_step(index, slot) for slot in slots)
    station = index.plan.shop.station(card.station)
    its_run = run(index, slots)
    return SetUpCard(
        station=card.station,
        number=number,
        run=its_run,
        kind=station.kind,
        start=when_minute(its_run.start_min, index.start),
        settings=tuple(_line(index, setting) for setting in card.settings),
        remarks=card.remarks,
        cautions=card.cautions,
        care=(
            *standing.rests(index, card.operations),
            *dict.fromkeys(step.care for step in steps if step.care),
        ),
        changeover=its_run.changeover,
        steps=steps,
        following=_following(index, slots[-1]),
    )


def _following(index: Index, last: Slot) -> str:
    of_station = index.by_station[last.station]
    at = of_station.index(last) + 1
    if at == len(of_station):
        return ""
    step = pick_step(index, of_station[at])
    card = f", card {step.card}" if step.card else ""
    start = when_minute(step.start_min, index.start)
    return f"{start}: step {step.number}, {step.tube} {step.material}, {step.what}{card}"


def _line(index: Index, setting: Setting) -> Line:
    is_length = setting.length_nm is not None
    named = [setting.value] if is_length and setting.value else []
    return Line(
        words.setting_number(setting, index.ruler),
        words.setting_other(setting, index.ruler),
        setting.name,
        " · ".join([*named, *filter(None, [setting.remark])]),
        words.is_measured(setting),
    )
