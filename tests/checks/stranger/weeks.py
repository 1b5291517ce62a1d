"""docs/plan.md, invariant 6: the simulated weeks, one after the other and slot by slot."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from itertools import groupby
from statistics import NormalDist
from typing import Any

import numpy as np

from tests.checks.stranger.clock import Clock
from tests.checks.stranger.records import DAY, Json

Span = tuple[float, float]
BOTH = ("work", "overtime")


class Weeks(Clock):
    """The plan's own slots with other minutes."""

    def risk(self) -> Iterator[str]:
        said = self.plan["risk"]
        ends, changed = self.drawn(said)
        lines: list[Any] = []
        for key in (done["line"] for done in self.plan["done"]):
            last = self.of_lot(next(lot for lot in self.lots if key in self.lots[lot]["lines"]))
            own = [one for one in last if one["line"] == key]
            own = own or [one for one in last if one["line"] is None]
            lines.append(np.array([week[own[-1]["key"]] for week in ends]))
        due = [self.minute(self.orders[done["line"]]["due"]) for done in self.plan["done"]]
        late = [minutes > limit for minutes, limit in zip(lines, due, strict=True)]
        for row, minutes, missed in zip(said["lines"], lines, late, strict=True):
            real = {"chance": 1 - missed.mean(), **quantiles("", minutes)}
            yield from (
                f"{row['line']}: {name} is {row[name]}, drawn {value}"
                for name, value in real.items()
                if abs(row[name] - value) > 1e-9
            )
        real = {
            "all_on_time": 1 - np.any(late, axis=0).mean(),
            **quantiles("changeover_", np.array(changed)),
        }
        for name, value in real.items():
            if abs(said[name] - value) > 1e-9:
                yield f"{name} is {said[name]}, drawn {value}"

    def drawn(self, risk: Json) -> tuple[list[dict[str, float]], list[float]]:
        """When each operation ends and the changeover minutes, week by week."""
        random = np.random.default_rng(risk["seed"])
        spreads = {each["station"]: each for each in risk["spreads"]}
        slots = sorted(self.plan["slots"], key=lambda one: (one["start_min"], one["end_min"]))
        held: list[Json] = self.plan["replan"]["held"] if self.plan["replan"] else []
        past = {one["operation"] for one in held if one["why"] in ("done", "started")}
        hours = {one["operation"]: self.both_hours(one) for one in slots}
        ends: list[dict[str, float]] = []
        changed: list[float] = []
        for first in range(0, risk["weeks"], 1000):
            count = min(1000, risk["weeks"] - first)
            shared = {
                name: (random.standard_normal(count), random.standard_normal(count))
                for name in spreads
            }
            own = {
                one["operation"]: (random.standard_normal(count), random.standard_normal(count))
                for one in slots
                if one["operation"] not in past
            }
            for week in range(count):
                minutes = {
                    one["operation"]: self.minutes_of(
                        one,
                        spreads[one["station"]],
                        [float(z[week]) for z in shared[one["station"]]],
                        [float(z[week]) for z in own[one["operation"]]],
                    )
                    for one in slots
                    if one["operation"] in own
                }
                end, setups = self.walk(slots, minutes, hours)
                ends.append(end)
                changed.append(setups)
        return ends, changed

    def minutes_of(
        self, slot: Json, spread: Json, shared: list[float], own: list[float]
    ) -> tuple[float, float]:
        """Changeover and run of a slot in one week."""
        setup = self.setup_median(slot, spread)
        run = slot["minutes"] / self.stations[slot["station"]]["pace"]
        setup *= np.exp(spread["setup"] * own[0]) * np.exp(spread["setup_shared"] * shared[1])
        run *= np.exp(spread["run"] * own[1]) * np.exp(spread["run_shared"] * shared[0])
        return float(setup), float(run)

    def setup_median(self, slot: Json, spread: Json) -> float:
        z = NormalDist().inv_cdf(self.plan["options"]["confidence"] / 100)
        any_ = np.hypot(spread["setup"], spread["setup_shared"])
        return float(slot["setup_min"] / np.exp(z * any_))

    def parts_median(self, spreads: dict[str, Json]) -> float:
        """Of the changeovers for parts of runs that stood still."""
        return sum(
            self.setup_median({"setup_min": change["minutes"]}, spreads[part["station"]])
            for part in self.parts
            for change in part["changes"]
        )

    def walk(
        self,
        slots: list[Json],
        minutes: dict[str, tuple[float, float]],
        hours: dict[str, tuple[list[Span], list[Span]]],
    ) -> tuple[dict[str, float], float]:
        free: dict[str, float] = {}
        ends: dict[str, float] = {}
        spreads = {each["station"]: each for each in self.plan["risk"]["spreads"]}
        total = self.parts_median(spreads)
        for slot in slots:
            key, station = slot["operation"], self.stations[slot["station"]]
            who = [f"at {station['base'] or station['name']}", *slot["people"]]
            if key not in minutes:
                ends[key] = slot["end_min"]
                free |= {name: max(free.get(name, 0), slot["end_min"]) for name in who}
                total += self.setup_median(slot, spreads[slot["station"]])
                continue
            setup, run = minutes[key]
            common, alone = hours[key]
            begin = max(free.get(name, 0) for name in who)
            changed = fit(common, begin, setup) + setup if setup else begin
            operation = self.operations[key]
            ready = max([changed, operation["release_min"], *(ends[k] for k in operation["after"])])
            is_alone = self.is_alone(station)
            ends[key] = advance(alone if is_alone else common, ready, run)
            free |= dict.fromkeys(who, changed if is_alone else ends[key])
            free[who[0]] = ends[key]
            total += setup
        return ends, total

    def both_hours(self, slot: Json) -> tuple[list[Span], list[Span]]:
        """The hours that station and people have in common, and the station's own."""
        sets = [self.usable(name) for name in (slot["station"], *slot["people"])]
        first = self.plan["options"]["start_min"]
        common, own = (
            spans({minute for minute in each if minute >= first})
            for each in (sets[0].intersection(*sets[1:]), sets[0])
        )
        return common, own

    def usable(self, who: str) -> set[int]:
        """The hours of a station or person, with those stretches of overtime that are worked."""
        minutes: set[int] = set()
        for day in range(self.plan["options"]["days"]):
            when = self.start + timedelta(days=day)
            usual, offered = (self.works(who, when, kinds) for kinds in (("work",), BOTH))
            minutes |= {day * DAY + minute for minute in usual}
            for begins, ends in spans(offered - usual):
                if self.is_worked(day * DAY + begins, day * DAY + ends):
                    minutes |= set(range(day * DAY + int(begins), day * DAY + int(ends)))
        return minutes

    def is_worked(self, begins: float, ends: float) -> bool:
        return any(
            start < ends and begins < stop
            for slot in self.plan["slots"]
            for start, stop in (
                (slot["setup_start_min"], slot["setup_start_min"] + slot["setup_min"]),
                *slot["pieces"],
            )
        )


def spans(minutes: set[int]) -> list[Span]:
    """Minutes as stretches."""
    found: list[Span] = []
    for _, group in groupby(enumerate(sorted(minutes)), key=lambda pair: pair[1] - pair[0]):
        members = [minute for _, minute in group]
        found.append((members[0], members[-1] + 1))
    return found


def endless(hours: list[Span]) -> list[Span]:
    last = hours[-1][1] if hours else 0
    return [*hours, (last, float("inf"))]


def fit(hours: list[Span], moment: float, minutes: float) -> float:
    return next(
        max(moment, begins)
        for begins, ends in endless(hours)
        if ends > moment and ends - max(moment, begins) >= minutes
    )


def advance(hours: list[Span], moment: float, minutes: float) -> float:
    for begins, ends in endless(hours):
        there = ends - max(moment, begins)
        if there > 0 and minutes <= there:
            return max(moment, begins) + minutes
        minutes -= max(0.0, there)
    raise AssertionError


def quantiles(what: str, values: Any) -> dict[str, float]:
    names = ((0.1, "low"), (0.5, "median"), (0.9, "high"))
    return {f"{what}{name}_min": round(float(np.quantile(values, q))) for q, name in names}
