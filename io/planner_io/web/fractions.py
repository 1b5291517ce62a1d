"""Fractions as the pages set them: raised and lowered figures about a true bar.

The type's own small figures stand so wide apart that from a step away `31/32` could be read as
three and a thirty-second. A line does not break within a number, as `46-` at its end would be read
as 46.
"""

from __future__ import annotations

import re

from markupsafe import Markup, escape

from planner_io.drawing.ink import inch_fractions, true_fractions

_FRACTION = re.compile("([0-9]+)\u2044([0-9]+)")
_MIXED = re.compile("[0-9]+-[0-9]+\u2044[0-9]+")


def fractions(length: str) -> Markup:
    """A length with all its fractions set.

    >>> print(fractions("1-3/8 in"))
    <span class="one">1-<sup>3</sup>⁄<sub>8</sub></span> in
    """
    return _set(true_fractions(length))


def mixed(words: str) -> Markup:
    """Words with lengths in them: only what an inch mark follows is a fraction.

    >>> print(mixed('1187/2: start 9-1/16" on'))
    1187/2: start <span class="one">9-<sup>1</sup>⁄<sub>16</sub></span>&#34; on
    """
    return _set(inch_fractions(words))


def _set(words: str) -> Markup:
    whole = _MIXED.sub('<span class="one">\\g<0></span>', str(escape(words)))
    return Markup(_FRACTION.sub("<sup>\\1</sup>\u2044<sub>\\2</sub>", whole))
