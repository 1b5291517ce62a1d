"""What the template is given: plain JSON, and how a changeover is written in it."""

from __future__ import annotations

from collections.abc import Mapping

from planner_io.views.pick_lists import Changeover

Json = Mapping[str, object]


def changeover_json(found: Changeover | None) -> Json | None:
    """A changeover, or nothing where nothing changes."""
    if found is None:
        return None
    return {
        "minutes": found.minutes,
        "early": found.start if found.early else "",
        "changes": list(found.changes),
    }
