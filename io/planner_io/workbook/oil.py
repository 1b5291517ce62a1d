"""Oil on tube: it says how tube is kept from rust, not what its surface or its finish is.

>>> without_oil("Bright, oiled"), without_oil("HRPO"), without_oil("oiled"), without_oil("foil")
(('bright', True), ('hot rolled pickled', True), ('', True), ('foil', False))
"""

from __future__ import annotations

import re

_SHORT = {
    "p&o": "pickled and oiled",
    "p & o": "pickled and oiled",
    "hrpo": "hot rolled pickled and oiled",
}
"""Usual short forms (common practice)."""
_OIL = re.compile(
    r"[ ,;/+&(-]*(?:\b(?:and|with|und|et|y) )?"
    r"\b(?:light(?:ly)? )?(?:oiled|oil|geölt|huilée?|aceitad[oa])\b\)?"
)


def without_oil(text: str) -> tuple[str, bool]:
    """A text in small letters without words for oil, and whether it has any."""
    word = " ".join(text.lower().split())
    for short, long in _SHORT.items():
        word = re.sub(rf"(?<!\w){re.escape(short)}(?!\w)", long, word)
    rest, found = _OIL.subn(" ", word)
    return (" ".join(rest.split()).strip(" ,;/+&-") if found else word), bool(found)
