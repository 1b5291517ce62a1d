"""What the floor has tapped on the plan of a folder."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path

from planner_io import plan_file
from planner_io import store as floor
from planner_io.store import Store
from planner_io.taps import Tap


def floor_file(folder: Path) -> Path:
    """Where the taps of a plan are kept, unless another file is asked for."""
    return _source(folder).parent / floor.NAME


def digest(folder: Path) -> str:
    """By which a file of taps knows its plan."""
    return sha256(_source(folder).read_bytes()).hexdigest()


def taps_of(folder: Path, store: Path | None = None) -> tuple[Tap, ...] | None:
    """All taps on a plan, from `store` if they are kept there; None where nobody has tapped.

    Raises InputError where they are another plan's.
    """
    file = store or floor_file(folder)
    if not file.exists():
        return None
    kept = Store(file, digest(folder))
    kept.open()
    return kept.taps()


def _source(folder: Path) -> Path:
    """The file of a plan, where its folder may be given."""
    return folder / plan_file.NAME if folder.is_dir() else folder
