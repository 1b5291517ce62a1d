"""Published ordering problems as files: every harmless variant loads the same, a broken one says
where."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner.errors import InputError
from planner.schedule import Problem, solve
from planner.stop import Stop
from tests.benchmarks.sequence_files import read_file, read_sop, read_wtsds

SOP = """NAME: tiny.sop
TYPE: SOP
COMMENT: EDGE_WEIGHT_SECTION is named here
DIMENSION: 4
EDGE_WEIGHT_TYPE: EXPLICIT
EDGE_WEIGHT_FORMAT: FULL_MATRIX
EDGE_WEIGHT_SECTION
4
0 3 9 1000000
-1 0 5 2
-1 4 0 7
-1 -1 -1 0
EOF
"""
WTSDS = """Problem Instance: 7
Problem Size: 2
Begin Generator Parameters
Tau: 0.3
End Generator Parameters
Begin Problem Specification
Process Times:
5
6
Weights:
1
2
Duedates:
9
8
Setup Times:
-1\t0\t3
-1\t1\t4
0\t1\t2
1\t0\t1
End Problem Specification
"""

SAME_SOP = {
    "CRLF": SOP.replace("\n", "\r\n"),
    "no end": SOP.replace("EOF\n", ""),
    "no end of line": SOP.replace("\nEOF\n", ""),
    "minus one for the end": SOP + "-1\n",
    "no number before the matrix": SOP.replace("SECTION\n4\n", "SECTION\n"),
    "no dimension": SOP.replace("DIMENSION: 4\n", ""),
    "blanks": SOP.replace(":", "  :   ").replace("\n", "  \n\n").replace(" 0 ", "\t 0   "),
    "wrapped": SOP.replace("3 9", "3\n9").replace("5 2", "5\n   2"),
    "larger infinity": SOP.replace("1000000", "99999999999"),
    "lower case": SOP.replace("EDGE_WEIGHT_SECTION\n4", "edge_weight_section\n4"),
}
SAME_WTSDS = {
    "CRLF": WTSDS.replace("\n", "\r\n"),
    "no end": WTSDS.replace("End Problem Specification\n", ""),
    "no header": WTSDS[WTSDS.index("Process") :],
    "blanks": WTSDS.replace("\n", " \n\n").replace("\t", "   "),
    "other words": WTSDS.replace("Duedates:", "Due Dates").replace("Process T", "Processing t"),
    "one line": WTSDS.replace("5\n6\n", "5 6\n"),
    "a job after itself": WTSDS.replace("0\t1\t2\n", "0\t0\t0\n0\t1\t2\n"),
}
BROKEN_SOP = {
    "line 12: read 15 entries": SOP.replace("-1 -1 -1 0", "-1 -1 -1"),
    "line 12: read 17 entries": SOP.replace("-1 -1 -1 0", "-1 -1 -1 0 5"),
    "line 10: read x; expected a whole number": SOP.replace("0 5 2", "0 x 2"),
    "line 10: read 2.5": SOP.replace("0 5 2", "0 5 2.5"),
    "line 11: read -7 in row 3, column 4": SOP.replace("0 7", "0 -7"),
    "line 9: read node 2 precedes the first": SOP.replace("0 3 9", "0 -1 9"),
    "no EDGE_WEIGHT_SECTION": SOP[: SOP.index("EDGE_WEIGHT_SECTION\n4")],
    "nothing after EDGE_WEIGHT_SECTION": SOP[: SOP.index("4\n0 3")],
    "line 6: read EDGE_WEIGHT_FORMAT is UPPER_ROW": SOP.replace("FULL_MATRIX", "UPPER_ROW"),
    "line 4: read DIMENSION is four": SOP.replace("DIMENSION: 4", "DIMENSION: four"),
    "line 1: read nothing": "",
}
BROKEN_WTSDS = {
    "line 11: read 1 weights end here; expected one for each of 2": WTSDS.replace(
        "2\nDued", "Dued"
    ),
    "no setups": WTSDS[: WTSDS.index("Setup")],
    "no minutes from job 1 to job 0": WTSDS.replace("1\t0\t1\n", ""),
    "read half an entry": WTSDS.replace("1\t0\t1\n", "1\t0\t1\n1\n"),
    "read 0 9 2; expected jobs below 2": WTSDS.replace("0\t1\t2", "0\t9\t2"),
    "read jobs 0 and 1 again": WTSDS.replace("1\t0\t1", "0\t1\t1"),
    "read -6 among the times": WTSDS.replace("\n6\n", "\n-6\n"),
    "line 11: read one; expected a whole number": WTSDS.replace("\n1\n", "\none\n"),
    "a second heading Weights:": WTSDS.replace("Duedates:", "Weights:"),
}


def value(problem: Problem) -> int:
    return solve(problem, Stop(), 1, seconds=0.02).figures.levels[0]


@pytest.mark.parametrize("variant", SAME_SOP)
def test_variants_of_an_ordering_file_are_the_same_problem(variant: str) -> None:
    assert read_sop(SAME_SOP[variant]) == read_sop(SOP)


@pytest.mark.parametrize("variant", SAME_WTSDS)
def test_variants_of_a_tardiness_file_are_the_same_problem(variant: str) -> None:
    assert value(read_wtsds(SAME_WTSDS[variant])) == value(read_wtsds(WTSDS))
    assert read_wtsds(SAME_WTSDS[variant]).jobs == read_wtsds(WTSDS).jobs


def test_files_mean_what_was_published() -> None:
    assert value(read_sop(SOP)) == 3 + 5 + 7
    assert value(read_wtsds(WTSDS)) == 2 * (10 - 8) + 1 * (16 - 9)


@pytest.mark.parametrize("message", BROKEN_SOP)
def test_a_broken_ordering_file_says_where(message: str) -> None:
    with pytest.raises(InputError, match="file, line") as caught:
        read_sop(BROKEN_SOP[message])
    assert message in str(caught.value)


@pytest.mark.parametrize("message", BROKEN_WTSDS)
def test_a_broken_tardiness_file_says_where(message: str) -> None:
    with pytest.raises(InputError, match="file, line") as caught:
        read_wtsds(BROKEN_WTSDS[message])
    assert message in str(caught.value)


def test_bytes_that_are_no_text_and_a_mark_of_their_order_are_no_hindrance(tmp_path: Path) -> None:
    path = tmp_path / "tiny.sop"
    path.write_bytes(b"\xef\xbb\xbf" + SOP.encode().replace(b"is named", b"\xe9 named"))
    assert read_file(path) == read_sop(SOP)
