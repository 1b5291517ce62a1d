"""A mistyped command in one sentence: what was read, what was expected, and where help is."""

from __future__ import annotations

import sys
from typing import Any, cast

import typer

from planner_io.console import tell

BAD_USAGE = 2
"""Exit status when the command itself cannot be meant."""

_Refused = cast("type[Exception]", typer.BadParameter.__mro__[1])
"""What any mistyped command raises; typer exports only this one of its kinds."""


def run(app: typer.Typer) -> int:
    """Run the command that was typed; its exit status."""
    if len(sys.argv) == 1:
        return int(app() or 0)
    try:
        return int(app(standalone_mode=False) or 0)
    except _Refused as refused:
        tell(f"error: {_sentence(refused)}")
        tell(f"{_command(refused)} --help tells how it is written.")
        return BAD_USAGE
    except typer.Abort:
        tell("Stopped.")
        return 1


def _sentence(refused: Exception) -> str:
    """What typer found, with its fix."""
    asked: Any = refused
    message, param = str(asked.message or ""), getattr(refused, "param", None)
    if param is not None and not message:
        return f"{param.metavar or param.name} is missing: {param.help}"
    if isinstance(refused, typer.BadParameter) and param is not None:
        return f"{param.opts[0]}: {message}"
    if hasattr(refused, "possibilities"):
        meant = " or ".join(sorted(asked.possibilities or ()))
        question = f"; did you mean {meant}?" if meant else "."
        return f"There is no option {asked.option_name}{question}"
    if hasattr(refused, "option_name") and "requires" in message:
        return f"{asked.option_name} needs a value after it."
    if "extra argument" in message:
        words = message.rpartition("(")[2].rstrip(")")
        return f"“{words}” is too much; put a name with spaces into quotation marks."
    return message


def _command(refused: Exception) -> str:
    context: Any = getattr(refused, "ctx", None)
    return str(context.command_path) if context else "brightrun"
