"""What a workbook was read as, for people: a line for each order line, then every problem."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from planner.units import Unit, format_angle, format_inch, format_mm, format_size
from planner_io.told import counted, told_once
from planner_io.workbook import Checked

HEAD = ("Cell", "Line", "Part", "Pieces", "Tube", "Finish", "Ends", "Blank", "", "Due")
NONE = "–"


def check_lines(found: Checked, unit: Unit) -> Iterator[str]:
    """The result of a check in lines to read; lengths in `unit` first."""
    if found.orders:
        yield from _table([HEAD, *(_row(order, unit) for order in found.orders)])
    if found.readings:
        yield ""
        yield "Read so, since it could be meant otherwise:"
        yield from (f"  {reading}" for reading in found.readings)
    yield ""
    yield from map(str, told_once(found.findings))
    yield f"{counted(found.findings)}."


def _row(order: Mapping[str, Any], unit: Unit) -> tuple[str, ...]:
    return (
        str(order["cell"] or NONE),
        f"{order['order']}/{order['line']}",
        str(order["part"] or NONE),
        str(order["quantity"]),
        _tube(order, unit),
        str(order["finish"] or NONE),
        _ends(order["ends"], unit),
        *_blank(order["blank_nm"], unit),
        str(order["due"]).replace("T", " ")[:16],
    )


def _tube(order: Mapping[str, Any], unit: Unit) -> str:
    material = dict.fromkeys((order["family"], order["grade"], order["surface"]))
    return f"{_size(order['od_nm'], unit)} × {_size(order['wall_nm'], unit)} {' '.join(material)}"


def _ends(ends: Sequence[Mapping[str, Any]], unit: Unit) -> str:
    """Both ends, once where they are alike; nothing where both are square."""
    one, two = (_end(end, unit) for end in ends)
    return (NONE if one == "square" else f"both {one}") if one == two else f"{one} / {two}"


def _end(end: Mapping[str, Any], unit: Unit) -> str:
    angle = format_angle(end["angle_mdeg"])
    if end["cut"] == "saddle":
        return f"saddle {format_size(end['on_od_nm'], unit)} @ {angle}"
    return f"{end['cut']} {angle}" if end["cut"] == "mitre" else str(end["cut"])


def _blank(length_nm: int | None, unit: Unit) -> tuple[str, str]:
    if length_nm is None:
        return NONE, ""
    inch, mm = format_inch(length_nm, 32), format_mm(length_nm)
    return (mm, inch) if unit == "mm" else (inch, mm)


def _size(length_nm: int, unit: Unit) -> str:
    return format_mm(length_nm, 2) if unit == "mm" else f'{length_nm / 25_400_000:.3f}"'


def _table(rows: Sequence[tuple[str, ...]]) -> Iterator[str]:
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    for row in rows:
        cells = (cell.ljust(width) for cell, width in zip(row, widths, strict=True))
        yield "  ".join(cells).rstrip()
