"""What a cut list answers: sticks with their pieces in cutting order, cost, floor, claims."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from planner.stop import Status


class Fate(StrEnum):
    """What becomes of the drop."""

    NONE = "none"
    SCRAP = "scrap"
    REMNANT = "remnant"
    FINISHED_REMNANT = "finished remnant"


@dataclass(frozen=True, slots=True)
class Pattern:
    """`count` sticks of stock kind `stock` (its index in the problem) that are cut alike.

    Lengths add up: `trim_nm + sum(lengths_nm) + kerf_nm + drop_nm` is the stick. Money is
    for one stick: `cost_cents` is price and finishing less `credit_cents` for the drop.
    """

    stock: int
    count: int
    lengths_nm: tuple[int, ...]
    """In cutting order."""
    trim_nm: int
    kerf_nm: int
    drop_nm: int
    fate: Fate
    cost_cents: int
    credit_cents: int


@dataclass(frozen=True, slots=True)
class Piece:
    """One blank: the order line it is for, its length and the label to write on it."""

    key: str
    length_nm: int
    label: str


@dataclass(frozen=True, slots=True)
class Stick:
    """One stick to saw: which pattern it follows, and its pieces in order."""

    pattern: int
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True)
class Level:
    """One preference, in its order: what was reached and whether less is proven impossible."""

    name: str
    value: int
    is_proven: bool


@dataclass(frozen=True, slots=True)
class Money:
    """Where the money for the sticks goes, in cents: in pieces, kept drops, and scrap.

    The three add up to `paid_cents`, the sticks' prices and finishing.
    """

    paid_cents: int
    used_cents: int
    kept_cents: int
    scrapped_cents: int


@dataclass(frozen=True, slots=True)
class Reason:
    """Why there is no plan: a sentence with a place `{}` for each of its lengths."""

    keys: tuple[str, ...]
    """Demands that cannot be met."""
    text: str
    lengths_nm: tuple[int, ...] = ()

    def told(self, show: Callable[[int], str]) -> str:
        """The sentence, with lengths as `show` writes them."""
        return self.text.format(*map(show, self.lengths_nm))


@dataclass(frozen=True, slots=True)
class Result:
    """The cheapest cut list found, its proven floor, and how the search ended.

    Without a plan (`status` is NO_PLAN) `patterns` is empty and `reasons` says why.
    """

    status: Status
    cost_cents: int
    bound_cents: int
    stage: str
    """The step of the chain that ended the search."""
    patterns: tuple[Pattern, ...] = ()
    sticks: tuple[Stick, ...] = ()
    levels: tuple[Level, ...] = ()
    money: Money = Money(0, 0, 0, 0)
    work: float = 0.0
    """Effort spent, in nominal seconds; the same for the same problem, seed and budget."""
    reasons: tuple[Reason, ...] = ()

    @property
    def gap_cents(self) -> int:
        """How much cheaper a plan could be at most."""
        return self.cost_cents - self.bound_cents

    @property
    def kerf_loss_nm(self) -> int:
        """All that turns into chips on the saw."""
        return sum(pattern.kerf_nm * pattern.count for pattern in self.patterns)

    @property
    def scrap_nm(self) -> int:
        """Drops too short to keep, and end trims."""
        return sum(
            pattern.count
            * (pattern.trim_nm + (pattern.drop_nm if pattern.fate is Fate.SCRAP else 0))
            for pattern in self.patterns
        )

    @property
    def yield_percent(self) -> float:
        """Length in pieces over length of the sticks less kept drops."""
        pieces = sum(sum(pattern.lengths_nm) * pattern.count for pattern in self.patterns)
        whole = pieces + self.kerf_loss_nm + self.scrap_nm
        return 100 * pieces / whole if whole else 0.0
