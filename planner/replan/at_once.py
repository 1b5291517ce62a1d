"""One thing at a time: what happened, put in order at each station and for each person."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import combinations

from planner.errors import Finding
from planner.held import Held, HeldWhy, Paused
from planner.progress import Progress
from planner.replan import guesses
from planner.replan.clock import Clock


@dataclass(frozen=True, slots=True)
class AtOnce:
    """What happened in the order of time, what contradicts itself in it, and what was guessed."""

    held: dict[str, Held]
    parts: list[Paused] = field(default_factory=list[Paused])
    """Of runs that stand still, or stood still before they went on."""
    wrong: list[Finding] = field(default_factory=list[Finding])
    guessed: list[Finding] = field(default_factory=list[Finding])


def in_order(
    held: Mapping[str, Held],
    told: Mapping[str, Progress],
    places: Mapping[str, str],
    clock: Clock,
    parts: Sequence[Paused] = (),
) -> AtOnce:
    """What happened, each changeover after the work before it on its station or base.

    `places` has the base of each station, or the station itself.
    """
    found = AtOnce(dict(held))
    here: dict[str, list[Held | Paused]] = defaultdict(list)
    happened: list[Held | Paused] = [*held.values(), *parts]
    for one in sorted(happened, key=lambda one: (one.start_min, one.end_min)):
        here[places.get(one.station, one.station)].append(one)
    for ones in here.values():
        for before, after in zip((None, *ones), ones, strict=False):
            _add(found, before, after, told, clock)
    _people(found, told, clock)
    by_time = sorted(found.held.values(), key=_by_time)
    return replace(found, held={one.operation: one for one in by_time})


def _add(
    found: AtOnce,
    before: Held | Paused | None,
    after: Held | Paused,
    told: Mapping[str, Progress],
    clock: Clock,
) -> None:
    """Note what was done after something else at its station, or as the first there."""
    if isinstance(before, Held):
        found.wrong.extend(_overlap(before, after, told, clock))
    if before and after.setup_start_min < before.end_min:
        update = {"setup_start_min": min(before.end_min, after.start_min)}
        after = after.model_copy(update=update)
    if isinstance(after, Held):
        found.held[after.operation] = after
    else:
        found.parts.append(after)


def _overlap(
    before: Held, after: Held | Paused, told: Mapping[str, Progress], clock: Clock
) -> Iterator[Finding]:
    """Two things at once at a station, where one of them is told."""
    row = told.get(after.operation) or told.get(before.operation)
    if before.end_min > after.start_min and row:
        at, until = clock.words(after.start_min), clock.words(before.end_min)
        fix = "correct the times, or give those of both"
        if after.operation not in told:
            fix = f"say open of {after.operation} if it has not begun, else when it did"
        elif before.why is HeldWhy.STARTED and before.operation in told:
            fix = f"say done of {before.operation} with its End, paused if it stands still"
        yield row.wrong(
            f"{after.station} cannot begin {after.operation} at {at} while {before.operation} "
            f"lasts until {until}: {fix}."
        )


def _people(found: AtOnce, told: Mapping[str, Progress], clock: Clock) -> None:
    """Nobody stays at two things that are running: where both are reported, whoever was to be
    at both is at the one that began later."""
    running = [
        one.operation
        for one in sorted(found.held.values(), key=_by_time)
        if one.why is HeldWhy.STARTED and clock.is_attended(one.station)
    ]
    for first, then in combinations(running, 2):
        one, other = found.held[first], found.held[then]
        rows = [told.get(then), told.get(first)]
        row = rows[0] or rows[1]
        both = sorted(set(one.people) & set(other.people))
        if both and all(rows):
            _apart(found, one, other, both, told)
        elif row and both:
            found.wrong.append(
                row.wrong(
                    f"{both[0]} was to run {one.operation} and {other.operation}, and cannot be at "
                    "both now: report what became of the other one too, done, paused or open."
                )
            )


def _apart(
    found: AtOnce, one: Held, other: Held, both: Sequence[str], told: Mapping[str, Progress]
) -> None:
    """Take people off one of two things that both run."""
    first, then = sorted((one, other), key=lambda held: (held.start_min, held.operation))
    others = tuple(name for name in first.people if name not in both)
    found.held[first.operation] = first.model_copy(update={"people": others})
    row = told[first.operation]
    found.guessed.append(guesses.is_at_the_later(row, first.operation, then.operation, both))


def _by_time(held: Held) -> tuple[int, int, str]:
    return held.setup_start_min, held.end_min, held.operation
