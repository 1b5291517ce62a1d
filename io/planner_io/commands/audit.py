"""`brightrun audit`: a plan proven from scratch."""

from __future__ import annotations

from importlib.metadata import version
from pathlib import Path

from planner.audit import audit as breaches
from planner.errors import has_errors
from planner_io.console import BAD_INPUT, say, tell, tell_findings
from planner_io.plan_file import read_plan


def audit(folder: Path) -> None:
    """Check a plan from scratch."""
    plan = read_plan(folder)
    found = breaches(plan)
    tell_findings(found)
    if has_errors(found):
        if plan.version != (here := version("brightrun")):
            tell(f"It was made by brightrun {plan.version}; {here}, here, may reckon otherwise.")
        tell(f"{folder}: the plan breaks {len(found)} times what must hold; plan the week again.")
        raise SystemExit(BAD_INPUT)
    if found:
        say(f"{folder}: the plan holds, but for the words on its cards that are not proven.")
        return
    say(f"{folder}: the plan holds, all invariants are proven from scratch.")
    say("Taken from its searches, and not proven here: floors, and what other lots would cost.")
