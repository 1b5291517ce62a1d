"""The plan as plain JSON, with its records by key."""

from __future__ import annotations

import math
from datetime import date, datetime
from typing import Any

Json = dict[str, Any]
DAY = 1440


class Records:
    """What every check looks up."""

    def __init__(self, plan: Json) -> None:
        self.plan, self.shop = plan, plan["shop"]
        self.start = date.fromisoformat(plan["options"]["start"])
        self.orders = {f"{line['order']}/{line['line']}": line for line in plan["orders"]}
        self.blanks = {blank["line"]: blank for blank in plan["blanks"]}
        self.stock = {item["key"]: item for item in plan["stock"]}
        self.lots = {lot["key"]: lot for lot in plan["lots"]}
        self.cuts = {cut["lot"]: cut for cut in plan["cut_lists"]}
        self.operations = {one["key"]: one for one in plan["operations"]}
        self.slots = {slot["operation"]: slot for slot in plan["slots"]}
        self.stations = {one["name"]: one for one in self.shop["stations"]}
        self.belts = {belt["name"]: belt for belt in self.shop["belts"]}
        self.recipes = {recipe["name"]: recipe for recipe in self.shop["recipes"]}
        replan: Json = plan["replan"] or {"held": [], "paused": [], "resumed": []}
        self.held = {one["operation"]: one for one in replan["held"]}
        self.past = {key for key, one in self.held.items() if one["why"] in ("done", "started")}
        self.paused = {one["operation"]: one for one in replan["paused"]}
        parts = [*replan["resumed"], *replan["paused"]]
        self.parts: list[Json] = sorted(parts, key=lambda one: int(one["start_min"]))

    def steps(self, lot: Json) -> list[Json]:
        if lot["recipe"] is None:
            return []
        surface = lot["spec"]["surface"]
        return [
            step
            for step in self.recipes[lot["recipe"]]["steps"]
            for _ in range(step["passes"].get(surface, 0))
        ]

    def of_lot(self, key: str, *steps: str) -> list[Json]:
        found = [one for one in self.plan["operations"] if one["lot"] == key]
        return [one for one in found if not steps or one["step"] in steps]

    def minute(self, when: str) -> int:
        midnight = datetime.combine(self.start, datetime.min.time())
        return int((datetime.fromisoformat(when) - midnight).total_seconds() // 60)

    def begin(self, operation: Json) -> int:
        return int(self.slots[operation["key"]]["start_min"])

    def end(self, operation: Json) -> int:
        return int(self.slots[operation["key"]]["end_min"])

    def parts_min(self) -> int:
        """Changeover minutes for parts of runs that stood still."""
        return sum(change["minutes"] for part in self.parts for change in part["changes"])

    def is_alone(self, station: Json) -> bool:
        return bool(station["kind"] == "saw" and station["saw"]["unattended"])

    def good(self, station: Json, od_nm: int) -> list[int]:
        there = [one for one in self.shop["good"] if one["station"] in ("", station["name"])]
        return [one["tilt_mdeg"] for one in there if one["od_nm"] == od_nm]

    def feed_mm_min(self, station: Json, belt: Json, step: Json, od_nm: int) -> float:
        settings = station["finisher"]
        (wheels,) = [one for one in self.shop["wheels"] if one["station"] == station["name"]]
        face = math.pi * wheels["brake_nm"] / 1e6 * wheels["brake_rpm"] * settings["slip"]
        turns = step["least_overlap"] or settings["least_overlap"]
        tilts = [
            math.degrees(math.atan(belt["width_nm"] / (turns * math.pi * od_nm))),
            math.degrees(math.asin(min(1, settings["feed_max_mm_min"] / face))),
            settings["tilt_max_mdeg"] / 1000,
            max([settings["first_tilt_mdeg"], *self.good(station, od_nm)]) / 1000,
        ]
        tilt = math.floor(min(tilts) * 2 + 1e-9) / 2
        return float(face * math.sin(math.radians(tilt)))

    def change_min(self, station: Json, what: str, before: str | None, after: str) -> int:
        names = (station["name"], station["base"])
        best, minutes = (-1, -1, -1), 0
        for row in self.shop["changeovers"]:
            given = (row["before"] is not None, row["after"] is not None)
            if (
                row["what"] == what
                and row["station"] in (*names, station["kind"])
                and row["before"] in (None, before)
                and row["after"] in (None, after)
            ):
                rank = (int(row["station"] in names), sum(given), int(given[1]))
                if rank > best:
                    best, minutes = rank, row["minutes"]
        return int(minutes)
