"""Where people are needed: the work is ordered as if nobody were, and then staffed.

Which lots share a campaign is decided while the annealing is warm. People stand in the way there:
whatever is moved keeps somebody from other work, that makes something late, and so hardly a lot
finds another campaign. Where nobody is needed it does, in moves that cost two thirds; and what that
comes to is hardly dearer when people are there again, after a mild search that mends what nobody
was free for.

With four people at one finisher and five at two 80 lots came to 2,460 changeover minutes in the
mean instead of 2,530 (four weeks, 10 s), for a tenth less time; 200 lots with two finishers to
4,173 instead of 4,773 (three weeks).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planner.schedule.budget import Budget
from planner.schedule.compiled import TERMS, Compiled
from planner.schedule.crews import Crew
from planner.schedule.decoder import placed
from planner.schedule.dispatch import Start
from planner.schedule.lanes import ranked
from planner.schedule.overtime import punctual
from planner.schedule.phases import plan_mild_phases
from planner.schedule.problem import Term
from planner.schedule.rows import manned

PROBE = 0.03
"""Of the budget, for a first look at what that would come to."""
HOPELESS_MIN = 600
"""By how much a line of that may be late in the mean, weighted, before it is staffed. 80 and 200
lots with four and five people came to 20 to 340, with one person less to 230 to 700 and once to
900 to 1,700, with two or three for five or six stations to 530 to 2,300. Beyond this it takes too
long to mend."""
DENSE_MIN, EARLIER_MIN = 220, 120
"""From which lateness on everything is due so much earlier while nobody is needed, so that people
have time: a week of 200 lots with two finishers stayed late in two of four runs without."""
ORDERING = 0.65
"""Of the rest, for the search with nobody needed; on four weeks of 80 lots shares of 0.55 to 0.85
were as good."""
STAFFING = 0.6
"""Of what that leaves, for the first search with people; the rest goes on from what is better, that
or the rules."""
MILD = 0.6
"""What a move costs then, in usual ones, as fewer are taken: 0.5 to 0.7, ..."""
MENDING_MIN = 250
"""... and once more for each so many minutes that a line is late at first: 0.6 to 1.7 where one
person was missing, 3 to 5 where lines were late by 800 and more."""


def is_worth_it(compiled: Compiled) -> bool:
    """Whether people are needed, and there is no issued order that is to be kept."""
    return manned(compiled) and not any(op.issued_start >= 0 for op in compiled.ops)


def search_unstaffed(compiled: Compiled, starts: Sequence[Start], budget: Budget) -> Start:
    """Spend the rest of a budget on what becomes of the best of `starts`, which is punctual."""
    best = ranked(compiled, starts)[0]
    late_min = _late_in_the_mean(compiled, _staffed(compiled, best, budget, PROBE, 0))
    if late_min > HOPELESS_MIN:
        return budget.search(compiled, starts, budget.left_s)
    earlier_min = EARLIER_MIN if late_min > DENSE_MIN else 0
    begin = _staffed(compiled, best, budget, ORDERING, earlier_min)
    cost = max(MILD, _late_in_the_mean(compiled, begin) / MENDING_MIN)
    seconds = STAFFING * budget.left_s
    found = budget.search(compiled, [begin], seconds, plan_mild_phases, cost=cost)
    if compiled.levels(found.terms) > compiled.levels(best.terms):
        return budget.search(compiled, starts, budget.left_s)
    return budget.search(compiled, [found], budget.left_s, plan_mild_phases, cost=MILD)


def _staffed(
    compiled: Compiled, best: Start, budget: Budget, share: float, earlier_min: int
) -> Start:
    """What a search from a schedule comes to with nobody needed, placed with people."""
    free = unstaffed(compiled, earlier_min)
    begin = placed(free, best.order, best.modes)
    if not punctual(begin):
        free = unstaffed(compiled)
        begin = placed(free, best.order, best.modes)
    found = budget.search(free, [begin], share * budget.left_s, instead=best)
    return placed(compiled, found.order, found.modes)


def _late_in_the_mean(compiled: Compiled, start: Start) -> float:
    return start.terms[TERMS.index(Term.LATENESS)] / max(1, sum(compiled.weight))


def unstaffed(compiled: Compiled, earlier_min: int = 0) -> Compiled:
    """The same work with nobody needed, due earlier by some minutes; operations and modes keep
    their numbers."""
    return replace(
        compiled,
        people_free=(),
        modes=tuple(replace(m, crews=(Crew((), m.calendar),), able=((),)) for m in compiled.modes),
        ops=tuple(replace(op, fixed_people=()) for op in compiled.ops),
        due=tuple(due - earlier_min for due in compiled.due),
        aim=tuple(aim - earlier_min for aim in compiled.aim),
    )
