"""How a search spends its budget: which temperatures, from which start, on which energy.

Energy is what the annealing sees: the lexicographic levels as one number. A minute late is
`LATE` changeover minutes there, tight due dates count a little all the way, work in progress
counts only in the last phase, and only the record of the best is truly lexicographic.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial

from planner.schedule.compiled import NOWHERE, TERMS, Compiled
from planner.schedule.dispatch import Start
from planner.schedule.overtime import punctual
from planner.schedule.problem import Term

LATE = 20.0
VIOLATED = 50.0
"""A minute of violation in minutes late."""
FLOW = 0.002
"""A minute of holding or completion in the last phase, in changeover minutes."""
WARY = 0.06
"""Of one of tightness in every phase, in changeover minutes: 6 for a job that ends when it is due.

Orders that end minutes before they are due are a dead end for the search too, as hardly a move
leaves them punctual.
"""
LAST = 0.05
"""Share of the cool round for the flow."""
MOST_ROUNDS, MOVES_A_ROUND = 8, 8000
"""Rounds of annealing, each of at least so many moves for each operation if there are several."""
MANNED_A_ROUND = 14000
"""The same with people: on three weeks of 80 lots with 24,000 moves an operation, two engine seeds
each, one round came to 16,223 changeover minutes in all, three to 16,540."""
MANY_ROUNDS = 4
"""With so many the second lane is heated anew in each: on small late shops the first lanes may end
in an order that no cool round leaves."""
HEAT = 4.0
"""Temperature at which the first round begins from a punctual start, in mean changeovers of an
operation; from a late one at one of them.

On six weeks of 80 lots 1 (with twice the last temperature), 2.5 and 5 came to 16,933, 16,520 and
16,395 changeover minutes in all, on two of 200 to 11,755, 11,677 and 11,649. On a late week of 600
lots 1 left 259,466 weighted minutes late after 15 s, 4 left 277,887.
"""
MILD = 0.5
"""Temperature at which a round begins that keeps most of its start, in mean changeovers."""
LOOSE, LOOSENING = 0.8, 0.6
"""Temperature at which one begins that has time to spare to make use of, in mean changeovers, and
its share. On six weeks of 200 lots with two finishers and people 0.5, 0.8 and 1.2 came to 4,619,
4,574 and 4,587 changeover minutes (one engine seed)."""
WARM = 0.7
"""Temperature at which later rounds begin, of that of the first."""
AMPLE = 2.0
"""Rounds for which there is time from which on a punctual start gets mild ones too."""
MELT, SETTLED = 2.0, 0.15
"""Between which temperatures its first round then goes, in mean changeovers: hardly a move changes
anything below, and one takes three times as long far above."""
MELTED, AFTERWARDS, MILD_ROUNDS = 0.6, 0.7, 5
"""Share of the rounds that melt their start; at which temperature, in mean changeovers, those after
them begin, and how many there are.

On six weeks of 80 lots with two finishers this came to 2,078 changeover minutes in 16.4 processor
seconds (10 s, three engine seeds), two rounds from `HEAT` and `WARM` of it to 2,090 in 18.3 (two of
the seeds). On six with one finisher to 2,547 in 16.3 and 2,541 in 17.7. Where there
is time for one round only, it is worth more than these: three weeks of 200 lots with two finishers
(20 s, two seeds) came to 4,156, and to 4,047 with one.
"""
MERGES = 60
"""Of 100 moves, those that put an operation beside one that mounts the same."""
LATE_HOT, LATE_COLD = 12.0, 0.4
"""Between which temperatures late work that is planned alone is annealed, in weighted minutes
late of one mean operation. A job that misses an evening costs some forty of them: at first jobs
take turns in being late, at the end hardly any does.

On a week of 600 lots four runs of 4,000,000 moves with the first 248 operations came to 20,241
weighted minutes late in the mean; two from the temperature of changeovers, as the whole list is
annealed, to 26,688, four from 50 of them to 29,609.
"""
LATE_WARM = 0.3
"""Temperature at which later rounds of it begin, of that of the first."""
LATE_LAST = 0.1
"""Share of its last round, which cools until changeovers are settled too."""
LATE_MOVES_A_ROUND = 4000
"""Moves for each operation in each of its rounds, if there are several."""
GUIDE = 0.5
"""Where changeovers do not count, a minute of them still costs as much as this many minutes late
of one job: a schedule with fewer of them leads to better ones."""


@dataclass(frozen=True, slots=True)
class Phase:
    """One round of all lanes; `share` is of a lane's iterations, `done` of them afterwards.

    The first lane begins at the first temperature of `hot`, all others at the second.
    """

    share: float
    hot: tuple[float, float]
    cold: float
    merges: int
    energy: tuple[float, ...]
    from_rule: int | None
    """Begin from the rules, lane by lane from this rank on; from the best so far if None."""
    done: float = 0.0


def plan_phases(compiled: Compiled, best: Start, iterations: int) -> list[Phase]:
    """A round from the rules, cooler ones from the best, and a cool one for the flow.

    A late start is not heated until lateness melts unless there is time for more than one long
    round, and then in the second lane only: on a week of 200 lots that cannot be punctual
    300,000 moves from 12 left 10,476 weighted minutes late, from 300 21,730, from 8,000 26,349.
    There are several only when each is long for the size of the problem: shorter ones gained
    nothing to speak of (three weeks of 80 lots, two seeds: 17,086 against 17,146 minutes in all).
    """
    long = (MANNED_A_ROUND if compiled.people_free else MOVES_A_ROUND) * len(compiled.ops)
    if punctual(best) and iterations >= AMPLE * long:
        return _plan_ample_phases(compiled, best, iterations / long)
    cool, hot, cold = temperatures(compiled, best)
    rounds = max(1, min(MOST_ROUNDS, int(iterations / long)))
    hots = (cool, hot if rounds > 1 else cool)
    first = Phase((1 - LAST) / rounds, hots, cold, _merges(compiled), energies(compiled, 0.0), 0)
    warm = max(cold, WARM * cool)
    again = replace(first, hot=(warm, hot if rounds >= MANY_ROUNDS else warm), from_rule=None)
    return _in_turn([first, *[again] * (rounds - 1), _for_flow(compiled, best)])


def _plan_ample_phases(compiled: Compiled, best: Start, lengths: float) -> list[Phase]:
    """The same where a punctual start has time for so many rounds: from the rules, then from the
    best, then several mild ones, of which the better lane is gone on from each time."""
    rounds = max(1, min(MOST_ROUNDS, int(MELTED * lengths)))
    melting = MELTED * (1 - LAST)
    begun_at = partial(_settling, compiled, best)
    first = begun_at(melting / rounds, MELT, from_rule=0)
    again = begun_at(melting / rounds, WARM * MELT)
    mild = begun_at((1 - LAST - melting) / MILD_ROUNDS, AFTERWARDS)
    last = _for_flow(compiled, best)
    return _in_turn([first, *[again] * (rounds - 1), *[mild] * MILD_ROUNDS, last])


def plan_late_phases(compiled: Compiled, best: Start, iterations: int) -> list[Phase]:
    """Rounds for late work that is planned alone, all from the best so far; and one that cools
    until changeovers are settled."""
    cool, _, cold = temperatures(compiled, best)
    energy = energies(compiled, 0.0)
    each = _delay(compiled, energy[TERMS.index(Term.LATENESS)])
    hot, end = max(LATE_HOT * each, cool), max(LATE_COLD * each, cold)
    merges = _merges(compiled)
    long = LATE_MOVES_A_ROUND * len(compiled.ops)
    rounds = max(1, min(MOST_ROUNDS, int(iterations / long)))
    first = Phase((1 - LATE_LAST) / rounds, (hot, hot), end, merges, energy, None)
    warm = max(LATE_WARM * hot, end)
    again = replace(first, hot=(warm, warm))
    last = Phase(LATE_LAST, (end, end), cold, merges, energy, None)
    return _in_turn([first, *[again] * (rounds - 1), last])


def plan_melting_phases(compiled: Compiled, best: Start, iterations: int) -> list[Phase]:
    """The rounds of a punctual start from one that is nearly punctual."""
    terms = dict(zip(TERMS, best.terms, strict=True)) | {Term.LATENESS: 0}
    return plan_phases(compiled, replace(best, terms=tuple(terms.values())), iterations)


def plan_mild_phases(compiled: Compiled, best: Start, iterations: int) -> list[Phase]:
    """A round from the best that keeps what is good about it, and a cool one for the flow."""
    first = _settling(compiled, best, 1 - LAST, MILD, settled=0)
    return _in_turn([first, _for_flow(compiled, best)])


def plan_staffed_phases(compiled: Compiled, best: Start, iterations: int) -> list[Phase]:
    """A round that uses up time to spare, a mild one, and a cool one for the flow."""
    loose = LOOSENING * (1 - LAST)
    begun_at = partial(_settling, compiled, best)
    rounds = begun_at(loose, LOOSE), begun_at(1 - LAST - loose, MILD)
    return _in_turn([*rounds, _for_flow(compiled, best)])


def _settling(
    compiled: Compiled,
    best: Start,
    share: float,
    hot: float,
    *,
    settled: float = SETTLED,
    from_rule: int | None = None,
) -> Phase:
    """A round between two temperatures in mean changeovers."""
    each, cold = _mean_changeover(compiled, best), temperatures(compiled, best)[-1]
    cold = max(cold, settled * each)
    hot = max(cold, hot * each)
    energy = energies(compiled, 0.0)
    return Phase(share, (hot, hot), cold, _merges(compiled), energy, from_rule)


def _mean_changeover(compiled: Compiled, best: Start) -> float:
    """Temperature of one mean changeover of an operation."""
    cool, _, _ = temperatures(compiled, best)
    return cool if best.terms[TERMS.index(Term.LATENESS)] else cool / HEAT


def _merges(compiled: Compiled) -> int:
    """Of 100 moves, those that put an operation beside one that mounts the same."""
    return MERGES if any(mode.needs for mode in compiled.modes) else 0


def _for_flow(compiled: Compiled, best: Start) -> Phase:
    """The last, cool round, in which work in progress counts too."""
    cold = temperatures(compiled, best)[-1]
    return Phase(LAST, (cold, cold), cold / 2, _merges(compiled), energies(compiled, FLOW), None)


def _in_turn(phases: Sequence[Phase]) -> list[Phase]:
    """One after the other, each with the share done after it."""
    done, found = 0.0, list[Phase]()
    for phase in phases:
        done += phase.share
        found.append(replace(phase, done=done))
    return found


def energies(compiled: Compiled, flow: float) -> tuple[float, ...]:
    """Energy of one minute of each term."""
    scales = _scales(compiled, flow)
    rows = compiled.weights
    energy = [
        sum(scale * row[t] for scale, row in zip(scales, rows, strict=True))
        for t in range(len(TERMS))
    ]
    index = {term: i for i, term in enumerate(TERMS)}
    if not any(row[index[Term.CHANGEOVER]] for row in rows):
        guide = GUIDE * energy[index[Term.LATENESS]] * _mean(compiled.weight)
        energy[index[Term.CHANGEOVER]] = guide
    tight = index[Term.TIGHTNESS]
    wary = WARY * any(row[tight] for row in rows)
    energy[tight] = max(energy[tight], wary) if compiled.aims else 0.0
    return tuple(energy)


def _scales(compiled: Compiled, flow: float) -> list[float]:
    """One scale a level: a minute of changeover is 1, levels above count more, `flow` below."""
    index = {term: i for i, term in enumerate(TERMS)}
    scales: list[float] = []
    for level in compiled.weights:
        if level[index[Term.CHANGEOVER]]:
            scales.append(1.0 / level[index[Term.CHANGEOVER]])
        elif level[index[Term.LATENESS]]:
            scales.append(LATE)
        elif level[index[Term.VIOLATION]]:
            scales.append(LATE * VIOLATED)
        else:
            scales.append(flow)
    if not any(level[index[Term.CHANGEOVER]] for level in compiled.weights):
        scales = [scale / LATE for scale in scales]
    return scales


def temperatures(compiled: Compiled, best: Start) -> tuple[float, float, float]:
    """Cool, hot and cold, in the unit of the energy: where a round begins that keeps what is good
    about its start, where one that does not, and where they end.

    Changeovers live at about the minutes of one of them; lateness at the weighted minutes by
    which one operation delays another.
    """
    energy = dict(zip(TERMS, energies(compiled, 0.0), strict=True))
    terms = dict(zip(TERMS, best.terms, strict=True))
    hots: list[float] = []
    colds: list[float] = []
    if energy[Term.CHANGEOVER] and any(
        row[TERMS.index(Term.CHANGEOVER)] for row in compiled.weights
    ):
        changing = sum(bool(compiled.modes[op.modes[0]].needs) for op in compiled.ops)
        each = energy[Term.CHANGEOVER] * max(terms[Term.CHANGEOVER], 1) / max(changing, 1)
        hots.append(each if terms[Term.LATENESS] else HEAT * each)
        colds.append(each / 30)
    if energy[Term.LATENESS] and (terms[Term.LATENESS] or not hots):
        each = _delay(compiled, energy[Term.LATENESS])
        share = energy[Term.LATENESS] * terms[Term.LATENESS] / max(1, len(compiled.due))
        hots.append(3.0 * each + 2.0 * share)
        colds.append(each / 30 + share / 20)
    if not hots:
        return 1.0, 1.0, 1.0
    cold = min(colds)
    return max(hots[0], cold), max(*hots, cold), cold


def _delay(compiled: Compiled, minute: float) -> float:
    """Energy of a mean job that is late by a mean operation; `minute` is that of one late."""
    return minute * _mean(compiled.weight) * _mean(_durations(compiled))


def _durations(compiled: Compiled) -> list[int]:
    return [mode.duration for mode in compiled.modes if mode.base != NOWHERE]


def _mean(values: Sequence[int]) -> float:
    counted = [value for value in values if value]
    return sum(counted) / len(counted) if counted else 1.0
