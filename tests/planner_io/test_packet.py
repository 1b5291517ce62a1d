from __future__ import annotations

import io
import re
from functools import cache

from pypdf import PdfReader

from planner_io.packet import TagKind, write_packet
from planner_io.packet import sizes as paper_sizes
from planner_io.views import words
from planner_io.views.index import Index
from planner_io.views.ruler import Ruler
from tests.planner_io.plans import a_plan


@cache
def text_of(pdf: bytes) -> str:
    pages = PdfReader(io.BytesIO(pdf)).pages
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))


def squeezed(text: str) -> str:
    return re.sub(r"\s+", "", text)


def test_every_operation_stands_in_the_packet_with_its_start() -> None:
    plan = a_plan()
    found = squeezed(text_of(write_packet(plan)))
    assert all(squeezed(operation.key) in found for operation in plan.operations)


def test_every_piece_stands_in_a_cut_list_by_length_and_order_line() -> None:
    plan = a_plan()
    found = squeezed(text_of(write_packet(plan)))
    for cut_list in plan.cut_lists:
        for stick in cut_list.sticks:
            for piece in stick.pieces:
                length = Ruler("inch").length(piece.length_nm)
                assert squeezed(length) in found
                assert piece.line in found


def test_every_piece_has_a_tag_of_its_own_when_the_planner_wants_so() -> None:
    plan = a_plan()
    found = squeezed(text_of(write_packet(plan, TagKind.PIECES)))
    tags = [p.tag for cut in plan.cut_lists for stick in cut.sticks for p in stick.pieces]
    assert all(squeezed(tag) in found for tag in tags)


def test_every_setting_of_every_card_stands_in_both_units() -> None:
    plan = a_plan()
    index = Index(plan)
    found = squeezed(text_of(write_packet(plan)))
    for card in plan.cards:
        for setting in card.settings:
            assert squeezed(words.setting_number(setting, index.ruler)) in found
            assert squeezed(words.setting_other(setting, index.ruler)) in found
            assert squeezed(setting.name) in found


def test_the_same_plan_gives_the_same_bytes() -> None:
    assert write_packet(a_plan()) == write_packet(a_plan())


def test_what_people_typed_is_never_read_as_markup() -> None:
    nasty = "#eval <script>alert(1)</script> $x$ *b* \\ @ref =1+1"
    found = squeezed(text_of(write_packet(a_plan(customer=nasty, part=nasty))))
    assert squeezed(nasty) in found


def test_hands_can_tick_and_eyes_can_read() -> None:
    assert paper_sizes.TICK_MM >= 9
    assert paper_sizes.SETTING_PT >= 20
