"""The side view: to scale, with the card's own numbers, in the shop's colours only."""

import re
from dataclasses import replace
from math import hypot
from xml.etree import ElementTree as ET

import pytest

from planner.finisher.card import make_card
from planner.finisher.set_up import solve
from planner.units import Unit
from planner_io.drawing.ink import INK, PALE, STEEL
from planner_io.drawing.side_view import PAPER, SideView, side_view
from tests.finisher.builders import a_belt_of, a_finisher, a_shop, a_spec, a_step, inch

SVG = "{http://www.w3.org/2000/svg}"


def a_view(od: float = 1.5, thickness: float = 0.05, unit: Unit = "inch") -> SideView:
    belt = a_belt_of(thickness_nm=inch(thickness), non_woven=thickness > 0.2)
    card = make_card(a_shop(belt), a_finisher(), a_spec(od), belt, a_step())
    assert card.problem is not None
    assert card.set_up is not None
    return SideView(card.problem, card.set_up, inch(0.065), unit)


def with_brake(view: SideView, inches: float) -> SideView:
    machine = replace(view.problem.machine, brake_nm=inch(inches))
    problem = replace(view.problem, machine=machine)
    found = solve(problem).value
    assert found is not None
    return replace(view, problem=problem, set_up=found)


def circles(picture: str) -> list[tuple[float, float, float]]:
    found = ET.fromstring(picture).iter(f"{SVG}circle")
    return [(float(c.get("cx", 0)), float(c.get("cy", 0)), float(c.get("r", 0))) for c in found]


@pytest.mark.parametrize("od", [0.5, 0.75, 1.5, 2, 4])
def test_tube_belt_and_brake_wheel_touch_on_paper_as_they_do_in_the_machine(od: float) -> None:
    view = a_view(od)
    found = circles(side_view(view))
    wheel, _, face, brake, on_stop, tube = found
    outside = tube[2] + inch(0.065) / 1e6 * view.scale / 2
    for other in (face, brake):
        apart = ((other[0] - tube[0]) ** 2 + (other[1] - tube[1]) ** 2) ** 0.5
        assert apart == pytest.approx(other[2] + outside, abs=0.01)
    assert outside == pytest.approx(inch(od) / 2e6 * view.scale, abs=0.01)
    assert wheel[2] == pytest.approx(inch(7) / 1e6 * view.scale, abs=0.01)
    assert on_stop[0] < brake[0]


def test_the_numbers_are_those_of_the_card() -> None:
    words = re.sub(r"<[^>]+>", " ", side_view(a_view(1.5)))
    for number in ('3⁄8"', '1⁄8"', '1"', "9.5 mm", "3.2 mm", "scale 1:1", "rests on the rail's"):
        assert number in words, words


def test_a_metric_shop_reads_millimetres_first() -> None:
    words = re.sub(r"<[^>]+>", " ", side_view(a_view(1.5, unit="mm")))
    assert 'rail front to belt face · 3⁄8"' in words


def test_only_ink_blue_grey_and_paper_are_used() -> None:
    used = set(re.findall(r"#[0-9a-f]{3,6}", side_view(a_view())))
    assert used <= {INK, PALE, STEEL, PAPER, "#fff"}


def test_a_non_woven_belt_is_drawn_thick_and_as_dots() -> None:
    thick = side_view(a_view(1.5, thickness=0.4))
    assert 'stroke-dasharray="0 1.5"' in thick
    assert 'stroke-dasharray="0 1.5"' not in side_view(a_view(1.5))


def test_the_largest_round_scale_that_fits_is_taken() -> None:
    assert [a_view(od).scale for od in (0.5, 1.5, 4)] == [3.0, 1.0, 1 / 3]


@pytest.mark.parametrize(
    ("od", "brake"), [(1, 8), (1.625, 7), (1.9, 6), (1.9, 7), (2, 7), (2.375, 8), (2.5, 8)]
)
def test_the_edge_of_the_brake_wheel_runs_through_no_label(od: float, brake: float) -> None:
    picture = side_view(with_brake(a_view(od, thickness=0.4), brake))
    *_, wheel, on_stop, _ = circles(picture)
    names = [
        (float(found.get("x", 0)), float(found.get("y", 0)), (found.text or "").split(" · ")[0])
        for found in ET.fromstring(picture).iter(f"{SVG}text")
        if " · " in (found.text or "") and found.get("text-anchor") != "end"
    ]
    assert len(names) == 4
    for x, y, name in names:
        ends = (x, x + 1.2 * len(name))
        corners = [(at, row) for at in ends for row in (y - 7.5, y + 0.8)]
        for edge in (wheel, on_stop):
            inside = {hypot(at - edge[0], row - edge[1]) < edge[2] for at, row in corners}
            assert len(inside) == 1, (name, od)


@pytest.mark.parametrize("od", [0.5, 1, 1.625, 2, 2.5, 4])
@pytest.mark.parametrize("brake", [3, 4, 5, 6, 7, 8])
@pytest.mark.parametrize("thickness", [0.05, 0.4])
def test_a_label_that_an_edge_would_cross_has_paper_behind_it(
    od: float, brake: float, thickness: float
) -> None:
    picture = side_view(with_brake(a_view(od, thickness=thickness), brake))
    parts = list(ET.fromstring(picture).iter())
    edges = circles(picture)[:-1] if thickness < 0.2 else circles(picture)[-3:-1]
    for at, part in enumerate(parts):
        words = part.text or ""
        if not (part.tag == f"{SVG}text" and " · " in words):
            continue
        x, y = float(part.get("x", 0)), float(part.get("y", 0))
        wide = len(words) * 1.2
        left = x - wide if part.get("text-anchor") == "end" else x
        corners = [(col, row) for col in (left, left + wide) for row in (y - 6, y)]
        crossed = any(
            len({hypot(col - cx, row - cy) < r for col, row in corners}) > 1 for cx, cy, r in edges
        )
        behind = parts[at - 2]
        assert not crossed or (behind.tag == f"{SVG}rect" and behind.get("fill") == PAPER), words


def test_words_on_a_thick_belt_have_paper_behind_them() -> None:
    parts = list(ET.fromstring(side_view(a_view(0.5, thickness=0.4))).iter())
    names = [at for at, part in enumerate(parts) if (part.text or "").endswith((" mm", "mm)"))]
    left = [at for at in names if parts[at].get("text-anchor") == "end"]
    assert len(left) == 2
    for at in left:
        behind = parts[at - 2]
        assert behind.get("fill") == PAPER
        right = float(behind.get("x", 0)) + float(behind.get("width", 0))
        assert right == pytest.approx(float(parts[at].get("x", 0)), abs=1)
