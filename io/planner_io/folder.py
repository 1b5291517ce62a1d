"""A plan folder: written whole or not at all, and never over anything else."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Mapping
from pathlib import Path

from planner.errors import InputError, input_error
from planner_io import plan_file
from planner_io.views.ruler import some

FILES = frozenset({plan_file.NAME, "week.xlsx", "packet.pdf"})
"""What a plan folder holds."""
NAMED = 6
"""Other files in it that a refusal names."""


def check_replaceable(folder: Path) -> None:
    """Raise InputError unless `folder` is new, empty, or a plan folder with nothing else in it, in
    a place that can be written."""
    _check_writable(folder)
    if not (folder.exists() or folder.is_symlink()):
        return
    if not folder.is_dir():
        raise input_error(f"{folder}: there is a file of this name; choose another with --out.")
    there = {entry.name for entry in folder.iterdir()}
    if there and plan_file.NAME not in there:
        raise input_error(
            f"{folder}: this folder holds something else than a plan; choose another with --out."
        )
    foreign = sorted(there - FILES)
    if foreign:
        raise input_error(
            f"{folder}: it also holds {some(foreign, NAMED)}, which a new plan would not keep; "
            "move that away or choose another folder with --out."
        )


def _check_writable(folder: Path) -> None:
    above = next(each for each in folder.absolute().parents if each.exists())
    if not above.is_dir() or not os.access(above, os.W_OK):
        raise input_error(
            f"{folder}: nothing can be written in {above}; choose another place with --out."
        )


def write_folder(folder: Path, files: Mapping[str, bytes]) -> None:
    """Write all files into `folder`, or leave everything as it was.

    They are written beside it first and then take its place. Raises InputError where that is
    not possible.
    """
    folder = folder.absolute()
    check_replaceable(folder)
    try:
        folder.parent.mkdir(parents=True, exist_ok=True)
        beside = Path(tempfile.mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
        try:
            _fill(beside / "new", files)
            _swap(beside, folder)
        finally:
            shutil.rmtree(beside, ignore_errors=True)
    except OSError as problem:
        raise cannot_write(folder, problem) from problem


def write_file(path: Path, content: bytes) -> None:
    """Write one file whole or not at all; InputError where that is not possible."""
    try:
        handle, beside = tempfile.mkstemp(prefix=f".{path.name}-", dir=path.absolute().parent)
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
            Path(beside).chmod(0o666 & ~_umask())
            Path(beside).replace(path)
        finally:
            Path(beside).unlink(missing_ok=True)
    except OSError as problem:
        raise cannot_write(path, problem) from problem


def cannot_write(path: Path, problem: OSError) -> InputError:
    """The error for a place that cannot be written."""
    why = (problem.strerror or str(problem)).lower()
    return input_error(
        f"{path}: it cannot be written ({why}); close it elsewhere, free some space, or choose "
        "another place."
    )


def _fill(folder: Path, files: Mapping[str, bytes]) -> None:
    folder.mkdir()
    for name, content in files.items():
        with (folder / name).open("wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())


def _swap(beside: Path, folder: Path) -> None:
    """Put the new folder in place of the old one; put the old one back if that fails."""
    old = beside / "old"
    if folder.exists():
        folder.rename(old)
    try:
        (beside / "new").rename(folder)
    except OSError:
        if old.exists():
            old.rename(folder)
        raise


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
