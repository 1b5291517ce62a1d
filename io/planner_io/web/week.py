"""The whole week for whoever plans it: what is late, what to buy, the run order, what moved."""

from __future__ import annotations

from dataclasses import dataclass

from planner_io.drawing.ring import ring_scale
from planner_io.drawing.timeline import timeline
from planner_io.packet.glance import INSIDE_LANE_MM
from planner_io.views.accounts import Account, account
from planner_io.views.glance import glance
from planner_io.views.index import Index
from planner_io.views.lists import BuyRow, LateRow, buy_note, buy_rows, late_rows
from planner_io.views.ruler import plural
from planner_io.views.runs import stretches
from planner_io.views.standing import MovedRow, moved_rows
from planner_io.views.summary import Figure, summary
from planner_io.views.sureness import UnsureRow, chances, unsure_note, unsure_rows

WIDTH_MM = 190.0
"""Narrower than on paper, so that its words can be read on a tablet."""
LANE_MM = 10.0


@dataclass(frozen=True)
class Week:
    """What the page of the week shows; none of it changes while the week goes on."""

    figures: tuple[Figure, ...]
    late: tuple[LateRow, ...]
    chances: dict[str, str]
    unsure: tuple[UnsureRow, ...]
    unsure_note: str
    buy: tuple[BuyRow, ...]
    buy_note: str
    moved: tuple[MovedRow, ...]
    picture: str
    account: Account

    @property
    def to_buy(self) -> str:
        """How much is to be bought: `115 sticks of 18 kinds`."""
        sticks = sum(row.buy.count for row in self.buy)
        return f"{plural(sticks, 'stick')} of {plural(len(self.buy), 'kind')}"

    @property
    def by_station(self) -> tuple[tuple[str, int, int], ...]:
        """Each station's changes: how many, and their minutes."""
        days = self.account.days
        return tuple(
            (
                station,
                sum(day.count for day in days if day.station == station),
                sum(day.total for day in days if day.station == station),
            )
            for station in dict.fromkeys(day.station for day in days)
        )


def week(index: Index) -> Week:
    """The week of a plan."""
    scale = ring_scale((lot.spec.od_nm for lot in index.plan.lots), LANE_MM - INSIDE_LANE_MM)
    return Week(
        figures=summary(index).figures,
        late=late_rows(index),
        chances=chances(index),
        unsure=unsure_rows(index),
        unsure_note=unsure_note(index.plan),
        buy=buy_rows(index),
        buy_note=buy_note(index),
        moved=moved_rows(index),
        picture=timeline(glance(index, stretches(index)), WIDTH_MM, LANE_MM, scale),
        account=account(index),
    )
