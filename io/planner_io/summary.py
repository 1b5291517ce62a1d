"""What a plan comes to, in the few lines that a planner reads first."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

from planner.hours import DAY_MIN, day_name, duration, how_late, when
from planner.records import FloorKind, Plan
from planner.stop import Status
from planner_io.told import counted
from planner_io.views.accounts import difference
from planner_io.views.index import Index
from planner_io.views.left_out import unread_rows
from planner_io.views.lists import buy_note, buy_total, to_buy
from planner_io.views.ruler import money, plural
from planner_io.views.sureness import room_words

MOST_ROWS = 8
"""Late lines or sticks to buy that are listed; the papers have all of them."""


def summary_lines(plan: Plan, folder: Path) -> Iterator[str]:
    """The plan in a handful of lines: what, changeovers, late, buy, cut lists, papers."""
    index = Index(plan)
    yield _week(plan)
    if room := room_words(plan):
        yield f"             with {room}"
    yield from _refused(plan)
    yield _changeovers(plan)
    yield from _late(plan)
    yield from _buy(index)
    yield _cut_lists(plan)
    yield from _findings(plan)
    yield f"Papers       {folder}: packet.pdf to print, week.xlsx, plan.json"


def _week(plan: Plan) -> str:
    runs = len({(slot.station, slot.run) for slot in plan.slots})
    lots = f"{plural(len(plan.lots), 'lot')} and {plural(runs, 'run')}"
    return f"Planned      {plural(len(plan.orders), 'order line')} in {lots}, {_days(plan)}"


def _days(plan: Plan) -> str:
    start = plan.options.start
    last = max((done.done_min for done in plan.done), default=0) // DAY_MIN
    end = start + timedelta(days=last)
    return day_name(start) if end <= start else f"{day_name(start)} to {day_name(end)}"


def _refused(plan: Plan) -> Iterator[str]:
    if plan.refused:
        keys = ", ".join(line.key for line in plan.refused)
        yield f"Left out     {plural(len(plan.refused), 'order line')}: {keys}"
    if rows := unread_rows(plan):
        places = ", ".join(rows)
        yield f"Not read     {plural(len(rows), 'row')}: {places}"


def left_out_words(plan: Plan) -> str:
    """What is not in a plan that has errors, in one sentence."""
    counts = (
        (len(plan.refused), "order line", "order lines"),
        (len(unread_rows(plan)), "row that could not be read", "rows that could not be read"),
    )
    left = " and ".join(plural(count, *words) for count, *words in counts if count)
    return f"This plan is without {left or 'what has an error'}: see the errors above"


def _changeovers(plan: Plan) -> str:
    total = plan.yardsticks[0].changeover_min
    words = [duration(total)]
    found = difference(plan.yardsticks)
    if found:
        words.append(found.words[0].lower() + found.words[1:])
    floors = [f.floor for f in plan.floors if f.kind == FloorKind.CHANGEOVER]
    if floors and floors[0]:
        words.append(f"{duration(floors[0])} at the least in any order (proven)")
    return f"Changeovers  {', '.join(words)}"


def _late(plan: Plan) -> Iterator[str]:
    if not plan.late:
        yield "Late         nothing"
        return
    yield f"Late         {plural(len(plan.late), 'order line')}"
    for late in plan.late[:MOST_ROWS]:
        reason = f": {late.reason}" if late.reason else ""
        yield f"  {late.line} by {how_late(late.late_min)}, due {when(late.due)}{reason}"
    yield from _more(len(plan.late))


def _buy(index: Index) -> Iterator[str]:
    rows = to_buy(index)
    if not rows:
        yield "Buy          nothing"
        return
    sticks = sum(line.count for line in rows)
    yield f"Buy          {plural(sticks, 'stick')}, {buy_total(index)}"
    if note := buy_note(index):
        yield f"             {note}"
    for line in rows[:MOST_ROWS]:
        item = index.stock[line.stock]
        size = f"{index.ruler.spec(item.spec)}, {index.ruler.length(item.length_nm)}"
        yield f"  {line.count} × {size}, by {when(line.needed_by)}"
    yield from _more(len(rows))


def _more(count: int) -> Iterator[str]:
    if count > MOST_ROWS:
        yield f"  and {count - MOST_ROWS} more, see week.xlsx"


def _cut_lists(plan: Plan) -> str:
    proven = sum(one.status == Status.PROVEN for one in plan.cut_lists)
    gap = sum(one.cost_cents - one.floor_cents for one in plan.cut_lists)
    sticks = sum(len(one.sticks) for one in plan.cut_lists)
    words = f"{plural(sticks, 'stick')}, {proven} of {len(plan.cut_lists)} proven the cheapest"
    if gap:
        words += f", the others within {money(gap, plan.shop.house.currency)} in all"
    return f"Cut lists    {words}"


def _findings(plan: Plan) -> Iterator[str]:
    if plan.findings:
        yield f"Problems     {counted(plan.findings)}, listed above and in week.xlsx"
    yield "Audit        all invariants hold"
