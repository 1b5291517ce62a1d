"""Plan a week again in the middle of it: what is done stays, what can stay does, the rest moves.

    lines      what became of each order line since the plan was issued
    history    which operations have ended or begun, and when
    told       the times of those of which a row says something
    at_once    one thing at a time, at each station and for each person
    paused     what is left of a run that stands still
    turned     what was put in meanwhile, and since when
    before     by when work must have ended, as reported work began then
    guesses    what is guessed where the floor says too little
    kept       lots that stay as they are, with their cut lists and the sticks that these take
    scrap      pieces that were spoilt, to be made once more
    pins       where locked and pinned operations must lie
    again      the wiring

`replan` hands all that to `planner.plan.plan_on`, which forms, cuts and orders the rest. Like all
of the core it reads no file and no clock.
"""

from planner.progress import Progress, State
from planner.replan.again import replan

__all__ = ["Progress", "State", "replan"]
