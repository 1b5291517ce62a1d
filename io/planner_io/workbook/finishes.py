"""A finish as an order names it: none, a recipe, or the grade that it ends with."""

from __future__ import annotations

import re
from collections.abc import Iterable

from planner.abrasives import Grade, parse_grade
from planner.errors import InputError
from planner.shop import Recipe
from planner.units.reading import refuse
from planner_io.workbook import cells
from planner_io.workbook.cells import Parsed
from planner_io.workbook.coats import before_coat
from planner_io.workbook.names import Match, find_name, listed, plain_name
from planner_io.workbook.oil import without_oil

_NO_FINISH = frozenset(
    map(
        plain_name,
        (
            *("no finish", "mill", "mill finish", "as is", "raw", "no", "unfinished"),
            *("ohne", "keine", "sans", "aucun", "aucune", "sin", "ninguno", "ninguna"),
            *("roh", "unbehandelt", "brut", "brute", "crudo", "en bruto", "bruto"),
        ),
    )
)
_BELTED = frozenset(
    map(
        plain_name,
        (
            *("ground", "brushed", "satin", "linished", "finish", "grit", "grain"),
            *("polish", "polished", "poliert", "poli", "pulido"),
            *("geschliffen", "gebürstet", "satiniert", "Schliff", "Korn"),
            *("brossé", "satiné", "cepillado", "satinado", "grano"),
        ),
    )
)
"""Words for a finish by belt, or its grit, that say nothing beside the grit's number."""
_SCALE_OFF = frozenset(
    map(
        plain_name,
        (
            *("descale", "descaled", "descaling", "de-scale", "de-scaled", "de-scaling"),
            *("scale off", "mill scale off", "scale removed", "mill scale removed"),
            *("remove scale", "remove mill scale", "scale removal", "scale gone"),
            *("entzundern", "entzundert", "décalaminer", "décalaminé", "décalaminage"),
            *("descascarillar", "descascarillado"),
        ),
    )
)
"""What the only recipe with scale in its name is called as well."""
_REMARK = re.compile(r"(.+?) ?\([^()]*\)$")
"""Words with a remark behind them in brackets: `none (galvanised)`."""
_GRIT = re.compile(
    r"\b(?:[gkp] ?|grit |korn |grain |grano )?([0-9]{2,4})(?: (?:grit|gr|korn|grain))?\b"
)
"""A grit number with the words about it, as in `320 grit`, `K320` or `Satin P320`."""


def finish(text: str, recipes: Iterable[Recipe]) -> Parsed[str | None]:
    """The recipe that an order's finish means, None for none; how it was read if not by its name.

    Raises InputError for a finish that is no recipe.
    """
    known = tuple(recipes)
    expected = (
        f"none or a finish that Recipes has ({listed(each.name for each in known) or 'none'})"
    )
    if cells.is_open(text):
        raise refuse(text, expected, "decide which, or write none to leave it as it comes")
    if _says_none(text):
        return Parsed(None)
    match = recipe_named(text, known)
    if match is not None:
        return Parsed(
            match.value, f"finish “{text}” read as {match.value}" if match.guessed else ""
        )
    rest, oiled = without_oil(text)
    if oiled:
        return _oiled(text, rest, known)
    if (remark := _REMARK.fullmatch(text)) and _says_none(remark[1]):
        return Parsed(None, f"finish “{text}” read as none")
    rest, coat = before_coat(text)
    if coat and (toothed := _under(rest, coat, known)):
        why = f"the belts before the coat; {coat} itself is not planned"
        return Parsed(toothed, f"finish “{text}” read as {toothed}: {why}")
    raise refuse(text, expected, _why_none(rest, coat, known))


def _under(rest: str, coat: str, recipes: tuple[Recipe, ...]) -> str | None:
    """The only recipe that ends with the grit beside a coat, or of several the one that is named
    after the coat; without a grit the only one that is."""
    ending = _ending_with(rest, recipes) if rest else [each.name for each in recipes]
    named = [name for name in ending if plain_name(coat) in plain_name(name).split()]
    found = ending if rest and len(ending) == 1 else named
    return found[0] if len(found) == 1 else None


def _why_none(rest: str, coat: str, recipes: tuple[Recipe, ...]) -> str:
    """What to do about a finish that is no recipe."""
    grit = _grade(rest)
    if coat and not rest:
        return f"{coat} is a coat and no finish by belt: write the recipe that it wants before that"
    if grit is None:
        return "write one of them, or add this one to the sheet Recipes"
    if several := _ending_with(rest, recipes):
        return f"{' and '.join(several)} end with {grit.label}: write the one that is meant"
    add = "add one that does to the sheet Recipes, and its belt to Belts"
    return f"no recipe ends with {grit.label}: write one of them, or {add}"


def _oiled(text: str, rest: str, recipes: tuple[Recipe, ...]) -> Parsed[str | None]:
    """A finish that is oiled, by what it is besides; oil alone is no finish by belt."""
    found = finish(rest, recipes).value if rest else None
    return Parsed(found, f"finish “{text}” read as {found or 'none'}: oiling is not planned")


def _says_none(text: str) -> bool:
    return cells.is_nothing(text) or plain_name(text) in _NO_FINISH


def recipe_named(text: str, recipes: Iterable[Recipe]) -> Match[str] | None:
    """The recipe that is meant by its name, by the same words and grit, as the only one that takes
    scale off, or the only one that ends with the grade that is written, such as 180, P180 or G180.
    """
    known = tuple(recipes)
    match = find_name(text, {plain_name(recipe.name): recipe.name for recipe in known})
    if match is not None:
        return match
    alike = [recipe.name for recipe in known if _words(recipe.name) == _words(text)]
    if plain_name(text) in _SCALE_OFF:
        alike = [each.name for each in known if "scale" in plain_name(each.name).split()]
    found = alike or _ending_with(text, known)
    return Match(found[0], guessed=True) if len(found) == 1 else None


def _words(text: str) -> frozenset[str]:
    """The words of a finish in no order, its grit as a number alone."""
    return frozenset(_GRIT.sub(r" \1 ", plain_name(text)).split())


def _ending_with(text: str, recipes: tuple[Recipe, ...]) -> list[str]:
    grade = _grade(text)
    return [each.name for each in recipes if each.steps and each.steps[-1].grade == grade]


def _grade(text: str) -> Grade | None:
    """The grade that a text is; None where it is more than that or none."""
    try:
        return parse_grade(grit_of(text)).grade
    except InputError:
        return None


def grit_of(text: str) -> str:
    """A grit as a belt has it: `geschliffen K240` and `brushed 240 grit` are `240`."""
    words = [word for word in plain_name(text).split() if word not in _BELTED]
    if len(words) == 1 and (match := re.fullmatch(r"[gk]?([0-9]{2,4})", words[0])):
        return match[1]
    return re.sub(r"^[gkp][ -]?(?=[0-9])", "", text.strip().lower())
