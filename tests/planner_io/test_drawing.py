"""The pictures: well-formed, to scale, and the same language everywhere."""

from __future__ import annotations

import re
from xml.etree import ElementTree as Xml

import pytest

from planner.abrasives import CAMI_MICRON, FEPA_P_MICRON
from planner.units import NM_PER_INCH
from planner_io.drawing.cut_bar import KERF_MM, Bar, BarPiece, cut_bar
from planner_io.drawing.gap import Gap, gap_marks
from planner_io.drawing.ink import RED, fit, svg, text, text_width
from planner_io.drawing.lay import Lay, lay_strip, pitch_mm
from planner_io.drawing.ring import LARGEST_MM, ring, ring_scale
from planner_io.drawing.timeline import NAME_MM, Box, Day, Lane, timeline

SVG = "{http://www.w3.org/2000/svg}"


def parse(picture: str) -> Xml.Element:
    return Xml.fromstring(picture)


def inch(value: float) -> int:
    return round(value * NM_PER_INCH)


def a_day(*boxes: Box, gaps: tuple[Gap, ...] = (), rests: tuple[tuple[int, int], ...] = ()) -> Day:
    return Day("Mon 30 Nov", 420, 960, rests, (Lane("Finisher", boxes, gaps),))


@pytest.mark.parametrize("microns", [FEPA_P_MICRON, CAMI_MICRON])
def test_a_coarser_belt_always_has_wider_strokes(microns: dict[int, float]) -> None:
    coarse_to_fine = [pitch_mm(microns[number]) for number in sorted(microns)]
    assert coarse_to_fine == sorted(coarse_to_fine, reverse=True)
    assert len(set(coarse_to_fine)) == len(coarse_to_fine)


def test_a_coated_belt_is_strokes_and_a_non_woven_one_is_dots() -> None:
    coated, soft = parse(lay_strip(Lay(125))), parse(lay_strip(Lay(125, non_woven=True)))
    assert coated.findall(f".//{SVG}pattern/{SVG}line")
    assert not coated.findall(f".//{SVG}circle")
    assert soft.findall(f".//{SVG}pattern/{SVG}circle")


def test_rings_share_one_scale_and_show_their_wall() -> None:
    scale = ring_scale([inch(1), inch(2)])
    outer: dict[float, float] = {}
    for od in (1.0, 2.0):
        circle = parse(ring(inch(od), inch(0.12), scale)).find(f"{SVG}circle")
        assert circle is not None
        wall = float(circle.attrib["stroke-width"])
        outer[od] = 2 * float(circle.attrib["r"]) + wall
        assert wall == pytest.approx(0.12 * 25.4 * scale, abs=0.001)
    assert outer[2.0] == pytest.approx(2 * outer[1.0], abs=0.003)
    assert outer[2.0] == pytest.approx(LARGEST_MM, abs=0.003)


def test_a_changeover_is_a_broken_line_as_long_as_its_minutes() -> None:
    day = a_day(Box(480, 600, '1" P80'), gaps=(Gap(450, 480, "OD belt"), Gap(600, 615, "belt")))
    drawn = parse(timeline([day], 300, 9, 0.1))
    broken = [
        float(line.attrib["x2"]) - float(line.attrib["x1"])
        for line in drawn.iter(f"{SVG}line")
        if "stroke-dasharray" in line.attrib
    ]
    minute = (300 - NAME_MM) / 540
    assert broken == pytest.approx([30 * minute, 15 * minute], abs=0.01)


def test_a_gap_keeps_its_minutes_and_drops_words_that_do_not_fit() -> None:
    wide, narrow = (gap_marks(Gap(0, 30, "OD belt rail"), 0, w, 5, 2) for w in (40, 6))
    assert "OD belt rail" in wide
    assert ">30 min<" in wide
    assert "rail" not in narrow
    assert ">30<" in narrow
    assert "′" not in wide + narrow, "beside tube a prime is feet"


def test_the_words_of_a_gap_keep_clear_of_the_work_at_both_sides() -> None:
    tight = text_width("OD rail", 2)
    assert "OD rail" in gap_marks(Gap(0, 30, "OD rail"), 0, tight + 0.5, 5, 2)
    assert "rail" not in gap_marks(Gap(0, 30, "OD rail"), 0, tight + 0.1, 5, 2)


def test_red_is_there_only_with_its_word() -> None:
    fine = timeline([a_day(Box(480, 600, '1" P80'))], 300, 9, 0.1)
    late = timeline([a_day(Box(480, 600, '1" P80', late="LATE 2 h 10"))], 300, 9, 0.1)
    assert RED not in fine
    assert RED in late
    assert "LATE 2 h 10" in late


def test_a_size_without_room_is_left_out_before_a_pipe_looks_like_a_tube() -> None:
    """NPS 1-1/2 is 1.900 in across: without its schedule the name would be another tube's."""

    def drawn(title: str, minutes: int) -> str:
        return timeline([a_day(Box(480, 480 + minutes, title))], 300, 9, 0.1)

    assert "sch 40 P80" in drawn("1-1/2 sch 40 P80", 120)
    assert "sch 40<" in drawn("1-1/2 sch 40 P80", 32)
    assert "1-1⁄2" not in drawn("1-1/2 sch 40 P80", 20)
    assert "1-1⁄2" in drawn('1-1/2" × .065" P80', 20)


def test_a_box_is_as_wide_as_its_minutes_and_days_share_their_hours() -> None:
    days = [a_day(Box(480, 600, "a")), Day("Tue", 1440 + 420, 1440 + 960, (), ())]
    drawn = parse(timeline(days, 300, 9, 0.1))
    box = drawn.find(f"{SVG}rect")
    assert box is not None
    assert float(box.attrib["width"]) == pytest.approx(120 / 540 * (300 - NAME_MM), abs=0.01)


def test_pieces_of_a_stick_are_to_scale_with_kerfs_as_gaps() -> None:
    pieces = (BarPiece(inch(60), "1", '60"'), BarPiece(inch(30), "2", '30"'))
    scale = 190 / inch(240)
    drawn = parse(cut_bar(Bar(inch(240), 0, pieces, inch(150), 'keep 150"'), 190.4, scale))
    first, second = drawn.findall(f"{SVG}rect")
    widths = [float(r.attrib["width"]) + KERF_MM for r in (first, second)]
    assert widths == pytest.approx([60 / 240 * 190, 30 / 240 * 190], abs=0.01)
    end = float(first.attrib["x"]) + float(first.attrib["width"])
    assert float(second.attrib["x"]) - end == pytest.approx(KERF_MM, abs=0.01)


def test_the_drop_is_open_ended_and_says_what_becomes_of_it() -> None:
    piece = BarPiece(inch(60), "1", '60"')
    bar = Bar(inch(240), 0, (piece,), inch(180), 'keep 180" as R2649-L01-1')
    drawn = cut_bar(bar, 190, 189 / inch(240))
    assert "keep 180" in drawn
    assert len(parse(drawn).findall(f"{SVG}rect")) == 1
    assert drawn.count("stroke-dasharray") == 2


def test_hundreds_of_slivers_are_all_drawn_side_by_side_within_the_bar() -> None:
    slivers = tuple(BarPiece(inch(0.5), str(n), '1/2"') for n in range(400))
    drawn = parse(cut_bar(Bar(inch(240), inch(1), slivers, 0, ""), 190, 189 / inch(240)))
    boxes = drawn.findall(f"{SVG}rect")
    starts = [float(box.get("x", "")) for box in boxes]
    ends = [start + float(box.get("width", "")) for start, box in zip(starts, boxes, strict=True)]
    assert len(boxes) == 1 + len(slivers)
    assert all(end <= start for end, start in zip(ends, starts[1:], strict=False))
    assert ends[-1] <= 190


def test_a_stick_without_pieces_and_a_week_without_days_still_draw() -> None:
    bar = parse(cut_bar(Bar(inch(240), 0, (), inch(240), "scrap"), 190, 189 / inch(240)))
    assert not bar.findall(f"{SVG}rect")
    assert "scrap" in [each.text for each in bar]
    assert not [each for each in parse(timeline([], 200, 9, 0.1)) if each.tag != f"{SVG}title"]


def test_text_stays_text_and_shrinks_to_its_room() -> None:
    nasty = '<script>&"\x07'
    drawn = parse(svg(10, 10, [text(0, 5, nasty, 3)], title=nasty))
    assert [e.text for e in drawn] == ['<script>&" ', '<script>&" ']
    short = fit("Through-feed belt finisher", 20, 3)
    assert short.endswith("…")
    assert text_width(short, 3) <= 20


def test_fractions_have_a_true_bar() -> None:
    drawn = cut_bar(
        Bar(inch(240), 0, (BarPiece(inch(120), "1", '41-5/32"'),), inch(120), 'scrap 3-1/8"'),
        190,
        189 / inch(240),
    )
    assert re.search(r'41-5⁄32"', drawn)
    assert re.search(r'3-1⁄8"', drawn)


def test_a_picture_without_words_of_its_own_is_passed_over_by_who_cannot_see_it() -> None:
    assert ' aria-hidden="true">' in svg(1, 1, [])
    assert ' role="img"><title>a ring</title>' in svg(1, 1, [], title="a ring")
