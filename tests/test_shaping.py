"""Fabricators read where each bend begins and how each end is cut, and it adds up."""

from __future__ import annotations

import pytest

from planner.bends import arc_nm
from planner.blanks import make_blank
from planner.orders import OrderLine, Step
from planner.shaping import Marks, bend_marks, bend_remarks, shaping
from planner.units import NM_PER_INCH
from tests.trade import (
    a_bender,
    a_line,
    a_mitre,
    a_saddle,
    a_shop,
    a_spec,
    axes,
    bent,
    cut,
    from_blank,
    inch,
    stations,
)

GRIPPED = a_shop(stations=stations(**a_bender(grip_nm=inch("2"), trim_nm=inch("1/2"))))
TWO_BENDS = bent((10, 90, 4.5), (20, 45, 4.5), 10)


def said(line: OrderLine, step: Step, marks: Marks | None = None) -> tuple[str, ...]:
    return shaping(line, make_blank(line, GRIPPED), step, marks or Marks("inch"))


def test_marks_run_along_the_blank_from_its_first_end() -> None:
    line = a_line(shape=TWO_BENDS)
    first, second = bend_marks(line, make_blank(line, GRIPPED))
    assert first.start_nm == inch("12")
    assert second.start_nm / NM_PER_INCH == pytest.approx(12 + 7.0686 + 20, abs=1e-4)


def test_the_last_bend_leaves_the_last_straight_and_the_trim() -> None:
    line = a_line(shape=TWO_BENDS)
    blank = make_blank(line, GRIPPED)
    last = bend_marks(line, blank)[-1]
    end_nm = last.start_nm + arc_nm(last.clr_nm, last.angle_mdeg)
    assert blank.length_nm - end_nm == inch("10-1/2")


def test_a_straight_row_between_bends_only_adds_length() -> None:
    line = a_line(shape=bent((10, 90, 4.5), (6, 0, 0), (14, 45, 4.5), 10))
    plain = a_line(shape=TWO_BENDS)
    assert bend_marks(line, make_blank(line, GRIPPED)) == bend_marks(
        plain, make_blank(plain, GRIPPED)
    )


def test_of_bends_known_by_number_alone_the_drawing_says_where() -> None:
    (two,) = said(a_line(shape=from_blank("54", 2)), Step.BEND)
    assert two == '2 bends at CLR 4-1/2", where and by how much as on its drawing'
    (one,) = said(a_line(shape=from_blank("54", 1)), Step.BEND)
    assert one.startswith("1 bend at")


def test_bends_are_told_in_order_with_what_is_cut_off_after() -> None:
    assert said(a_line(shape=TWO_BENDS), Step.BEND) == (
        'bend 1: start 12" from the first end, 90° at CLR 4-1/2"',
        'bend 2: start 39-1/16" from the first end, 45° at CLR 4-1/2"',
        'then cut 2" off the first end',
        'then cut 1/2" off the other end',
    )


def test_a_turned_tube_is_told_before_its_bend() -> None:
    rows = list(TWO_BENDS.rows)
    rows[1] = rows[1].model_copy(update={"rotation_mdeg": 90_000})
    line = a_line(shape=TWO_BENDS.model_copy(update={"rows": tuple(rows)}))
    assert 'bend 2: turn the tube 90°, start 39-1/16"' in said(line, Step.BEND)[1]


def test_a_turn_before_the_first_bend_is_left_to_the_hands_that_lay_the_tube_in() -> None:
    rows = list(TWO_BENDS.rows)
    rows[0] = rows[0].model_copy(update={"rotation_mdeg": 90_000})
    line = a_line(shape=TWO_BENDS.model_copy(update={"rows": tuple(rows)}))
    assert said(line, Step.BEND) == said(a_line(shape=TWO_BENDS), Step.BEND)


def test_saddles_are_told_by_end_with_their_depth() -> None:
    line = a_line(shape=axes("48"), ends=(a_saddle("1.9"), a_saddle("2", 45)))
    assert said(line, Step.NOTCH) == (
        'end 1: saddle on 1.900" at 90° between the axes, 3/8" deep',
        'end 2: saddle on 2" at 45° between the axes, 1-1/2" deep',
    )


def test_mitres_are_told_at_the_saw() -> None:
    line = a_line(shape=cut("48"), ends=(a_mitre(45), a_saddle("2")))
    assert said(line, Step.SAW, Marks("mm")) == (
        "end 1: mitre 45° off square, 38.1 mm from long to short point",
    )


def test_ends_that_are_cut_alike_are_told_once() -> None:
    line = a_line(shape=cut("48"), ends=(a_mitre(45), a_mitre(45)))
    assert said(line, Step.SAW) == (
        'both ends: mitre 45° off square, 1-1/2" from long to short point',
        "long points of both ends on one side",
    )
    line = a_line(shape=axes("48"), ends=(a_saddle("2"), a_saddle("2")))
    assert said(line, Step.NOTCH)[0].startswith('both ends: saddle on 2" at 90° between the axes')
    assert said(line, Step.SAW) == ()


@pytest.mark.parametrize(
    ("twist", "words"),
    [
        (0, "long points of both ends on one side"),
        (360_000, "long points of both ends on one side"),
        (-360_000, "long points of both ends on one side"),
        (180_000, "long points of the two ends on opposite sides"),
        (540_000, "long points of the two ends on opposite sides"),
        (-180_000, "long points of the two ends on opposite sides"),
        (90_000, "end 2 turned 90° clockwise against end 1, as seen from end 1"),
        (-45_000, "end 2 turned 45° counter-clockwise against end 1, as seen from end 1"),
    ],
)
def test_two_mitres_say_how_they_stand_to_each_other(twist: int, words: str) -> None:
    line = a_line(shape=cut("48"), ends=(a_mitre(45), a_mitre(30)), twist_mdeg=twist)
    assert said(line, Step.SAW)[-1] == words
    assert len(said(line, Step.SAW)) == 3


def test_square_cuts_and_other_steps_need_no_words() -> None:
    assert said(a_line(), Step.SAW) == said(a_line(), Step.FINISH) == ()


def test_a_bend_card_says_what_happens_to_the_wall() -> None:
    assert (
        "14 %: where a wall must be left, begin with 1.25"
        in bend_remarks(a_spec(), inch("4-1/2"))[0]
    )
    assert "20 %; tables of minimum wall end at" in bend_remarks(a_spec(), inch("3"))[0]
    # C: at a radius of one OD the outside is longer by half an OD in one and a half, a third.
    assert "about 33 %" in bend_remarks(a_spec(), inch("1-1/2"))[0]


def test_a_wide_bend_card_says_how_far_out_of_round_is_usual() -> None:
    assert "up to 8 %" in bend_remarks(a_spec(), inch("7-1/2"))[1]
    assert len(bend_remarks(a_spec(), inch("7"))) == 1
