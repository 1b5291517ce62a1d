"""What a plan is made of: plain records that every stage writes and every paper reads.

Minutes count from midnight at the start of the plan's first day; lengths are nanometres,
money is cents. The records carry no behaviour beyond names, so that the audit can read a
plan without importing the code that made it.
"""

from __future__ import annotations

from datetime import date, datetime
from enum import StrEnum

from pydantic import Field

from planner.advice import LotsTried, Merger
from planner.change import Change
from planner.errors import Finding
from planner.frozen import Frozen
from planner.held import Replan
from planner.options import Options
from planner.orders import OrderLine, Step
from planner.scrap import Scrap
from planner.shop import Shop, What
from planner.stock import StockItem
from planner.stop import Status
from planner.tube import TubeSpec
from planner.uncertainty import LikelyMinutes, Risk
from planner.yardsticks import Yardstick

FORMAT = 3
"""Number of the format of plan.json: counted up whenever its layout changes, or what its audit asks
of it, so that a plan of another format is told as such and not as one that does not hold."""


class Allowance(Frozen):
    """One term of a blank's length, such as an arc, a saddle or the clamp's grip."""

    what: str
    length_nm: int


class Blank(Frozen):
    """One cut piece of an order line: how long, how often, and what is done to it."""

    line: str
    """Key of the order line."""
    length_nm: int
    quantity: int
    steps: tuple[Step, ...]
    """What is done, in order, without the steps that the piece does not need."""
    terms: tuple[Allowance, ...] = ()
    """Adds up to `length_nm`."""
    saddles_nm: tuple[int, ...] = ()
    """ODs of the tubes on which the notched ends sit, one for each saddled end, nm."""
    bends: int = 0
    clr_nm: int = 0
    """Centreline radius of the bends, nm; 0 when there are none."""


class Lot(Frozen):
    """Sticks (or blanks) of one tube spec and recipe that travel together."""

    key: str
    spec: TubeSpec
    recipe: str | None
    saw_first: bool = False
    """Sawn before it is finished, so that blanks and not sticks go through the finisher."""
    lines: tuple[str, ...]
    due_min: int
    """Earliest due minute of its lines."""
    ordered_day: int = 0
    """Day of the plan, from 0, on which it was formed and its sticks to buy are ordered."""


class Piece(Frozen):
    """One piece cut from a stick."""

    tag: str
    line: str
    length_nm: int


class Stick(Frozen):
    """One stick of a cut list, with its pieces in cutting order."""

    tag: str
    stock: str
    """Key of the stock item that it is taken from."""
    length_nm: int
    pieces: tuple[Piece, ...]
    drop_nm: int
    """What is left after trim, pieces and kerfs, nm."""
    kept: bool
    """The drop is kept as a remnant; else it is scrap."""
    finished: bool = False
    """Taken from a finished remnant: its passes are skipped."""


class CutList(Frozen):
    """How the pieces of one lot are cut, what it costs, and how good that is provably."""

    lot: str
    sticks: tuple[Stick, ...]
    kerf_nm: int
    stick_trim_nm: int
    end_trim_nm: int
    cost_cents: int
    """Sticks used less the value of the remnants kept, plus finishing wasted on scrap."""
    floor_cents: int
    """No cut list of this lot from the stock it could use costs less."""
    status: Status
    stage: str = ""
    """Which stage of the search ended it."""


class Alternative(Frozen):
    """One way to do an operation: where, and the minutes that it takes there."""

    station: str
    minutes: int
    people: int = 1
    state: dict[What, str] = Field(default_factory=dict[What, str])
    """What must be mounted there: an OD as its nanometres, everything else by name."""


class Operation(Frozen):
    """A pass, saw, notch, bend or touch-up step of a lot or of one of its order lines."""

    key: str
    step: Step
    lot: str
    line: str | None = None
    """Order line, for steps after sawing; None for steps of the whole lot."""
    after: tuple[str, ...] = ()
    """Keys of the operations that must have ended before this one begins."""
    release_min: int = 0
    """When its material is there."""
    alternatives: tuple[Alternative, ...]
    count: int
    """Sticks or blanks (finish), sticks (saw), pieces (notch, bend, touch-up)."""
    pass_no: int = 0
    """Finish: 1 for the lot's first pass."""
    passes: int = 0
    """Finish: how many passes the lot has in all."""
    belt: str | None = None
    grade: str = ""

    def at(self, station: str) -> Alternative:
        """The alternative at a station; KeyError when it cannot be done there."""
        return {way.station: way for way in self.alternatives}[station]


class Slot(Frozen):
    """Where and when an operation is done. The changeover comes first and is not split; the run
    may pause while the station or the people are off."""

    operation: str
    station: str
    people: tuple[str, ...] = ()
    changes: tuple[Change, ...] = ()
    setup_start_min: int
    setup_min: int
    start_min: int
    end_min: int
    minutes: int
    """Working minutes of the run: those of the alternative."""
    pieces: tuple[tuple[int, int], ...]
    """When the run works, from `start_min` to `end_min`; in between it pauses over a break, over
    the night, or over overtime that is offered and not worked."""
    run: int = 0
    """Number of the run on its station; operations with nothing to change between share one."""
    held_by: str = ""
    """What kept it from starting earlier, in a sentence."""


class Setting(Frozen):
    """One number to set on a machine, in the order in which hands set it."""

    name: str
    length_nm: int | None = None
    angle_mdeg: int | None = None
    value: str = ""
    """Text for what is neither a length nor an angle, such as a feed or a belt."""
    remark: str = ""


class Card(Frozen):
    """What to set for one run, and what to watch."""

    station: str
    run: int
    operations: tuple[str, ...]
    settings: tuple[Setting, ...]
    remarks: tuple[str, ...] = ()
    """Warnings that belong to the set-up itself."""
    cautions: tuple[str, ...] = ()


class LedgerRow(Frozen):
    """Changeover minutes of one kind, on one station and day, of the plan."""

    station: str
    day: date
    what: What
    minutes: int
    count: int


class LateLine(Frozen):
    """An order line that ends after it is due."""

    line: str
    due: datetime
    done: datetime
    late_min: int
    chain: tuple[str, ...] = ()
    """Operations that held each other up to its last one, first to last."""
    reason: str
    """What would make it on time, or why nothing does."""


class BuyLine(Frozen):
    """Sticks to buy."""

    stock: str
    count: int
    price_cents: int
    needed_by: datetime
    """When the first operation on them begins."""
    lots: tuple[str, ...]


class LineDone(Frozen):
    """When an order line is complete."""

    line: str
    done_min: int
    due_min: int


class FloorKind(StrEnum):
    """What a floor bounds from below."""

    LATENESS = "weighted lateness"
    CHANGEOVER = "changeover minutes"
    MATERIAL = "material cents"


class Floor(Frozen):
    """A value of the plan beside the least that any plan can have, as far as proven."""

    kind: FloorKind
    value: int
    floor: int
    basis: str
    """What the floor rests on, in a few words."""


class Plan(Frozen):
    """A week of a shop: everything that went in, everything that came out, nothing else needed.

    Slots are listed by station and then by time. Everything else is in the order of the
    orders, or of the lots.
    """

    format: int = FORMAT
    version: str
    """Version of brightrun that made it."""
    options: Options
    shop: Shop
    orders: tuple[OrderLine, ...]
    """The order lines that are planned; refused ones are in `refused`."""
    refused: tuple[OrderLine, ...] = ()
    stock: tuple[StockItem, ...]
    findings: tuple[Finding, ...] = ()
    blanks: tuple[Blank, ...]
    lots: tuple[Lot, ...]
    cut_lists: tuple[CutList, ...]
    operations: tuple[Operation, ...]
    slots: tuple[Slot, ...]
    cards: tuple[Card, ...]
    done: tuple[LineDone, ...]
    late: tuple[LateLine, ...]
    buy: tuple[BuyLine, ...]
    mergers: tuple[Merger, ...] = ()
    """What cutting lots as one would save and delay; those that the lot policy left apart."""
    lots_tried: tuple[LotsTried, ...] = ()
    """Why lines share a lot or do not, where that was chosen lot by lot: for each set of lots
    the cheapest of the other groupings that were tried, the dearest first."""
    ledger: tuple[LedgerRow, ...]
    yardsticks: tuple[Yardstick, ...]
    """`this plan` first, then the orders of the week that it is compared with."""
    floors: tuple[Floor, ...]
    status: Status
    """Of the run order; cut lists carry their own."""
    replan: Replan | None = None
    """What it was planned again from; None for the first plan of a week."""
    risk: Risk | None = None
    """What simulated weeks say of it; None where nobody simulated them."""
    likely: tuple[LikelyMinutes, ...] = ()
    """Of the passes that have not begun, in the order of the operations; empty where nobody
    worked them out."""

    @property
    def scrap(self) -> tuple[Scrap, ...]:
        """What was lost before it was planned again, since the week began."""
        return self.replan.scrap if self.replan else ()
