"""Where the tube goes, by tube spec."""

from datetime import datetime

import pytest

from planner.advice import LotsTried, Merger
from planner.options import LotPolicy
from planner.plan import make_plan
from planner.records import Plan
from planner_io.views.index import Index
from planner_io.views.material import by_spec, lots_words, material_words, merger_words
from tests.trade import a_line, a_stick, cut
from tests.week import a_week_shop, options, some_orders, some_stock


@pytest.fixture(scope="module")
def plan() -> Plan:
    return make_plan(
        some_orders(), some_stock(), a_week_shop(), options(lots=LotPolicy.BY_DUE_DATE)
    )


def test_length_and_money_add_up_over_all_sticks(plan: Plan) -> None:
    *rows, total = by_spec(Index(plan))
    sticks = [stick for cut_list in plan.cut_lists for stick in cut_list.sticks]
    assert total.sticks == len(sticks) == sum(row.sticks for row in rows)
    assert total.sticks_nm == sum(stick.length_nm for stick in sticks)
    assert total.paid_cents - total.kept_cents == sum(cut.cost_cents for cut in plan.cut_lists)
    for row in (*rows, total):
        assert row.scrap_nm >= 0
        assert row.used_cents >= 0
        assert 0 < row.yield_percent <= 100


def test_chips_are_the_kerf_of_every_cut(plan: Plan) -> None:
    total = by_spec(Index(plan))[-1]
    kerf = plan.cut_lists[0].kerf_nm
    pieces = sum(len(stick.pieces) for cut in plan.cut_lists for stick in cut.sticks)
    sticks = total.sticks
    assert (pieces - sticks) * kerf <= total.chips_nm <= pieces * kerf


def test_the_week_s_material_is_told_in_a_sentence(plan: Plan) -> None:
    assert "in pieces" in material_words(Index(plan))


def test_what_merging_would_save_and_delay_is_told() -> None:
    early, late = (
        a_line(order=order, quantity=1, shape=cut("110"), due=datetime(2026, 12, day, 15))
        for order, day in (("1", 1), ("2", 4))
    )
    stock = [a_stick(early.spec, "20'", key="stick", price_cents=9_000)]
    apart = make_plan([early, late], stock, a_week_shop(), options(lots=LotPolicy.BY_DUE_DATE))
    words = merger_words(Index(apart))
    assert len(words) == 1
    assert words[0].startswith("Lots L01 and L02 cut as one would save $")
    assert "3 days apart" in words[0]


def test_the_other_ways_to_share_lots_that_were_tried_are_told(plan: Plan) -> None:
    tried = (
        LotsTried(
            lots=("L01",),
            instead=(("100/1",), ("104/1", "108/1", "112/1", "116/1", "120/1")),
            cost_cents=8957,
            material_cents=9057,
            changeover_min=-1,
            late_min=0,
        ),
        LotsTried(
            lots=("L02", "L03"),
            instead=(("101/1", "105/1"),),
            cost_cents=0,
            material_cents=0,
            changeover_min=0,
            late_min=0,
        ),
    )
    both = plan.model_copy(update={"lots_tried": tried, "mergers": ()})
    first, second = lots_words(Index(both))
    assert first == (
        "Tried instead of L01: a lot of 100/1 and a lot of 104/1, 108/1, 112/1, 116/1 and 1 more; "
        "$89.57 dearer (tube $90.57 more, changeovers 1 min less)."
    )
    assert second == "Tried instead of L02 and L03: a lot of 101/1, 105/1; no cheaper."


def test_two_lots_that_would_be_cheaper_as_one_are_not_told_to_be_dearer(plan: Plan) -> None:
    (early, late), lines = ("L02", "L03"), ("101/1", "105/1")
    saves = Merger(early=early, late=late, saves_cents=1032, delays_min=15, days_apart=1)
    as_one = LotsTried(
        lots=(early, late),
        instead=(lines,),
        cost_cents=953,
        material_cents=953,
        changeover_min=0,
        late_min=0,
    )
    apart = as_one.model_copy(update={"instead": (lines[:1], lines[1:])})
    tried = plan.model_copy(update={"mergers": (saves,), "lots_tried": (as_one, apart)})
    assert len(merger_words(Index(tried))) == 1
    (told,) = lots_words(Index(tried))
    assert told.startswith("Tried instead of L02 and L03: a lot of 101/1 and a lot of 105/1;")
