"""What writes a file of docs writes the one that is named, and none when asked for help."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from planner_io.generated import write_named


def test_the_text_goes_to_the_named_file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "argv", ["reference", str(tmp_path / "page.md")])
    write_named("⌀\n", "about")
    assert (tmp_path / "page.md").read_bytes() == "⌀\n".encode()


def test_help_is_no_file(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "argv", ["reference", "--help"])
    with pytest.raises(SystemExit, match="0"):
        write_named("text", "what it writes")
    assert "what it writes" in capsys.readouterr().out
    assert list(tmp_path.iterdir()) == []
