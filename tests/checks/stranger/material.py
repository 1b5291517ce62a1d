"""docs/plan.md, invariant 1, and the cost of cut lists."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator

from tests.checks.stranger.records import Json, Records

METRE = 1_000_000_000


class Material(Records):
    """Blanks, cut lists and counts."""

    def blank(self, key: str) -> Iterator[str]:
        line, blank = self.orders[key], self.blanks[key]
        length = self.shape_nm(line, blank)
        if abs(blank["length_nm"] - length) > 2:
            yield f"{key}: blank {blank['length_nm']}, by its shape {length}"
        if sum(term["length_nm"] for term in blank["terms"]) != blank["length_nm"]:
            yield f"{key}: terms do not add up"

    def shape_nm(self, line: Json, blank: Json) -> int:
        shape, od = line["shape"], line["spec"]["od_nm"]
        if shape["kind"] == "cut":
            return int(shape["length_nm"])
        if shape["kind"] == "axis":
            return int(shape["length_nm"]) + sum(end_nm(od, end) for end in line["ends"])
        bends = [row for row in shape["rows"] if row["angle_mdeg"]]
        arcs = sum(round(row["clr_nm"] * math.radians(row["angle_mdeg"] / 1000)) for row in bends)
        total: int = sum(row["straight_nm"] for row in shape["rows"]) + arcs
        if not bends:
            return total
        bender = self.bender(line, bends[0]["clr_nm"])
        for end, extra in zip(line["ends"], ("grip_nm", "trim_nm"), strict=True):
            steps = blank["steps"]
            is_late = end["kind"] == "saddle" and steps.index("bend") < steps.index("notch")
            total += bender[extra] if end["kind"] == "square" or is_late else 0
        return total

    def bender(self, line: Json, clr_nm: int) -> Json:
        od = line["spec"]["od_nm"]
        benders = [
            one
            for one in self.shop["stations"]
            if one["kind"] == "bender" and one["od_min_nm"] <= od <= one["od_max_nm"]
        ]
        with_die = [
            one
            for one in benders
            for tool in self.shop["tools"]
            if (tool["kind"], tool["station"], tool["od_nm"], tool["clr_nm"])
            == ("die", one["name"], od, clr_nm)
        ]
        return dict((with_die or benders)[0]["bender"])

    def cut_list(self, key: str) -> Iterator[str]:
        lot, cut = self.lots[key], self.cuts[key]
        wanted = Counter({line: self.orders[line]["quantity"] for line in lot["lines"]})
        found = Counter(piece["line"] for stick in cut["sticks"] for piece in stick["pieces"])
        if wanted != found:
            yield f"{key}: cuts {found}, wanted {wanted}"
        cost = 0
        for stick in cut["sticks"]:
            item, pieces = self.stock[stick["stock"]], stick["pieces"]
            if item["spec"] != lot["spec"] or item["length_nm"] != stick["length_nm"]:
                yield f"{stick['tag']}: is not the stick in stock"
            if any(one["length_nm"] != self.blanks[one["line"]]["length_nm"] for one in pieces):
                yield f"{stick['tag']}: a piece is not as long as its blank"
            head = cut["stick_trim_nm"] + cut["end_trim_nm"]
            used = head + sum(one["length_nm"] + cut["kerf_nm"] for one in pieces)
            if used - cut["kerf_nm"] + cut["end_trim_nm"] > stick["length_nm"]:
                yield f"{stick['tag']}: is too short"
            if stick["drop_nm"] != max(0, stick["length_nm"] - used):
                yield f"{stick['tag']}: leaves another drop"
            cost += self.stick_cents(lot, stick)
        if cost != cut["cost_cents"]:
            yield f"{key}: costs {cost}, says {cut['cost_cents']}"
        if cut["floor_cents"] > cost or (cut["status"] == "proven") != (cut["floor_cents"] == cost):
            yield f"{key}: its floor {cut['floor_cents']} is none of {cost}"

    def stick_cents(self, lot: Json, stick: Json) -> int:
        house = self.shop["house"]
        whole = [
            item
            for item in self.plan["stock"]
            if item["spec"] == lot["spec"] and not item["remnant"]
        ]
        rates = [item["price_cents"] / item["length_nm"] for item in whole if item["price_cents"]]
        finish = self.finish_cents_m(lot)
        paid = self.stock[stick["stock"]]["price_cents"]
        if not stick["finished"]:
            paid += math.floor(finish * stick["length_nm"] / METRE + 0.5)
        if not stick["kept"]:
            return int(paid)
        drop, worth = stick["drop_nm"], 0
        if rates:
            longest = max(item["length_nm"] for item in whole)
            step = house["remnant_nm"]
            while step + 150_000_000 <= drop and step + 150_000_000 < longest:
                step += 150_000_000
            worth = int(min(rates) * step * house["remnant_share"]) if step < longest else 0
        return max(0, int(paid) - worth - finish * int(drop) // METRE)

    def finish_cents_m(self, lot: Json) -> int:
        od = lot["spec"]["od_nm"]
        finishers = (one for one in self.shop["stations"] if one["kind"] == "finisher")
        able = (one for one in finishers if one["od_min_nm"] <= od <= one["od_max_nm"])
        first = next(able, None)
        if lot["recipe"] is None or lot["saw_first"] or first is None:
            return 0
        minutes = 0.0
        for step in self.steps(lot):
            belt = next(
                belt
                for belt in self.shop["belts"]
                if belt["grade"] == step["grade"] and lot["spec"]["family"] in belt["families"]
            )
            minutes += 1000 / self.feed_mm_min(first, belt, step, lot["spec"]["od_nm"])
        return round(minutes * int(self.shop["house"]["minute_cents"]))

    def counts(self) -> Iterator[str]:
        used = Counter(stick["stock"] for cut in self.plan["cut_lists"] for stick in cut["sticks"])
        for key, count in used.items():
            there = self.stock[key]["count"]
            if there is not None and count > there:
                yield f"{key}: {count} of {there} sticks are used"
        bought = {line["stock"]: line["count"] for line in self.plan["buy"]}
        if bought != {k: n for k, n in used.items() if self.stock[k]["count"] is None}:
            yield f"the buy list is {bought}"


def end_nm(od_nm: int, end: Json) -> int:
    """What an end adds to the length between axes."""
    angle = math.radians(end["angle_mdeg"] / 1000)
    if end["kind"] == "mitre":
        return round(od_nm / 2 * math.tan(angle))
    if end["kind"] == "square":
        return 0
    angle = min(angle, math.pi - angle)
    small, large = od_nm / 2, end["on_od_nm"] / 2
    turns = [math.pi * step / 100_000 for step in range(100_001)]
    return -round(
        min(
            (
                math.sqrt(large**2 - (small * math.sin(turn)) ** 2)
                + small * math.cos(turn) * math.cos(angle)
            )
            / math.sin(angle)
            for turn in turns
        )
    )
