"""docs/commands.md is what the commands say of themselves."""

from __future__ import annotations

from pathlib import Path

from planner_io.command_reference import commands, reference

DOCS = Path(__file__).parents[2] / "docs" / "commands.md"


def test_the_reference_in_the_docs_is_the_commands_own() -> None:
    assert DOCS.read_text(encoding="utf-8") == reference(), (
        "run: python -m planner_io.command_reference docs/commands.md"
    )


def test_every_command_and_option_is_explained() -> None:
    assert {"template", "check", "plan", "audit"} <= set(commands())
    assert "None" not in reference()
