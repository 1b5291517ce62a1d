"""Lots chosen one by one against merged ones and the best window of due days, on generated weeks.

`python -m tests.benchmarks.lots [--lines N] [--specs N] [--weeks N] [--seed S] [--seconds T]
[--tight T] [--people]` prints three rows a week, `merged`, `window` and `lot by lot`:
cost and floor in dollars (material, changeovers and lateness as the shop prices them; the floor
is of the material and changeovers of those lots), seconds, lots, weighted minutes late,
changeover minutes, material; and the means. `--tight` is the share of the finisher's hours
before the last due date that the work takes.
"""

from __future__ import annotations

import argparse
import random
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from statistics import mean
from time import perf_counter

from planner.choosing import LAST_SHARE, LOOKS_SHARE, TRIES_SHARE, Chosen, choose
from planner.drafts import Desk, by_cents, cost_cents, draft
from planner.engines import Cutter, Engines, Orderer
from planner.known_order import listed, places_of
from planner.lots import windowed
from planner.options import LotPolicy
from planner.orders import EndCut, OrderLine, Step
from planner.schedule import Term
from planner.shop import Person
from planner.tube import Family
from planner.windows import looks, wished
from tests.trade import a_die, a_line, a_saddle, a_spec, bent, cut
from tests.week import MONDAY, a_desk, a_week_shop, some_stock

ODS = ("3/4", "1", "1-1/4", "1-1/2", "1-5/8", "2")
KINDS = ((Family.STAINLESS, "304"), (Family.STAINLESS, "316"), (Family.CARBON, "1020"))
PEOPLE = (
    Person(name="Ana", stations=("Finisher", "Saw")),
    Person(name="Bo", stations=("Finisher", "Saw", "Notcher")),
    Person(name="Cy", stations=("Bender", "Notcher", "Bench", "Saw")),
    Person(name="Di", stations=("Finisher", "Bender", "Bench", "Notcher")),
)
SHIFT_MIN = 480
HEAD = f"{'week':<20}{'value $':>10}{'floor $':>10}{'seconds':>9}{'lots':>6}{'late':>7}{'chg':>6}"


@dataclass(frozen=True)
class Row:
    """What one way of forming lots came to."""

    value: float
    floor: float
    seconds: float
    lots: int
    late: int
    changeover: int
    material: float


def a_week(lines: int, specs: int, seed: int, tight: float, people: bool, seconds: float) -> Desk:
    """Order lines of a few tube specs, due on the days that it takes to finish them all."""
    dice = random.Random(seed)
    tubes = [a_spec(od, family=family, grade=grade) for od in ODS for family, grade in KINDS]
    tubes = dice.sample(tubes, specs)
    work = [_drawn(dice, number, tubes[dice.randrange(specs)]) for number in range(lines)]
    shop = a_week_shop(
        people=PEOPLE if people else (),
        tools=tuple(a_die(od, "4-1/2", name=f"{od} die") for od in ODS),
    )
    stock = some_stock(tubes)
    loose = a_desk(work, stock, shop, lots=LotPolicy.AUTO, seconds=seconds, seed=seed)
    busy = _finisher_minutes(loose) / SHIFT_MIN / tight
    due = [_due(dice.uniform(min(1.0, busy), busy)) for _ in work]
    work = [line.model_copy(update={"due": day}) for line, day in zip(work, due, strict=True)]
    return a_desk(work, stock, shop, lots=LotPolicy.AUTO, seconds=seconds, seed=seed)


def _drawn(dice: random.Random, number: int, spec: object) -> OrderLine:
    kind, length = dice.random(), str(dice.randint(20, 70))
    shape: dict[str, object] = {"shape": cut(length)}
    if kind < 0.3:
        shape = {"shape": bent((12, 90, 4.5), 20)}
    elif kind < 0.6:
        shape |= {"ends": (a_saddle("2"), EndCut())}
    weight = dice.choice((1, 1, 1, 2, 3))
    quantity = dice.choice((2, 4, 6, 10, 20, 40, 60))
    return a_line(order=str(100 + number), spec=spec, quantity=quantity, weight=weight, **shape)


def _due(day: float) -> datetime:
    """The end of a shift; weekends are left out."""
    whole = int(day)
    start = datetime(MONDAY.year, MONDAY.month, MONDAY.day, 15, 30)
    return start + timedelta(days=whole + 2 * (whole // 5))


def _finisher_minutes(desk: Desk) -> int:
    groups = windowed(desk.free, desk.blanks, desk.due_min, None)
    made = draft(desk, groups, Engines().cutter(desk.options).quick)
    return sum(
        operation.alternatives[0].minutes
        for operation in made.operations
        if operation.step == Step.FINISH
    )


Choose = Callable[[Desk, Cutter, Orderer, Engines], Chosen]


def merged(desk: Desk, cutter: Cutter, orderer: Orderer, engines: Engines) -> Chosen:
    """One lot for each kind, as `--lots merge` makes them."""
    options = desk.options.model_copy(update={"lots": LotPolicy.MERGE})
    return choose(replace(desk, options=options), cutter, orderer, engines)


def by_window(desk: Desk, cutter: Cutter, orderer: Orderer, engines: Engines) -> Chosen:
    """The best window with all that is spent on lots otherwise."""
    ways = dict.fromkeys(wished(desk))
    share = (LOOKS_SHARE + TRIES_SHARE) / len(ways)
    best = min(looks(desk, ways, cutter.quick, orderer, share, engines), key=by_cents)
    made = draft(desk, best.groups, cutter.thorough)
    start = listed(made, places_of(best.draft, best.settled.turns))
    return Chosen(made, orderer.whole(made.problem, LAST_SHARE, start))


def run(desk: Desk, choice: Choose) -> Row:
    """Choose lots and plan them."""
    began, engines = perf_counter(), Engines()
    cutter, order = engines.cutter(desk.options), engines.orderer(desk.options)
    chosen = choice(desk, cutter, order, engines)
    made, result = chosen.draft, chosen.result
    floor = sum(one.floor_cents for one in made.cut.cut_lists)
    floor += result.floor(Term.CHANGEOVER) * desk.shop.house.minute_cents
    return Row(
        value=cost_cents(desk, made, result.figures) / 100,
        floor=floor / 100,
        seconds=perf_counter() - began,
        lots=len(made.lots),
        late=result.figures.terms[Term.LATENESS],
        changeover=result.figures.terms[Term.CHANGEOVER],
        material=made.material_cents / 100,
    )


def main() -> None:
    """Run what the options ask for."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--lines", type=int, default=40)
    parser.add_argument("--specs", type=int, default=6)
    parser.add_argument("--weeks", type=int, default=3)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=8.0)
    parser.add_argument("--tight", type=float, default=0.8)
    parser.add_argument("--people", action="store_true")
    asked = parser.parse_args()
    print(f"{HEAD}{'tube $':>10}")
    ways: dict[str, Choose] = {"merged": merged, "window": by_window, "lot by lot": choose}
    rows: dict[str, list[Row]] = {name: [] for name in ways}
    for seed in range(asked.seed, asked.seed + asked.weeks):
        desk = a_week(asked.lines, asked.specs, seed, asked.tight, asked.people, asked.seconds)
        for name, choice in ways.items():
            rows[name].append(run(desk, choice))
            _show(f"{seed} {name}", rows[name][-1])
    for name, found in rows.items():
        _show(f"mean {name}", Row(*(mean(c) for c in zip(*map(_numbers, found), strict=True))))


def _numbers(row: Row) -> tuple[float, ...]:
    return tuple(getattr(row, name) for name in Row.__dataclass_fields__)


def _show(name: str, row: Row) -> None:
    print(
        f"{name:<20}{row.value:>10.2f}{row.floor:>10.2f}{row.seconds:>9.1f}{row.lots:>6.0f}"
        f"{row.late:>7.0f}{row.changeover:>6.0f}{row.material:>10.2f}",
        flush=True,
    )


if __name__ == "__main__":
    main()
