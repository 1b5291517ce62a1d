"""A stranger's check of plan.json, written from docs/plan.md alone: no import of brightrun.

Yields a sentence for everything that is not as the document says. It shares no code with the
planner or its audit, so that a mistake in a shared formula shows.
"""

from __future__ import annotations

from collections.abc import Iterator

from tests.checks.stranger.material import Material
from tests.checks.stranger.orders import Order
from tests.checks.stranger.replanned import Replanned
from tests.checks.stranger.weeks import Weeks
from tests.checks.stranger.work import Work


class Stranger(Material, Work, Weeks):
    """All checks of one plan."""

    def faults(self) -> Iterator[str]:
        """Everything that is not as it should be."""
        for key in self.orders:
            yield from self.blank(key)
            yield from self.line(key)
        for key in self.lots:
            yield from self.cut_list(key)
            yield from self.passes(key)
        yield from self.counts()
        for key in self.operations:
            yield from self.minutes(key)
        yield from self.one_at_a_time()
        for slot in self.plan["slots"]:
            yield from self.hours(slot)
        yield from self.changeovers()
        yield from self.lists()
        yield from Replanned(self.plan).faults()
        for other in self.plan["yardsticks"][1:]:
            for fault in Order(self.plan, other).faults():
                yield f"{other['name']}: {fault}"
        if self.plan["risk"]:
            yield from self.risk()
