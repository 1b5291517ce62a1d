"""What a station gets: pick lists, set-up cards, cut lists; and the tags."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from enum import StrEnum
from typing import TypeVar

from planner.cautions import COMMON
from planner.hours import day_name, duration
from planner_io.packet import sizes
from planner_io.packet.pictures import Pictures
from planner_io.packet.plain import Json, changeover_json
from planner_io.packet.side import side_picture
from planner_io.packet.tidy import name
from planner_io.views import cards, cuts, pick_lists, tags
from planner_io.views.belts import new_belts
from planner_io.views.index import Index
from planner_io.views.pick_lists import MOST_LINES, PickList, PickStep, clock_on
from planner_io.views.ruler import day_of, plural, some
from planner_io.views.sureness import likely_minutes

T = TypeVar("T")
TAG_LINE = 40
"""Characters of a tag's line beside its code."""
TAG_TITLE = 78
"""Characters of its title, on two lines at most; its code has all of them."""
TITLE = 26
"""Characters of a station's name that fit in a page's heading beside what the page is."""

LONGEST_NOTE = 240
"""Characters of an order line's note in a pick list; week.xlsx has all of it."""


class TagKind(StrEnum):
    """Which tags a packet has, besides those of the remnants."""

    BUNDLES = "bundles"
    """One for each order line."""
    PIECES = "pieces"
    """One for each piece."""


def stations(index: Index, pictures: Pictures) -> list[Json]:
    """Each station's papers, stations in the shop's order."""
    worn = new_belts(index)
    own_lists = _by_station(pick_lists.pick_lists(index), lambda row: row.station)
    own_cards = _by_station(cards.set_up_cards(index), lambda row: row.station)
    own_cuts = _by_station(cuts.cut_sheets(index), lambda row: row.station)
    return [
        {
            "name": name(station, TITLE),
            "lists": [_list(found, pictures, worn) for found in own_lists.get(station, [])],
            "cards": [_card(index, found, pictures, worn) for found in own_cards.get(station, [])],
            "cuts": [_cut(index, found, pictures) for found in own_cuts.get(station, [])],
        }
        for station in index.by_station
    ]


def _by_station(rows: Iterable[T], station: Callable[[T], str]) -> dict[str, list[T]]:
    found: dict[str, list[T]] = {}
    for row in rows:
        found.setdefault(station(row), []).append(row)
    return found


def _list(found: PickList, pictures: Pictures, worn: Mapping[str, str]) -> Json:
    return {
        "day": day_name(found.day),
        "carried": found.carried_on,
        "parts": list(found.parts),
        "work": duration(found.work_min),
        "changeovers": duration(found.changeover_min),
        "steps": [_step(step, pictures, worn) for step in found.steps],
        "ahead": [
            {"changeover": changeover_json(row.changeover), "step": row.step} for row in found.ahead
        ],
    }


def _step(step: PickStep, pictures: Pictures, worn: Mapping[str, str]) -> Json:
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
        "notes": [name(note, LONGEST_NOTE) for note in step.notes],
        "place": step.place,
        "onward": step.onward,
        "count": step.to_do,
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
        "worn": worn.get(step.operation, ""),
        "late": step.late,
        "stands": ", ".join(filter(None, (step.stands, step.short))),
        "done": step.done,
        "was": step.was,
        "changeover": changeover_json(step.changeover),
    }


def _card(index: Index, card: cards.SetUpCard, pictures: Pictures, worn: Mapping[str, str]) -> Json:
    likely = likely_minutes(index)
    return {
        "number": card.number,
        "title": card.run.title,
        "tube": some(_tubes(index, card), 2),
        "ring": pictures.ring(card.run.spec),
        "lay": pictures.lay(card.run.lay),
        "start": card.start,
        "minutes": duration(card.run.minutes),
        "people": ", ".join(card.run.people),
        "changeover": changeover_json(card.changeover),
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
        "cautions": [caution.removesuffix(f" ({COMMON})") for caution in card.cautions],
        "steps": [
            {
                **_step(step, pictures, worn),
                "likely": likely.get(step.operation, ""),
                "start": clock_on(index, step.start_min, day_of(card.run.start_min)),
            }
            for step in card.steps
        ],
    }


def _tubes(index: Index, card: cards.SetUpCard) -> list[str]:
    return list(dict.fromkeys(index.ruler.spec(step.spec) for step in card.steps))


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
        "care": ". ".join(filter(None, (sheet.short, sheet.care))),
        "patterns": [
            _pattern(sheet, found, pictures, width, (width - 1) / longest)
            for found in sheet.patterns
        ],
    }


def _pattern(
    sheet: cuts.CutSheet, found: cuts.Pattern, pictures: Pictures, width: float, scale: float
) -> Json:
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
                "ends": group.ends,
            }
            for group in found.groups
        ],
        "drop": found.drop,
        "watch": "; ".join(filter(None, (found.left_out(sheet.lost), found.watch))),
        "kept": found.kept,
    }


def tags_of(index: Index, kind: TagKind) -> list[tags.Tag]:
    """Remnants to keep, then bundles or pieces."""
    own = tags.bundle_tags if kind == TagKind.BUNDLES else tags.piece_tags
    return [*tags.remnant_tags(index), *own(index)]


def tag_json(tag: tags.Tag, pictures: Pictures) -> Json:
    """One tag with its ring and its code."""
    return {
        "title": name(tag.title, TAG_TITLE),
        "big": tag.big,
        "lines": [name(words, TAG_LINE) for words in tag.lines if words],
        "ring": pictures.ring(tag.spec),
        "code": pictures.square_code(tag.code),
    }
