"""One row of an outside check: what the project says, what somebody else says, and who."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

Tag = Literal["P", "L", "M", "C", "T"]
"""P published source, L general-purpose library, M from memory of the source named, C computed
from the formula in the source, T common practice of the trade."""


@dataclass(frozen=True)
class Check:
    """A value of the project beside the one expected from a source outside it."""

    name: str
    value: Callable[[], float]
    expected: float
    tolerance: float
    source: str
    tag: Tag

    def __str__(self) -> str:
        return f"{self.name} [{self.tag}]"

    def hold(self) -> None:
        """Fail, naming the source, when the two differ by more than the tolerance."""
        value = self.value()
        off = abs(value - self.expected)
        assert off <= self.tolerance, (
            f"{self.name}: {value} is {off} off the {self.expected} of {self.source} [{self.tag}]"
        )
