"""What a reading says, as plain data for `check --json`."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from planner.blanks import BlankResult, make_blanks, nothing_to_plan
from planner.errors import Finding, has_errors
from planner.hours import end_of_day
from planner.orders import OrderLine
from planner.records import Blank
from planner.shop import Shop
from planner.supply import too_little
from planner_io.workbook.read import Reading


@dataclass(frozen=True, slots=True)
class Checked:
    """Order lines as plain data, readings, and every problem of the cells and of the blanks."""

    orders: tuple[dict[str, Any], ...]
    readings: tuple[str, ...]
    findings: tuple[Finding, ...]

    def as_json(self) -> dict[str, Any]:
        """What `check --json` prints."""
        return {
            "orders": list(self.orders),
            "readings": list(self.readings),
            "problems": [_problem(finding) for finding in self.findings],
        }


def checked(reading: Reading) -> Checked:
    """What a workbook was read as, and all that is wrong with it, or that there is nothing to plan.

    Lengths of orders are in nanometres; `blank_nm` is None for a line that cannot be made. `due`
    is a date, with a time only where the cell gave one that is not the end of the day.
    """
    made = blanks_of(reading)
    blanks = {blank.line: blank for blank in made.blanks}
    short = too_little(reading.orders, blanks, reading.stock, reading.shop)
    findings = (*reading.findings, *made.findings, *short)
    if not reading.orders and not has_errors(findings):
        findings = (*findings, nothing_to_plan())
    orders = [_order(line, blanks.get(line.key), reading.shop) for line in reading.orders]
    return Checked(tuple(orders), reading.readings, findings)


def blanks_of(reading: Reading) -> BlankResult:
    """The blanks of the order lines; none, and nothing said of them, where the sheet Stock cannot
    be read, as every line would lack its tube."""
    if not reading.stock and has_errors(reading.findings):
        return BlankResult((), (), ())
    return make_blanks(reading.orders, reading.stock, reading.shop)


def _order(line: OrderLine, blank: Blank | None, shop: Shop) -> dict[str, Any]:
    alone = line.due == end_of_day(shop, line.due.date())
    return {
        "order": line.order,
        "line": line.line,
        "part": line.part,
        "quantity": line.quantity,
        "family": line.spec.family.value,
        "grade": line.spec.grade,
        "od_nm": line.spec.od_nm,
        "wall_nm": line.spec.wall_nm,
        "surface": line.spec.surface.value,
        "finish": line.recipe,
        "ends": [
            {"cut": end.kind.value, "angle_mdeg": end.angle_mdeg, "on_od_nm": end.on_od_nm}
            for end in line.ends
        ],
        "blank_nm": blank.length_nm if blank else None,
        "due": line.due.date().isoformat() if alone else line.due.isoformat(timespec="minutes"),
        "cell": line.place,
    }


def _problem(finding: Finding) -> dict[str, Any]:
    return {
        "sheet": finding.sheet,
        "cell": finding.cell,
        "severity": finding.severity.value,
        "read": finding.read,
        "expected": finding.expected,
        "message": finding.message,
    }
