"""What the template shows, as plain JSON: texts, numbers, and the names of pictures."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from enum import StrEnum
from typing import TypeVar

from planner.records import Operation
from planner.units import Unit
from planner_io.drawing.ring import ring_scale
from planner_io.packet import sizes
from planner_io.packet.glance import timelines
from planner_io.packet.pictures import Pictures
from planner_io.packet.side import side_picture
from planner_io.packet.tidy import name
from planner_io.views import accounts, cards, cuts, lists, pick_lists, runs, standing, summary, tags
from planner_io.views.index import Index
from planner_io.views.pick_lists import MOST_LINES, Changeover, PickList, PickStep
from planner_io.views.ruler import day_name, day_of, duration, plural, some

Json = Mapping[str, object]
T = TypeVar("T")
SHORT_LAY_MM = 14.0
TAG_LINE = 40
"""Characters of a tag's line beside its code."""
TITLE = 26
"""Characters of a station's name that fit in a page's heading beside what the page is."""


class TagKind(StrEnum):
    """Which tags a packet has, besides those of the remnants."""

    BUNDLES = "bundles"
    """One for each order line."""
    PIECES = "pieces"
    """One for each piece."""


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
        "buy": _buy(index, pictures),
        "problems": _problems(index),
        "moved": _moved(index, pictures),
        "run_order": _run_order(index, pictures),
        "ledger": _ledger(index),
        "stations": _stations(index, pictures),
        "tags": [_tag(tag, pictures) for tag in _tags(index, kind)],
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
        "inner": sizes.inner_mm(paper)[0],
    }


def _head(index: Index) -> Json:
    found = summary.summary(index)
    return {"shop": name(found.shop, 42), "week": found.week, "dates": found.dates}


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


def _late(index: Index, pictures: Pictures) -> list[Json]:
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
                "ring": pictures.ring(row.item.spec) if row.item else "",
                "stock": row.buy.stock,
                "each": row.each,
                "sum": row.sum,
                "needed": row.needed_by,
                "lots": " ".join(row.buy.lots),
            }
            for row in rows
        ],
        "total": lists.buy_total(index),
    }


def _problems(index: Index) -> list[Json]:
    return [
        {
            "severity": row.severity.value,
            "place": row.place,
            "message": row.message,
            "read": row.read,
            "expected": row.expected,
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
    day = day_of(run.setup_start_min)
    return {
        "day": day_name(index.day(day)),
        "start": pick_lists.clock_on(index, run.start_min, day),
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
        "changeover": _changeover(run.changeover),
    }


def _operation_words(index: Index, key: str) -> Json:
    operation: Operation = index.operations[key]
    return {
        "number": index.step_numbers[key],
        "key": key,
        "lines": "" if operation.line else some(index.lines_of(operation), 4),
    }


def _changeover(found: Changeover | None) -> Json | None:
    if found is None:
        return None
    return {"minutes": found.minutes, "start": found.start, "changes": list(found.changes)}


def _ledger(index: Index) -> Json:
    found = accounts.account(index)
    foot = found.difference
    return {
        "kinds": [kind.value for kind in found.kinds],
        "days": [
            {
                "station": name(row.station, 30),
                "day": row.day,
                "minutes": list(row.minutes),
                "total": row.total,
                "count": row.count,
            }
            for row in found.days
        ],
        "totals": [found.kind_total(n) for n in range(len(found.kinds))],
        "total": found.total,
        "yardsticks": [
            {
                "name": stick.name,
                "minutes": [stick.by_what.get(kind, 0) for kind in found.kinds],
                "total": stick.changeover_min,
                "late_lines": stick.late_lines,
                "late": duration(stick.late_min),
            }
            for stick in found.yardsticks
        ],
        "difference": {
            "baseline": foot.baseline,
            "by_kind": list(foot.by_kind),
            "minutes": foot.minutes,
            "late_lines": foot.late_lines,
            "late": ("+" if foot.late_min > 0 else "") + duration(foot.late_min),
            "words": foot.words,
        }
        if foot
        else None,
        "floors": list(found.floors),
    }


def _stations(index: Index, pictures: Pictures) -> list[Json]:
    own_lists = _by_station(pick_lists.pick_lists(index), lambda row: row.station)
    own_cards = _by_station(cards.set_up_cards(index), lambda row: row.station)
    own_cuts = _by_station(cuts.cut_sheets(index), lambda row: row.station)
    return [
        {
            "name": name(station, TITLE),
            "lists": [_list(found, pictures) for found in own_lists.get(station, [])],
            "cards": [_card(index, found, pictures) for found in own_cards.get(station, [])],
            "cuts": [_cut(index, found, pictures) for found in own_cuts.get(station, [])],
        }
        for station in index.by_station
    ]


def _by_station(rows: Iterable[T], station: Callable[[T], str]) -> dict[str, list[T]]:
    found: dict[str, list[T]] = {}
    for row in rows:
        found.setdefault(station(row), []).append(row)
    return found


def _list(found: PickList, pictures: Pictures) -> Json:
    return {
        "day": day_name(found.day),
        "carried": found.carried_on,
        "work": duration(found.work_min),
        "changeovers": duration(found.changeover_min),
        "steps": [_step(step, pictures) for step in found.steps],
    }


def _step(step: PickStep, pictures: Pictures) -> Json:
    return {
        "number": step.number,
        "key": step.operation,
        "what": step.what,
        "ring": pictures.ring(step.spec),
        "tube": step.tube,
        "material": step.material,
        "lot": step.lot,
        "lines": some(step.lines, MOST_LINES),
        "parts": some([name(part, 30) for part in step.parts], 2),
        "place": step.place,
        "count": step.count,
        "lengths": step.lengths,
        "tooling": list(step.tooling),
        "lay": pictures.lay(step.lay),
        "card": step.card,
        "settings": [{"number": number, "name": name} for number, name in step.settings],
        "minutes": duration(step.minutes),
        "start": step.start,
        "end": step.end,
        "people": ", ".join(step.people),
        "care": step.care,
        "late": step.late,
        "stands": step.stands,
        "done": step.done,
        "was": step.was,
        "changeover": _changeover(step.changeover),
    }


def _card(index: Index, card: cards.SetUpCard, pictures: Pictures) -> Json:
    return {
        "number": card.number,
        "title": card.run.title,
        "tube": index.ruler.spec(card.run.spec),
        "ring": pictures.ring(card.run.spec),
        "lay": pictures.lay(card.run.lay),
        "start": card.start,
        "minutes": duration(card.run.minutes),
        "people": ", ".join(card.run.people),
        "changeover": _changeover(card.changeover),
        "settings": [
            {
                "number": line.number,
                "other": line.other,
                "name": line.name,
                "remark": line.remark,
                "measured": line.measured,
            }
            for line in card.settings
        ],
        "picture": side_picture(index, card, pictures),
        "following": card.following,
        "remarks": list(card.remarks),
        "care": list(card.care),
        "cautions": list(card.cautions),
        "steps": [_step(step, pictures) for step in card.steps],
    }


def _cut(index: Index, sheet: cuts.CutSheet, pictures: Pictures) -> Json:
    longest = max(stick.length_nm for cut in index.plan.cut_lists for stick in cut.sticks)
    width = sizes.inner_mm(index.plan.shop.house.paper)[0]
    return {
        "lot": sheet.lot,
        "step": sheet.step_number,
        "start": sheet.start,
        "people": ", ".join(sheet.people),
        "ring": pictures.ring(sheet.spec),
        "tube": sheet.tube,
        "material": sheet.material,
        "notes": [f"kerf {sheet.kerf}", *sheet.trims],
        "counts": f"{plural(sheet.stick_count, 'stick')} → {plural(sheet.piece_count, 'piece')}",
        "money": sheet.money,
        "care": sheet.care,
        "patterns": [
            _pattern(found, pictures, width, (width - 1) / longest) for found in sheet.patterns
        ],
    }


def _pattern(found: cuts.Pattern, pictures: Pictures, width: float, scale: float) -> Json:
    return {
        "count": len(found.sticks),
        "sticks": list(found.sticks),
        "length": found.length,
        "place": found.place,
        "bar": pictures.bar(found.bar, width, scale),
        "groups": [
            {
                "numbers": group.numbers,
                "count": group.count,
                "length": group.length,
                "other": group.other,
                "line": group.line,
                "part": name(group.part),
                "customer": name(group.customer),
                "next": group.next_station,
            }
            for group in found.groups
        ],
        "drop": found.drop,
        "kept": found.kept,
    }


def _tags(index: Index, kind: TagKind) -> list[tags.Tag]:
    own = tags.bundle_tags if kind == TagKind.BUNDLES else tags.piece_tags
    return [*tags.remnant_tags(index), *own(index)]


def _tag(tag: tags.Tag, pictures: Pictures) -> Json:
    return {
        "title": tag.title,
        "big": tag.big,
        "lines": [name(words, TAG_LINE) for words in tag.lines],
        "ring": pictures.ring(tag.spec),
        "code": pictures.square_code(tag.code),
    }
