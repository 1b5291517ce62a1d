"""The two search engines as a plan uses them: budgets, stop, workers and progress in one place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from planner import cutlist, schedule
from planner.drafts import Order
from planner.errors import Finding, NoPlanError, Severity
from planner.options import Options
from planner.stop import Status, Stop

CUT_SHARE = 0.25
"""Share of a plan's budget that the cut lists may take."""
GLANCE = 0.05
"""Nominal seconds for the first look at a cut list, which proves most of them."""

Report = Callable[[str, float, str], None]
"""Told the stage, how much of it is done (0 to 1), and a few words on the best so far."""


def silent(stage: str, done: float, words: str) -> None:
    """A report that nobody reads."""


class Cutter:
    """Cut lists within one budget: a quick look at any number of problems, and thorough work
    on those of the lots that were chosen. Every distinct problem is looked at once."""

    def __init__(self, engines: Engines, options: Options) -> None:
        self._engines, self._seed = engines, options.seed
        self._left = CUT_SHARE * options.seconds
        self._known: dict[cutlist.Problem, cutlist.Result] = {}

    def quick(self, problems: Sequence[cutlist.Problem]) -> list[cutlist.Result]:
        """Cut lists after a short look each, proven or not."""
        self._engines.report("cut lists", 0.0, "")
        for problem in problems:
            if problem not in self._known:
                self._known[problem] = cutlist.solve(
                    problem, self._engines.stop, self._seed, GLANCE
                )
        return [self._known[problem] for problem in problems]

    def thorough(self, problems: Sequence[cutlist.Problem]) -> list[cutlist.Result]:
        """Cut lists with what the budget has left for those that the quick look left open."""
        results = dict(zip(problems, self.quick(problems), strict=True))
        still = [problem for problem, result in results.items() if result.status in UNFINISHED]
        if still and self._left > GLANCE:
            deeper = cutlist.solve_all(
                still,
                self._engines.stop,
                self._seed,
                work=self._left,
                workers=self._engines.workers,
                progress=self._tell,
            )
            self._left -= sum(result.work for result in deeper)
            for problem, result in zip(still, deeper, strict=True):
                if result.cost_cents <= results[problem].cost_cents:
                    self._known[problem] = result
        return [self._known[problem] for problem in problems]

    def _tell(self, closed: int, groups: int) -> None:
        words = f"{closed} of {groups} that were open are proven"
        self._engines.report("cut lists", closed / groups, words)


NAMED = 3
"""Operations beyond the plan's days that a refusal names; of the others it says how many."""
UNFINISHED = (Status.GAP, Status.LIMIT)


@dataclass(frozen=True, slots=True)
class Engines:
    """How the searches run. The result depends on the options alone, never on the workers."""

    stop: Stop = field(default_factory=Stop)
    workers: int = 1
    report: Report = silent

    def cutter(self, options: Options) -> Cutter:
        """Solves cut-list problems within the plan's budget for them."""
        return Cutter(self, options)

    def orderer(self, options: Options) -> Order:
        """Orders a week with a share of the budget."""

        def order(problem: schedule.Problem, share: float) -> schedule.Result:
            try:
                return schedule.solve(
                    problem,
                    self.stop,
                    options.seed,
                    seconds=(1 - CUT_SHARE) * options.seconds * share,
                    progress=lambda step: self.report("run order", step.done, ""),
                )
            except NoPlanError as refused:
                raise NoPlanError(_of_the_week(refused, problem, options.days)) from refused

        return order


def _of_the_week(refused: NoPlanError, problem: schedule.Problem, days: int) -> tuple[Finding, ...]:
    """Why there is no run order: one finding for all that ends beyond the plan's days."""
    no_limit = {one.key for one in problem.operations if one.latest_end_min is None}
    beyond = [finding for finding in refused.findings if finding.subject in no_limit]
    others = [finding for finding in refused.findings if finding.subject not in no_limit]
    if not beyond:
        return tuple(others)
    named = ", ".join(str(finding.subject) for finding in beyond[:NAMED])
    more = f" and {len(beyond) - NAMED} more" if len(beyond) > NAMED else ""
    text = (
        f"The week does not fit into its {days} days: {named}{more} would end later. Give more "
        "hours or people, plan fewer order lines, or allow more days."
    )
    return (Finding(severity=Severity.ERROR, message=text, sheet="Hours"), *others)
