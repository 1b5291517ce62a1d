"""End cuts are read as fabricators write them."""

from __future__ import annotations

import pytest

from planner.errors import InputError
from planner.orders import EndKind
from planner_io.workbook.ends import both_ends, end_cut, is_for_saddles

INCH_AND_A_HALF = 38_100_000


@pytest.mark.parametrize(
    ("text", "kind", "angle", "on"),
    [
        ("", EndKind.SQUARE, 0, 0),
        ("square", EndKind.SQUARE, 0, 0),
        ("90", EndKind.SQUARE, 0, 0),
        ("0", EndKind.SQUARE, 0, 0),
        ("no", EndKind.SQUARE, 0, 0),
        ("mitre 45", EndKind.MITRE, 45_000, 0),
        ("22.5° miter", EndKind.MITRE, 22_500, 0),
        ("45 deg", EndKind.MITRE, 45_000, 0),
        ("mitre 90", EndKind.SQUARE, 0, 0),
        ("saddle 1-1/2 @ 90", EndKind.SADDLE, 90_000, INCH_AND_A_HALF),
        ("cope on 1.9 at 45", EndKind.SADDLE, 45_000, 48_260_000),
        ("fishmouth 1 1/2 90°", EndKind.SADDLE, 90_000, INCH_AND_A_HALF),
        ('saddle 1-1/2" x 45', EndKind.SADDLE, 45_000, INCH_AND_A_HALF),
        ("notch to 2 sch 40 @ 60", EndKind.SADDLE, 60_000, 60_325_000),
        ("saddle 48.3 mm @ 45°", EndKind.SADDLE, 45_000, 48_300_000),
        ("saddle on 1-1/2 at 120", EndKind.SADDLE, 60_000, INCH_AND_A_HALF),
        ("saddle 1-1/2", EndKind.SADDLE, 90_000, INCH_AND_A_HALF),
        ("saddle", EndKind.SADDLE, 90_000, 25_400_000),
    ],
)
def test_an_end_is_read(text: str, kind: EndKind, angle: int, on: int) -> None:
    cut = end_cut(text, "inch", 25_400_000).value
    assert (cut.kind, cut.angle_mdeg, cut.on_od_nm) == (kind, angle, on)


@pytest.mark.parametrize("text", ["1-1/2", '1-1/2"', "1.5", "1-1/2 @ 90", "1.5 @90°"])
def test_a_size_in_a_column_of_copes_is_a_saddle_and_told(text: str) -> None:
    found = end_cut(text, "inch", 25_400_000, saddled=is_for_saddles("Cope 1"))
    assert (found.value.kind, found.value.on_od_nm) == (EndKind.SADDLE, INCH_AND_A_HALF)
    assert found.note.endswith('read as saddle 1-1/2" @ 90°')


def test_a_size_at_an_angle_is_a_saddle_in_any_column() -> None:
    found = end_cut("1-1/2 @ 45", "inch", 25_400_000)
    assert found.value == end_cut("saddle 1-1/2 @ 45", "inch", 25_400_000).value
    assert found.note


@pytest.mark.parametrize(("text", "saddled"), [("1.75", False), ("45", True), ("4.9", False)])
def test_a_number_that_may_be_a_size_or_an_angle_is_refused(text: str, saddled: bool) -> None:
    with pytest.raises(InputError):
        end_cut(text, "inch", 25_400_000, saddled=saddled)


def test_only_a_column_of_copes_or_notches_is_for_saddles() -> None:
    named = [is_for_saddles(each) for each in ("Notch A", "Copes", "End 1", "Both ends")]
    assert named == [True, True, False, False]


@pytest.mark.parametrize(
    ("text", "note"),
    [
        ("saddle 1-1/2 @ 90", ""),
        ("mitre 45", ""),
        ("45", "read as mitre 45°"),
        ("saddle 1-1/2", "at 90°"),
        ("saddle", 'on 1" at 90°'),
        ("mitre 90", "read as square"),
    ],
)
def test_what_was_left_open_is_told(text: str, note: str) -> None:
    found = end_cut(text, "inch", 25_400_000).note
    assert note in found
    assert bool(note) == bool(found)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("hmm", "expected square"),
        ("TBD", "or leave it blank for square"),
        ("?", "or leave it blank for square"),
        ("mitre 80", "up to 75"),
        ("mitre", "angle cannot be read"),
        ("saddle 1-1/2 @ 10", "15 to 90"),
        ("saddle blue @ 90", "no size"),
        ("saddle 9**9", "no size"),
    ],
)
def test_what_cannot_be_cut_is_refused(text: str, why: str) -> None:
    with pytest.raises(InputError, match=why):
        end_cut(text, "inch", 25_400_000)


@pytest.mark.parametrize(
    ("text", "ends"),
    [
        ("SQ/COPE", ("SQ", "COPE")),
        ("45/45", ("45", "45")),
        ("45/sq", ("45", "sq")),
        ("45°/30°", ("45°", "30°")),
        ("cope 1E", ("cope", "square")),
        ("notched one end", ("notched", "square")),
        ("mitre 22.5 & 45", ("mitre 22.5", "mitre 45")),
        ("saddle 1-1/2", ("saddle 1-1/2", "saddle 1-1/2")),
        ("saddle 1-1/2 @ 90 both ends", ("saddle 1-1/2 @ 90", "saddle 1-1/2 @ 90")),
        ("square / mitre 45", ("square", "mitre 45")),
        ("square; saddle 2 @ 60", ("square", "saddle 2 @ 60")),
    ],
)
def test_a_cell_for_both_ends_is_split(text: str, ends: tuple[str, str]) -> None:
    assert both_ends(text) == ends


@pytest.mark.parametrize(
    ("text", "ends"),
    [
        ("both ends", ("saddle", "saddle")),
        ("1 end", ("saddle", "square")),
        ("one end only", ("saddle", "square")),
        ("2 @ 90", ("2 @ 90", "2 @ 90")),
        ("none", ("none", "none")),
    ],
)
def test_a_column_of_notches_need_not_say_that_ends_are_notched(
    text: str, ends: tuple[str, str]
) -> None:
    assert both_ends(text, saddled=True) == ends


@pytest.mark.parametrize("text", ["both ends", "1 end", "BE"])
def test_ends_without_a_cut_are_not_taken_for_square(text: str) -> None:
    with pytest.raises(InputError, match="expected square"):
        end_cut(both_ends(text)[0], "inch", INCH_AND_A_HALF)


@pytest.mark.parametrize("text", ["1", "2"])
def test_a_number_may_be_of_ends_or_a_size_and_is_refused(text: str) -> None:
    with pytest.raises(InputError, match=f"both ends, or saddle {text} @ 90"):
        both_ends(text, saddled=True)


def test_a_saddle_on_pipe_sits_on_its_od_which_is_told() -> None:
    found = end_cut('saddle 2" pipe', "inch", 38_100_000)
    assert (found.value.on_od_nm, "on 2-3/8" in found.note) == (60_325_000, True)


def test_a_saddle_in_a_row_without_od_tells_none() -> None:
    assert end_cut("cope", "inch", None).note == "“cope” read as saddle at 90°"


@pytest.mark.parametrize("text", ["mitre 45 LH", "45 miter right", "mitre 45 rh"])
def test_a_handed_mitre_says_where_its_hand_belongs(text: str) -> None:
    with pytest.raises(InputError, match="write left or right under Part or Notes"):
        end_cut(text, "inch", INCH_AND_A_HALF)


@pytest.mark.parametrize(
    ("text", "on_nm", "angle"),
    [
        ("saddle 26,67", 26_670_000, 90_000),
        ("saddle 33,40 @ 45", 33_400_000, 45_000),
        ("saddle 33.7, 60", 33_700_000, 60_000),
        ("Sattel 33,7/60", 33_700_000, 60_000),
        ("ausgeklinkt 42,4", 42_400_000, 90_000),
    ],
)
def test_a_comma_within_a_size_is_before_its_decimals(text: str, on_nm: int, angle: int) -> None:
    found = end_cut(text, "mm", 38_000_000).value
    assert (found.kind, found.on_od_nm, found.angle_mdeg) == (EndKind.SADDLE, on_nm, angle)


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("Gehrung 45 beidseitig", [EndKind.MITRE, EndKind.MITRE]),
        ("Gehrung 45° einseitig", [EndKind.MITRE, EndKind.SQUARE]),
        ("droit / onglet 30", [EndKind.SQUARE, EndKind.MITRE]),
        ("gerade", [EndKind.SQUARE, EndKind.SQUARE]),
    ],
)
def test_ends_may_be_german_or_french(text: str, kinds: list[EndKind]) -> None:
    assert [end_cut(each, "mm", 38_000_000).value.kind for each in both_ends(text)] == kinds


@pytest.mark.parametrize("text", ["bevel 37.5", "Bevel 30 deg"])
def test_a_bevel_that_pipe_is_welded_on_is_no_mitre_until_it_is_said(text: str) -> None:
    with pytest.raises(InputError, match="a bevel to weld on, or a mitre"):
        end_cut(text, "inch", 25_400_000)
    assert end_cut("bevel 45", "inch", 25_400_000).value.angle_mdeg == 45_000
    assert end_cut("mitre 37.5", "inch", 25_400_000).value.angle_mdeg == 37_500
