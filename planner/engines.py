"""The two search engines as a plan uses them: budgets, stop, workers and progress in one place."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from planner import cutlist, schedule
from planner.cutting import Solve
from planner.drafts import Order
from planner.options import Options
from planner.stop import Stop

CUT_SHARE = 0.25
"""Share of a plan's budget that the cut lists may take."""

Report = Callable[[str, float, str], None]
"""Told the stage, how much of it is done (0 to 1), and a few words on the best so far."""


def silent(stage: str, done: float, words: str) -> None:
    """A report that nobody reads."""


@dataclass(frozen=True, slots=True)
class Engines:
    """How the searches run. The result depends on the options alone, never on the workers."""

    stop: Stop = field(default_factory=Stop)
    workers: int = 1
    report: Report = silent

    def cutter(self, options: Options) -> Solve:
        """Solves sets of cut-list problems, each distinct one once."""
        known: dict[cutlist.Problem, cutlist.Result] = {}

        def solve(problems: Sequence[cutlist.Problem]) -> list[cutlist.Result]:
            new = [problem for problem in dict.fromkeys(problems) if problem not in known]
            self.report("cut lists", 0.0, "")
            results = cutlist.solve_all(
                new,
                work=CUT_SHARE * options.seconds,
                seed=options.seed,
                workers=self.workers,
                stop=self.stop,
            )
            known.update(zip(new, results, strict=True))
            return [known[problem] for problem in problems]

        return solve

    def orderer(self, options: Options) -> Order:
        """Orders a week with a share of the budget."""

        def order(problem: schedule.Problem, share: float) -> schedule.Result:
            return schedule.solve(
                problem,
                self.stop,
                options.seed,
                seconds=(1 - CUT_SHARE) * options.seconds * share,
                progress=lambda step: self.report("run order", step.done, ""),
            )

        return order
