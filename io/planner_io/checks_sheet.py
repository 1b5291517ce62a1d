"""The Checks sheet."""

from __future__ import annotations

from planner_io.workbook.columns import Column, Kind, SheetSpec

CHECKS = SheetSpec(
    "Checks",
    "Finish checks: what was measured or seen on a lot after its last pass, or on the way.",
    (
        Column(
            "lot",
            "Lot",
            Kind.TEXT,
            "The lot, such as L04.",
            "Lot number, Lot key",
            required=True,
            example="L04",
        ),
        Column(
            "readings",
            "Roughness",
            Kind.TEXT,
            "Readings in µin Ra, separated by commas or blanks.",
            "Ra, Readings, Roughness Ra, Finish",
            example="22, 25, 24",
        ),
        Column(
            "seen",
            "Looks",
            Kind.CHOICE,
            "good, marks (of the last belt) or uneven.",
            "Look, Seen, Visual, Visual check",
            choices=("good", "marks", "uneven"),
            example="good",
        ),
        Column(
            "reached",
            "Reached",
            Kind.GRADE,
            "Grade of the last belt that the lot has seen, such as P120; blank after its last "
            "pass. On the way a look counts, as the range of a finish is that of its end.",
            "Reached step, Last belt, Up to, After belt",
        ),
        Column(
            "who",
            "Who",
            Kind.TEXT,
            "Who checked.",
            "By, Checked by, Name",
            example="EXAMPLE",
        ),
    ),
    "Check, Finish checks, Finish record, Inspection, Inspections",
)
