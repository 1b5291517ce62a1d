"""The usual cautions for a run, each with what it leans on.

They are the ones that every fabricator should have heard; they do not replace local codes, the
machine's own manual or licensed practice, and the last one always says so.

>>> for caution in cautions_for(StationKind.BENDER, [Family.CARBON], finished=True)[:2]:
...     print(caution.line)
Sleeve or rack finished tube, and bend it in soft or clean tooling. (common practice)
Keep hands out of clamp, die and pressure die, and bystanders out of the tube's swing.
    (29 CFR 1910.212)
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass

from planner.shop import StationKind, What
from planner.tube import Family

COMMON = "common practice"
GUARDS = "29 CFR 1910.212"
LOCKOUT = "29 CFR 1910.147"
EYES = "29 CFR 1910.133, ANSI Z87.1"
CHROMIUM = "29 CFR 1910.1026"
METAL_DUST = "NFPA 660"
CLEANING = "ASTM A380"
ENTANGLEMENT = "common advice of safety authorities"

STEEL = frozenset({Family.CARBON, Family.ALLOY})
IRON = STEEL | {Family.STAINLESS}
SPARKING = frozenset({StationKind.FINISHER, StationKind.NOTCHER, StationKind.BENCH})
HEATING = SPARKING | {StationKind.SAW}
"""Where a coating becomes dust or fume."""
TURNING = frozenset({StationKind.FINISHER, StationKind.SAW, StationKind.NOTCHER})


@dataclass(frozen=True, slots=True)
class Caution:
    """One imperative sentence and the source that it leans on."""

    text: str
    basis: str = ""

    @property
    def line(self) -> str:
        """The sentence with its source in brackets, as a card prints it."""
        return f"{self.text} ({self.basis})" if self.basis else self.text


@dataclass(frozen=True, slots=True)
class _Run:
    """What the rules ask about one lot of a run."""

    kind: StationKind
    family: Family
    before: Family | None
    short: bool
    long: bool
    changes: frozenset[What]
    finished: bool
    coated: frozenset[str]

    def at(self, *kinds: StationKind) -> bool:
        return self.kind in kinds

    def changes_any(self, *whats: What) -> bool:
        return not self.changes.isdisjoint(whats)

    @property
    def swaps_aluminium_and_iron(self) -> bool:
        families = {self.before, self.family}
        return Family.ALUMINIUM in families and not families.isdisjoint(IRON)


_Rule = tuple[Callable[[_Run], bool], Caution]

_FIRES: tuple[_Rule, ...] = (
    (
        lambda run: run.swaps_aluminium_and_iron and run.kind in SPARKING,
        Caution(
            "Stop: clean machine, hood and duct before this run, and change to the other "
            "collector; aluminium dust and iron oxide together burn as thermite.",
            METAL_DUST,
        ),
    ),
    (
        lambda run: run.family is Family.ALUMINIUM and run.kind in SPARKING,
        Caution(
            "Collect aluminium dust apart from steel in a collector made for it, keep sparks and "
            "flames away, and never blow it down with air: it can explode.",
            METAL_DUST,
        ),
    ),
    (
        lambda run: run.family in IRON and run.kind in SPARKING,
        Caution("Keep everything that burns out of the reach of sparks.", GUARDS),
    ),
    (
        lambda run: run.family is Family.STAINLESS and run.kind in SPARKING,
        Caution(
            "Run the extraction and wear the respirator that your air tests call for: dust of "
            "stainless can carry hexavalent chromium.",
            CHROMIUM,
        ),
    ),
    (
        lambda run: "galvanised" in run.coated and run.kind in HEATING,
        Caution(
            "See that the zinc of galvanised tube is stripped where it is ground, cut or heated, "
            "run the extraction and wear a respirator: its fume and dust bring on a fever.",
            COMMON,
        ),
    ),
    (
        lambda run: "plated" in run.coated and run.kind in HEATING,
        Caution(
            "See that the plating is stripped where tube is ground, cut or heated, and run the "
            "extraction: dust and fume of chromium and nickel do harm.",
            CHROMIUM,
        ),
    ),
    (
        lambda run: "aluminised" in run.coated and run.kind in HEATING,
        Caution(
            "See that the aluminium of aluminised tube is stripped where it is ground or cut: its "
            "dust and iron oxide together burn as thermite.",
            METAL_DUST,
        ),
    ),
    (
        lambda run: "painted" in run.coated and run.kind in HEATING,
        Caution(
            "See that paint is stripped where tube is ground, cut or heated, run the extraction "
            "and wear a respirator: old paint can carry lead.",
            COMMON,
        ),
    ),
)

_CHANGES: tuple[_Rule, ...] = (
    (
        lambda run: run.changes_any(*set(What) - {What.FAMILY, What.OD}),
        Caution(
            "Lock out the power and try the start button before you change belt, rail, tool or "
            "attachment.",
            LOCKOUT,
        ),
    ),
    (
        lambda run: run.at(StationKind.FINISHER) and run.changes_any(What.OD, What.RAIL),
        Caution(
            "With the power off turn the wheels by hand, a tube in place: it may touch nothing but "
            "belt, rail and brake wheel.",
            COMMON,
        ),
    ),
    (
        lambda run: run.changes_any(What.BELT),
        Caution(
            "With the power off turn a new belt by hand and see that it tracks; stand aside at its "
            "first start.",
            COMMON,
        ),
    ),
    (
        lambda run: run.family is Family.STAINLESS and run.before in STEEL,
        Caution(
            "Wipe down rail, jaws and tooling, and use only belts and cutters kept for stainless: "
            "carbon steel left on it will rust.",
            CLEANING,
        ),
    ),
    (
        lambda run: run.family in STEEL and run.before is Family.STAINLESS,
        Caution("Put belts and cutters kept for stainless away before this run.", COMMON),
    ),
)

_HANDLING: tuple[_Rule, ...] = (
    (
        lambda run: run.finished and run.at(StationKind.BENDER),
        Caution(
            "Sleeve or rack finished tube, and bend it in soft or clean tooling.",
            COMMON,
        ),
    ),
    (
        lambda run: run.at(StationKind.FINISHER),
        Caution("Sleeve finished tube or rack it on soft supports as it comes out.", COMMON),
    ),
    (
        lambda run: run.finished and not run.at(StationKind.BENDER, StationKind.FINISHER),
        Caution("Sleeve or rack finished tube; hold it in clean, soft jaws.", COMMON),
    ),
    (
        lambda run: run.at(StationKind.FINISHER) and run.short,
        Caution(
            "Keep fingers a hand's width from the belt and push a short piece through with the "
            "next one or a stick of wood.",
            COMMON,
        ),
    ),
    (
        lambda run: run.at(StationKind.FINISHER) and run.long,
        Caution(
            "Set stands at the tube's height on both sides, and keep people away from the free "
            "ends: a long bar whips as it turns.",
            COMMON,
        ),
    ),
    (
        lambda run: run.long and run.at(StationKind.SAW, StationKind.NOTCHER, StationKind.BENDER),
        Caution("Support long tube at both ends and mind the end behind you.", COMMON),
    ),
    (
        lambda run: run.at(StationKind.SAW),
        Caution("Let the blade stop before you reach for the piece or the drop.", GUARDS),
    ),
    (
        lambda run: run.at(StationKind.NOTCHER),
        Caution("Clamp the tube before you start the cut; never hold it by hand.", COMMON),
    ),
    (
        lambda run: run.at(StationKind.SAW, StationKind.NOTCHER, StationKind.BENCH),
        Caution("Deburr cut ends before you hand them on: they cut like knives.", COMMON),
    ),
    (
        lambda run: run.at(StationKind.BENDER),
        Caution(
            "Keep hands out of clamp, die and pressure die, and bystanders out of the tube's "
            "swing.",
            GUARDS,
        ),
    ),
)

_ALWAYS: tuple[_Rule, ...] = (
    (
        lambda run: run.kind in TURNING,
        Caution("Keep guards closed and fingers out of the nip.", GUARDS),
    ),
    (
        lambda run: run.kind in TURNING,
        Caution(
            "No loose gloves, sleeves, cords or hair near anything that turns; wear no gloves "
            "that can be caught.",
            ENTANGLEMENT,
        ),
    ),
    (lambda _: True, Caution("Wear eye protection.", EYES)),
)

DEFERRING = Caution(
    "Local codes, the machine's manual and licensed practice come first; this list replaces none."
)
"""The line that closes every list."""


def cautions_for(
    kind: StationKind,
    families: Sequence[Family],
    *,
    previous_family: Family | None = None,
    short_piece: bool = False,
    long_stick: bool = False,
    changes: Sequence[What] = (),
    finished: bool = False,
    coated: Collection[str] = (),
) -> tuple[Caution, ...]:
    """The cautions for a run at a kind of station, the gravest first, the deferring one last.

    `families` are those of the run's lots in their order, and `previous_family` is what ran there
    before; `changes` is what is changed before the run; `finished` says that the tube carries its
    finish, or gets it here; `coated` are the coatings of its lots, such as galvanised.
    """
    followed = zip((previous_family, *families[:-1]), families, strict=True)
    lots = [
        _Run(
            kind,
            family,
            before,
            short_piece,
            long_stick,
            frozenset(changes),
            finished,
            frozenset(coated),
        )
        for before, family in dict.fromkeys(followed)
    ]
    rules = (*_FIRES, *_CHANGES, *_HANDLING, *_ALWAYS)
    found = (caution for applies, caution in rules if any(applies(lot) for lot in lots))
    return (*found, DEFERRING)
