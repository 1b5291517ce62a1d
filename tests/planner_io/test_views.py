"""What papers and screens show, before any layout."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from planner.cards import Work, make_cards
from planner.held import HeldWhy, Paused
from planner.orders import EndCut, EndKind
from planner.shop import What
from planner.yardsticks import Yardstick
from planner_io.belt_report import belt_lines
from planner_io.packet.floor import TAG_LINE
from planner_io.views import accounts, belts, cards, cuts, lists, places, runs, standing, tags
from planner_io.views.glance import glance
from planner_io.views.index import Index
from planner_io.views.onward import onward
from planner_io.views.pick_lists import pick_lists
from planner_io.views.ruler import Ruler, money
from planner_io.views.summary import summary
from planner_io.week_book import floor_sheets, office_sheets
from tests.planner_io.plans import DAY, a_plan, a_replanned_plan
from tests.planner_io.shops import inch


def an_index() -> Index:
    return Index(a_plan())


def test_a_pick_list_is_one_station_and_one_day_in_time() -> None:
    found = pick_lists(an_index())
    assert [(row.station, row.day.day, len(row.steps)) for row in found] == [
        ("Finisher", 30, 4),
        ("Saw", 30, 2),
        ("Notcher", 30, 1),
        ("Bender", 1, 1),
    ]
    starts = [step.start_min for step in found[0].steps]
    assert starts == sorted(starts)


def test_a_step_says_where_its_tube_is() -> None:
    index = an_index()
    where = {o.key: places.where(index, o) for o in index.plan.operations}
    assert where["L01.P1"] == "5 × 20' 0\" from Rack B2"
    assert where["L02.P1"] == "2 × 20' 0\" to buy (S2-20)"
    assert where["L01.P2"] == "from Finisher step 1, ready Mon 30 Nov 8:20"
    assert where["L01.BEND"] == "from Saw step 1, ready Mon 30 Nov 10:00"


def test_a_step_says_where_its_tube_goes() -> None:
    steps = {step.operation: step for found in pick_lists(an_index()) for step in found.steps}
    assert steps["L01.P1"].onward == "Finisher step 2, 8:25"
    assert steps["L01.P2"].onward == 'Saw step 1, 9:20, cut into 40 × 24-1/2"'
    assert steps["L01.SAW"].onward == (
        'cut list L01: 40 × 24-1/2"; then Bender step 1, Tue 1 Dec 7:20'
    )
    assert steps["L01.BEND"].onward == "done"


def test_where_the_lines_of_a_lot_part_their_stations_are_named() -> None:
    plan = a_plan()
    one, two = plan.lots
    both = two.model_copy(update={"lines": ("1187/2", "1187/1")})
    index = Index(plan.model_copy(update={"lots": (one, both)}))
    assert onward(index, index.operations["L02.SAW"]) == (
        'cut list L02: 10 × 41-5/32"; then Notcher, done'
    )


def test_a_changeover_names_each_change_with_its_minutes() -> None:
    third = pick_lists(an_index())[0].steps[2]
    assert third.changeover is not None
    assert third.changeover.minutes == 30
    assert third.changeover.changes == (
        'OD 1-1/2" → 2" (12 min)',
        "belt P120 steel → P180 clean (5 min)",
        "clean-down carbon → stainless (13 min)",
    )


def test_a_picture_with_room_for_one_word_names_the_longest_change() -> None:
    third = pick_lists(an_index())[0].steps[2]
    assert third.changeover is not None
    assert third.changeover.kinds == ("clean-down", "OD", "belt")


def test_a_changeover_of_the_day_before_is_on_that_day_and_its_step_on_its_own() -> None:
    plan = a_plan()
    last = plan.slots[-1].model_copy(update={"setup_start_min": 900})
    found = pick_lists(Index(plan.model_copy(update={"slots": (*plan.slots[:-1], last)})))
    monday, tuesday = [row for row in found if row.station == "Bender"]
    assert monday.steps == ()
    assert [row.step for row in monday.ahead] == ["step 1, Tue 1 Dec 7:20"]
    assert (monday.changeover_min, tuesday.changeover_min) == (20, 0)
    assert tuesday.steps[0].changeover is not None
    assert tuesday.steps[0].changeover.start == "Mon 30 Nov 15:00"


def test_the_list_repeats_what_hands_set_and_leaves_checks_to_the_card() -> None:
    first = pick_lists(an_index())[0].steps[0]
    assert [number for number, _ in first.settings] == ['3/8"', '1-1/32"', "4.5°"]


def test_care_of_finished_tube_begins_after_the_last_pass() -> None:
    index = an_index()
    care = {o.key: places.care(index, o) for o in index.plan.operations}
    assert care["L01.P1"] == ""
    assert care["L01.P2"] == places.AFTER_LAST_PASS
    assert care["L01.BEND"] == places.BEND_FINISHED


@pytest.mark.parametrize("what", ["orders", "stock"])
def test_oil_comes_off_before_the_first_pass_whoever_says_so(what: str) -> None:
    plan = a_plan()
    oiled = tuple(each.model_copy(update={"oiled": True}) for each in getattr(plan, what))
    index = Index(plan.model_copy(update={what: oiled}))
    care = {o.key: places.care(index, o) for o in index.plan.operations}
    assert care["L01.P1"] == places.OILED
    assert care["L01.P2"] == places.AFTER_LAST_PASS
    assert places.OILED not in care["L01.SAW"]
    assert cards.set_up_cards(index)[0].care == (places.OILED,)


def test_raw_tube_and_tube_that_is_sawn_first_need_no_care_at_the_saw() -> None:
    plan = a_plan()
    for changes, bent in (
        ({"recipe": None}, ""),
        ({"saw_first": True}, places.BEND_FINISHED),
        ({}, places.BEND_FINISHED),
    ):
        lots = tuple(lot.model_copy(update=changes) for lot in plan.lots)
        index = Index(plan.model_copy(update={"lots": lots}))
        at_saw, at_bender = (
            places.care(index, index.operations[key]) for key in ("L01.SAW", "L01.BEND")
        )
        assert at_saw == ("" if changes else places.SAW_FINISHED)
        assert at_bender == bent


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        ({}, "from Rack B2"),
        ({"remnant": True}, "from Rack B2 (remnant C15-20)"),
        ({"remnant": True, "finished": "Satin"}, "from Rack B2 (remnant finished Satin, C15-20)"),
        ({"location": ""}, "from stock, C15-20"),
        ({"location": "", "remnant": True}, "from stock, remnant C15-20"),
        ({"location": "", "count": None}, "to buy (C15-20)"),
        ({"location": "", "arrives": date(2026, 12, 2)}, "from stock, C15-20, there Wed 2 Dec"),
    ],
)
def test_a_stick_is_where_stock_says(changes: dict[str, object], words: str) -> None:
    item = a_plan().stock[0].model_copy(update=changes)
    assert places.place(item, item.key) == words
    assert places.place(None, "C15-20") == "from C15-20"


def test_only_the_step_that_completes_a_late_line_is_called_late() -> None:
    late = [step.operation for row in pick_lists(an_index()) for step in row.steps if step.late]
    assert late == ["L02.NOTCH"]


def test_sticks_cut_alike_are_one_bar_with_pieces_in_order() -> None:
    first = cuts.cut_sheets(an_index())[0]
    assert [(len(p.sticks), [g.numbers for g in p.groups]) for p in first.patterns] == [
        (4, ["1–9"]),
        (1, ["1–4"]),
    ]
    assert first.patterns[0].drop == 'scrap 18-3/8"'
    assert first.patterns[1].drop == "keep 11' 9-1/2\" as R2649-L01-5"
    assert first.patterns[0].groups[0].next_station == "Bender"


@pytest.mark.parametrize(("drop", "remnant", "watched"), [(0.24, 0, 1), (0.25, 0, 0), (0, 1, 0)])
def test_a_stick_with_less_to_spare_than_mills_take_is_measured_first(
    drop: float, remnant: bool, watched: bool
) -> None:
    """ASTM A500 lets a cut length be 1/4 in short; a remnant has been measured."""
    plan = a_plan()
    cut = plan.cut_lists[0]
    sticks = tuple(stick.model_copy(update={"drop_nm": inch(drop)}) for stick in cut.sticks)
    stock = tuple(item.model_copy(update={"remnant": bool(remnant)}) for item in plan.stock)
    cut_lists = (cut.model_copy(update={"sticks": sticks}), *plan.cut_lists[1:])
    index = Index(plan.model_copy(update={"cut_lists": cut_lists, "stock": stock}))
    words = cuts.cut_sheets(index)[0].patterns[0].watch
    assert bool(words) == bool(watched)
    assert ('1/4" short' in words) == bool(watched)
    rows = [row for block in floor_sheets.cut(index).blocks for row in block.rows]
    told = ["measure each stick" in str(cell) for row in rows for cell in row.cells]
    assert any(told) == bool(watched)


def test_the_saw_takes_finished_sticks_from_the_finisher_and_not_from_their_rack() -> None:
    found = [pattern.place for sheet in cuts.cut_sheets(an_index()) for pattern in sheet.patterns]
    assert set(found) == {"from Finisher step 2", "from Finisher step 4"}


def test_sticks_that_no_step_precedes_or_that_are_finished_already_come_from_stock() -> None:
    plan = a_plan()
    cut, other = plan.cut_lists
    ready = cut.model_copy(
        update={"sticks": (cut.sticks[0].model_copy(update={"finished": True}), *cut.sticks[1:])}
    )
    index = Index(plan.model_copy(update={"cut_lists": (ready, other)}))
    saw = index.operations["L01.SAW"]
    assert places.at_saw(index, saw, ready.sticks[0]) == "from Rack B2"
    assert places.at_saw(index, saw, ready.sticks[1]) == "from Finisher step 2"
    first = saw.model_copy(update={"after": ()})
    assert places.at_saw(index, first, ready.sticks[1]) == "from Rack B2"


def test_a_cut_list_says_which_ends_are_mitred() -> None:
    plan = a_plan()
    mitre = EndCut(kind=EndKind.MITRE, angle_mdeg=45_000)
    line = plan.orders[0].model_copy(update={"ends": (EndCut(), mitre)})
    index = Index(plan.model_copy(update={"orders": (line, plan.orders[1])}))
    said = 'end 2: mitre 45° off square, 1-1/2" from long to short point'
    found = [
        group.ends
        for sheet in cuts.cut_sheets(index)
        for pattern in sheet.patterns
        for group in pattern.groups
    ]
    assert found == [said, said, ""]
    rows = floor_sheets.cut(index).blocks[0].rows
    assert [said in row.cells for row in rows] == [True, True, False]


def test_a_run_of_several_sizes_counts_them_and_not_their_walls() -> None:
    plan = a_plan()
    slots = [slot for slot in plan.slots if slot.station == "Saw"]
    assert runs.run(Index(plan), slots).title == "2 sizes"


def test_no_piece_is_lost_between_plan_and_cut_sheets() -> None:
    index = an_index()
    shown = sum(
        len(pattern.sticks) * group.count
        for sheet in cuts.cut_sheets(index)
        for pattern in sheet.patterns
        for group in pattern.groups
    )
    assert shown == sum(line.quantity for line in index.plan.orders)


def test_the_account_adds_up_across_and_down() -> None:
    book = accounts.account(an_index())
    assert book.total == sum(slot.setup_min for slot in an_index().plan.slots)
    assert sum(book.kind_total(n) for n in range(len(book.kinds))) == book.total


def test_the_foot_of_the_account_is_this_plan_less_due_date_order() -> None:
    foot = accounts.account(an_index()).difference
    assert foot is not None
    assert (foot.baseline, foot.minutes, foot.by_kind) == ("by due date", -32, (-12, -20, 0, 0))
    assert (foot.late, replace(foot, late_min=-59_801).late) == ("+28 min", "−41 days 13 h")
    assert foot.words == "32 min less changeover than by due date (−32 %)"


def test_the_account_of_a_week_planned_again_says_what_every_order_leaves_alone() -> None:
    """Now is minute 520 of the Monday."""
    assert accounts.account(an_index()).basis.endswith("only the sequence differs.")
    again = accounts.account(Index(a_replanned_plan())).basis
    assert "what had begun by Mon 30 Nov 8:40, or is locked or pinned, stays where it is" in again


def test_an_account_without_changeovers_anywhere_claims_no_share() -> None:
    none = tuple(
        Yardstick(
            name=name,
            changeover_min=0,
            by_what=dict[What, int](),
            late_lines=0,
            late_min=0,
            weighted_late_min=0,
        )
        for name in ("this plan", "by due date")
    )
    foot = accounts.difference(none)
    assert foot is not None
    assert foot.share is None
    assert foot.words == "As much changeover as by due date"


def test_the_glance_has_a_lane_for_each_station_that_works_and_shows_breaks() -> None:
    index = an_index()
    monday, tuesday = glance(index, runs.stretches(index))
    assert [lane.name for lane in monday.lanes] == ["Finisher", "Saw", "Notcher"]
    assert monday.rests == ((720, 750),)
    assert [lane.name for lane in tuesday.lanes] == ["Bender"]
    assert [gap.minutes for gap in monday.lanes[0].gaps] == [5, 5, 30, 5]


def test_a_wait_within_a_run_is_not_drawn_as_work() -> None:
    plan = a_plan()
    slots = [
        slot.model_copy(update={"run": 1, "changes": (), "setup_min": 0, "setup_start_min": s})
        for slot in plan.slots
        for s in [slot.start_min]
    ]
    index = Index(plan.model_copy(update={"slots": tuple(slots)}))
    monday = glance(index, runs.stretches(index))[0]
    assert len([run for run in runs.runs(index) if run.station == "Saw"]) == 1
    assert [(box.start_min, box.end_min) for box in monday.lanes[1].boxes] == [
        (560, 600),
        (688, 708),
    ]


def test_a_run_over_night_is_drawn_within_the_hours_of_each_day() -> None:
    plan = a_plan()
    last = plan.slots[-1]
    worked = ((last.start_min, DAY + 900), (2 * DAY + 450, 2 * DAY + 500))
    last = last.model_copy(update={"end_min": 2 * DAY + 500, "pieces": worked})
    index = Index(plan.model_copy(update={"slots": (*plan.slots[:-1], last)}))
    _, tuesday, wednesday = glance(index, runs.stretches(index))
    assert tuesday.lanes[0].boxes[0].end_min == DAY + 900  # later hours are open, not worked
    assert (wednesday.lanes[0].boxes[0].start_min, wednesday.close_min) == (
        2 * DAY + 450,
        2 * DAY + 930,
    )


def test_a_card_gives_every_setting_in_order_with_the_other_unit() -> None:
    first = cards.set_up_cards(an_index())[0]
    assert [line.number for line in first.settings] == [
        "P80 steel",
        '1/4"',
        '3/8"',
        '1/8"',
        '1-1/32"',
        "4.5°",
        "6.2 ft/min",
    ]
    assert [line.other for line in first.settings][1:5] == ["6.4 mm", "9.5 mm", "3.2 mm", "26.2 mm"]


def test_what_most_cards_warn_of_is_told_once_with_the_cards_it_is_for() -> None:
    first, *_ = cards.set_up_cards(an_index())
    said = {1: ("eyes", "dust", "long"), 2: ("eyes", "dust"), 3: ("eyes", "dust"), 4: ("eyes",)}
    found = [replace(first, number=number, cautions=each) for number, each in said.items()]
    assert cards.usual_cautions(found) == (
        cards.UsualCaution("eyes", ()),
        cards.UsualCaution("dust", (1, 2, 3)),
    )
    assert cards.usual_cautions(found[:1]) == ()


def test_the_lists_lead_with_what_needs_the_planner_first() -> None:
    index = an_index()
    assert [row.by for row in lists.late_rows(index)] == ["1 h 48"]
    assert [row.sum for row in lists.buy_rows(index)] == ["$365.00"]
    assert lists.buy_total(index) == "$365.00"
    assert [row.place for row in lists.problem_rows(index)] == ["Orders!H9", "1187/2"]
    assert [row.state for row in lists.order_rows(index)] == ["on time", "LATE 1 h 48", "refused"]


def test_a_week_planned_again_says_what_stands_and_what_moved() -> None:
    plan = a_replanned_plan()
    steps = {s.operation: s for row in pick_lists(Index(plan)) for s in row.steps}
    assert (steps["L01.P1"].stands, steps["L01.P1"].done) == ("done", True)
    assert (steps["L01.P2"].stands, steps["L01.P2"].done) == ("started, 3 done", False)
    assert steps["L02.P1"].stands == ""
    assert steps["L02.P1"].was == "moved, was Finisher Mon 30 Nov 8:00"
    assert [row.after for row in standing.moved_rows(Index(plan))] == ["Finisher Mon 30 Nov 9:50"]


def test_a_worn_belt_is_changed_at_its_piece_and_a_missing_one_is_bought() -> None:
    plan = a_plan()
    worn = [
        belt.model_copy(update={"life_min": 30, "used_min": 29, "count": 0, "price_cents": 4_500})
        if belt.name == "P80 steel"
        else belt
        for belt in plan.shop.belts
    ]
    shop = plan.shop.model_copy(update={"belts": tuple(worn)})
    index = Index(plan.model_copy(update={"shop": shop}))
    assert belts.new_belts(index) == {"L01.P1": "new P80 steel belt first"}
    assert [(row.belt, row.count, row.sum) for row in belts.belts_to_buy(index)] == [
        ("P80 steel", 1, "$45.00")
    ]
    first = index.slots["L01.P1"].start_min
    assert [row.needed_by for row in belts.belts_to_buy(index)] == [index.moment(first)]
    assert belts.new_belts(an_index()) == {}


def test_belts_that_done_passes_took_are_not_bought_again() -> None:
    plan = a_replanned_plan()
    assert plan.replan is not None
    belt = next(o.belt for o in plan.operations if o.key == "L01.P1")
    worn = [
        one.model_copy(update={"life_min": 6, "count": 1, "price_cents": 4_500})
        if one.name == belt
        else one
        for one in plan.shop.belts
    ]
    plan = plan.model_copy(update={"shop": plan.shop.model_copy(update={"belts": tuple(worn)})})
    first = plan.model_copy(update={"replan": None})
    changes = sum(len(use.changes) for use in belts.belt_uses(Index(first)))
    assert changes > 1
    assert [row.count for row in belts.belts_to_buy(Index(first))] == [changes - 1]
    assert any(line.startswith("  buy") for line in belt_lines(first))
    done = {held.operation for held in Index(plan).held.values() if held.why is HeldWhy.DONE}
    assert done == {"L01.P1"}
    assert belts.belts_to_buy(Index(plan)) == ()
    assert list(belt_lines(plan)) == ["Belts        0 worn belts to change"]


def test_every_kept_drop_and_every_piece_can_have_a_tag() -> None:
    index = an_index()
    kept = [s for cut in index.plan.cut_lists for s in cut.sticks if s.kept]
    assert len(list(tags.remnant_tags(index))) == len(kept)
    codes = [tag.code for tag in tags.piece_tags(index)]
    assert len(codes) == len(set(codes)) == 50
    assert [tag.big for tag in tags.bundle_tags(index)] == ['40 × 24-1/2"', '10 × 41-5/32"']


def test_a_week_planned_again_buys_nothing_for_lots_that_have_begun() -> None:
    plan = a_replanned_plan()
    assert plan.replan is not None
    index = Index(plan)
    assert [(row.stock, row.count) for row in lists.to_buy(index)] == [("S2-20", 2)]
    assert lists.buy_note(index) == "take off what was ordered by the list before"
    later = plan.model_copy(update={"replan": plan.replan.model_copy(update={"now_min": 600})})
    index = Index(later)
    assert lists.to_buy(index) == ()
    assert lists.buy_note(index).startswith("without 2 sticks of lots that have begun; ")
    assert office_sheets.buy(index).blocks[0].notes[0].startswith("Without 2 sticks of lots")
    assert [f.more for f in summary(index).figures if f.name == "sticks"] == ["all in stock"]
    assert lists.buy_note(an_index()) == ""
    assert office_sheets.buy(an_index()).blocks[0].notes == ()


def test_a_tag_has_the_next_station_whole_however_long_the_finish_is_called() -> None:
    plan = a_plan()
    line = plan.orders[0].model_copy(update={"recipe": "Mill-scale removal"})
    index = Index(plan.model_copy(update={"orders": (line, plan.orders[1])}))
    tag = next(tags.bundle_tags(index))
    assert tag.title == "1187/1 → Bender"
    assert tag.lines[2] == "Mill-scale removal · due Tue 1 Dec 15:30"
    assert max(len(words) for words in tag.lines) <= TAG_LINE
    assert next(tags.piece_tags(index)).title.endswith(" → Bender")


def test_a_run_of_several_ods_has_none_to_set() -> None:
    plan = a_plan()
    index = Index(plan)
    work = Work(
        plan.shop,
        index.orders,
        index.blanks,
        index.lots,
        index.cut_lists,
        frozenset(),
        index.operations,
    )
    slots = [slot for slot in plan.slots if slot.station == "Saw"]
    together = [slot.model_copy(update={"run": 1}) for slot in slots]
    assert [[row.name for row in card.settings] for card in make_cards(work, slots)] == [
        ["tube OD"],
        ["tube OD"],
    ]
    assert [card.settings for card in make_cards(work, together)] == [()]


def test_a_ruler_rounds_numbers_to_the_marks_of_the_tape() -> None:
    assert Ruler("inch", 16).mark(inch(41 + 5 / 32)) in (41.125, 41.1875)
    assert Ruler("mm").mark(inch(1)) == 25.4
    assert Ruler("inch").other(inch(1.5)) == "38.1 mm"
    assert money(5, "$") == "$0.05"


def test_one_of_a_thing_is_named_so_on_the_cover() -> None:
    plan = a_plan()
    cut = plan.cut_lists[0].model_copy(update={"sticks": plan.cut_lists[0].sticks[:1]})
    one = plan.model_copy(update={"orders": plan.orders[:1], "cut_lists": (cut,)})
    names = [(f.number, f.name) for f in summary(Index(one)).figures]
    assert ("1", "order line planned") in names
    assert ("1", "stick") in names


def test_of_a_run_that_stood_still_a_step_says_how_many_are_left() -> None:
    plan = a_replanned_plan()
    assert plan.replan is not None
    slot = plan.slots[2]
    part = Paused(
        operation=slot.operation,
        station=slot.station,
        setup_start_min=0,
        start_min=0,
        end_min=9,
        left=1,
        of=2,
        pieces=1,
    )

    def to_do(part: Paused) -> list[str]:
        again = plan.replan and plan.replan.model_copy(update={"paused": (part,)})
        index = Index(plan.model_copy(update={"replan": again}))
        steps = [step for page in pick_lists(index) for step in page.steps]
        return [step.to_do for step in steps if step.operation == slot.operation]

    sticks = {one.key: one.count for one in plan.operations}[slot.operation]
    assert sticks > 1
    assert to_do(part) == [f"{sticks - 1} of {sticks} sticks"]
    assert to_do(part.model_copy(update={"pieces": None})) == [f"{sticks} sticks"]
