"""ODs and walls are read from lengths, gauges and pipe sizes, and the reading says which."""

from __future__ import annotations

import contextlib

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.errors import InputError
from planner.units import NM_PER_INCH, Unit, parse_length, parse_od, parse_wall

ONE_AND_A_QUARTER_PIPE = parse_length("1.66").nm
SCH_40 = parse_length(".140").nm


@pytest.mark.parametrize(
    "text",
    [
        *(
            "1-1/4 sch 40",
            '1-1/4" pipe sch40',
            "1¼ Sch. 40",
            "NPS 1-1/4 SCH 40S",
            "1.25 IPS sch 40",
            '1-1/4" IPS S40',
            "1-1/4 sch-40",
        ),
        *("1-1/4 pipe schedule 40", "DN 32 sch 40", "NPS 1.25 sch std"),
        *("1-1/4 sch 40 pipe", "1.66 x sch 40", "1.660 × .140"),
        *("1-1/4 std pipe", '1-1/4" STD', "1.1/4 NB sch 40", "32 NB sch 40", "32mm NB SCH 40"),
    ],
)
def test_pipe_in_many_hands(text: str) -> None:
    reading = parse_od(text)
    assert (reading.nm, reading.wall_nm) == (ONE_AND_A_QUARTER_PIPE, SCH_40)


def test_a_pipe_size_says_what_it_became() -> None:
    reading = parse_od("NPS 1.25 SCH 10S")
    assert reading.note == 'NPS 1-1/4 pipe read as OD 1.660", wall .109"'
    assert not reading.literal


def test_extra_strong_pipe_is_no_od_with_a_wall_behind_an_x() -> None:
    for text in ("1-1/4 XS", "1-1/4 xh", "1-1/4 pipe XH"):
        assert parse_od(text).wall_nm == parse_length(".191").nm
    assert parse_wall("10S", od_nm=ONE_AND_A_QUARTER_PIPE).nm == parse_length(".109").nm
    assert parse_wall("XS", od_nm=ONE_AND_A_QUARTER_PIPE).nm == parse_length(".191").nm


def test_a_pipe_size_without_a_schedule_has_no_wall() -> None:
    assert parse_od("NPS 2").wall_nm is None
    assert parse_od("2 pipe").nm == parse_length("2.375").nm


@pytest.mark.parametrize("text", ['1-1/2"', "1-1/2 OD", "Ø38.1 mm", "1.5", "OD 1-1/2", '1.5" O.D.'])
def test_an_od_is_a_length(text: str) -> None:
    reading = parse_od(text)
    assert (reading.nm, reading.wall_nm, reading.literal) == (38_100_000, None, True)


def test_a_number_is_an_od_in_the_shops_unit() -> None:
    assert parse_od(1.5).nm == parse_od(38.1, default="mm").nm == 38_100_000


@pytest.mark.parametrize(
    ("text", "default"),
    [
        ("38.1 x 1.651 mm", "inch"),
        ("38.1 x 1.651", "mm"),
        ('1.5 x .065"', "mm"),
        ("1.5 in x 1.651 mm", "mm"),
        ("1-1/2 × .065 in", "mm"),
    ],
)
def test_a_unit_behind_both_numbers_counts_for_both(text: str, default: Unit) -> None:
    reading = parse_od(text, default=default)
    assert (reading.nm, reading.wall_nm) == (38_100_000, 1_651_000)


def test_od_and_wall_may_stand_in_one_cell() -> None:
    reading = parse_od("1-1/2 x 16 ga")
    assert (reading.nm, reading.wall_nm) == (38_100_000, 1_651_000)
    assert reading.note == '16 ga read as BWG 16, .065"'


@pytest.mark.parametrize(
    "text",
    [
        *('1-1/2" OD .065 wall', "1.5 OD, .065W", '1-1/2" .065" wt', "1-1/2 16 ga", '1-1/2" 16ga'),
        *("1.5 16 BWG", "1 1/2 16 ga wall", "1.5 x .065 rd", "1.5 x 16 ga rd"),
        "1-1/2 x .065 wall rd.",
    ],
)
def test_a_wall_that_says_what_it_is_needs_no_x_before_it(text: str) -> None:
    reading = parse_od(text)
    assert (reading.nm, reading.wall_nm) == (38_100_000, 1_651_000)


def test_two_numbers_alone_are_no_od_and_wall() -> None:
    for text in ("1 .5", "1-1/2 16", "1.5 .065"):
        with pytest.raises(InputError):
            parse_od(text)
    with pytest.raises(InputError, match=r"if the second is the wall, write 1-1/4 x \.065"):
        parse_od("1-1/4 .065")


def test_a_circular_hollow_section_is_round() -> None:
    assert parse_od("CHS 48.3 x 3.2", default="mm").nm == 48_300_000
    assert parse_od("48.3 x 3.2 CHS", default="mm").wall_nm == 3_200_000


def test_british_gauge_is_read_where_it_is_named() -> None:
    reading = parse_wall("16 SWG")
    assert (reading.nm, reading.note) == (1_625_600, '16 SWG read as SWG 16, .064"')
    assert parse_od("1-1/2 x 14 swg").wall_nm == parse_length(".080").nm


@pytest.mark.parametrize(
    "text", ["16 ga", "16ga", "16 GA.", "#16 gauge", "16 gage", "16 BWG", "16g"]
)
def test_tube_gauge_means_birmingham(text: str) -> None:
    reading = parse_wall(text)
    assert reading.nm == 1_651_000
    assert "BWG 16" in reading.note
    assert reading.literal == ("BWG" in text)


@pytest.mark.parametrize(
    "text", [".065", "0.065 wall", "1.651 mm", ".065 in", "wall .065", ".065 wt"]
)
def test_a_wall_is_a_length(text: str) -> None:
    assert parse_wall(text) == parse_length(".065")


def test_a_schedule_needs_the_pipes_od_beside_it() -> None:
    assert parse_wall("sch 40", od_nm=ONE_AND_A_QUARTER_PIPE).nm == SCH_40
    with pytest.raises(InputError, match="needs a pipe's OD"):
        parse_wall("sch 40")
    with pytest.raises(InputError, match="needs a pipe's OD"):
        parse_wall("sch 40", od_nm=38_100_000)


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("NPS 9", "no such pipe size"),
        ("DN 31", "no such pipe size"),
        ("1-1/4 sch 60", "has schedules 5S, 10S, 40, 80, 160"),
        ("40", "thicker than 24 in"),
        ("1,250 sch 40", "may mean 1.250 or 1250"),
        ("1.5 x 16 awg", "tube gauge is BWG"),
        ("tube", 'read "tube", expected an outside diameter'),
        ("1-1/2 x 1", "no bore"),
        (None, "expected an outside diameter"),
    ],
)
def test_what_is_no_od_is_refused(text: object, why: str) -> None:
    with pytest.raises(InputError, match=why):
        parse_od(text)


@pytest.mark.parametrize(
    ("value", "why"),
    [
        ("16", "for a gauge write 16 ga"),
        (11, "for a gauge write 11 ga"),
        ("2 in", "too thick"),
        ("30 ga", "gauge numbers go from 7 to 24"),
        ("16 awg", "tube gauge is BWG"),
        ("6 swg", "gauge numbers go from 7 to 24"),
        ("thin", 'read "thin", expected a wall'),
        ("0", "more than nothing"),
        (None, "expected a wall"),
    ],
)
def test_what_is_no_wall_is_refused(value: object, why: str) -> None:
    with pytest.raises(InputError, match=why):
        parse_wall(value)


def test_a_wall_must_leave_a_bore() -> None:
    with pytest.raises(InputError, match="no bore"):
        parse_wall(".5", od_nm=NM_PER_INCH)


TEXT = st.text(max_size=80) | st.text(alphabet="0123456789 ./-x×\"'schnpdbwga#", max_size=24)


@given(TEXT)
def test_no_text_raises_anything_else(text: str) -> None:
    for read in (parse_od, parse_wall):
        with contextlib.suppress(InputError):
            assert read(text).nm > 0


@pytest.mark.parametrize(
    ("text", "nm"),
    [
        ("#16", 1_651_000),
        ("065", 1_651_000),
        ("065 wall", 1_651_000),
        (".065 AW", 1_651_000),
        ("18 Ga (.049)", 1_244_600),
        ("14 ga .083", 2_108_200),
        (".083 (14ga)", 2_108_200),
    ],
)
def test_a_wall_may_be_said_in_the_ways_of_the_counter(text: str, nm: int) -> None:
    assert parse_wall(text).nm == nm


def test_a_wall_said_twice_must_agree() -> None:
    with pytest.raises(InputError, match=r'BWG 18, \.049", not \.065'):
        parse_wall("18 ga (.065)")


@pytest.mark.parametrize("text", ["1.5 sq", "1-1/2 square", "50 x 50 SHS"])
def test_tube_that_is_not_round_is_refused_as_such(text: str) -> None:
    with pytest.raises(InputError, match="only round tube"):
        parse_od(text)


@pytest.mark.parametrize("text", ["1-1/2 RD", "1-1/2 round", "round 1-1/2", "1-1/2 tube"])
def test_round_tube_may_be_called_so(text: str) -> None:
    assert parse_od(text).nm == 38_100_000


@pytest.mark.parametrize("text", ["40x20x2", "1-1/2 x .065 x 36", "2 x 2 x 1/8"])
def test_three_sizes_are_refused_as_such(text: str) -> None:
    with pytest.raises(InputError, match=r"three sizes: round tube has an OD and a wall"):
        parse_od(text)


def test_what_is_wrong_with_one_of_two_sizes_is_told_with_the_whole_cell() -> None:
    with pytest.raises(InputError) as caught:
        parse_od("Ø ext.")
    assert caught.value.findings[0].read == "Ø ext."


@pytest.mark.parametrize("text", ['1/2" RD BAR', "1 x 1/4 flat", "1-1/2 solid", "rod 12 mm"])
def test_what_is_no_tube_is_said_to_be_none(text: str) -> None:
    with pytest.raises(InputError, match="that is no tube"):
        parse_od(text)
