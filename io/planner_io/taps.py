"""What the floor can tap, and how far an operation is by its taps."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum

from planner.scrap import Scrap
from planner.shop import What


class TapKind(StrEnum):
    """What was tapped."""

    SET_UP = "set-up"
    START = "start"
    PAUSE = "pause"
    RESUME = "resume"
    DONE = "done"
    WHO = "who"
    """Others than planned do it."""
    BACK = "back"
    """The tap before it on this operation does not count."""


@dataclass(frozen=True)
class RunReport:
    """What a run really took, as it was entered when it was done."""

    pieces: int
    minutes: int
    """Minutes of the run, without changeover and pauses."""
    who: str = ""
    note: str = ""
    tilt_mdeg: int | None = None
    belt: str = ""
    spring: str = ""
    setups: tuple[tuple[What, int], ...] = ()
    """Minutes of the set-up by what was changed."""
    scrap: tuple[Scrap, ...] = ()
    """What does not go on to the next step."""


@dataclass(frozen=True)
class Tap:
    """One tap; `at` is by the server's clock, in the shop's local time."""

    token: str
    operation: str
    kind: TapKind
    at: datetime
    report: RunReport | None = None
    people: tuple[str, ...] = ()
    """Who does it, by a tap that says that."""


@dataclass(frozen=True)
class Stands:
    """How far an operation is."""

    set_up_at: datetime | None = None
    start_at: datetime | None = None
    done_at: datetime | None = None
    report: RunReport | None = None
    pauses: tuple[tuple[datetime, datetime | None], ...] = ()
    """From when until when the run stood still; no end while it does."""
    who: tuple[str, ...] = ()
    """Who does it, where somebody tapped that; else those who were planned."""

    @property
    def stretches(self) -> tuple[datetime, ...]:
        """When its run began, and each time that it went on."""
        ends = [end for _, end in self.pauses if end and end != self.done_at]
        return (self.start_at, *ends) if self.start_at else ()

    @property
    def paused_at(self) -> datetime | None:
        """Since when it stands still; None when it runs."""
        return self.pauses[-1][0] if self.pauses and self.pauses[-1][1] is None else None

    def running(self, until: datetime) -> tuple[tuple[datetime, datetime], ...]:
        """The spans from its start until then in which it did not stand still."""
        starts = [self.start_at or until, *(end or until for _, end in self.pauses)]
        ends = [*(start for start, _ in self.pauses), until]
        return tuple(zip(starts, ends, strict=True))

    @property
    def runs(self) -> bool:
        """Whether its run has begun and is not done, nor does it stand still."""
        return bool(self.start_at) and not self.done_at and not self.paused_at

    @property
    def begun(self) -> bool:
        """Whether its set-up or its run has begun, and it is not done."""
        return self.done_at is None and bool(self.set_up_at or self.start_at)

    def refusal(self, tap: Tap) -> str:
        """Why a tap does not fit; empty when it does."""
        if tap.kind is TapKind.BACK:
            nothing = not (self.set_up_at or self.start_at or self.done_at)
            return f"There is no tap on {tap.operation} to take back." if nothing else ""
        if self.done_at:
            return f"{tap.operation} is done already; take that back first."
        if tap.kind is TapKind.DONE:
            return self._cannot_end(tap)
        if tap.kind in (TapKind.PAUSE, TapKind.RESUME):
            return self._cannot_pause(tap)
        if tap.kind is TapKind.WHO:
            why = f"{tap.operation} has not been started: tap Start set-up or Start run first."
            return "" if self.begun else why
        return self._cannot_begin(tap)

    def _cannot_begin(self, tap: Tap) -> str:
        if self.paused_at:
            return f"{tap.operation} has been paused: tap Go on."
        if self.start_at:
            return f"{tap.operation} is running already."
        if tap.kind is TapKind.SET_UP and self.set_up_at:
            return f"The set-up of {tap.operation} has begun already."
        return ""

    def _cannot_pause(self, tap: Tap) -> str:
        if self.start_at is None:
            return f"{tap.operation} has not been started: tap Start run first."
        if (tap.kind is TapKind.PAUSE) == (self.paused_at is not None):
            how = "has been paused already" if self.paused_at else "is running already"
            return f"{tap.operation} {how}."
        return ""

    def _cannot_end(self, tap: Tap) -> str:
        if self.start_at is None:
            return f"{tap.operation} has not been started: tap Start run first."
        if tap.at < self.start_at:
            return f"{tap.operation} cannot end before it began."
        return ""


NOT_BEGUN = Stands()


def stands(taps: Iterable[Tap]) -> dict[str, Stands]:
    """How far each tapped operation is."""
    return {operation: _stands(of_it) for operation, of_it in counted(taps).items()}


def counted(taps: Iterable[Tap]) -> dict[str, list[Tap]]:
    """The taps on each operation that were not taken back."""
    found: dict[str, list[Tap]] = defaultdict(list)
    for tap in taps:
        if tap.kind is TapKind.BACK:
            found[tap.operation].pop()
        else:
            found[tap.operation].append(tap)
    return found


def _stands(taps: list[Tap]) -> Stands:
    at = {tap.kind: tap.at for tap in taps}
    report = next((tap.report for tap in taps if tap.report), None)
    done = at.get(TapKind.DONE)
    who = next((tap.people for tap in reversed(taps) if tap.people), ())
    start = at.get(TapKind.START)
    return Stands(at.get(TapKind.SET_UP), start, done, report, _pauses(taps, done), who)


def _pauses(taps: list[Tap], done: datetime | None) -> tuple[tuple[datetime, datetime | None], ...]:
    """A pause ends with the tap that ends it, or else with the run."""
    starts = [tap.at for tap in taps if tap.kind is TapKind.PAUSE]
    ends = [tap.at for tap in taps if tap.kind is TapKind.RESUME]
    return tuple(zip(starts, [*ends, done], strict=False))
