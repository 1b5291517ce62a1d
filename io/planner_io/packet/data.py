"""What the template shows, as plain JSON: texts, numbers, and the names of pictures."""

from __future__ import annotations

from collections.abc import Sequence

from planner.hours import clock, day_name, how_late, when
from planner.records import Operation
from planner.shop import What
from planner.units import Unit
from planner.yardsticks import Yardstick
from planner_io.drawing.ring import ring_scale
from planner_io.packet import sizes
from planner_io.packet.floor import TagKind, stations, tag_json, tags_of
from planner_io.packet.glance import timelines
from planner_io.packet.pictures import Pictures
from planner_io.packet.plain import Json, changeover_json
from planner_io.packet.tidy import name
from planner_io.views import (
    accounts,
    lists,
    material,
    pick_lists,
    runs,
    standing,
    summary,
    sureness,
)
from planner_io.views.belts import belts_to_buy
from planner_io.views.headlines import headlines
from planner_io.views.index import Index
from planner_io.views.ruler import day_of, money, some
from planner_io.views.worth import Worth

SHORT_LAY_MM = 14.0


def packet_data(index: Index, kind: TagKind) -> tuple[Json, dict[str, str]]:
    """Everything on the pages of a packet, and its pictures by name."""
    paper = index.plan.shop.house.paper
    specs = [lot.spec.od_nm for lot in index.plan.lots]
    pictures = Pictures(ring_scale(specs, sizes.RING_MM))
    pages = {
        "paper": sizes.TYPST_PAPER[paper],
        "sizes": _sizes(paper, index.ruler.unit),
        "head": _head(index),
        "cover": _cover(index, pictures),
        "late": _late(index, pictures),
        "unsure": _unsure(index, pictures),
        "unsure_note": sureness.unsure_note(index.plan),
        "buy": _buy(index, pictures),
        "problems": _problems(index),
        "moved": _moved(index, pictures),
        "run_order": _run_order(index, pictures),
        "ledger": _ledger(index),
        "stations": stations(index, pictures),
        "tags": [tag_json(tag, pictures) for tag in tags_of(index, kind)],
    }
    return pages, pictures.svg


def _sizes(paper: str, unit: Unit) -> Json:
    return {
        "tick": sizes.TICK_MM,
        "setting": sizes.SETTING_PT,
        "number": sizes.NUMBER_MM[unit],
        "margin": sizes.MARGIN_MM,
        "header": sizes.HEADER_MM,
        "foot": sizes.FOOT_MM,
        "ring": sizes.RING_MM,
        "qr": sizes.QR_MM,
        "tag": sizes.TAG_MM,
        "inner": sizes.inner_mm(paper)[0],
    }


def _head(index: Index) -> Json:
    found = summary.summary(index)
    return {
        "shop": name(found.shop, 42),
        "week": found.week,
        "dates": found.dates,
        "as_of": index.as_of,
    }


def _cover(index: Index, pictures: Pictures) -> Json:
    found = summary.summary(index)
    room = sizes.inner_mm(index.plan.shop.house.paper, flipped=True)
    return {
        "figures": [
            {"number": f.number, "name": f.name, "more": f.more, "trouble": f.trouble}
            for f in found.figures
        ],
        "pictures": [pictures.add("timeline", svg) for svg in timelines(index, room)],
    }


def _unsure(index: Index, pictures: Pictures) -> list[Json]:
    return [
        {
            "chance": row.chance,
            "ring": pictures.ring(row.order.spec),
            "line": row.order.key,
            "part": name(row.order.part),
            "customer": name(row.order.customer),
            "due": row.due,
            "spare": row.spare,
            "likely": row.likely,
            "waits": row.waits,
        }
        for row in sureness.unsure_rows(index)
    ]


def _late(index: Index, pictures: Pictures) -> list[Json]:
    chances = sureness.chances(index)
    return [
        {
            "line": row.late.line,
            "customer": name(row.order.customer),
            "part": name(row.order.part),
            "ring": pictures.ring(row.order.spec),
            "tube": index.ruler.tube(row.order.spec),
            "pieces": row.order.quantity,
            "due": row.due,
            "done": row.done,
            "by": row.by,
            "chance": chances.get(row.late.line, ""),
            "reason": row.late.reason,
        }
        for row in lists.late_rows(index)
    ]


def _buy(index: Index, pictures: Pictures) -> Json:
    rows = lists.buy_rows(index)
    return {
        "rows": [
            {
                "count": row.buy.count,
                "length": row.length,
                "what": row.what,
                "ring": pictures.ring(row.item.spec),
                "stock": row.buy.stock,
                "each": row.each,
                "sum": row.sum,
                "needed": row.needed_by,
                "lots": " ".join(row.buy.lots),
            }
            for row in rows
        ],
        "belts": [
            {
                "count": row.count,
                "belt": name(row.belt),
                "sum": row.sum,
                "needed": when(row.needed_by),
            }
            for row in belts_to_buy(index)
        ],
        "total": lists.buy_total(index),
        "note": lists.buy_note(index),
    }


def _problems(index: Index) -> list[Json]:
    """What was read and expected stands beside a message only where it does not say so itself."""
    return [
        {
            "severity": row.severity.value,
            "place": row.place,
            "message": row.message,
            "read": "" if row.read in row.message else row.read,
            "expected": "" if row.expected in row.message else row.expected,
        }
        for row in lists.problem_rows(index)
    ]


def _moved(index: Index, pictures: Pictures) -> list[Json]:
    return [
        {
            "number": row.number,
            "what": row.what,
            "ring": pictures.ring(row.spec),
            "tube": row.tube,
            "lot": row.lot,
            "lines": row.lines,
            "before": row.before,
            "after": row.after,
        }
        for row in standing.moved_rows(index)
    ]


def _run_order(index: Index, pictures: Pictures) -> list[Json]:
    found = runs.runs(index)
    return [
        {
            "station": name(station, 30),
            "runs": [_run(index, run, pictures) for run in found if run.station == station],
        }
        for station in index.by_station
    ]


def _run(index: Index, run: runs.Run, pictures: Pictures) -> Json:
    card = index.cards.get(run.operations[0])
    return {
        "day": day_name(index.day(day_of(run.start_min))),
        "start": clock(run.start_min),
        "end": pick_lists.clock_on(index, run.end_min - 1, day_of(run.start_min), 1),
        "card": card[0] if card else 0,
        "ring": pictures.ring(run.spec) if run.one_size else "",
        "lay": pictures.lay(run.lay, SHORT_LAY_MM),
        "title": run.title,
        "steps": [_operation_words(index, key) for key in run.operations],
        "minutes": run.minutes,
        "people": ", ".join(run.people),
        "late": run.late,
        "held": run.held_by,
        "changeover": changeover_json(run.changeover),
    }


def _operation_words(index: Index, key: str) -> Json:
    operation: Operation = index.operations[key]
    return {
        "number": index.step_numbers[key],
        "key": key,
        "lines": "" if operation.line else some(index.lines_of(operation), 4),
    }


def _ledger(index: Index) -> Json:
    found = accounts.account(index)
    return {
        "headlines": [
            {"number": one.number, "name": one.name, "more": one.more}
            for one in headlines(index, found)
        ],
        "kinds": [kind.value for kind in found.kinds],
        "material": [
            material.material_words(index),
            *material.merger_words(index),
            *material.lots_words(index),
        ],
        "days": [_day(row) for row in found.days],
        "totals": [found.kind_total(n) for n in range(len(found.kinds))],
        "total": found.total,
        "yardsticks": [_yardstick(stick, found.kinds) for stick in found.yardsticks],
        "difference": _difference(found.difference) if found.difference else None,
        "likely": sureness.likely_changeover(index),
        "floors": list(found.floors),
        "worth": [_worth(index, row) for row in found.worth],
        "money": found.money,
        "basis": found.basis,
    }


def _day(row: accounts.LedgerDay) -> Json:
    return {
        "station": name(row.station, 30),
        "day": row.day,
        "minutes": list(row.minutes),
        "total": row.total,
        "count": row.count,
    }


def _yardstick(stick: Yardstick, kinds: Sequence[What]) -> Json:
    return {
        "name": stick.name,
        "minutes": [stick.by_what.get(kind, 0) for kind in kinds],
        "total": stick.changeover_min,
        "late_lines": stick.late_lines,
        "late": how_late(stick.late_min),
    }


def _difference(foot: accounts.Difference) -> Json:
    return {
        "baseline": foot.baseline,
        "by_kind": list(foot.by_kind),
        "minutes": foot.minutes,
        "late_lines": foot.late_lines,
        "late": foot.late,
    }


def _worth(index: Index, row: Worth) -> Json:
    return {
        "station": name(row.station, 30),
        "what": row.what.value,
        "times": f"{row.times:g}",
        "each": f"{row.each:.1f}",
        "minutes": f"{row.minutes:g}",
        "money": money(row.cents, index.plan.shop.house.currency),
    }
