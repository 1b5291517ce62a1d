"""Where people are needed: the work is ordered as if nobody were, and then staffed.

Which lots share a campaign is decided while the annealing is warm. People stand in the way there:
whatever is moved keeps somebody from other work, that makes something late, and so hardly a lot
finds another campaign. Where nobody is needed it does, in moves that cost two thirds; and what that
comes to is hardly dearer when people are there again, after a mild search that mends what nobody
was free for.

With four people at one finisher and five at two 80 lots came to 2,460 changeover minutes in the
mean instead of 2,530 (four weeks, 10 s), for a tenth less time, and six weeks of 200 lots with two
finishers to 4,504 (30 s); to 4,360 since bases ask for people ahead of their work.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from planner.schedule.asking import asked_in_time
from planner.schedule.budget import Budget
from planner.schedule.compiled import NOWHERE, TERMS, Compiled, Mode
from planner.schedule.crews import Crew
from planner.schedule.decoder import Decoder, decode, placed
from planner.schedule.dispatch import Start
from planner.schedule.lanes import ranked
from planner.schedule.overtime import punctual
from planner.schedule.phases import (
    plan_melting_phases,
    plan_mild_phases,
    plan_stirring_phases,
)
from planner.schedule.problem import Term
from planner.schedule.rows import manned
from planner.schedule.search import Plan

PROBE = 0.03
"""Of the budget, for a first look at what that would come to."""
DENSE_MIN, LONGER, EARLIER_MIN = 200, 0.2, 30
"""For every so many minutes that lines of a first look are late in the mean when people are there,
all that may pause takes longer while nobody is needed, by this share of what people make it longer,
and is due so many minutes earlier, so that they have time for it. With less a search with people
takes longer to mend what is late then, or does not manage; more costs changeovers."""
HOPELESS_MIN = 850
"""By how much a line of a first look may be late in the mean, weighted, when people are there: up
to 115 with four and five people at 80 lots and 53 to 300 at 200, with one person less 276 to 596,
with two or three for five stations 508 to 1,024. Beyond this it takes too long to mend."""
ORDERING = 0.65
"""Of the rest, for the search with nobody needed; on four weeks of 80 lots shares of 0.55 to 0.85
were as good."""
STAFFING = 0.6
"""Of what that leaves, for the first search with people."""
AGAIN, MORE, MORE_MIN = 0.4, 0.05, 60
"""Of the budget that is left where something stays late then, how much goes to ordering the work
again with nobody needed, longer by so much and due so much earlier still. Two weeks of 200 lots
that needed it while other settings were tried came to 5,087 and 4,942 changeover minutes instead of
6,770 and 6,787 from the rules."""
MILD, MENDING_MIN = 0.6, 400
"""What a move costs then, in usual ones, as fewer are taken, and once more for each so many minutes
that a line is late at first. At 200 lots that was 0.5 where all was soon punctual, and 2.7 where a
line stayed late to the end."""


def is_worth_it(compiled: Compiled) -> bool:
    """Whether people are needed, and there is no issued order that is to be kept."""
    return manned(compiled) and not any(op.issued_start >= 0 for op in compiled.ops)


def search_unstaffed(compiled: Compiled, starts: Sequence[Start], budget: Budget) -> Start:
    """Spend the rest of a budget on what becomes of the best of `starts`, which is punctual."""
    best = ranked(compiled, starts)[0]
    found = _ordered(unstaffed(compiled), best, best, budget, PROBE)
    staffed = _staffed(compiled, found)
    late_min = _late_in_the_mean(compiled, staffed)
    if late_min > HOPELESS_MIN:
        return budget.search(compiled, starts, budget.left_s)
    share = late_min / DENSE_MIN
    longer = 1 + share * LONGER * (_times_as_long(compiled, found, staffed) - 1)
    earlier_min = round(share * EARLIER_MIN)
    free = unstaffed(compiled, longer, earlier_min)
    ordered = _ordered(free, best, best, budget, ORDERING)
    found = _mended(compiled, ordered, budget)
    if not punctual(found):
        free = unstaffed(compiled, longer + MORE, earlier_min + MORE_MIN)
        ordered = _ordered(free, ordered, best, budget, AGAIN, plan_mild_phases)
        found = ranked(compiled, [found, _mended(compiled, ordered, budget)])[0]
    if not punctual(found):
        stirred, left_s = plan_stirring_phases, STAFFING * budget.left_s
        found = budget.search(compiled, [found], left_s, stirred, cost=MILD)
    if compiled.levels(found.terms) > compiled.levels(best.terms):
        return budget.search(compiled, starts, budget.left_s)
    return budget.search(compiled, [found], budget.left_s, plan_mild_phases, cost=MILD)


def _mended(compiled: Compiled, ordered: Start, budget: Budget) -> Start:
    """What a search with people makes of an order in which nobody was needed."""
    begin = _staffed(compiled, ordered)
    cost = MILD + _late_in_the_mean(compiled, begin) / MENDING_MIN
    return budget.search(compiled, [begin], STAFFING * budget.left_s, plan_mild_phases, cost=cost)


def _ordered(
    free: Compiled,
    start: Start,
    told: Start,
    budget: Budget,
    share: float,
    plan: Plan = plan_melting_phases,
) -> Start:
    """What a search from a schedule comes to where nobody is needed; `told` is told meanwhile."""
    begin = placed(free, start.order, start.modes)
    return budget.search(free, [begin], share * budget.left_s, plan, instead=told)


def _staffed(compiled: Compiled, ordered: Start) -> Start:
    """The same order with people."""
    return asked_in_time(compiled, ordered, _decoded(unstaffed(compiled), ordered).start)


def _times_as_long(compiled: Compiled, ordered: Start, staffed: Start) -> float:
    """How many times as long it takes with people until work ends, in the mean."""
    free, with_people = _decoded(unstaffed(compiled), ordered), _decoded(compiled, staffed)
    ours = [i for i, op in enumerate(compiled.ops) if not op.done and op.fixed_start < 0]
    begin = min((free.start[i] for i in ours), default=0)
    longest = sum(with_people.end[i] - begin for i in ours)
    return max(1.0, longest / max(1, sum(free.end[i] - begin for i in ours)))


def _decoded(compiled: Compiled, start: Start) -> Decoder:
    return decode(compiled, start.order, list(start.modes))[0]


def _late_in_the_mean(compiled: Compiled, start: Start) -> float:
    return start.terms[TERMS.index(Term.LATENESS)] / max(1, sum(compiled.weight))


def unstaffed(compiled: Compiled, longer: float = 1.0, earlier_min: int = 0) -> Compiled:
    """The same work with nobody needed, in so many times the minutes where it may pause, and due
    earlier by some minutes; operations and modes keep their numbers."""

    def alone(mode: Mode) -> Mode:
        pausing = mode.base != NOWHERE and compiled.ops[mode.operation].may_pause
        times = longer if pausing else 1.0
        minutes = round(times * mode.duration)
        return replace(mode, duration=minutes, crews=(Crew((), mode.calendar),), able=((),))

    return replace(
        compiled,
        people_free=(),
        modes=tuple(alone(mode) for mode in compiled.modes),
        ops=tuple(replace(op, fixed_people=()) for op in compiled.ops),
        due=tuple(due - earlier_min for due in compiled.due),
        aim=tuple(aim - earlier_min for aim in compiled.aim),
    )
