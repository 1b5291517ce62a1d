"""Findings as people are told them: errors first, and what is wrong at many places once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from planner.errors import Finding, Severity


@dataclass(frozen=True)
class Told:
    """What is found alike at one place or more: all the places, then what is wrong."""

    findings: tuple[Finding, ...]

    @property
    def severity(self) -> Severity:
        """How bad it is."""
        return self.findings[0].severity

    @property
    def message(self) -> str:
        """The sentence, with every order line that it concerns."""
        first = self.findings[0]
        lines = [finding.subject or "" for finding in self.findings]
        if len(lines) == 1 or first.message == _alike(first):
            return first.message
        return f"Lines {', '.join(lines)}: {_alike(first)}"

    @property
    def place(self) -> str:
        """`Orders!F14, F15`, or the order line or lot that it is about; empty for neither."""
        first = self.findings[0]
        if first.sheet and first.cell:
            return f"{first.sheet}!{', '.join(finding.cell or '' for finding in self.findings)}"
        return first.subject or first.sheet or ""

    @property
    def read(self) -> str:
        """What was read, of each cell where they differ."""
        return "; ".join(dict.fromkeys(f.read for f in self.findings if f.read))

    @property
    def expected(self) -> str:
        """What was expected."""
        return self.findings[0].expected or ""

    def __str__(self) -> str:
        place = f"{self.place}: " if self.findings[0].cell else ""
        return f"{self.severity}: {place}{self.message}"


def told_once(findings: Iterable[Finding]) -> list[Told]:
    """Errors before warnings, each where it first came up, with all cells of one sheet."""
    alike: dict[object, list[Finding]] = {}
    for number, finding in enumerate(findings):
        sheet = finding.sheet if finding.cell else number
        key = finding.severity, sheet, _alike(finding), finding.expected
        alike.setdefault(key, []).append(finding)
    told = [Told(tuple(group)) for group in alike.values()]
    return sorted(told, key=lambda one: one.severity != Severity.ERROR)


def counted(findings: Iterable[Finding]) -> str:
    """How many errors and warnings there are, as they are told, and at how many places."""
    told = told_once(findings)
    return " and ".join(_count(told, severity) for severity in Severity)


def _count(told: Iterable[Told], severity: Severity) -> str:
    sizes = [len(one.findings) for one in told if one.severity == severity]
    words = f"{len(sizes)} {severity}{'' if len(sizes) == 1 else 's'}"
    return words if sum(sizes) == len(sizes) else f"{words} at {sum(sizes)} places"


def _alike(finding: Finding) -> str:
    """What a finding says without the order line that it says it of."""
    return finding.message.removeprefix(f"Line {finding.subject}: ")
