"""Lengths, angles and durations: what people write becomes whole numbers, and back.

Inside, lengths are nanometres (1/64 in is 396,875 of them), angles thousandths of a degree and
times minutes.  Text is matched by grammars of our own with exact fractions and is never evaluated.
May import only `planner.errors` and `planner.standard_sizes`.
"""

from planner.units.angles import MDEG_PER_DEGREE, format_angle, parse_angle
from planner.units.durations import parse_seconds
from planner.units.length import parse_length
from planner.units.reading import (
    NM_PER_FOOT,
    NM_PER_INCH,
    NM_PER_M,
    NM_PER_MM,
    Reading,
    Unit,
)
from planner.units.show import (
    FEET_FROM_NM,
    format_both,
    format_decimal_inch,
    format_inch,
    format_length,
    format_limit,
    format_mm,
    format_size,
)
from planner.units.sizes import OdReading, parse_od, parse_wall

__all__ = [
    "FEET_FROM_NM",
    "MDEG_PER_DEGREE",
    "NM_PER_FOOT",
    "NM_PER_INCH",
    "NM_PER_M",
    "NM_PER_MM",
    "OdReading",
    "Reading",
    "Unit",
    "format_angle",
    "format_both",
    "format_decimal_inch",
    "format_inch",
    "format_length",
    "format_limit",
    "format_mm",
    "format_size",
    "parse_angle",
    "parse_length",
    "parse_od",
    "parse_seconds",
    "parse_wall",
]
