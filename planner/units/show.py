"""Print lengths as the trade writes them: reduced inch fractions, feet and inches, millimetres.

Two kinds of print are kept apart.  A *length* goes to the nearest mark of the tape, unmarked: the
man at the saw sets what the tape shows, and the papers give the denominator once.  A *size* (OD,
wall, CLR) names a thing in a catalogue, so it is never rounded to a fraction it is not.

>>> format_inch(26_193_750), format_inch(3_740_150_000), format_size(1_651_000, "inch")
('1-1/32"', '12\\' 3-1/4"', '.065"')
>>> format_both(38_100_000, "inch")
'1-1/2" (38.1 mm)'
"""

from __future__ import annotations

from fractions import Fraction

from planner.units.reading import NM_PER_FOOT, NM_PER_INCH, NM_PER_MM, Unit

FEET_FROM_NM = 10 * NM_PER_FOOT
"""Lengths from here on are printed in feet and inches (a habit, not a standard)."""

_SIZE_DENOMINATOR = 64


def _nearest(value: Fraction) -> int:
    """Whole number nearest to a value of at least 0; halves go up, as on paper."""
    return int(value + Fraction(1, 2))


def _inches(value: Fraction) -> str:
    whole, rest = divmod(value, 1)
    if not rest:
        return f"{whole}"
    fraction = f"{rest.numerator}/{rest.denominator}"
    return f"{whole}-{fraction}" if whole else fraction


def format_inch(nm: int, denominator: int = 32) -> str:
    """Inches to the nearest 1/denominator, reduced; feet and inches from 10 ft on.

    >>> format_inch(6_096_000_000), format_inch(-793_750), format_inch(0)
    ('20\\' 0"', '-1/32"', '0"')
    """
    ticks = _nearest(Fraction(abs(nm) * denominator, NM_PER_INCH))
    sign = "-" if nm < 0 and ticks else ""
    inches = Fraction(ticks, denominator)
    if inches * NM_PER_INCH < FEET_FROM_NM:
        return f'{sign}{_inches(inches)}"'
    feet, rest = divmod(inches, 12)
    return f"{sign}{feet}' {_inches(rest)}\""


def format_decimal_inch(nm: int, places: int = 3) -> str:
    """Inches as a decimal without a leading zero, as walls and pipe sizes are written.

    >>> format_decimal_inch(48_260_000), format_decimal_inch(1_651_000)
    ('1.900"', '.065"')
    """
    return f'{_decimal(nm, NM_PER_INCH, places).removeprefix("0")}"'


def format_size(nm: int, unit: Unit) -> str:
    """An OD, wall or CLR: the fraction when it is one of 1/64 in or coarser, else the decimal.

    >>> format_size(38_100_000, "inch"), format_size(48_260_000, "inch")
    ('1-1/2"', '1.900"')
    >>> format_size(1_651_000, "mm")
    '1.65 mm'
    """
    if unit == "mm":
        return format_mm(nm, 2)
    inches = Fraction(nm, NM_PER_INCH)
    if _SIZE_DENOMINATOR % inches.denominator == 0:
        return f'{_inches(inches)}"'
    return format_decimal_inch(nm)


def format_mm(nm: int, places: int = 1) -> str:
    """Millimetres to `places` decimals, without trailing zeros.

    >>> format_mm(3_734_000_000), format_mm(38_100_000)
    ('3734 mm', '38.1 mm')
    """
    text = _decimal(nm, NM_PER_MM, places)
    return f"{text.rstrip('0').rstrip('.') if places else text} mm"


def _decimal(nm: int, nm_per: int, places: int) -> str:
    units = _nearest(Fraction(abs(nm) * 10**places, nm_per))
    whole, rest = divmod(units, 10**places)
    sign = "-" if nm < 0 and units else ""
    return f"{sign}{whole}.{rest:0{places}d}" if places else f"{sign}{whole}"


def format_length(nm: int, unit: Unit, denominator: int = 32) -> str:
    """A length in the shop's own unit."""
    return format_mm(nm) if unit == "mm" else format_inch(nm, denominator)


def format_limit(nm: int, unit: Unit, denominator: int = 32) -> str:
    """A limit that nobody measures to: in whole millimetres, where it is not in inches.

    >>> format_limit(2_438_400_000, "mm"), format_limit(2_438_400_000, "inch")
    ('2438 mm', '96"')
    """
    return format_mm(nm, 0) if unit == "mm" else format_inch(nm, denominator)


def format_both(nm: int, unit: Unit, denominator: int = 32) -> str:
    """A length in the shop's own unit, the other one in brackets."""
    inch, mm = format_inch(nm, denominator), format_mm(nm)
    return f"{mm} ({inch})" if unit == "mm" else f"{inch} ({mm})"
