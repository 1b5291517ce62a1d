"""Published scheduling examples through the run-order engine.

Tags: P published source, M from memory of the source named. The makespan of a shop is the
lateness of one job that is due at minute 0 and ends with all operations.
"""

from __future__ import annotations

import pytest

from planner.schedule import (
    Alternative,
    Arc,
    Base,
    Job,
    Operation,
    Problem,
    Result,
    Rule,
    Station,
    Term,
    solve,
)
from planner.stop import Stop

ONLY_LATENESS = ({Term.LATENESS: 1},)


def a_job_shop(jobs: list[list[tuple[int, int]]]) -> Problem:
    """Each job a list of (machine, minutes); the objective is the makespan."""
    operations = tuple(
        Operation(f"j{j}s{s}", (Alternative(f"m{machine}", minutes),))
        for j, job in enumerate(jobs)
        for s, (machine, minutes) in enumerate(job)
    )
    arcs = tuple(
        Arc(f"j{j}s{s - 1}", f"j{j}s{s}") for j, job in enumerate(jobs) for s in range(1, len(job))
    )
    machines = sorted({machine for job in jobs for machine, _ in job})
    return Problem(
        stations=tuple(Station(f"m{machine}") for machine in machines),
        operations=operations,
        arcs=arcs,
        jobs=(Job("all", 0, tuple(op.key for op in operations)),),
        levels=ONLY_LATENESS,
    )


def a_single_machine(
    minutes: list[int],
    due: list[int],
    weights: list[int],
    first: list[int] | None = None,
    between: list[list[int]] | None = None,
) -> Problem:
    """Jobs 1..n on one machine, with set-ups from the start and between jobs if given."""
    n = len(minutes)
    table = {("", ""): 0}
    for b in range(n):
        table["start", str(b + 1)] = first[b] if first else 0
        for a in range(n):
            table[str(a + 1), str(b + 1)] = between[a][b] if between else 0
    return Problem(
        bases=(Base("m", (Rule("job", 0, table),), mounted={"job": "start"}),),
        stations=(Station("m"),),
        operations=tuple(
            Operation(str(i + 1), (Alternative("m", p),), needs={"job": str(i + 1)})
            for i, p in enumerate(minutes)
        ),
        jobs=tuple(Job(f"j{i + 1}", due[i], (str(i + 1),), weights[i]) for i in range(n)),
        levels=ONLY_LATENESS,
    )


def solved(problem: Problem, seconds: float = 0.3) -> Result:
    return solve(problem, Stop(), seed=1, seconds=seconds)


def test_johnson_1954_two_machine_flow_shop() -> None:
    """M: S. M. Johnson, Naval Research Logistics Quarterly 1 (1954): 5-1-4-3-2, makespan 47."""
    pairs = [(4, 5), (4, 1), (30, 4), (6, 30), (2, 3)]
    result = solved(a_job_shop([[(0, a), (1, b)] for a, b in pairs]))
    assert result.figures.levels == (47,)


def test_muth_and_thompson_1963_six_by_six_job_shop() -> None:
    """P: J. F. Muth and G. L. Thompson, Industrial Scheduling (1963): makespan 55."""
    jobs = [
        [(2, 1), (0, 3), (1, 6), (3, 7), (5, 3), (4, 6)],
        [(1, 8), (2, 5), (4, 10), (5, 10), (0, 10), (3, 4)],
        [(2, 5), (3, 4), (5, 8), (0, 9), (1, 1), (4, 7)],
        [(1, 5), (0, 5), (2, 5), (3, 3), (4, 8), (5, 9)],
        [(2, 9), (1, 3), (4, 5), (5, 4), (0, 3), (3, 1)],
        [(1, 3), (3, 3), (5, 9), (0, 10), (4, 4), (2, 1)],
    ]
    assert solved(a_job_shop(jobs), seconds=1.0).figures.levels == (55,)


def test_pinedo_total_tardiness() -> None:
    """M: M. Pinedo, Scheduling, chapter 3 (minimising total tardiness): 370."""
    problem = a_single_machine([121, 79, 147, 83, 130], [260, 266, 266, 336, 337], [1] * 5)
    assert solved(problem).figures.levels == (370,)


def test_pinedo_weighted_tardiness_with_set_ups() -> None:
    """M: M. Pinedo, Scheduling (ATCS example): 98 by 2-4-3-1."""
    problem = a_single_machine(
        [13, 9, 13, 10],
        [12, 37, 21, 22],
        [2, 4, 2, 5],
        [1, 1, 3, 4],
        [[0, 4, 1, 3], [0, 0, 1, 0], [1, 2, 0, 3], [4, 3, 1, 0]],
    )
    result = solved(problem)
    assert result.figures.levels == (98,)
    assert [placed.operation for placed in result.placed] == ["2", "4", "3", "1"]


ESC07 = """
0 0 0 0 0 0 0 0 1000000
-1 0 100 200 75 0 300 100 0
-1 400 0 500 325 400 600 0 0
-1 700 800 0 550 700 900 800 0
-1 -1 250 225 0 275 525 250 0
-1 -1 100 200 -1 0 -1 -1 0
-1 -1 1100 1200 1075 1000 0 1100 0
-1 -1 0 500 325 400 600 0 0
-1 -1 -1 -1 -1 -1 -1 -1 0
"""


ESC12 = """
0 0 0 0 0 0 0 0 0 0 0 0 0 1000000
-1 0 364 354 287 229 289 68 137 239 135 373 162 0
-1 364 0 276 352 143 88 395 222 457 332 202 217 0
-1 354 276 0 527 135 201 412 391 583 481 279 207 0
-1 287 352 527 0 377 407 285 138 310 200 525 325 0
-1 229 143 135 377 0 68 287 241 458 356 144 82 0
-1 -1 -1 -1 -1 68 0 347 277 512 387 132 142 0
-1 68 395 412 285 287 347 0 167 179 120 431 220 0
-1 137 222 391 138 241 277 167 0 229 104 395 187 0
-1 239 457 583 310 458 512 179 229 0 121 630 391 0
-1 135 332 481 200 356 387 120 104 121 0 505 289 0
-1 373 202 279 525 144 132 431 395 630 505 0 226 0
-1 -1 -1 -1 -1 82 -1 -1 -1 391 289 226 0 0
-1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 0
"""

BR17_10 = """
0 3 5 48 48 8 8 5 5 3 3 0 3 5 8 8 5 1000000
-1 0 3 48 -1 -1 8 5 5 0 0 3 0 3 8 -1 5 3
-1 3 0 72 -1 48 48 24 24 3 3 5 3 0 48 -1 24 5
-1 48 74 0 0 6 6 12 -1 48 48 48 48 74 6 6 12 48
-1 48 74 0 0 6 6 12 12 48 48 48 48 74 6 6 12 48
-1 8 50 6 6 0 0 8 8 8 8 8 8 50 0 0 8 8
-1 8 50 6 6 0 0 8 8 8 8 8 8 50 0 0 8 8
-1 5 26 12 12 -1 8 0 0 5 5 5 -1 26 8 8 0 5
-1 5 26 12 12 8 8 0 0 5 5 5 5 26 8 8 0 5
-1 0 3 48 -1 8 8 5 5 0 0 3 0 3 8 8 5 3
-1 0 3 48 48 8 8 5 5 0 0 3 0 3 8 8 5 3
-1 3 5 48 48 8 8 5 5 3 3 0 3 5 8 8 5 0
-1 0 3 48 48 -1 8 5 5 0 0 3 0 3 8 8 5 3
-1 3 0 72 -1 48 48 24 24 3 3 5 3 0 48 48 24 5
-1 8 50 6 6 -1 0 -1 8 8 8 8 -1 50 0 0 8 8
-1 8 50 6 -1 0 0 8 8 8 8 8 8 50 0 0 8 8
-1 5 26 12 12 8 8 0 0 5 5 5 5 26 8 8 0 5
-1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 -1 0
"""


@pytest.mark.parametrize(
    ("text", "best"),
    [
        pytest.param(ESC07, 2125, id="ESC07"),
        pytest.param(ESC12, 1675, id="ESC12"),
        pytest.param(BR17_10, 55, id="br17.10"),
    ],
)
def test_tsplib_sequential_ordering(text: str, best: int) -> None:
    """P: TSPLIB95 (G. Reinelt, 1991), ESC07.sop, ESC12.sop and br17.10.sop: the lengths of the
    shortest paths, as public tables list them."""
    matrix = [[int(n) for n in line.split()] for line in text.strip().splitlines()]
    n = len(matrix)
    minutes = {
        (str(a), str(b)): matrix[a][b] for a in range(n) for b in range(n) if matrix[a][b] >= 0
    }
    problem = Problem(
        bases=(Base("m", (Rule("node", 1_000_000, minutes),), mounted={"node": "0"}),),
        stations=(Station("m"),),
        operations=tuple(
            Operation(str(i), (Alternative("m", 0),), needs={"node": str(i)}) for i in range(1, n)
        ),
        arcs=tuple(
            Arc(str(a), str(b)) for b in range(1, n) for a in range(1, n) if matrix[b][a] == -1
        ),
        levels=({Term.CHANGEOVER: 1},),
    )
    assert solved(problem).figures.levels == (best,)
