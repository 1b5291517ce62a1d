"""Which lines share a lot: windows, single changes, and never for more than merged lots cost."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from random import Random

import pytest

from planner.audit import audit
from planner.choosing import Chosen, choose
from planner.drafts import Desk, OrderedDraft, cost_cents, draft
from planner.engines import Engines, Orderer
from planner.errors import NoPlanError
from planner.lots import Grouping, windowed
from planner.options import LotPolicy
from planner.orders import OrderLine
from planner.plan import Plan, make_plan
from planner.regrouping import LotByLot
from planner.schedule import Problem, Settled, Term, Turns
from planner.stop import Stop
from planner.tube import TubeSpec
from planner.windows import as_far_as_tube_goes, looks, wished
from planner_io.workbook import read_workbook
from tests.trade import a_line, a_spec, a_stick, cut
from tests.week import a_desk, a_week_shop, options

DEMO_ORDERS = Path(__file__).parent.parent / "demo_orders"
INCH_AND_A_HALF, TWO_INCH = a_spec(), a_spec("2")


def line(order: str, spec: TubeSpec, day: int, quantity: int = 1, weight: int = 1) -> OrderLine:
    """Pieces of a little less than half a stick, due at 15:00 on a day of December."""
    due = datetime(2026, 12, day, 15)
    return a_line(
        order=order, spec=spec, quantity=quantity, shape=cut("110"), due=due, weight=weight
    )


def a_mixed_week() -> list[OrderLine]:
    """Of one tube, an odd piece on Tuesday and one on Friday that fit one stick; of another, an
    urgent piece on Tuesday and three days of work for Friday."""
    return [
        line("1", INCH_AND_A_HALF, 1),
        line("2", INCH_AND_A_HALF, 4),
        line("3", TWO_INCH, 1, weight=10),
        line("4", TWO_INCH, 4, quantity=361),
    ]


BEST: Grouping = (("1/1", "2/1"), ("3/1",), ("4/1",))


def desk_of(lines: list[OrderLine], policy: LotPolicy = LotPolicy.AUTO) -> Desk:
    stock = [
        a_stick(spec, "20'", key=f"stick {spec.od_nm}") for spec in (INCH_AND_A_HALF, TWO_INCH)
    ]
    shop = a_week_shop()
    house = shop.house.model_copy(update={"remnant_share": 0.0})
    shop = shop.model_copy(update={"house": house})
    return a_desk(lines, stock, shop, lots=policy, seconds=2.0)


def chosen(desk: Desk, engines: Engines | None = None, order: Orderer | None = None) -> Chosen:
    engines = engines or Engines()
    cutter = engines.cutter(desk.options)
    return choose(desk, cutter, order or engines.orderer(desk.options), engines)


def groups_of(found: Chosen) -> Grouping:
    return tuple(lot.lines for lot in found.draft.lots)


def cost_of(desk: Desk, found: Chosen) -> float:
    return cost_cents(desk, found.draft, found.result.figures)


def as_merged(desk: Desk) -> Chosen:
    """What `--lots merge` comes to with the same seconds."""
    asked = desk.options.model_copy(update={"lots": LotPolicy.MERGE})
    return chosen(replace(desk, options=asked))


def costs(desk: Desk) -> Mapping[Grouping, float]:
    """What each window's draft costs after a full search, and the best grouping."""
    engines = Engines()
    cutter, order = engines.cutter(desk.options), engines.orderer(desk.options)
    ways = wished(desk)
    found: dict[Grouping, float] = {}
    for groups in (*ways, BEST):
        made = draft(desk, groups, cutter.quick)
        found[groups] = cost_cents(desk, made, order.whole(made.problem, 0.1).figures)
    return found


def test_lots_are_joined_and_split_one_by_one_where_no_window_is_best() -> None:
    desk = desk_of(a_mixed_week())
    by_cost = costs(desk)
    assert min(cost for groups, cost in by_cost.items() if groups != BEST) > by_cost[BEST]
    assert groups_of(chosen(desk)) == BEST


def lot_by_lot(desk: Desk) -> LotByLot:
    """All changes that two seconds allow, from the best grouping on."""
    engines = Engines()
    quick, order = engines.cutter(desk.options).quick, engines.orderer(desk.options)
    made = draft(desk, BEST, quick)
    best = OrderedDraft.of(desk, BEST, made, order.first(made.problem, 0.1))
    by_lot = LotByLot(desk, quick, order, best, 2.0)
    by_lot.run(engines)
    return by_lot


@pytest.fixture(scope="module")
def plan() -> Plan:
    desk = desk_of(a_mixed_week())
    return make_plan(list(desk.orders.values()), desk.rack.items, desk.shop, desk.options)


def test_the_plan_of_lots_chosen_one_by_one_passes_its_audit(plan: Plan) -> None:
    assert tuple(lot.lines for lot in plan.lots) == BEST
    assert audit(plan) == ()


def test_the_plan_says_what_other_lots_would_have_cost(plan: Plan) -> None:
    tried = {one.lots: one for one in plan.lots_tried}
    apart, together = tried["L01",], tried["L02", "L03"]
    assert apart.instead == (("1/1",), ("2/1",))
    assert apart.material_cents > 0
    assert together.instead == (("3/1", "4/1"),)
    assert together.late_min > 0
    assert all(one.cost_cents >= 0 for one in tried.values())
    house = plan.shop.house
    for one in tried.values():
        minutes = one.changeover_min * house.minute_cents
        cents = one.material_cents + minutes + one.late_min * house.late_cents_h / 60
        assert one.cost_cents == pytest.approx(cents, abs=1)


def test_lots_for_which_tube_is_short_are_not_told_as_another_way() -> None:
    """The two odd pieces fit the only stick there is; apart they would take two."""
    stock = [a_stick(INCH_AND_A_HALF, "20'", key="last", count=1), a_stick(TWO_INCH, "20'")]
    desk = a_desk(a_mixed_week(), stock, a_week_shop(), lots=LotPolicy.AUTO, seconds=2.0)
    apart = (("1/1",), ("2/1",))
    assert [one.undone for one in lot_by_lot(desk).tried if one.instead == apart] == [1]
    plan = make_plan(list(desk.orders.values()), stock, desk.shop, desk.options)
    assert apart not in [one.instead for one in plan.lots_tried]
    assert plan.lots_tried


def test_what_other_lots_add_to_the_tube_is_told(plan: Plan) -> None:
    desk = desk_of(a_mixed_week())
    quick = Engines().cutter(desk.options).quick
    cost = draft(desk, BEST, quick).material_cents
    tried = {one.lots: one for one in plan.lots_tried}
    apart = (("1/1",), ("2/1",), *BEST[1:])
    together = (BEST[0], ("3/1", "4/1"))
    assert tried["L01",].material_cents == draft(desk, apart, quick).material_cents - cost
    assert tried["L02", "L03"].material_cents == draft(desk, together, quick).material_cents - cost


def test_only_what_was_tried_is_said_to_be_kept() -> None:
    said: list[str] = []
    engines = Engines(announce=lambda _stage, _done, words: said.append(words))
    chosen(desk_of(a_mixed_week()), engines)
    found = [re.fullmatch(r"(\d+) of (\d+) changes tried are kept", words) for words in said]
    counts = [(int(match[1]), int(match[2])) for match in found if match]
    assert counts[-1][0] >= 1
    assert all(k2 - k1 <= t2 - t1 for (k1, t1), (k2, t2) in pairwise([(0, 0), *counts]))


def test_a_name_that_is_not_in_the_plan_fails_the_audit(plan: Plan) -> None:
    wrong = plan.lots_tried[0].model_copy(update={"lots": ("L99",)})
    breaches = audit(plan.model_copy(update={"lots_tried": (wrong,)}))
    assert [breach.subject for breach in breaches] == ["L99"]


def test_the_choice_costs_no_more_than_the_best_window() -> None:
    desk = a_desk(seconds=2.0)
    engines = Engines()
    cutter, order = engines.cutter(desk.options), engines.orderer(desk.options)
    found = looks(desk, wished(desk), cutter.quick, order, 0.03, engines)
    assert cost_of(desk, chosen(desk)) <= min(one.cents for one in found)


@pytest.mark.parametrize(
    ("policy", "window"), [(LotPolicy.MERGE, None), (LotPolicy.BY_DUE_DATE, 1)]
)
def test_other_policies_keep_to_their_window(policy: LotPolicy, window: int | None) -> None:
    desk = desk_of(a_mixed_week(), policy)
    found = chosen(desk)
    assert groups_of(found) == windowed(desk.free, desk.blanks, desk.due_min, window)
    assert found.tried == ()


def test_a_week_with_one_line_of_each_tube_leaves_nothing_to_choose() -> None:
    desk = desk_of([line("1", INCH_AND_A_HALF, 1), line("3", TWO_INCH, 1)])
    assert groups_of(chosen(desk)) == (("1/1",), ("3/1",))


@pytest.mark.parametrize("policy", LotPolicy)
def test_tube_that_is_short_for_a_lot_is_cut_for_the_line_that_comes_first(
    policy: LotPolicy,
) -> None:
    lines = [line("1", INCH_AND_A_HALF, 1), line("2", INCH_AND_A_HALF, 1, quantity=8)]
    other = line("3", TWO_INCH, 1)
    stock = [a_stick(INCH_AND_A_HALF, "20'", key="few", count=4), a_stick(TWO_INCH, "20'")]
    asked = options(seconds=1.0, lots=policy)
    plan = make_plan([*lines, other], stock, a_week_shop(), asked)
    assert [one.key for one in plan.orders] == ["1/1", "3/1"]
    assert [one.key for one in plan.refused] == ["2/1"]


def test_lines_leave_a_lot_one_after_the_other_until_there_is_tube_for_the_rest() -> None:
    """Two pieces to a stick, and five sticks: the third line leaves for want of tube, what it would
    have taken does for the fourth."""
    quantities = {"1": 2, "2": 4, "3": 8, "4": 2}
    lines = [line(order, INCH_AND_A_HALF, int(order), many) for order, many in quantities.items()]
    stock = [a_stick(INCH_AND_A_HALF, "20'", key="few", count=5)]
    desk = a_desk(lines, stock, a_week_shop(), lots=LotPolicy.MERGE)
    (merged,) = wished(desk)
    quick = Engines().cutter(desk.options).quick
    apart = (("1/1", "2/1"), ("3/1",), ("4/1",))
    assert as_far_as_tube_goes(desk, merged, quick) == apart
    plan = make_plan(lines, stock, a_week_shop(), options(seconds=0.5, lots=LotPolicy.MERGE))
    assert [one.key for one in plan.refused] == ["3/1"]


def test_a_stop_request_ends_the_choice_with_merged_lots() -> None:
    stop = Stop()
    stop.ask()
    desk = desk_of(a_mixed_week())
    found = chosen(desk, Engines(stop))
    assert groups_of(found) == windowed(desk.free, desk.blanks, desk.due_min, None)
    assert found.tried == ()


class AsksToStop(Orderer):
    """Asks to stop once it has ordered a first draft."""

    def __init__(self, engines: Engines, desk: Desk) -> None:
        super().__init__(engines, desk.options)
        self.stop, self.ordered = engines.stop, 0

    def first(self, problem: Problem, share: float) -> Settled:
        self.ordered += 1
        self.stop.ask()
        return super().first(problem, share)


def test_a_stop_request_while_windows_are_tried_ends_them() -> None:
    desk, engines = desk_of(a_mixed_week()), Engines()
    order = AsksToStop(engines, desk)
    found = chosen(desk, engines, order)
    assert order.ordered == 1
    assert groups_of(found) == windowed(desk.free, desk.blanks, desk.due_min, None)


def test_tube_that_is_short_for_the_only_lot_is_cut_for_the_line_that_comes_first() -> None:
    lines = [line("1", INCH_AND_A_HALF, 1), line("2", INCH_AND_A_HALF, 1, quantity=8)]
    stock = [a_stick(INCH_AND_A_HALF, "20'", key="few", count=4)]
    plan = make_plan(lines, stock, a_week_shop(), options(seconds=1.0))
    assert [one.key for one in plan.orders] == ["1/1"]
    assert [one.key for one in plan.refused] == ["2/1"]


def test_where_no_line_can_be_cut_the_first_refusal_is_told() -> None:
    lines = [line(str(n), INCH_AND_A_HALF, 1, quantity=8) for n in (1, 2)]
    stock = [a_stick(INCH_AND_A_HALF, "20'", key="few", count=2)]
    with pytest.raises(NoPlanError, match="1/1"):
        make_plan(lines, stock, a_week_shop(), options(seconds=1.0))


def test_parts_that_cost_less_than_their_lot_are_no_reason_to_split_it() -> None:
    """The 304 tube of the demo week, of which a quick look cuts two lots for more than the halves
    that it proves: each can be cut like its halves, so nothing is gained by splitting it."""
    week = read_workbook(DEMO_ORDERS / "usual.xlsx")
    lines = [line for line in week.orders if line.spec.grade == "304"]
    material: dict[LotPolicy, int] = {}
    for policy in (LotPolicy.MERGE, LotPolicy.AUTO):
        asked = options(seconds=3.0, lots=policy)
        plan = make_plan(lines, week.stock, week.shop, asked)
        material[policy] = sum(one.cost_cents for one in plan.cut_lists)
    assert material[LotPolicy.AUTO] <= material[LotPolicy.MERGE]


def a_random_week(seed: int, seconds: float) -> Desk:
    """Forty lines of the demo week."""
    week = read_workbook(DEMO_ORDERS / "usual.xlsx")
    drawn = sorted(Random(seed).sample(list(week.orders), 40), key=lambda line: line.key)
    return a_desk(drawn, week.stock, week.shop, lots=LotPolicy.AUTO, seconds=seconds)


@pytest.mark.parametrize(("seed", "seconds"), [(1, 1.0), (3, 0.5), (4, 1.0), (6, 1.0)])
def test_a_plan_costs_no_more_than_that_of_merged_lots(seed: int, seconds: float) -> None:
    desk = a_random_week(seed, seconds)
    found, merged = chosen(desk), as_merged(desk)
    assert cost_of(desk, found) <= cost_of(desk, merged)
    if groups_of(found) == groups_of(merged):
        assert found.result.figures.levels <= merged.result.figures.levels


def test_where_nothing_is_gained_the_plan_is_that_of_merged_lots() -> None:
    """Two lines of a tube that are due together, of which nothing is late: cut as one they waste
    less."""
    pairs = [(INCH_AND_A_HALF, 2), (TWO_INCH, 3)]
    lines = [line(f"{spec.od_nm}-{n}", spec, day) for spec, day in pairs for n in (1, 2)]
    desk = desk_of(lines)
    found, merged = chosen(desk), as_merged(desk)
    assert found.draft == merged.draft
    assert found.result.placed == merged.result.placed


class Flatters(Orderer):
    """Says after each short search that more lots than one of each kind save 1,000 minutes: what a
    search finds by chance in one order and not in another, and much of it."""

    def __init__(self, engines: Engines, desk: Desk, merged: int) -> None:
        super().__init__(engines, desk.options)
        self.merged = merged
        """Operations of merged lots."""

    def short(self, problem: Problem, starts: Sequence[Turns], seconds: float) -> Settled:
        found = super().short(problem, starts, seconds)
        if len(problem.operations) <= self.merged:
            return found
        terms = {**found.figures.terms, Term.CHANGEOVER: -1_000}
        return Settled(replace(found.figures, terms=terms), found.turns)


def two_days_of_a_tube() -> Desk:
    """Odd pieces on two days that fit one stick together, and some of another tube."""
    days = [(INCH_AND_A_HALF, 3), (INCH_AND_A_HALF, 4), (TWO_INCH, 3), (TWO_INCH, 4)]
    return desk_of([line(str(n), spec, day) for n, (spec, day) in enumerate(days, start=1)])


def test_a_split_that_only_a_short_search_liked_is_undone_and_told() -> None:
    desk, engines = two_days_of_a_tube(), Engines()
    merged = as_merged(desk)
    order = Flatters(engines, desk, len(merged.draft.operations))
    found = chosen(desk, engines, order)
    assert groups_of(found) == groups_of(merged)
    assert found.result.placed == merged.result.placed
    dearest = found.tried[0]
    assert dearest.material_cents > 0
    assert dearest.cost_cents > 0
    assert len(dearest.instead) > len(dearest.lots)


class LooksLate(Orderer):
    """Merged lots look very late, so many times."""

    def __init__(self, engines: Engines, desk: Desk, merged: int, times: int) -> None:
        super().__init__(engines, desk.options)
        self.merged, self.times = merged, times

    def first(self, problem: Problem, share: float) -> Settled:
        found = super().first(problem, share)
        if len(problem.operations) > self.merged or not self.times:
            return found
        self.times -= 1
        terms = {**found.figures.terms, Term.LATENESS: 1_000_000}
        return Settled(replace(found.figures, terms=terms), found.turns)


def test_merged_lots_that_looked_late_are_put_in_the_order_found_for_others(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Without single changes, which would join the lots again one by one."""
    monkeypatch.setattr("planner.choosing.TRIES_SHARE", 0.0)
    desk, engines = two_days_of_a_tube(), Engines()
    merged = as_merged(desk)
    found = chosen(desk, engines, LooksLate(engines, desk, len(merged.draft.operations), 2))
    assert groups_of(found) == groups_of(merged)
    assert cost_of(desk, found) <= cost_of(desk, merged)


def test_merged_lots_that_a_longer_look_finds_on_time_are_planned_in_full() -> None:
    desk, engines = two_days_of_a_tube(), Engines()
    merged = as_merged(desk)
    order = LooksLate(engines, desk, len(merged.draft.operations), 1)
    found = chosen(desk, engines, order)
    assert order.times == 0
    assert found.result.placed == merged.result.placed
