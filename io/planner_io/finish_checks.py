"""The Checks sheet of a progress file: what was measured or seen on finished lots."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from planner.abrasives import Grade, parse_grade
from planner.errors import Finding, InputError
from planner.finisher.record import FinishCheck, Judgement, Seen, Verdict, judge
from planner.records import Lot, Plan
from planner.shop import Recipe
from planner.units.reading import refuse
from planner_io.checks_sheet import CHECKS
from planner_io.workbook import cells
from planner_io.workbook.cells import Parsed
from planner_io.workbook.examples import is_example
from planner_io.workbook.grid import Value
from planner_io.workbook.load import load_grids
from planner_io.workbook.names import find_name, plain_name
from planner_io.workbook.report import Report
from planner_io.workbook.rows import Habits, RowReader
from planner_io.workbook.shop import tables_of
from planner_io.workbook.table import Table
from planner_io.workbook.table_told import missing_columns

MOST_UIN = 2_000
_SEEN = {"good": Seen.GOOD, "ok": Seen.GOOD, "mark": Seen.MARKS, "uneven": Seen.UNEVEN}


@dataclass(frozen=True)
class LotCheck:
    """A lot and what its check says."""

    lot: str
    judgement: Judgement
    reached: int | None = None
    """Place, from 1, of the last step done of those its surface needs; None for all."""

    @property
    def words(self) -> str:
        """The check in a sentence."""
        at = f" after step {self.reached}" if self.reached else ""
        return f"Lot {self.lot}{at}: {self.judgement.reason}: {self.judgement.verdict.value}."

    @property
    def goes_back(self) -> bool:
        """Whether the lot goes back one grade."""
        return self.judgement.verdict is Verdict.AGAIN


def read_checks(path: Path, issued: Plan) -> tuple[LotCheck, ...]:
    """The finish checks of a progress file; none when it has no sheet for them.

    Raises InputError with everything that is wrong, by cell.
    """
    report = Report()
    tables = tables_of([load_grids(path)], CHECKS, report)
    found = tuple(_rows(tables[0], issued, report)) if tables else ()
    errors: Sequence[Finding] = report.findings
    if errors:
        raise InputError(list(errors))
    return found


def _rows(table: Table, issued: Plan, report: Report) -> Iterator[LotCheck]:
    if missing_columns(table, report):
        return
    lots = {plain_name(lot.key): lot for lot in issued.lots}
    for row in table.rows():
        if not is_example(row):
            checked = _checked(RowReader(row, report, Habits()), lots, issued)
            if checked:
                yield checked


def _checked(reader: RowReader, lots: dict[str, Lot], issued: Plan) -> LotCheck | None:
    lot = reader.take("lot", lambda value: _lot(value, lots), None)
    nothing: tuple[float, ...] = ()
    readings = reader.take("readings", _readings, nothing)
    seen = reader.choice("seen", _SEEN, None) if reader.raw("seen") is not None else None
    if reader.failed or lot is None:
        return None
    if lot.recipe is None:
        reader.fail("lot", f"lot {lot.key} has no finish to check", lot.key)
        return None
    recipe = issued.shop.recipe(lot.recipe)
    reached = reader.take("reached", lambda value: _reached(value, recipe, lot), None)
    if reached is not None and readings:
        reader.fail(
            "readings",
            f"{recipe.name} gives the range of its end, not of a step on the way: say in Looks "
            "what was seen",
            reader.raw("readings"),
        )
    if reader.failed:
        return None
    try:
        found = judge(recipe, FinishCheck(lot.key, readings, seen))
    except InputError as problem:
        reader.refuse("readings", problem)
        return None
    return LotCheck(lot.key, found, reached)


def _reached(value: Value, recipe: Recipe, lot: Lot) -> Parsed[int | None]:
    """The place of a grade among the steps that the lot's surface needs; None for the last one."""
    read = parse_grade(value)
    grade: Grade = read.grade
    steps = [step.grade for step in recipe.steps if step.passes.get(lot.spec.surface, 0)]
    if grade not in steps:
        raise refuse(cells.text(value), f"a grade of {recipe.name}: {_labels(steps)}")
    place = len(steps) - steps[::-1].index(grade)
    return Parsed(place if place < len(steps) else None, read.note)


def _labels(grades: Sequence[Grade]) -> str:
    return ", ".join(dict.fromkeys(grade.label for grade in grades))


def _lot(value: Value, lots: dict[str, Lot]) -> Parsed[Lot | None]:
    match = lots.get(plain_name(cells.text(value)))
    if match is None:
        near = find_name(cells.text(value), lots)
        hint = f"; {near.value.key} comes close" if near else ""
        raise refuse(cells.text(value), f"a lot of the plan{hint}")
    return Parsed(match)


def _readings(value: Value) -> Parsed[tuple[float, ...]]:
    words = cells.text(value).replace(",", " ").replace(";", " ").split()
    found = tuple(cells.decimal(word, "a roughness in µin Ra").value for word in words)
    if not found or not all(0 < reading <= MOST_UIN for reading in found):
        raise refuse(cells.text(value), f"readings in µin Ra, above 0 and up to {MOST_UIN}")
    return Parsed(found)
