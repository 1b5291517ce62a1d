"""plan.json: the bytes of a plan, and a plan from its bytes."""

from __future__ import annotations

import json
from importlib.metadata import version
from pathlib import Path
from typing import cast

from pydantic import ValidationError

from planner.errors import Finding, InputError, Severity, input_error
from planner.records import FORMAT, Plan

NAME = "plan.json"
MOST_FINDINGS = 20
"""More places than this that are not as the schema says are only counted."""


def plan_bytes(plan: Plan) -> bytes:
    """The one way to write a plan: the same plan gives the same bytes."""
    return plan.model_dump_json(indent=1).encode() + b"\n"


def read_plan(path: Path) -> Plan:
    """The plan in a file, or in the plan folder that `path` names.

    Raises InputError when there is none, or with every place that is not as the schema says.
    """
    file = path / NAME if path.is_dir() else path
    try:
        text = file.read_bytes()
    except OSError as problem:
        why = problem.strerror or str(problem)
        raise input_error(
            f"{file}: it cannot be read ({why}); give a folder that `brightrun plan` has written."
        ) from problem
    made_by = _check_format(file, text)
    try:
        return Plan.model_validate_json(text)
    except ValidationError as problem:
        found = _findings(file, problem)
        if made_by != (here := version("brightrun")):
            words = f"{file}: it was written by another version, brightrun {made_by}, not {here}; "
            again = "plan the week again with this one, or read it with that."
            found.insert(0, Finding(severity=Severity.ERROR, message=words + again))
        raise InputError(found) from problem


def _check_format(file: Path, text: bytes) -> str:
    """The version that wrote the file, once its format is known to be right."""
    try:
        head: object = json.loads(text)
    except (ValueError, RecursionError) as problem:
        raise input_error(
            f"{file}: this is not JSON ({problem}); plan the week again."
        ) from problem
    fields = cast("dict[str, object]", head) if isinstance(head, dict) else {}
    found, made_by = fields.get("format"), str(fields.get("version", "without a version"))
    if found != FORMAT:
        of = "it has no format number" if found is None else f"it is a plan of format {found}"
        raise input_error(
            f"{file}: {of}, written by another brightrun ({made_by}); this one reads format "
            f"{FORMAT} alone. Plan the week again with `brightrun plan`, or go on with the "
            "brightrun that wrote it."
        )
    return made_by


def _findings(file: Path, problem: ValidationError) -> list[Finding]:
    errors = problem.errors(include_url=False, include_input=False)
    found = [
        f"{file}: {'.'.join(map(str, error['loc']))}: {error['msg']}"
        for error in errors[:MOST_FINDINGS]
    ]
    if len(errors) > MOST_FINDINGS:
        found.append(f"{file}: {len(errors) - MOST_FINDINGS} more places are not as expected.")
    return [Finding(severity=Severity.ERROR, message=text) for text in found]
