"""What an order line says to the floor stands in its pick lists."""

from __future__ import annotations

import io

from pypdf import PdfReader

from planner.records import Plan
from planner_io.packet import write_packet
from planner_io.views.index import Index
from planner_io.views.notes import notes
from planner_io.views.pick_lists import pick_lists
from tests.planner_io.plans import a_plan

NOTE = "bag each\n piece"


def a_noted_plan(*keys: str) -> Plan:
    plan = a_plan()
    orders = tuple(
        line.model_copy(update={"notes": NOTE if line.key in keys else ""}) for line in plan.orders
    )
    return plan.model_copy(update={"orders": orders})


def test_every_step_of_a_line_has_its_note_and_no_other_step_has() -> None:
    plan = a_noted_plan("1187/1")
    for found in pick_lists(Index(plan)):
        for step in found.steps:
            assert step.notes == (("1187/1: bag each piece",) if step.lot == "L01" else ())


def test_a_note_that_several_lines_share_stands_once() -> None:
    index = Index(a_noted_plan("1187/1", "1187/2"))
    assert notes(index, ("1187/1", "1187/2")) == ("1187/1, 1187/2: bag each piece",)


def test_a_note_is_printed_for_the_floor() -> None:
    pages = PdfReader(io.BytesIO(write_packet(a_noted_plan("1187/1")))).pages
    found = "".join("".join(page.extract_text().split()) for page in pages)
    assert "1187/1:bageachpiece" in found
