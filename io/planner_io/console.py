"""How commands speak: results on stdout; progress, findings and errors on stderr."""

from __future__ import annotations

import contextlib
import io
import signal
import sys
import tempfile
import traceback
from collections.abc import Generator, Iterable
from pathlib import Path
from types import FrameType
from typing import TYPE_CHECKING, Self

from planner.errors import BrightrunError, Finding
from planner.stop import Stop
from planner_io.told import told_once

if TYPE_CHECKING:
    from rich.progress import Progress as Bars
    from rich.progress import TaskID

BAD_INPUT = 1
"""Exit status when what the user gave cannot be used; click's own for bad usage is 2."""
LEFT_OUT = 3
"""Exit status when there is a result, but what has an error is left out of it."""


def utf8() -> None:
    """Write UTF-8 wherever the output goes, so that no dash or fraction can stop a command."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(encoding="utf-8", errors="replace")


def say(text: str = "") -> None:
    """A line of the result."""
    sys.stdout.write(f"{text}\n")


def tell(text: str) -> None:
    """A line beside the result."""
    sys.stderr.write(f"{text}\n")


def tell_findings(findings: Iterable[Finding]) -> None:
    """Findings, errors first, each once with all its places."""
    for told in told_once(findings):
        tell(str(told))


@contextlib.contextmanager
def no_traceback() -> Generator[None]:
    """Turn every exception into plain sentences and an exit status."""
    try:
        yield
    except BrightrunError as problem:
        tell_problem(problem)
        raise SystemExit(BAD_INPUT) from problem
    except MemoryError as problem:
        tell("error: There is not enough memory for this; plan fewer order lines at once.")
        raise SystemExit(BAD_INPUT) from problem
    except Exception as problem:
        tell(_unexpected(problem))
        raise SystemExit(BAD_INPUT) from problem


def tell_problem(problem: BrightrunError) -> None:
    """What a BrightrunError says, a line for each finding."""
    findings: tuple[Finding, ...] = getattr(problem, "findings", ())
    if findings:
        tell_findings(findings)
    else:
        tell(f"error: {problem}")


def _unexpected(problem: Exception) -> str:
    what = f"error: brightrun itself failed ({type(problem).__name__})"
    advice = "please report it with that file and the workbook."
    try:
        with tempfile.NamedTemporaryFile(
            "w", encoding="utf-8", prefix="brightrun-", suffix=".txt", delete=False
        ) as file:
            file.write("".join(traceback.format_exception(problem)))
    except OSError:
        return f"{what}: {problem}"
    return f"{what}; the details are in {Path(file.name)}: {advice}"


@contextlib.contextmanager
def stopping(stop: Stop) -> Generator[None]:
    """While it lasts, the first Ctrl-C asks the searches for their best plan so far."""

    def ask(number: int, frame: FrameType | None) -> None:
        stop.ask()
        signal.signal(signal.SIGINT, before)
        tell("Stopping: the best plan so far is taken (Ctrl-C again ends at once).")

    before = signal.signal(signal.SIGINT, ask)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)


class Progress:
    """Shows how far long work is: a moving bar on a terminal, else a line for each stage."""

    def __init__(self) -> None:
        self._stages: dict[str, TaskID | None] = {}
        self._bars = _bars() if sys.stderr.isatty() else None

    def __enter__(self) -> Self:
        if self._bars:
            self._bars.start()
        return self

    def __exit__(self, *_: object) -> None:
        if self._bars:
            self._bars.stop()

    def announce(self, stage: str, done: float, words: str) -> None:
        """Stage `stage` is done to the share `done`, with a few words on the best so far."""
        text = f"{stage}: {words}" if words else stage
        if stage not in self._stages:
            self._stages[stage] = self._begin(text)
        task = self._stages[stage]
        if self._bars and task is not None:
            self._bars.update(task, completed=done, description=text)

    def _begin(self, text: str) -> TaskID | None:
        if self._bars:
            return self._bars.add_task(text, total=1.0)
        tell(f"… {text}")
        return None


def _bars() -> Bars:
    from rich.console import Console  # noqa: PLC0415 - help must answer at once
    from rich.progress import Progress as Bars  # noqa: PLC0415 - help must answer at once

    return Bars(console=Console(stderr=True), transient=True)
