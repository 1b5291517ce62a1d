"""The run-order engine: a `Problem` of stations, operations and jobs to an ordered `Result`.

`problem` is what is asked, `validate` the gate, `compiled` the problem as numbers, `decoder`
the rules of the shop in plain Python, `rules` the rules of thumb, `search` the annealing
phases over the compiled kernel, `settle` a short one near a known order, `floors` what is
proven, `why` and `report` what is answered.
This package imports numpy, ortools (inside `floors`) and, of the project, only `planner.errors`,
`planner.stop` and `planner.kernel`.
"""

from planner.schedule.problem import (
    LEXICOGRAPHIC,
    Alternative,
    Arc,
    Base,
    Combine,
    Fixed,
    Interval,
    Issued,
    Job,
    Levels,
    Operation,
    Person,
    Problem,
    Rule,
    Station,
    Term,
)
from planner.schedule.result import (
    Ahead,
    Behind,
    Figures,
    Floor,
    Hold,
    LateJob,
    Overtime,
    Placed,
    Progress,
    Remedy,
    Result,
    Why,
)
from planner.schedule.settle import Settled, Turn, Turns, settle, turns_of
from planner.schedule.solve import order, solve
from planner.schedule.validate import check

__all__ = [
    "LEXICOGRAPHIC",
    "Ahead",
    "Alternative",
    "Arc",
    "Base",
    "Behind",
    "Combine",
    "Figures",
    "Fixed",
    "Floor",
    "Hold",
    "Interval",
    "Issued",
    "Job",
    "LateJob",
    "Levels",
    "Operation",
    "Overtime",
    "Person",
    "Placed",
    "Problem",
    "Progress",
    "Remedy",
    "Result",
    "Rule",
    "Settled",
    "Station",
    "Term",
    "Turn",
    "Turns",
    "Why",
    "check",
    "order",
    "settle",
    "solve",
    "turns_of",
]
