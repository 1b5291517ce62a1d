"""A coat that follows on finished tube: primer, paint, powder. Belts only give it a tooth.

What grit a coat wants its maker or the customer says (common practice): coarser than a finish that
is to be seen. So the words for the coat name no finish, and the grit beside them does.

>>> before_coat("Primer 80"), before_coat("P80 for powder coat"), before_coat("satin 180")
(('80', 'primer'), ('p80', 'powder coat'), ('satin 180', ''))
>>> before_coat("grundiert"), before_coat("painted red")
(('', 'grundiert'), ('red', 'painted'))
"""

from __future__ import annotations

import re

_COAT = re.compile(
    r"\b(?:(?:prep(?:ped|aration)?|ready|tooth|scuff(?:ed)?) )?(?:for |to be )?"
    r"(?P<coat>primer|priming|primed?|paint(?:ed|ing)?|powder[ -]?coat(?:ed|ing)?|powder"
    r"|grundierung|grundiert|lackier(?:t|en|ung)|pulverbeschicht(?:et|en|ung)"
    r"|peint(?:e|ure)?|thermolaquage|thermolaqué|apprêt"
    r"|pintura|pintado|imprimación)\b(?:[ -](?:ready|prep))?"
)


def before_coat(text: str) -> tuple[str, str]:
    """A text in small letters without the words for a coat, and the coat; empty without one."""
    word = " ".join(text.lower().split())
    found = _COAT.search(word)
    if found is None:
        return word, ""
    rest = f"{word[: found.start()]} {word[found.end() :]}"
    return " ".join(rest.split()).strip(" ,;/+&-"), found["coat"]
