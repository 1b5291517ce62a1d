"""What reading a workbook brings to light: findings by cell, and readings that were a choice."""

from __future__ import annotations

from dataclasses import dataclass, field

from planner.errors import Finding, InputError, Severity
from planner_io.workbook.names import listed

LEFT_OUT = "left out"
"""How a reading ends that takes rows away: such rows are all named."""
NOT_USED = "that are not used"
"""What is said of columns and sheets that are not read."""
MOST_PLACES = 40


@dataclass(frozen=True)
class Place:
    """A cell and the title of its column, or a sheet alone."""

    sheet: str
    cell: str | None = None
    title: str = ""

    def __str__(self) -> str:
        return f"{self.sheet}!{self.cell}" if self.cell else self.sheet


@dataclass
class Report:
    """Collects findings and readings in the order in which they come up."""

    findings: list[Finding] = field(default_factory=list[Finding])
    _notes: dict[str, list[str]] = field(default_factory=dict[str, list[str]])

    def error(
        self, place: Place, message: str, read: str | None = None, expected: str | None = None
    ) -> None:
        """Something that drops the row it stands in."""
        self._add(Severity.ERROR, place, message, read, expected)

    def warn(
        self, place: Place, message: str, read: str | None = None, expected: str | None = None
    ) -> None:
        """Something doubtful that is kept."""
        self._add(Severity.WARNING, place, message, read, expected)

    def refused(self, place: Place, problem: InputError) -> None:
        """A parser's own error, put in its place."""
        for finding in problem.findings:
            self.error(place, finding.message, finding.read, finding.expected)

    def note(self, text: str, place: Place | None = None) -> None:
        """A reading that was not literal; the same text at several cells is told once."""
        places = self._notes.setdefault(_one_line(text), [])
        if place is not None:
            places.append(str(place))

    @property
    def readings(self) -> tuple[str, ...]:
        """Readings as sentences, each with where it applies."""
        return tuple(_with_places(text, places) for text, places in self._notes.items())

    def _add(
        self, severity: Severity, place: Place, message: str, read: str | None, expected: str | None
    ) -> None:
        text = f"{place.title}: {message}" if place.title else message
        self.findings.append(
            Finding(
                severity=severity,
                message=_one_line(text),
                sheet=place.sheet,
                cell=place.cell,
                read=read,
                expected=expected,
            )
        )


def _one_line(text: str) -> str:
    """A sentence without the line breaks of the cells that it quotes."""
    return " ".join(text.split())


def _with_places(text: str, places: list[str]) -> str:
    if not places:
        return text
    if text.endswith(LEFT_OUT):
        return f"{listed(places, MOST_PLACES)}: {text}"
    more = f" and {len(places) - 1} more" if len(places) > 1 else ""
    return f"{places[0]}{more}: {text}"
