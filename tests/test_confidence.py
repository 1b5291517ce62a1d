"""Plans at a chosen confidence: slower minutes, the same settings, and an audit that agrees."""

import pytest

from planner.audit import audit
from planner.confidence import Spread, Spreads, confident_shop, factor_at, minutes_at
from planner.plan import make_plan
from planner.records import Plan
from planner.risk import week_of
from planner.simulation import simulate
from tests.week import a_week_shop, options, some_orders, some_stock

SPREADS = Spreads(Spread(0.2, 0.3))


@pytest.mark.parametrize(
    ("confidence", "minutes"),
    # C: 100 · exp(z · 0.2) with z = 0, .8416, 1.6449 from the normal table, rounded up
    [(50, 100), (80, 119), (95, 139)],
)
def test_minutes_at_a_chosen_confidence(confidence: int, minutes: int) -> None:
    assert minutes_at(100, confidence, 0.2) == minutes
    assert factor_at(50, 0.2) == 1


def a_plan(confidence: int) -> Plan:
    shop = confident_shop(a_week_shop(), confidence, SPREADS)
    wish = options(seconds=1, confidence=confidence)
    return make_plan(some_orders(), some_stock(), shop, wish)


def test_even_odds_leave_the_shop_as_it_is() -> None:
    assert confident_shop(a_week_shop(), 50, SPREADS) == a_week_shop()


def test_more_confidence_allows_more_minutes_and_the_audit_agrees() -> None:
    even, sure = a_plan(50), a_plan(95)
    assert audit(sure) == ()
    assert sum(s.minutes for s in sure.slots) > 1.25 * sum(s.minutes for s in even.slots)
    first, second = (
        {str(setting) for card in plan.cards for setting in card.settings} for plan in (even, sure)
    )
    assert first == second


def test_a_surer_plan_says_later_and_is_kept_more_often() -> None:
    kept: list[tuple[int, int]] = []
    for confidence in (50, 95):
        plan = a_plan(confidence)
        found = simulate(week_of(plan, SPREADS), 1, 4000)
        promised = {done.line: done.done_min for done in plan.done}
        early = [line.median_min <= promised[line.key] for line in found.lines]
        high = [line.high_min <= promised[line.key] for line in found.lines]
        kept.append((sum(early), sum(high)))
    assert kept[1][0] == len(some_orders())
    assert kept[1][1] > kept[0][1]


def test_a_station_with_its_own_spread_gets_its_own_pace() -> None:
    shop = a_week_shop()
    first = shop.stations[0].name
    made = confident_shop(shop, 80, Spreads(Spread(0.2), {first: Spread(0.03, run_shared=0.04)}))
    paces = {station.name: station.pace for station in made.stations}
    assert paces[first] == pytest.approx(factor_at(80, 0.05), abs=1e-4)
    assert all(paces[name] > paces[first] for name in paces if name != first)
