"""The one tree of exceptions that the core and the edge raise on purpose::

    BrightrunError
    ├── InputError (ValueError)       what a person wrote cannot be used; carries every Finding
    ├── NoPlanError (RuntimeError)    the input is sound, but no plan exists or none was found
    ├── AuditError (RuntimeError)     a plan breaks an invariant; carries every Finding
    └── EngineError (RuntimeError)    a solver or kernel answered something it must not

A `Finding` is one sentence about one place: what was read, what was expected, what to do.
"""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from pydantic import BaseModel, ConfigDict


class Severity(StrEnum):
    """How bad a finding is: an error drops the row, a warning goes along with it."""

    ERROR = "error"
    WARNING = "warning"


class Finding(BaseModel):
    """One thing found wrong or doubtful, with its place and its fix."""

    model_config = ConfigDict(frozen=True)

    severity: Severity
    message: str
    """One plain sentence that ends in what to do about it."""
    sheet: str | None = None
    cell: str | None = None
    """Cell address such as `F14`, when the finding comes from a workbook."""
    read: str | None = None
    expected: str | None = None
    subject: str | None = None
    """What it is about when there is no cell: an order line key, a lot, an operation."""

    def __str__(self) -> str:
        place = f"{self.sheet}!{self.cell}: " if self.sheet and self.cell else ""
        return f"{place}{self.message}"


def has_errors(findings: Iterable[Finding]) -> bool:
    """Whether any finding is an error."""
    return any(finding.severity is Severity.ERROR for finding in findings)


class BrightrunError(Exception):
    """Base of everything that brightrun raises on purpose."""


class _FindingsError(BrightrunError):
    def __init__(self, findings: tuple[Finding, ...] | list[Finding]) -> None:
        self.findings = tuple(findings)
        super().__init__(self.findings)

    def __str__(self) -> str:
        return "\n".join(str(finding) for finding in self.findings)


class InputError(_FindingsError, ValueError):
    """What a person wrote cannot be used; `findings` lists all of it at once."""


class AuditError(_FindingsError, RuntimeError):
    """A plan breaks an invariant; `findings` lists every breach."""


class NoPlanError(_FindingsError, RuntimeError):
    """The input is sound, but no plan exists or none was found; `findings` says why."""


class EngineError(BrightrunError, RuntimeError):
    """A solver or a kernel answered something that it must not."""


def input_error(message: str, **place: str | None) -> InputError:
    """An InputError with one finding; `place` may give sheet, cell, read, expected, subject."""
    return InputError((Finding(severity=Severity.ERROR, message=message, **place),))
