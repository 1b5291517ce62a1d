"""Cut lists: for one group, the cheapest sticks and patterns, with a proven floor.

`solve(problem, stop, seed)` takes a frozen `Problem` and returns a `Result` that carries its
own bound, status and the step that ended the search. This package may import solvers and
the kernels; it reads no file, prints nothing and has no clock but the one passed in.
"""

from planner.cutlist.chain import solve
from planner.cutlist.joined import joined
from planner.cutlist.problem import Demand, DropValue, Problem, StockKind
from planner.cutlist.result import Fate, Level, Money, Pattern, Piece, Reason, Result, Stick
from planner.cutlist.week import solve_all

__all__ = [
    "Demand",
    "DropValue",
    "Fate",
    "Level",
    "Money",
    "Pattern",
    "Piece",
    "Problem",
    "Reason",
    "Result",
    "Stick",
    "StockKind",
    "joined",
    "solve",
    "solve_all",
]
