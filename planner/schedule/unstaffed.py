"""Where people are needed: the work is ordered as if nobody were, and then staffed.

Which lots share a campaign is decided while the annealing is warm. People stand in the way there:
whatever is moved keeps somebody from other work, that makes something late, and so hardly a lot
finds another campaign. Where nobody is needed it does, in moves that cost two thirds; and what that
comes to is hardly dearer when people are there again, after a mild search that mends what nobody
was free for.

With four people at one finisher and five at two 80 lots came to 2,460 changeover minutes in the
mean instead of 2,530 (four weeks, 10 s), for a tenth less time. What cannot be staffed as it is
is ordered again with more time to spare, where that costs few changeovers, until it can be.
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
    plan_staffed_phases,
)
from planner.schedule.problem import Term
from planner.schedule.rows import manned
from planner.schedule.search import Plan

PROBE = 0.03
"""Of the budget, for a first look at what that would come to."""
MADE_UP_MIN = 300
"""How late lines of a first look may be in the mean when people are there, so that time to spare
makes up for it: of weeks of 200 lots with five people for five stations all are."""
DENSE_MIN, LONGER, EARLIER_MIN = 200, 0.2, 30
"""For every so many minutes beyond, all that may pause takes longer while nobody is needed, by this
share of what people make it longer, and is due so many minutes earlier."""
HOPELESS_MIN = 850
"""By how much a line of a first look may be late in the mean, weighted, when people are there: up
to 115 with four and five people at 80 lots and 53 to 300 at 200, with one person less 276 to 596,
with two or three for five stations 508 to 1,024. Beyond this it takes too long to mend."""
ORDERING = 0.5
"""Of the rest, for the search with nobody needed."""
SLACKENING = 0.25, *7 * (0.12,)
"""Of what is left each time, for searches that make time to spare of changeovers, one after the
other until the order can be staffed."""
SLACK_MIN, SLACK_WORTH = 720, 8
"""How much time to spare all work wants in them, and how many units of tightness are worth a minute
of changeovers: a line of weight 1 that ends when it is due costs 12.5 minutes, one that ends
halfway 3. So what people hold up has time where that is cheap, and not where it is dear. Weeks of
200 lots were late by a third of the minutes when staffed, for one per cent more changeovers."""
MORE, MORE_MIN = 0.02, 20
"""For every 100 minutes that lines are late in the mean when such an order is staffed, all that may
pause takes longer by so much in the next search, and is due so many minutes earlier; ..."""
LEAST_MORE, MOST_MORE = 0.5, 1.5
"""... at least and at most so many times that."""
NEAR_MIN, TRYING = 60, 0.1
"""How late lines may be in the mean, weighted, when an order is staffed, so that mending it is
tried, and what is tried first, of the budget that is left. Where that does not do, a few lines that
are late for want of minutes on one day keep a mild search busy to its end, in moves that cost ten
times as much as punctual ones; an order with more time to spare gets by, and the search with people
uses that up again."""
STAFFING = 0.6
"""Of what is left, for mending an order that no time to spare made nearly punctual."""
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
    share = max(0.0, late_min - MADE_UP_MIN) / DENSE_MIN
    longer = 1 + share * LONGER * (_times_as_long(compiled, found, staffed) - 1)
    earlier_min = round(share * EARLIER_MIN)
    ordered = _ordered(unstaffed(compiled, longer, earlier_min), best, best, budget, ORDERING)
    found = _with_time(compiled, ordered, best, budget, longer, earlier_min)
    if compiled.levels(found.terms) > compiled.levels(best.terms):
        return budget.search(compiled, starts, budget.left_s)
    return budget.search(compiled, [found], budget.left_s, plan_staffed_phases, cost=MILD)


def _with_time(
    compiled: Compiled,
    ordered: Start,
    told: Start,
    budget: Budget,
    longer: float,
    earlier_min: int,
) -> Start:
    """The order with people, after searches that make more and more time to spare until everything
    is in time; mended by a longer search where that does not do."""
    found = ordered
    for share in SLACKENING:
        free = with_slack(unstaffed(compiled, longer, earlier_min))
        ordered = _ordered(free, ordered, told, budget, share, plan_mild_phases)
        found = _staffed(compiled, ordered)
        late_min = _late_in_the_mean(compiled, found)
        if 0 < late_min <= NEAR_MIN:
            found = _mended(compiled, found, budget, TRYING, plan_mild_phases)
        if punctual(found):
            return found
        times = min(MOST_MORE, max(LEAST_MORE, late_min / 100))
        longer, earlier_min = longer + times * MORE, earlier_min + round(times * MORE_MIN)
    return _mended(compiled, found, budget, STAFFING, plan_staffed_phases)


def _mended(compiled: Compiled, late: Start, budget: Budget, share: float, plan: Plan) -> Start:
    """What a search with people makes of an order that is late with them."""
    cost = MILD + _late_in_the_mean(compiled, late) / MENDING_MIN
    return budget.search(compiled, [late], share * budget.left_s, plan, cost=cost)


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


def with_slack(compiled: Compiled) -> Compiled:
    """The same work, where time to spare before it is due is worth changeovers."""
    changeover, tightness = TERMS.index(Term.CHANGEOVER), TERMS.index(Term.TIGHTNESS)

    def with_tightness(row: tuple[int, ...]) -> tuple[int, ...]:
        if not row[changeover]:
            return row
        scaled = [SLACK_WORTH * weight for weight in row]
        scaled[tightness] += row[changeover]
        return tuple(scaled)

    return replace(
        compiled,
        aim=tuple(map(min, compiled.aim, (due - SLACK_MIN for due in compiled.due))),
        spare=tuple(max(spare, SLACK_MIN) for spare in compiled.spare),
        weights=tuple(map(with_tightness, compiled.weights)),
    )
