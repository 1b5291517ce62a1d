"""docs/plan.md, invariant 6: the orders of the week that the plan is compared with."""

from __future__ import annotations

from collections.abc import Iterator

from tests.checks.stranger.clock import Clock
from tests.checks.stranger.records import Json
from tests.checks.stranger.replanned import Replanned


class Order(Clock):
    """The same week in another order of work."""

    def __init__(self, plan: Json, yardstick: Json) -> None:
        self.said = yardstick
        super().__init__({**plan, "slots": [self.slot(one) for one in yardstick["placings"]]})
        ways = {one["key"]: one["alternatives"] for one in plan["operations"]}
        for slot in self.plan["slots"]:
            (way,) = (w for w in ways[slot["operation"]] if w["station"] == slot["station"])
            slot["minutes"] = way["minutes"]
        for slot, minutes in list(self.table_minutes()):
            if "minutes" in slot:
                slot["setup_min"] = minutes

    @staticmethod
    def slot(placing: Json) -> Json:
        pieces = placing["pieces"]
        return {**placing, "start_min": pieces[0][0], "end_min": pieces[-1][1], "setup_min": 0}

    def faults(self) -> Iterator[str]:
        if sorted(self.slots) != sorted(self.operations):
            yield "it does other work than the plan"
            return
        yield from self.one_at_a_time()
        for slot in self.plan["slots"]:
            yield from self.hours(slot)
            if slot["operation"] not in self.past and slot["start_min"] < self.ready(slot):
                yield f"{slot['operation']}: begins before it is ready"
        yield from Replanned(self.plan).places()
        yield from self.figures()
        if self.said["name"] == "by due date":
            yield from self.straw()

    def ready(self, slot: Json) -> int:
        operation = self.operations[slot["operation"]]
        ends = [int(self.slots[key]["end_min"]) for key in operation["after"]]
        return max([int(operation["release_min"]), *ends])

    def last(self, line: str) -> Json:
        """The operation with which a line is complete."""
        lot = next(lot["key"] for lot in self.plan["lots"] if line in lot["lines"])
        own = [one for one in self.of_lot(lot) if one["line"] == line]
        return (own or [one for one in self.of_lot(lot) if one["line"] is None])[-1]

    def figures(self) -> Iterator[str]:
        late = {
            key: self.end(self.last(key)) - self.minute(line["due"])
            for key, line in self.orders.items()
        }
        late = {key: minutes for key, minutes in late.items() if minutes > 0}
        real = {
            "changeover_min": self.parts_min()
            + sum(slot["setup_min"] for slot in self.plan["slots"]),
            "late_lines": len(late),
            "late_min": sum(late.values()),
            "weighted_late_min": sum(late[key] * self.orders[key]["weight"] for key in late),
        }
        for name, right in real.items():
            if self.said[name] != right:
                yield f"its {name} is {self.said[name]}, {right} by its placings"

    def straw(self) -> Iterator[str]:
        """Where it takes up work although something due earlier waits."""
        numbers = {key: number for number, key in enumerate(self.operations)}
        wanted = dict.fromkeys(self.operations, 10**9)
        for key, line in self.orders.items():
            last = self.last(key)["key"]
            wanted[last] = min(wanted[last], self.minute(line["due"]))
        for key in reversed(list(self.operations)):
            shortest = min(way["minutes"] for way in self.operations[key]["alternatives"])
            for before in self.operations[key]["after"]:
                wanted[before] = min(wanted[before], wanted[key] - shortest)
        places: dict[str, list[Json]] = {}
        for slot in sorted(self.plan["slots"], key=lambda one: one["start_min"]):
            station = self.stations[slot["station"]]
            places.setdefault(station["base"] or slot["station"], []).append(slot)
        for slots in places.values():
            for number, slot in enumerate(slots):
                if slot["operation"] in self.past:
                    continue
                free = slots[number - 1]["end_min"] if number else 0
                for other in slots[number + 1 :]:
                    ranks = [
                        (wanted[one["operation"]], numbers[one["operation"]])
                        for one in (other, slot)
                    ]
                    held = self.held.get(other["operation"], {"start_min": 0})
                    if max(self.ready(other), held["start_min"]) <= free and ranks[0] < ranks[1]:
                        yield f"{slot['operation']} goes before {other['operation']}"
