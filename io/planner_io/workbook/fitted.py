"""Tooling that an order names in another unit's round figures: a bend at 152 mm is made on the
die of 6 in, and a roller of 1.900 in notches onto tube of 48.3 mm.

A die makes its own radius whatever the order says, so the part is reckoned with that.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from planner.orders import Bent, BentBlank, EndKind, OrderLine, Shape, bend_radii
from planner.shop import Shop, Tool, ToolKind
from planner.units import Unit, format_size
from planner_io.workbook.report import Place, Report

CLR_NM = 500_000
"""A radius in whole millimetres is this far, half a millimetre, from the one that is meant."""
OD_NM = 50_000
"""Pipe of 1.900 in is sold as 48.3 mm, 0.04 mm more, and 2.375 in as 60.3 mm, 0.025 mm less; the
next tubes that a shop keeps apart are 0.1 mm apart, such as 76.1 mm and 3 in."""


@dataclass(frozen=True)
class Fitter:
    """Puts orders and tools together, and says what it takes for what."""

    shop: Shop
    report: Report

    @property
    def unit(self) -> Unit:
        """The unit to speak in."""
        return self.shop.house.unit

    def tools(self, orders: Sequence[OrderLine]) -> tuple[Tool, ...]:
        """The tools, one for an OD that nobody orders being for one that is hardly another."""
        bent = {line.spec.od_nm for line in orders if bend_radii(line.shape)}
        saddles = {
            end.on_od_nm for line in orders for end in line.ends if end.kind == EndKind.SADDLE
        }
        return tuple(
            self._tool(tool, bent if tool.kind == ToolKind.DIE else saddles)
            for tool in self.shop.tools
        )

    def _tool(self, tool: Tool, ordered: set[int]) -> Tool:
        there = {other.od_nm for other in self.shop.tools if other.kind == tool.kind}
        od_nm = _nearest(tool.od_nm, ordered - there, OD_NM)
        if tool.od_nm in ordered or od_nm is None:
            return tool
        was, now = (format_size(nm, self.unit) for nm in (tool.od_nm, od_nm))
        self.report.warn(
            Place("Tooling"),
            f"{tool.name} for {was} is taken for the {now} that is ordered; write {now} as its OD "
            "if that is right, else list a tool of the size",
        )
        return tool.model_copy(update={"od_nm": od_nm})

    def line(self, line: OrderLine) -> OrderLine:
        """An order line with the radius of the die that its bends are made on."""
        dies = {
            tool.clr_nm: tool.name
            for tool in self.shop.tools
            if tool.kind == ToolKind.DIE and tool.od_nm == line.spec.od_nm
        }
        radii: dict[int, int] = {}
        for clr_nm in sorted(set(bend_radii(line.shape)) - dies.keys()):
            die_nm = _nearest(clr_nm, set(dies), CLR_NM) if clr_nm else _only(set(dies))
            if die_nm is not None:
                radii[clr_nm] = die_nm
                self._tell(line, clr_nm, die_nm, dies[die_nm])
        return line.model_copy(update={"shape": _with_radii(line.shape, radii)})

    def _tell(self, line: OrderLine, clr_nm: int, die_nm: int, die: str) -> None:
        was, now = (format_size(nm, self.unit) for nm in (clr_nm, die_nm))
        sheet, _, cell = line.place.rpartition("!")
        where = "in Bends" if isinstance(line.shape, Bent) else "under CLR"
        if not clr_nm:
            od = format_size(line.spec.od_nm, self.unit)
            self.report.note(f"CLR {now} taken for bends of {od} tube, as on its only die, {die}")
            return
        self.report.warn(
            Place(sheet, cell),
            f"CLR {was} is read as {now}, as on {die}; write {now} {where} if that is right, else "
            "add the die to Tooling",
        )


def fitted(
    orders: Sequence[OrderLine], shop: Shop, report: Report
) -> tuple[tuple[OrderLine, ...], Shop]:
    """Orders and shop with every OD and radius written alike where they mean the same."""
    shop = shop.model_copy(update={"tools": Fitter(shop, report).tools(orders)})
    return tuple(Fitter(shop, report).line(line) for line in orders), shop


def _with_radii(shape: Shape, radii: Mapping[int, int]) -> Shape:
    """The shape with other radii for its bends, where there are."""
    if isinstance(shape, BentBlank):
        return shape.model_copy(update={"clr_nm": radii.get(shape.clr_nm, shape.clr_nm)})
    if isinstance(shape, Bent):
        clrs = [radii.get(row.clr_nm, row.clr_nm) if row.angle_mdeg else 0 for row in shape.rows]
        rows = zip(shape.rows, clrs, strict=True)
        return Bent(rows=tuple(row.model_copy(update={"clr_nm": clr_nm}) for row, clr_nm in rows))
    return shape


def _only(values: set[int]) -> int | None:
    """The value, where there is one alone."""
    return next(iter(values)) if len(values) == 1 else None


def _nearest(value: int, others: set[int], within: int) -> int | None:
    """The one of some values that lies nearest; None where none or two are as near."""
    near = sorted((abs(other - value), other) for other in others if abs(other - value) <= within)
    if not near or (len(near) > 1 and near[0][0] == near[1][0]):
        return None
    return near[0][1]
