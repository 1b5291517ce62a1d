"""docs/plan.md, invariants 3 and 4: hours, stations, people, changeovers; and the ledger."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date, timedelta

from tests.checks.stranger.records import DAY, Json, Records


class Clock(Records):
    """What happens when."""

    def one_at_a_time(self) -> Iterator[str]:
        busy: dict[str, list[tuple[int, int]]] = {}
        for slot in self.plan["slots"]:
            station = self.stations[slot["station"]]
            begins, ends = slot["setup_start_min"], slot["end_min"]
            busy.setdefault(station["base"] or slot["station"], []).append((begins, ends))
            if self.is_alone(station):
                ends = begins + slot["setup_min"]
            done = self.held.get(slot["operation"], {}).get("why") == "done"
            for person in () if done else slot["people"]:
                busy.setdefault(f"person {person}", []).append((begins, ends))
        for who, spans in busy.items():
            free = 0
            for begins, ends in sorted(span for span in spans if span[0] < span[1]):
                if begins < free:
                    yield f"{who}: does two things at {begins}"
                free = max(free, ends)

    def works(self, who: str, day: date, kinds: tuple[str, ...]) -> set[int]:
        minutes: set[int] = set()
        names = dict.fromkeys(("shop", who))
        layers = [
            [row for row in self.shop["hours"] if row["who"] == name and fits(row, day, by_date)]
            for by_date in (False, True)
            for name in names
        ]
        for layer in layers:
            spans = [(row["kind"], range(row["start_min"], row["end_min"])) for row in layer]
            if any(kind == "work" and span for kind, span in spans):
                minutes = set()
            for kind, span in spans:
                minutes |= set(span) if kind in kinds else set()
            for kind, span in spans:
                minutes -= set(span) if kind in ("break", "closed") else set()
        return minutes

    def worked(
        self,
        slot: Json,
        people: list[str],
        begins: int,
        ends: int,
        kinds: tuple[str, ...] = ("work", "overtime"),
    ) -> list[int]:
        """The common working minutes of the station and people in a span."""
        found: list[int] = []
        for day in range(begins // DAY, (ends - 1) // DAY + 1):
            when = self.start + timedelta(days=day)
            sets = [self.works(who, when, kinds) for who in (slot["station"], *people)]
            both = {day * DAY + minute for minute in sets[0].intersection(*sets[1:])}
            found += sorted(minute for minute in both if begins <= minute < ends)
        return found

    def hours(self, slot: Json) -> Iterator[str]:
        whole = range(slot["start_min"], slot["end_min"])
        times = [minute for piece in slot["pieces"] for minute in piece]
        if (times[0], times[-1]) != (whole.start, whole.stop) or sorted(set(times)) != times:
            yield f"{slot['operation']}: its pieces are not the run"
        if slot["operation"] not in self.past:
            yield from self.planned_hours(slot, whole)

    def planned_hours(self, slot: Json, whole: range) -> Iterator[str]:
        begins, setup = slot["setup_start_min"], slot["setup_min"]
        if setup and len(self.worked(slot, slot["people"], begins, begins + setup)) != setup:
            yield f"{slot['operation']}: its changeover is not within hours"
        is_alone = self.is_alone(self.stations[slot["station"]])
        people: list[str] = [] if is_alone else slot["people"]
        run = [minute for piece in slot["pieces"] for minute in range(*piece)]
        offered = self.worked(slot, people, whole.start, whole.stop)
        owed = self.worked(slot, people, whole.start, whole.stop, ("work",))
        if len(run) != slot["minutes"]:
            yield f"{slot['operation']}: works {len(run)} minutes in its pieces"
        if not set(owed) <= set(run) <= set(offered):
            yield f"{slot['operation']}: works out of hours, or rests in them"
        if begins + setup > slot["start_min"] or begins < self.plan["options"]["start_min"]:
            yield f"{slot['operation']}: its changeover is not before it"

    def changeovers(self) -> Iterator[str]:
        for slot, total in self.table_minutes():
            said = sum(change["minutes"] for change in slot["changes"])
            if not total == said == slot.get("setup_min", said):
                yield f"{slot['operation']}: changes in {said}, by the table {total}"

    def table_minutes(self) -> Iterator[tuple[Json, int]]:
        """Slots, and parts of what stood still, in the order of time with their changeover minutes
        by the table."""
        on: dict[str, dict[str, str]] = {}
        for row in self.shop["mounted"]:
            base = self.stations.get(row["station"], {}).get("base")
            place = base if row["what"] == "attachment" and base else row["station"]
            on.setdefault(place, {})[row["what"]] = row["value"]
        for slot in sorted(
            [*self.plan["slots"], *self.parts],
            key=lambda one: (one["setup_start_min"], one["end_min"]),
        ):
            station = self.stations[slot["station"]]
            minutes: list[int] = []
            ways = self.operations[slot["operation"]]["alternatives"]
            states: dict[str, dict[str, str]] = {way["station"]: way["state"] for way in ways}
            state = states.get(slot["station"], {})
            for what, after in state.items():
                place = station["base"] if what == "attachment" else slot["station"]
                before = on.setdefault(place, {}).get(what)
                on[place][what] = after
                if before != after:
                    minutes.append(self.change_min(station, what, before, after))
            total = (max if self.side_by_side(station) else sum)(minutes or [0])
            yield slot, total

    def side_by_side(self, station: Json) -> bool:
        base = station["base"]
        group = [
            one
            for one in self.stations.values()
            if one is station or (base and one["base"] == base)
        ]
        names = {base, *(one["name"] for one in group), *(one["kind"] for one in group)}
        return bool(names & set(self.shop["longest_of"]))

    def lists(self) -> Iterator[str]:
        said = {
            (row["station"], row["day"], row["what"]): row["minutes"] for row in self.plan["ledger"]
        }
        real: Counter[tuple[str, str, str]] = Counter()
        for slot in [*self.plan["slots"], *self.parts]:
            day = self.start + timedelta(days=slot["setup_start_min"] // DAY)
            for change in slot["changes"]:
                real[slot["station"], day.isoformat(), change["what"]] += change["minutes"]
        if said != real:
            yield f"the ledger says {said}, it is {dict(real)}"
        total = self.parts_min() + sum(slot["setup_min"] for slot in self.plan["slots"])
        this = self.plan["yardsticks"][0]
        if (this["name"], this["changeover_min"]) != ("this plan", total):
            yield f"the plan changes for {total} minutes"
        met = {floor["kind"]: floor["floor"] == floor["value"] for floor in self.plan["floors"]}
        both = met["weighted lateness"] and met["changeover minutes"]
        if both != (self.plan["status"] == "proven"):
            yield f"the run order is {self.plan['status']}, its floors say {met}"
        for floor in self.plan["floors"]:
            if floor["floor"] > floor["value"]:
                yield f"{floor['kind']}: its floor lies above it"


def fits(row: Json, day: date, by_date: bool) -> bool:
    """Whether a row of hours is for the date, or for its weekday."""
    return bool(row["day"] == day.isoformat() if by_date else row["weekday"] == day.weekday())
