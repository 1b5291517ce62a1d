"""The side view on a finisher's card, from the same circles as the card's numbers."""

from __future__ import annotations

from planner.cards import Work, finisher_card
from planner.shop import StationKind
from planner.wiping import oiled_items
from planner_io.drawing.side_view import SideView, side_view
from planner_io.packet.pictures import Pictures
from planner_io.views.cards import SetUpCard
from planner_io.views.index import Index


def side_picture(index: Index, card: SetUpCard, pictures: Pictures) -> str:
    """The name of the card's side view; empty where there is nothing to draw."""
    if card.kind != StationKind.FINISHER:
        return ""
    operation = index.operations[card.run.operations[0]]
    found = finisher_card(_work(index), index.plan.shop.station(card.station), operation)
    if found.problem is None or found.set_up is None:
        return ""
    ruler, spec = index.ruler, card.run.spec
    view = SideView(found.problem, found.set_up, spec.wall_nm, ruler.unit, ruler.denominator)
    return pictures.add("side", side_view(view))


def _work(index: Index) -> Work:
    return Work(
        shop=index.plan.shop,
        orders=index.orders,
        blanks=index.blanks,
        lots=index.lots,
        cut_lists=index.cut_lists,
        oiled=oiled_items(index.plan.stock),
        operations=index.operations,
    )
