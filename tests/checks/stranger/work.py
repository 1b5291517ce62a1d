"""docs/plan.md, invariants 2 and 5: order of work, minutes, due dates."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from itertools import pairwise

from tests.checks.stranger.records import DAY, Json, Records


class Work(Records):
    """What is done in which order, and how long it takes."""

    def passes(self, key: str) -> Iterator[str]:
        lot, cut = self.lots[key], self.cuts[key]
        raw = [stick for stick in cut["sticks"] if not stick["finished"]]
        wanted = [step["grade"]["label"] for step in self.steps(lot)] if raw else []
        done = sorted(self.of_lot(key, "finish"), key=self.begin)
        if [one["grade"] for one in done] != wanted:
            yield f"{key}: its passes are {[one['grade'] for one in done]}, not {wanted}"
        chain = done + self.of_lot(key, "saw")
        if lot["saw_first"]:
            chain = self.of_lot(key, "saw") + done
        yield from self.after_each_other(chain)
        for one in done:
            belt = self.belts[one["belt"]]
            if lot["spec"]["family"] not in belt["families"]:
                yield f"{one['key']}: its belt must not touch the family"
        there = [self.there_min(self.stock[stick["stock"]], lot) for stick in cut["sticks"]]
        if any(one["release_min"] != max(there) for one in self.of_lot(key)):
            yield f"{key}: its material is there at another time"
        begun = [self.begin(one) for one in self.of_lot(key) if one["key"] not in self.past]
        if begun and min(begun) < max(there):
            yield f"{key}: begins before its material is there"

    def there_min(self, item: Json, lot: Json) -> int:
        arrives = date.fromisoformat(item["arrives"]) if item["arrives"] else self.start
        lead = item["lead_days"] if item["count"] is None else 0
        lead += lot["ordered_day"] if lead else 0
        return DAY * max((arrives - self.start).days, lead)

    def line(self, key: str) -> Iterator[str]:
        lot = next(lot for lot in self.plan["lots"] if key in lot["lines"])
        steps = [step for step in self.blanks[key]["steps"] if step not in ("finish", "saw")]
        benches = any(one["kind"] == "bench" for one in self.shop["stations"])
        steps = [step for step in steps if benches or step != "touch-up"]
        own = sorted((one for one in self.of_lot(lot["key"]) if one["line"] == key), key=self.begin)
        if list(dict.fromkeys(one["step"] for one in own)) != steps:
            yield f"{key}: is not done in the order {steps}"
        shared = [one for one in self.of_lot(lot["key"]) if one["line"] is None]
        last = max(shared, key=self.end)
        yield from self.after_each_other([last, *own])
        done = max(map(self.end, [last, *own]))
        due = self.minute(self.orders[key]["due"])
        (row,) = [row for row in self.plan["done"] if row["line"] == key]
        if (row["done_min"], row["due_min"]) != (done, due):
            yield f"{key}: is done at {done} and due at {due}, not {row}"
        late = [row["late_min"] for row in self.plan["late"] if row["line"] == key]
        if late != ([done - due] if done > due else []):
            yield f"{key}: is {done - due} minutes late, listed {late}"

    def after_each_other(self, chain: list[Json]) -> Iterator[str]:
        for before, after in pairwise(chain):
            if self.end(before) > self.begin(after):
                yield f"{after['key']}: begins before {before['key']} has ended"

    def minutes(self, key: str) -> Iterator[str]:
        operation, slot = self.operations[key], self.slots[key]
        station = self.stations[slot["station"]]
        seconds = self.seconds(operation, station) * station.get("pace", 1)
        right = max(1, math.ceil(seconds / 60 - 1e-9))
        if part := self.paused.get(key):
            right = math.ceil(Fraction(right * part["left"], part["of"]))
        if slot["minutes"] != right:
            yield f"{key}: takes {slot['minutes']} minutes, by the model {right}"

    def seconds(self, operation: Json, station: Json) -> float:
        lot, cut = self.lots[operation["lot"]], self.cuts[operation["lot"]]
        sticks = cut["sticks"]
        if operation["step"] == "finish":
            return self.pass_s(operation, station, lot, sticks)
        if operation["step"] == "saw":
            saw, pieces = station["saw"], [one["length_nm"] for s in sticks for one in s["pieces"]]
            stops = sum(1 for i, nm in enumerate(pieces) if i == 0 or pieces[i - 1] != nm)
            cuts = len(pieces) + (len(sticks) if saw["stick_trim_nm"] else 0)
            return float(len(sticks) * saw["stick_s"] + cuts * saw["cut_s"] + stops * saw["stop_s"])
        line, blank = self.orders[operation["line"]], self.blanks[operation["line"]]
        count, touch_up = line["quantity"], line["quantity"] * line["touch_up_s"]
        if operation["step"] == "bend":
            bender = station["bender"]
            benches = any(one["kind"] == "bench" for one in self.shop["stations"])
            bends = count * (bender["piece_s"] + blank["bends"] * bender["bend_s"])
            return float(bends + (0 if benches else touch_up))
        if operation["step"] == "touch-up":
            return float(touch_up)
        siblings = self.of_lot(lot["key"], "notch")
        notches = [one for one in siblings if one["line"] == operation["line"]]
        saddle = sorted(set(blank["saddles_nm"]))[notches.index(operation)]
        return float(blank["saddles_nm"].count(saddle) * count * station["notcher"]["end_s"])

    def pass_s(self, operation: Json, station: Json, lot: Json, sticks: list[Json]) -> float:
        number: int = operation["pass_no"] - 1
        step = self.steps(lot)[number]
        belt = self.belts[operation["belt"]]
        lengths = [stick["length_nm"] for stick in sticks if not stick["finished"]]
        if lot["saw_first"]:
            lengths = [one["length_nm"] for stick in sticks for one in stick["pieces"]]
        feed = self.feed_mm_min(station, belt, step, lot["spec"]["od_nm"]) * 1e6 / 60
        settings = station["finisher"]
        over = 0 if settings["continuous"] else belt["width_nm"] // 3
        contact = float(sum(nm + over for nm in lengths)) / feed
        seconds = contact
        for nm in lengths:
            is_carried = nm <= settings["carry_nm"]
            seconds += settings["short_handling_s" if is_carried else "handling_s"]
        if number == 0:
            seconds += len(lengths) * self.wipe_each_s(station, lot, sticks)
        change = self.change_min(station, "belt", belt["name"], belt["name"])
        return float(seconds + 60 * change * self.life_used(belt, lot["spec"], contact, lengths))

    def wipe_each_s(self, station: Json, lot: Json, sticks: list[Json]) -> float:
        if lot["saw_first"]:
            return float(station["finisher"]["wipe_piece_s"])
        oiled = {item["key"] for item in self.plan["stock"] if item["oiled"]}
        is_oiled = any(self.orders[key]["oiled"] for key in lot["lines"])
        is_oiled = is_oiled or any(stick["stock"] in oiled for stick in sticks)
        return float(station["finisher"]["wipe_s"] if is_oiled else 0)

    def life_used(self, belt: Json, spec: Json, contact: float, lengths: list[int]) -> float:
        cm2 = math.pi * spec["od_nm"] * sum(lengths) / 1e14
        by_time = contact / 60 / belt["life_min"] if belt["life_min"] else 0.0
        by_area = cm2 / belt["life_cm2"] if belt.get("life_cm2") else 0.0
        return float(max(by_time, by_area) * belt.get("wear", {}).get(spec["family"], 1))
