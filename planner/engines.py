"""The two search engines as a plan uses them: budgets, stop, workers and progress in one place."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Generator, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from functools import partial

from planner import cutlist, schedule
from planner.errors import Finding, InputError, NoPlanError, Severity
from planner.hours import when_minute
from planner.options import Options
from planner.stop import Status, Stop

CUT_SHARE = 0.25
"""Share of a plan's budget that the cut lists may take."""
GLANCE = 0.05
"""Nominal seconds for the first look at a cut list, which proves most of them."""
SECOND_LOOK = 0.2
"""The same for one that is not seen to cost less than its parts, which is odd: of the lots of the
demo week that the first look leaves open it proves most."""

Announce = Callable[[str, float, str], None]
"""Told the stage, how much of it is done (0 to 1), and a few words on the best so far."""


def silent(stage: str, done: float, words: str) -> None:
    """For searches whose progress nobody follows."""


class Cutter:
    """Cut lists within one budget: a quick look at any number of problems, and thorough work
    on those of the lots that were chosen. Every distinct problem is looked at once, and once
    more where the cut lists of its parts turn out to be cheaper than its own."""

    def __init__(self, engines: Engines, options: Options) -> None:
        self._engines, self._options, self._seed = engines, options, options.seed
        self._left = CUT_SHARE * options.seconds
        self._known: dict[cutlist.Problem, cutlist.Result] = {}
        self._parts = _Parts()

    def apart(self) -> Cutter:
        """One that knows what this one knows by now, and from then on learns for itself."""
        other = Cutter(self._engines, self._options)
        other.learn(self)
        return other

    def learn(self, other: Cutter) -> None:
        """Learn what another one knows to be cheaper."""
        for problem, found in other._known.items():
            mine = self._known.get(problem)
            if mine is None or found.cost_cents < mine.cost_cents:
                self._keep(problem, found)

    def quick(self, problems: Sequence[cutlist.Problem]) -> list[cutlist.Result]:
        """Cut lists after a short look each, proven or not."""
        self._engines.announce("cut lists", 0.0, "")
        return [self._look(problem) for problem in problems]

    def _look(self, problem: cutlist.Problem) -> cutlist.Result:
        """Lots of the same lines are one problem, whatever their names."""
        nameless = replace(problem, label="")
        known = self._known.get(nameless)
        if known and known.status not in UNFINISHED:
            return known
        start = self._parts.start(nameless, known)
        if known and not start:
            return known
        found = cutlist.solve(problem, self._engines.stop, self._seed, GLANCE, start)
        if start and found.status in UNFINISHED and found.cost_cents >= start.cost_cents:
            found = cutlist.solve(problem, self._engines.stop, self._seed, SECOND_LOOK, found)
        if found.status is not Status.NO_PLAN:
            self._keep(nameless, found)
        return found

    def _keep(self, nameless: cutlist.Problem, found: cutlist.Result) -> None:
        self._known[nameless] = found
        self._parts.learn(nameless, found)

    def thorough(self, problems: Sequence[cutlist.Problem]) -> list[cutlist.Result]:
        """Cut lists with what the budget has left for those that the quick look left open."""
        results = dict(zip(problems, self.quick(problems), strict=True))
        still = [problem for problem, result in results.items() if result.status in UNFINISHED]
        if still and self._left > GLANCE and not self._engines.stop():
            deeper = cutlist.solve_all(
                still,
                self._engines.stop,
                self._seed,
                work=self._left,
                workers=self._engines.workers,
                progress=self._tell,
                begun=[results[problem] for problem in still],
            )
            self._left -= sum(result.work for result in deeper)
            for problem, result in zip(still, deeper, strict=True):
                self._keep(replace(problem, label=""), result)
        return [self._look(problem) for problem in problems]

    def _tell(self, closed: int, groups: int) -> None:
        words = f"{closed} of {groups} that were open are proven"
        self._engines.announce("cut lists", closed / groups, words)


class _Parts:
    """The cheapest cut list known for each set of order lines, so that a lot can be begun from
    those of two parts of it."""

    def __init__(self) -> None:
        self._cheapest: dict[frozenset[str], tuple[cutlist.Problem, cutlist.Result]] = {}
        self._with: dict[str, list[frozenset[str]]] = defaultdict(list)
        """By line, the sets that it is in."""

    def learn(self, problem: cutlist.Problem, result: cutlist.Result) -> None:
        """Remember a cut list if none for the same lines is cheaper."""
        lines = _lines(problem)
        before = self._cheapest.get(lines)
        if before is None:
            for line in lines:
                self._with[line].append(lines)
        if before is None or result.cost_cents < before[1].cost_cents:
            self._cheapest[lines] = problem, result

    def start(self, whole: cutlist.Problem, known: cutlist.Result | None) -> cutlist.Result | None:
        """The cheapest two parts of a problem as one result to go on from, with the floor that is
        known; None where there are none that cost less than what is known."""
        found = [one for one in map(partial(cutlist.joined, whole), self._pairs(whole)) if one]
        best = min(found, key=lambda one: one.cost_cents, default=None)
        if best is None or known is None:
            return best
        floor = known.bound_cents
        return replace(best, bound_cents=floor) if best.cost_cents < known.cost_cents else None

    def _pairs(
        self, whole: cutlist.Problem
    ) -> Iterator[tuple[tuple[cutlist.Problem, cutlist.Result], ...]]:
        lines = _lines(whole)
        for part in self._with.get(whole.demands[0].key, ()):
            rest = lines - part
            if part < lines and rest in self._cheapest:
                yield self._cheapest[part], self._cheapest[rest]


def _lines(problem: cutlist.Problem) -> frozenset[str]:
    return frozenset(demand.key for demand in problem.demands)


NAMED = 3
"""Operations beyond the plan's days that a refusal names; of the others it says how many."""
UNFINISHED = (Status.GAP, Status.LIMIT)


@dataclass(frozen=True, slots=True)
class Engines:
    """How the searches run. The result depends on the options alone, never on the workers."""

    stop: Stop = field(default_factory=Stop)
    workers: int = 1
    announce: Announce = silent

    def cutter(self, options: Options) -> Cutter:
        """Solves cut-list problems within the plan's budget for them."""
        return Cutter(self, options)

    def orderer(self, options: Options) -> Orderer:
        """Orders weeks within the plan's budget for that."""
        return Orderer(self, options)


class Orderer:
    """Run orders: full searches with shares of one budget, and short ones near a known order."""

    def __init__(self, engines: Engines, options: Options) -> None:
        self._engines, self._options = engines, options
        self.seconds = (1 - CUT_SHARE) * options.seconds

    def whole(
        self, problem: schedule.Problem, share: float, start: schedule.Turns = ()
    ) -> schedule.Result:
        """A full search with a share of the budget, also from an order that is known already."""
        with self._refusing(problem):
            return schedule.solve(
                problem,
                self._engines.stop,
                self._options.seed,
                seconds=self.seconds * share,
                progress=lambda step: self._engines.announce("run order", step.done, ""),
                start=start,
                words=self._words,
            )

    def first(self, problem: schedule.Problem, share: float) -> schedule.Settled:
        """The order that a full search finds, and nothing more of it."""
        stop, seed = self._engines.stop, self._options.seed
        with self._refusing(problem):
            return schedule.order(
                problem, stop, seed, seconds=self.seconds * share, words=self._words
            )

    def short(
        self, problem: schedule.Problem, starts: Sequence[schedule.Turns], seconds: float
    ) -> schedule.Settled:
        """The best of known orders after a short search, of no seconds if need be."""
        stop, seed = self._engines.stop, self._options.seed
        return schedule.settle(problem, starts, stop, seed, seconds)

    @contextmanager
    def _refusing(self, problem: schedule.Problem) -> Generator[None]:
        """Say in the shop's words why there is no run order."""
        try:
            yield
        except NoPlanError as refused:
            findings = _of_the_week(refused, problem, self._options.days)
            raise NoPlanError(findings) from refused
        except InputError as unsound:
            raise InputError(_of_the_shop(unsound.findings)) from unsound

    def _words(self, minute: int) -> str:
        return when_minute(minute, self._options.start)


def _of_the_shop(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """As sentences for the shop: what is changed on a station goes by its own name, without the
    station's before it."""
    return tuple(finding.model_copy(update={"message": _sentence(finding)}) for finding in findings)


def _sentence(finding: Finding) -> str:
    words = finding.message.replace(f"{finding.subject}|", "")
    return f"{words[:1].upper()}{words[1:]}."


def _of_the_week(refused: NoPlanError, problem: schedule.Problem, days: int) -> tuple[Finding, ...]:
    """Why there is no run order: one finding for all that ends beyond the plan's days."""
    no_limit = {
        one.key for one in problem.operations if one.latest_end_min is None and one.fixed is None
    }
    beyond = [finding for finding in refused.findings if finding.subject in no_limit]
    rest = [finding for finding in refused.findings if finding.subject not in no_limit]
    others = _of_the_shop(rest)
    if not beyond:
        return others
    called = {one.key: one.called for one in problem.operations}
    named = ", ".join(called[str(finding.subject)] for finding in beyond[:NAMED])
    more = f" and {len(beyond) - NAMED} more" if len(beyond) > NAMED else ""
    text = (
        f"The week does not fit into its {days} days: {named}{more} would end later. Give more "
        "hours or people, plan fewer order lines, or allow more days."
    )
    return (Finding(severity=Severity.ERROR, message=text, sheet="Hours"), *others)
