"""docs/plan.md, invariant 6: what stays, has moved, stands still or was lost in a later plan."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from tests.checks.stranger.records import DAY, Json, Records

TIMES = ("setup_start_min", "start_min", "end_min")
AS_ISSUED = ("station", "start_min", "end_min")
NONE: Json = {"held": [], "issued": [], "moved": [], "paused": [], "resumed": [], "scrap": []}


class Replanned(Records):
    """The record of a week that was planned again; a first plan has none of it."""

    def __init__(self, plan: Json) -> None:
        super().__init__(plan)
        self.replan: Json = plan["replan"] or NONE
        self.now: int = plan["options"]["start_min"]
        self.issued = {one["operation"]: one for one in self.replan["issued"]}

    def faults(self) -> Iterator[str]:
        if self.plan["replan"] and self.replan["now_min"] != self.now:
            yield "it was planned again at another time than its first"
        yield from self.names()
        for key, one in self.issued.items():
            if not one["setup_start_min"] <= one["start_min"] < one["end_min"]:
                yield f"{key}: was issued at times that are not in order"
        yield from self.places()
        for part in self.parts:
            yield from self.stood_still(part)
        yield from self.went_on()
        yield from self.moved()
        yield from self.ordered()
        yield from self.lost()

    def names(self) -> Iterator[str]:
        for what in ("held", "issued", "paused"):
            rows: list[Json] = self.replan[what]
            for key, count in Counter(one["operation"] for one in rows).items():
                if key not in self.operations or count > 1:
                    yield f"{key}: is {what} {count} times, or is no operation"

    def places(self) -> Iterator[str]:
        """Held work that lies elsewhere, or cannot have been there."""
        for key, held in self.held.items():
            yield from self.record(key, held)
            is_past = key in self.past
            yield from self.begun(key, held) if is_past else self.stays(key, held)

    def record(self, key: str, held: Json) -> Iterator[str]:
        """What no record of its kind can say."""
        why, count = held["why"], self.operations[key]["count"]
        if not held["exact"] and why != "pinned":
            yield f"{key}: is {why}, and to no minute"
        if held["pieces"] is not None and not (why == "started" and 0 <= held["pieces"] <= count):
            yield f"{key}: is {why} with {held['pieces']} of {count} done"
        was_issued = same(held, self.issued.get(key, {}), AS_ISSUED)
        if not was_issued and (why == "locked" or (key in self.past and not held["actual"])):
            yield f"{key}: is {why} as issued, and was issued elsewhere"

    def begun(self, key: str, held: Json) -> Iterator[str]:
        setup, start, end = (held[name] for name in TIMES)
        if not same(held, self.slots[key], ("station", "people", *TIMES)):
            yield f"{key}: has begun, and not where its slot is"
        if not setup <= start < end:
            yield f"{key}: has begun at times that are not in order"
        if held["why"] == "done" and end > self.now:
            yield f"{key}: is done after now"
        if held["why"] == "started" and not setup <= self.now < end:
            yield f"{key}: runs, and not now"

    def stays(self, key: str, held: Json) -> Iterator[str]:
        slot, start, end = self.slots[key], held["start_min"], held["end_min"]
        if not start <= slot["start_min"] < slot["end_min"] <= end:
            yield f"{key}: is not within the time to which it is {held['why']}"
        if held["exact"] and not same(held, slot, TIMES[1:]):
            yield f"{key}: is not at the time to which it is {held['why']}"
        if held["station"] not in ("", slot["station"]):
            yield f"{key}: is {held['why']} to another station"
        if (held["exact"] or held["people"]) and held["people"] != slot["people"]:
            yield f"{key}: is {held['why']} to others"

    def went_on(self) -> Iterator[str]:
        """One part after the other, each with less to come, and the slot after them."""
        for key in self.paused.keys() & self.past:
            yield f"{key}: stands still, and is done or runs"
        for part in self.replan["resumed"]:
            if part["operation"] not in self.paused.keys() | self.past:
                yield f"{part['operation']}: went on, and neither runs nor stands still"
        for key in {part["operation"] for part in self.parts}:
            parts = [part for part in self.parts if part["operation"] == key]
            for before, after in pairwise([*parts, {**self.slots[key], "left": 0, "of": 1}]):
                if before["end_min"] > after["start_min"]:
                    yield f"{key}: goes on before the end of a part that was done"
                if before["left"] * after["of"] <= after["left"] * before["of"]:
                    yield f"{key}: went on, and no less of it is to come"
            if key in self.paused and parts[-1] is not self.paused[key]:
                yield f"{key}: stands still, and went on since"

    def stood_still(self, part: Json) -> Iterator[str]:
        key = part["operation"]
        if not 0 < part["left"] <= part["of"]:
            yield f"{key}: stands still with {part['left']} of {part['of']} to come"
        if not part["setup_start_min"] <= part["start_min"] < part["end_min"] <= self.now:
            yield f"{key}: stands still since a time before it began, or after now"
        yield from self.could_begin(part)

    def could_begin(self, part: Json) -> Iterator[str]:
        operation = self.operations[part["operation"]]
        if part["pieces"] is not None and not 0 <= part["pieces"] < operation["count"]:
            yield f"{operation['key']}: stood still with {part['pieces']} done"
        if part["station"] not in [way["station"] for way in operation["alternatives"]]:
            yield f"{operation['key']}: was begun where it cannot be done"
        for before in operation["after"]:
            if before not in self.past or self.slots[before]["end_min"] > part["start_min"]:
                yield f"{operation['key']}: was begun before {before} had ended"

    def moved(self) -> Iterator[str]:
        real = {
            key: before
            for key, before in self.issued.items()
            if key not in self.past and not same(before, self.slots[key], AS_ISSUED[:2])
        }
        said = {one["operation"]: one for one in self.replan["moved"]}
        if sorted(one["operation"] for one in self.replan["moved"]) != sorted(real):
            yield f"moved are {sorted(real)}, listed {sorted(said)}"
        for key, one in said.items():
            places = ("operation", "station", "people", *TIMES)
            if one["before"] != real.get(key) or not same(one["after"], self.slots[key], places):
                yield f"{key}: did not move as it is listed"

    def ordered(self) -> Iterator[str]:
        """The day on which the sticks of a lot are ordered."""
        for key, lot in self.lots.items():
            is_new = not any(one["key"] in self.issued for one in self.of_lot(key))
            if not 0 <= lot["ordered_day"] <= self.now // DAY:
                yield f"{key}: is ordered on day {lot['ordered_day']}, and today is before that"
            if is_new and lot["ordered_day"] != self.now // DAY:
                yield f"{key}: is new, and was ordered on day {lot['ordered_day']}"

    def lost(self) -> Iterator[str]:
        in_all: Counter[str] = Counter()
        said: Counter[tuple[str, ...]] = Counter()
        for one in self.replan["scrap"]:
            where, line, stick = one["operation"], one["line"], one["stick"]
            operation = self.operations.get(where, {"lot": where, "line": None})
            lot = self.lots.get(operation["lot"], {"lines": []})
            if line not in lot["lines"] or operation["line"] not in (None, line):
                yield f"{where}: does not work on {line}, and lost some"
                continue
            told = self.operations.get(one["told_at"])
            if one["told_at"] and (stick or told is None or told["lot"] != where):
                yield f"{where}: has lost nothing at {one['told_at']}"
            said["" if stick else where, "" if stick else one["told_at"], line, stick] += 1
            in_all[line] += one["pieces"]
            sticks = [each for each in self.cuts[lot["key"]]["sticks"] if each["tag"] == stick]
            on_it = sum(piece["line"] == line for each in sticks for piece in each["pieces"])
            if one["pieces"] < 1 or (stick and one["pieces"] != on_it):
                yield f"{stick or where}: cannot have lost {one['pieces']} of {line}"
        yield from (f"{what}: is lost {count} times" for what, count in said.items() if count > 1)
        for line, pieces in in_all.items():
            if pieces > self.orders[line]["quantity"]:
                yield f"{line}: has lost {pieces} of {self.orders[line]['quantity']} pieces"


def same(one: Json, other: Json, names: tuple[str, ...]) -> bool:
    return all(one[name] == other.get(name) for name in names)
