"""How commands speak: errors first, stages once, and Ctrl-C that keeps the best plan so far."""

from __future__ import annotations

import signal
import tempfile
from collections.abc import Iterator

import pytest

from planner.errors import EngineError, Finding, NoPlanError, Severity
from planner.stop import Stop
from planner_io.console import Progress, no_traceback, stopping, tell_findings


def a_finding(severity: str, message: str) -> Finding:
    return Finding(severity=Severity(severity), message=message, sheet="Orders", cell="F14")


def test_errors_are_told_before_warnings(capsys: pytest.CaptureFixture[str]) -> None:
    tell_findings([a_finding("warning", "thin."), a_finding("error", "wrong.")])
    assert capsys.readouterr().err == ("error: Orders!F14: wrong.\nwarning: Orders!F14: thin.\n")


@pytest.fixture
def interrupts() -> Iterator[None]:
    """As in a terminal; what runs in the background is started with interrupts ignored."""
    before = signal.signal(signal.SIGINT, signal.default_int_handler)
    yield
    signal.signal(signal.SIGINT, before)


@pytest.mark.usefixtures("interrupts")
def test_the_first_interrupt_asks_for_the_best_plan_and_the_second_ends() -> None:
    stop = Stop()
    with stopping(stop):
        signal.raise_signal(signal.SIGINT)
        assert stop()
        with pytest.raises(KeyboardInterrupt):
            signal.raise_signal(signal.SIGINT)
    assert signal.getsignal(signal.SIGINT) is signal.default_int_handler


def test_a_stage_is_told_once_where_there_is_no_terminal(
    capsys: pytest.CaptureFixture[str],
) -> None:
    with Progress() as progress:
        for done in (0.0, 0.5, 1.0):
            progress.announce("run order", done, "")
        progress.announce("papers", 0.0, "")
    assert capsys.readouterr().err == "… run order\n… papers\n"


@pytest.mark.parametrize(
    ("problem", "words"),
    [
        (NoPlanError((a_finding("error", "nothing fits."),)), "error: Orders!F14: nothing fits."),
        (EngineError("the search answered nonsense"), "error: the search answered nonsense"),
        (MemoryError(), "error: There is not enough memory"),
    ],
)
def test_a_problem_ends_with_status_1(
    problem: Exception, words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended, no_traceback():
        raise problem
    assert ended.value.code == 1
    assert capsys.readouterr().err.startswith(words)


def test_details_that_cannot_be_written_are_told(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(tempfile, "NamedTemporaryFile", full)
    with pytest.raises(SystemExit), no_traceback():
        raise ZeroDivisionError("by nought")
    assert "(ZeroDivisionError): by nought" in capsys.readouterr().err
