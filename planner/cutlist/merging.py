"""What an early and a late lot of one spec would save by sharing sticks."""

from __future__ import annotations

from dataclasses import dataclass, replace

from planner.cutlist.chain import solve
from planner.cutlist.problem import Problem, StockKind
from planner.cutlist.result import Fate, Result
from planner.errors import input_error
from planner.stop import Status, Stop


@dataclass(frozen=True, slots=True)
class MergeSaving:
    """Two lots cut apart, the early one first, against both cut at once.

    Apart, the late lot finds the stock that the early one left, and its kept drops.
    """

    early: Result
    late: Result
    merged: Result

    @property
    def is_possible(self) -> bool:
        """Whether both ways have a plan, so that they can be compared."""
        return all(r.status is not Status.NO_PLAN for r in (self.early, self.late, self.merged))

    @property
    def saving_cents(self) -> int:
        """What merging saves; below 0 when apart came out cheaper."""
        return self.early.cost_cents + self.late.cost_cents - self.merged.cost_cents

    @property
    def most_cents(self) -> int:
        """What merging could save at most, against these two cut lists."""
        return self.early.cost_cents + self.late.cost_cents - self.merged.bound_cents

    @property
    def sticks_sooner(self) -> int:
        """Sticks that the early lot must handle in addition when both are cut at once."""
        return len(self.merged.sticks) - len(self.early.sticks)


def merge_saving(
    early: Problem,
    late: Problem,
    stop: Stop | None = None,
    seed: int = 0,
    work: float = float("inf"),
) -> MergeSaving:
    """Solve both ways; raises InputError unless the two differ in their demands only."""
    if replace(early, demands=(), label="") != replace(late, demands=(), label=""):
        raise input_error(
            "only lots with the same stock, saw and recipe can share sticks: compare those",
            subject=f"{early.label}, {late.label}",
        )
    first = solve(early, stop, seed, work)
    second = solve(replace(late, stock=_stock_after(early, first)), stop, seed, work)
    both = replace(early, demands=early.demands + late.demands)
    return MergeSaving(first, second, solve(both, stop, seed, work))


def _stock_after(problem: Problem, result: Result) -> tuple[StockKind, ...]:
    """What is left to cut from: the sticks not used, and the kept drops as remnants."""
    taken = [0] * len(problem.stock)
    for pattern in result.patterns:
        taken[pattern.stock] += pattern.count
    left = [
        kind if kind.count is None else replace(kind, count=kind.count - used)
        for kind, used in zip(problem.stock, taken, strict=True)
    ]
    kept = [
        StockKind(
            label=f"drop of {problem.stock[pattern.stock].label}",
            length_nm=pattern.drop_nm,
            price_cents=pattern.credit_cents,
            count=pattern.count,
            is_remnant=True,
            is_finished=pattern.fate is Fate.FINISHED_REMNANT,
        )
        for pattern in result.patterns
        if pattern.fate in {Fate.REMNANT, Fate.FINISHED_REMNANT}
    ]
    return (*left, *kept)
