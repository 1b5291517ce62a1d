from __future__ import annotations

import io
import re
from datetime import timedelta
from functools import cache
from typing import Any

import pytest
from pypdf import PageObject, PdfReader

from planner.plan import make_plan
from planner.records import CutList, Plan, Stick
from planner.scrap import Scrap
from planner_io.packet import TagKind, floor, write_packet
from planner_io.packet import sizes as paper_sizes
from planner_io.views import words
from planner_io.views.index import Index
from planner_io.views.ruler import Ruler
from tests.planner_io.plans import DAY, a_plan, a_replanned_plan
from tests.trade import a_die
from tests.week import a_week_shop, options, some_orders, some_stock

FINISHER_CARD = "Finisher set-up card "


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


def test_the_numbers_of_a_card_are_printed_as_large_as_promised() -> None:
    large: list[str] = []

    def see(text: str, _user: object, matrix: list[float], _font: object, size: float) -> None:
        if abs(size * matrix[3]) >= 20:
            large.append(text)

    for page in PdfReader(io.BytesIO(write_packet(a_plan()))).pages:
        if "set-up card" in page.extract_text():
            page.extract_text(visitor_text=see)
    printed = squeezed("".join(large))
    for number in ("P80steel", '1/4"', '3/8"', '1/8"', '1-1/32"', "4.5°", "6.2ft/min"):
        assert number in printed


def test_a_step_of_a_card_that_begins_on_a_later_day_says_so() -> None:
    plan = a_plan()
    first, second, *others = plan.slots
    late = second.model_copy(
        update={
            "changes": (),
            "run": 1,
            "setup_min": 0,
            "setup_start_min": DAY + 440,
            "start_min": DAY + 440,
            "end_min": DAY + 440 + second.minutes,
        }
    )
    card = plan.cards[0].model_copy(update={"operations": (first.operation, second.operation)})
    slots, cards = (first, late, *others), (card, *plan.cards[2:])
    found = text_of(write_packet(plan.model_copy(update={"slots": slots, "cards": cards})))
    steps = found[found.index("set-up card 1") :]
    assert re.search(r"step 1 7:20 ", steps)
    assert re.search(r"step \d+ Tue 1 Dec 7:20 ", steps)


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_pages_are_the_shop_s_paper(paper: str) -> None:
    pages = PdfReader(io.BytesIO(write_packet(a_plan(paper=paper)))).pages
    for page in pages:
        sides = sorted((float(page.mediabox.width), float(page.mediabox.height)))
        points = [side / 25.4 * 72 for side in paper_sizes.PAPERS_MM[paper]]
        assert sides == pytest.approx(sorted(points), abs=0.5)


def test_a_metric_shop_reads_millimetres_first() -> None:
    found = squeezed(text_of(write_packet(a_plan(unit="mm"))))
    assert "9×622.3mm" in found
    assert '9×24-1/2"' not in found


def test_finished_tube_is_sleeved_and_bent_in_soft_tooling_and_the_list_says_so() -> None:
    found = text_of(write_packet(a_plan()))
    assert "sleeve each stick or rack it" in found
    assert "soft or clean tooling only" in found


def test_what_was_read_is_told_once() -> None:
    plan = a_plan()
    first, *others = plan.findings
    message = 'Length: read "300", expected at most 240'
    said = first.model_copy(update={"message": message})
    told = plan.model_copy(update={"findings": (said, *others)})
    assert text_of(write_packet(told)).count("expected at most 240") == 1
    assert "read “300”, expected at most 240" in text_of(write_packet(plan))


def test_late_lines_say_the_word() -> None:
    found = text_of(write_packet(a_plan()))
    assert "LATE 1 h 48: 1187/2" in found


def test_a_week_planned_again_lists_what_moved_and_shrinks_what_is_done() -> None:
    found = text_of(write_packet(a_replanned_plan()))
    assert "Moved since it was issued" in found
    assert "started, 3 done" in found
    assert "Moved since" not in text_of(write_packet(a_plan()))


def test_what_is_lost_stands_at_the_steps_after_it_and_above_the_cut_list() -> None:
    plan = a_replanned_plan()
    assert plan.replan
    stick = plan.cut_lists[0].sticks[-1]
    lost = Scrap(operation="L01.P1", line="1187/1", stick=stick.tag, pieces=len(stick.pieces))
    replan = plan.replan.model_copy(update={"scrap": (lost,)})
    found = text_of(write_packet(plan.model_copy(update={"replan": replan})))
    told = f"4 of 5 sticks come; lost at Finisher step 1: 1 stick ({stick.tag})"
    assert f"started, 3 done, {told}" in found
    assert f"{told}. Finished tube" in found


def test_every_page_of_a_week_planned_again_says_when_it_was() -> None:
    pages = PdfReader(io.BytesIO(write_packet(a_replanned_plan()))).pages
    sheets = [text for page in pages if "page" in (text := page.extract_text())]
    assert len(sheets) > 5
    assert all("as of Mon 30 Nov 8:40" in text for text in sheets)
    assert "as of" not in text_of(write_packet(a_plan()))


def test_names_of_any_length_and_script_do_not_break_the_pages() -> None:
    names = ("W" * 300, "漢字 " * 40, "עברית Ω Ж \u200b\x07\n\t", "")
    plain = len(PdfReader(io.BytesIO(write_packet(a_plan()))).pages)
    for words_of_people in names:
        plan = a_plan(customer=words_of_people, part=words_of_people, shop_name=words_of_people)
        assert len(PdfReader(io.BytesIO(write_packet(plan))).pages) == plain


def test_only_shipped_type_is_used() -> None:
    fonts: set[str] = set()
    for page in PdfReader(io.BytesIO(write_packet(a_plan()))).pages:
        fonts |= {str(f["/BaseFont"]) for f in fonts_of(page)}
    assert fonts
    assert all("SourceSansPro" in name for name in fonts), fonts


def fonts_of(page: PageObject) -> list[Any]:
    """Fonts of a page and of the pictures on it."""
    found: list[Any] = []
    todo: list[Any] = [page["/Resources"]]
    while todo:
        resources = todo.pop().get_object()
        found += [f.get_object() for f in resources.get("/Font", {}).values()]
        for inner in resources.get("/XObject", {}).values():
            if "/Resources" in inner.get_object():
                todo.append(inner.get_object()["/Resources"])
    return found


@cache
def a_real_plan() -> Plan:
    return make_plan(some_orders(), some_stock(), a_week_shop(), options())


def test_a_week_from_the_planner_itself_prints_whole() -> None:
    plan = a_real_plan()
    index = Index(plan)
    found = squeezed(text_of(write_packet(plan)))
    assert all(squeezed(operation.key) in found for operation in plan.operations)
    for card in plan.cards:
        for setting in card.settings:
            assert squeezed(words.setting_number(setting, index.ruler)) in found
        cautions = [caution.removesuffix(" (common practice)") for caution in card.cautions]
        assert all(squeezed(caution) in found for caution in cautions)
    for cut_list in plan.cut_lists:
        for piece in (piece for stick in cut_list.sticks for piece in stick.pieces):
            assert squeezed(index.ruler.length(piece.length_nm)) in found


def test_every_setting_that_is_a_size_is_one_that_cards_have() -> None:
    names = {setting.name for card in a_real_plan().cards for setting in card.settings}
    assert names >= words.SIZES


def test_a_finisher_card_with_its_picture_fits_a_page() -> None:
    plan = a_real_plan()
    titles = [page.extract_text() for page in PdfReader(io.BytesIO(write_packet(plan))).pages]
    finisher = [card for card in plan.cards if card.station == "Finisher"]
    for number in range(1, len(finisher) + 1):
        shown = [text for text in titles if re.search(rf"set-up card {number}\b", text)]
        assert len(shown) == 1


def pages_under(plan: Plan, heading: str) -> list[str]:
    pages = PdfReader(io.BytesIO(write_packet(plan))).pages
    texts = [page.extract_text() for page in pages]
    return [text for text in texts if text.splitlines()[0].startswith(heading)]


def pages_of(plan: Plan, heading: str) -> int:
    return len(pages_under(plan, heading))


def test_a_set_up_card_with_much_to_say_stays_one_piece_of_paper() -> None:
    plan = a_plan()
    more = tuple(f"Mind hand number {number} near the nip of the wheels." for number in range(48))
    wordy = tuple(card.model_copy(update={"cautions": card.cautions + more}) for card in plan.cards)
    few = pages_of(plan, FINISHER_CARD)
    assert few > 0
    assert pages_of(plan.model_copy(update={"cards": wordy}), FINISHER_CARD) == few


def test_a_card_says_once_that_cautions_without_a_source_are_common_practice() -> None:
    cards = pages_under(a_real_plan(), FINISHER_CARD)
    assert cards
    for page in cards:
        assert page.count("common practice") == 1
        assert "by common practice where no source is named" in page


def caution_pt(plan: Plan) -> set[float]:
    """Sizes in which the cautions of finisher's cards are set."""
    sizes = set[float]()

    def see(text: str, _user: object, matrix: list[float], _font: object, size: float) -> None:
        if "guards" in text:
            sizes.add(round(abs(size * matrix[3]), 1))

    for page in PdfReader(io.BytesIO(write_packet(plan))).pages:
        if page.extract_text().startswith(FINISHER_CARD):
            page.extract_text(visitor_text=see)
    return sizes


def test_cautions_are_set_smaller_step_by_step_as_a_card_fills() -> None:
    plan = a_real_plan()
    found: list[float] = []
    for count in range(0, 24, 3):
        more = tuple(f"Keep hand number {number} out of the nip." for number in range(count))
        cards = tuple(
            card.model_copy(update={"cautions": card.cautions + more}) for card in plan.cards
        )
        found.append(min(caution_pt(plan.model_copy(update={"cards": cards}))))
    assert found == sorted(found, reverse=True)
    assert len(set(found)) >= 3


def test_a_card_leaves_out_what_a_run_may_take_before_it_becomes_two_pages(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    said = "about 22 min, 80 % between 13 and 36"

    def likely(index: Index) -> dict[str, str]:
        return {operation.key: said for operation in index.plan.operations}

    plan, few = a_real_plan(), pages_of(a_real_plan(), FINISHER_CARD)
    shown = set[bool]()
    monkeypatch.setattr(floor, "likely_minutes", likely)
    for count in range(11, 15):
        more = tuple(f"Keep hand number {number} out of the nip." for number in range(count))
        wordy = tuple(
            card.model_copy(update={"cautions": card.cautions + more}) for card in plan.cards
        )
        pages = pages_under(plan.model_copy(update={"cards": wordy}), FINISHER_CARD)
        if len(pages) == few:
            shown |= {squeezed(said) in squeezed(page) for page in pages}
    assert shown == {True, False}


def test_a_busy_week_s_ledger_stays_on_one_page() -> None:
    plan = a_plan()
    days = tuple(
        row.model_copy(update={"day": row.day + timedelta(days=number)})
        for number in range(12)
        for row in plan.ledger
    )
    (page,) = pages_under(plan.model_copy(update={"ledger": days}), "Changeover ledger")
    assert "What faster changes are worth is in week.xlsx." in page


def test_the_ledger_names_the_changes_of_which_a_minute_is_worth_most() -> None:
    """The plan has four belt changes of 5 min and one of each other kind, at a dollar a minute."""
    (page,) = pages_under(a_plan(), "Changeover ledger")
    assert "Finisher belt 4 5.0 20 $4.00\nBender die 1 20.0 20 $1.00" in page


def test_the_ledger_says_once_what_changeovers_cost_and_save() -> None:
    (page,) = pages_under(a_plan(), "Changeover ledger")
    assert "A minute counts $1.00 (Settings, Cost of a finisher minute).\n" in page
    assert (page.count("$68.00"), page.count("$32.00")) == (1, 1)


def test_a_cut_list_has_a_tick_for_each_of_many_sticks_on_its_pages() -> None:
    plan = a_plan()
    cut = plan.cut_lists[0]
    many = tuple(
        cut.sticks[0].model_copy(update={"key": f"{cut.lot}-{n:03}"}) for n in range(1, 88)
    )
    cut_lists = (cut.model_copy(update={"sticks": many}), *plan.cut_lists[1:])
    pdf = write_packet(plan.model_copy(update={"cut_lists": cut_lists}))
    rows: list[str] = []

    def see(text: str, cm: list[float], tm: list[float], _font: object, _size: float) -> None:
        if text.strip() in {"50", "60", "70", "80"} and tm[5] + cm[5] > 0:
            rows.append(text.strip())

    for page in PdfReader(io.BytesIO(pdf)).pages:
        if "cut lists" in page.extract_text():
            page.extract_text(visitor_text=see)
    assert rows == ["50", "60", "70", "80"]


def test_the_figures_of_the_cover_stand_on_one_line_each() -> None:
    plan = a_plan()
    most = max(plan.slots, key=lambda slot: slot.setup_min)
    rest = sum(slot.setup_min for slot in plan.slots) - most.setup_min
    shorter = most.model_copy(update={"setup_min": 50 - rest})
    slots = tuple(shorter if slot is most else slot for slot in plan.slots)
    heights: dict[str, float] = {}

    def see(text: str, cm: list[float], _tm: list[float], _font: object, _size: float) -> None:
        for word in ("50 min", "changeovers"):
            if word in text:
                heights.setdefault(word, cm[5])

    pdf = write_packet(plan.model_copy(update={"slots": slots}))
    PdfReader(io.BytesIO(pdf)).pages[0].extract_text(visitor_text=see)
    assert heights["50 min"] == pytest.approx(heights["changeovers"], abs=1)


def test_the_head_of_a_cut_list_stands_on_the_page_of_its_first_bar() -> None:
    plan = make_plan(some_orders(30), some_stock(), a_week_shop(), options())
    heads = 0
    for page in PdfReader(io.BytesIO(write_packet(plan))).pages:
        text = re.sub(r"\s+", " ", page.extract_text())
        if "cut lists" in text:
            for head in re.findall(r"kerf (.*?)(?=kerf |$)", text):
                heads += 1
                assert " stick" in head.split("each stick first")[-1]
    assert heads == len(plan.cut_lists)


def test_a_card_and_its_number_stay_on_one_line_of_the_run_order() -> None:
    """With a die of just this name there is room for the word at a line's end, not for more."""
    die = a_die("1-1/2", "4-1/2", name=f"die {'n' * 11}")
    plan = make_plan(some_orders(4), some_stock(), a_week_shop(tools=(die,)), options(seconds=0.2))
    found = [
        line.rstrip()
        for page in PdfReader(io.BytesIO(write_packet(plan))).pages
        for line in page.extract_text().splitlines()
    ]
    assert any(re.search(r"card \d+$", line) for line in found)
    assert not any(line.endswith("card") for line in found)


def test_a_long_order_number_does_not_push_the_rest_off_its_tag() -> None:
    number = "PO-2026-000000000123456789/REV-C"
    text = a_plan().model_dump_json()
    for before, after in (
        ('"1187/1"', f'"{number}/1"'),
        ('"order":"1187","line":"1"', f'"order":"{number}","line":"1"'),
    ):
        assert before in text
        text = text.replace(before, after)
    plan = Plan.model_validate_json(text)
    kept = [cut.model_copy(update={"sticks": tuple(_scrap(cut))}) for cut in plan.cut_lists]
    heights: dict[str, float] = {}

    def see(text: str, cm: list[float], _tm: list[float], _font: object, _size: float) -> None:
        heights.setdefault(text.strip(), cm[5])

    pdf = write_packet(plan.model_copy(update={"cut_lists": tuple(kept)}))
    PdfReader(io.BytesIO(pdf)).pages[-1].extract_text(visitor_text=see)
    top = paper_sizes.PAPERS_MM["letter"][1] - paper_sizes.HEADER_MM
    last = next(height for words, height in heights.items() if words.startswith("Satin · due"))
    assert last > (top - paper_sizes.TAG_MM) * 72 / 25.4 + 2


def _scrap(cut: CutList) -> list[Stick]:
    """The sticks of a cut list without remnants, so that no other tag comes first."""
    return [stick.model_copy(update={"kept": False}) for stick in cut.sticks]
