"""How much of an issued plan moves when a rush line comes in the middle of the week.

`python -m tests.benchmarks.replan [--lots N] [--weeks N] [--seed S] [--seconds T] [--people]`
plans generated weeks of an invented shop, goes to Wednesday 10:30, and plans each week again:
once with nothing new, once with a rush line of one lot that is due the day after. One row each.
"""

from __future__ import annotations

import argparse
import random
from dataclasses import dataclass
from datetime import datetime
from time import perf_counter

from planner.audit import assert_plan_valid
from planner.options import LotPolicy, Options
from planner.orders import EndCut, OrderLine
from planner.plan import make_plan
from planner.records import Plan
from planner.replan import replan
from planner.shop import Person, Shop
from planner.tube import Family, TubeSpec
from tests.trade import a_die, a_line, a_saddle, a_spec, bent, cut
from tests.week import DAY, MONDAY, a_week_shop, some_stock

NOW = 2 * DAY + 630
ODS = ("3/4", "1", "1-1/4", "1-1/2", "1-5/8", "2")
KINDS = ((Family.STAINLESS, "304"), (Family.STAINLESS, "316"), (Family.CARBON, "1020"))
RUSH_WEIGHT = 5
PEOPLE = (
    Person(name="Ana", stations=("Finisher", "Saw")),
    Person(name="Bo", stations=("Finisher", "Saw", "Notcher")),
    Person(name="Cy", stations=("Bender", "Notcher", "Bench", "Saw")),
    Person(name="Di", stations=("Finisher", "Bender", "Bench", "Notcher")),
)
HEAD = (
    "seed lots operations open | moved changeover late | rush: moved moved_min_mean late rush_late "
    "changeover seconds"
)


@dataclass(frozen=True)
class Case:
    """A week to plan."""

    shop: Shop
    specs: tuple[TubeSpec, ...]
    orders: list[OrderLine]
    options: Options


def a_case(lots: int, seed: int, seconds: float, people: bool) -> Case:
    """One line a lot, due from Tuesday on, so that the finisher is busy for the week."""
    dice = random.Random(seed)
    specs = tuple(a_spec(od, family=family, grade=grade) for od in ODS for family, grade in KINDS)
    each = 600 // lots
    days = [1 + 4 * number // lots for number in range(lots)]
    lines = [
        a_line(
            order=str(100 + number),
            spec=dice.choice(specs),
            quantity=max(2, dice.randint(each, 3 * each)),
            due=datetime(2026, 12, 1 + min(3, day), 15, 30),
            **_shape(dice),
        )
        for number, day in enumerate(days)
    ]
    shop = a_week_shop(
        people=PEOPLE if people else (),
        tools=tuple(a_die(od, "4-1/2", name=f"{od} die") for od in ODS),
    )
    options = Options(start=MONDAY, seconds=seconds, seed=seed, lots=LotPolicy.BY_DUE_DATE)
    return Case(shop, specs, lines, options)


def _shape(dice: random.Random) -> dict[str, object]:
    kind = dice.random()
    if kind < 0.3:
        return {"shape": bent((12, 90, 4.5), 20)}
    if kind < 0.6:
        return {"shape": cut(str(dice.randint(20, 70))), "ends": (a_saddle("2"), EndCut())}
    return {"shape": cut(str(dice.randint(20, 70)))}


def a_rush(case: Case, seed: int) -> OrderLine:
    """Ten pieces of some tube, due on Thursday at noon."""
    dice = random.Random(f"rush {seed}")
    due = datetime(2026, 12, 3, 12, 0)
    return a_line(
        order="RUSH", spec=dice.choice(case.specs), quantity=10, due=due, weight=RUSH_WEIGHT,
        **_shape(dice),
    )  # fmt: skip


def again(case: Case, issued: Plan, orders: list[OrderLine]) -> tuple[Plan, float]:
    """The audited plan of the rest of the week, and the seconds that it took."""
    options = case.options.model_copy(update={"start_min": NOW})
    began = perf_counter()
    plan = replan(issued, orders, some_stock(case.specs), case.shop, options)
    took = perf_counter() - began
    assert_plan_valid(plan)
    return plan, took


def row(case: Case, seed: int) -> str:
    """The figures of one week."""
    issued = make_plan(case.orders, some_stock(case.specs), case.shop, case.options)
    assert_plan_valid(issued)
    same, _ = again(case, issued, case.orders)
    rush, seconds = again(case, issued, [*case.orders, a_rush(case, seed)])
    assert same.replan is not None
    assert rush.replan is not None
    open_ones = sum(slot.setup_start_min >= NOW for slot in issued.slots)
    shifts = [abs(m.after.start_min - m.before.start_min) for m in rush.replan.moved]
    mean = sum(shifts) / len(shifts) if shifts else 0
    rush_late = sum(late.late_min for late in rush.late if late.line == "RUSH/1")
    first, second, third = (plan.yardsticks[0] for plan in (issued, same, rush))
    return (
        f"{seed:4} {len(issued.lots):4} {len(issued.slots):6} {open_ones:5} | "
        f"{len(same.replan.moved):3} {first.changeover_min}→{second.changeover_min} "
        f"{first.late_min}→{second.late_min} | "
        f"{len(shifts):3} {mean:4.0f} {third.late_min} {rush_late} {third.changeover_min} "
        f"{seconds:.1f}"
    )


def main() -> None:
    """Print one row a week."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--lots", type=int, default=40)
    parser.add_argument("--weeks", type=int, default=3)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=8.0)
    parser.add_argument("--people", action="store_true")
    given = parser.parse_args()
    print(HEAD)
    for seed in range(given.seed, given.seed + given.weeks):
        print(row(a_case(given.lots, seed, given.seconds, given.people), seed), flush=True)


if __name__ == "__main__":
    main()
