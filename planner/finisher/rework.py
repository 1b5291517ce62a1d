"""Send lots of an issued plan back one grade, so that the rest of the week is planned anew.

What was done stays done; the lot and its order lines get a recipe of their own that goes on
from there. The results are what `replan` takes: the issued plan, the orders and the shop.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from planner.errors import Finding, InputError, Severity
from planner.finisher.record import AGAIN, rework_recipe
from planner.orders import OrderLine, Step
from planner.progress import Progress, State
from planner.records import Lot, Plan
from planner.scrap import Scrap
from planner.shop import Recipe, Shop


@dataclass(frozen=True, slots=True)
class SentBack:
    """The issued plan, the orders and the shop, with the recipes of the lots that go back."""

    issued: Plan
    orders: tuple[OrderLine, ...]
    shop: Shop
    progress: tuple[Progress, ...]
    """The passes from which the lots go back, and what comes after the finisher, have not begun,
    whatever the plan expected."""

    def lost(self, scrap: Scrap) -> Scrap:
        """What was lost: in its lot alone where that was at a pass that is another one now."""
        lots = {one.key: one.lot for one in self.issued.operations}
        is_open = any(scrap.operation in row.operations for row in self.progress)
        if not is_open:
            return scrap
        told_at = "" if scrap.stick else scrap.operation
        update = {"operation": lots[scrap.operation], "told_at": told_at}
        return scrap.model_copy(update=update)


def send_back(
    issued: Plan,
    orders: Sequence[OrderLine],
    shop: Shop,
    lots: Mapping[str, int | None],
    now_min: int,
) -> SentBack:
    """Send lots back one grade. `lots` gives each by its key the place, from 1, of the last
    step that was done of those its surface needs, or None for all.

    Raises InputError, with a finding for each, for lots that cannot go back: unknown ones, lots
    without a finish, with finished remnants, or with work after the finisher that has begun.
    """
    known = {lot.key: lot for lot in issued.lots}
    wrong = [
        Finding(severity=Severity.ERROR, message=f"Lot {key}: {why}", subject=key)
        for key in lots
        for why in _refusals(issued, known.get(key), now_min)
    ]
    if wrong:
        raise InputError(wrong)
    recipes = {key: _recipe(shop, known[key], reached) for key, reached in lots.items()}
    changed = {line: key for key in lots for line in known[key].lines}
    sent = SentBack(
        issued=issued.model_copy(
            update={
                "lots": tuple(_lot(lot, recipes) for lot in issued.lots),
                "orders": tuple(_line(line, changed, known, recipes) for line in issued.orders),
                "shop": _shop(issued.shop, recipes),
            }
        ),
        orders=tuple(_line(line, changed, known, recipes) for line in orders),
        shop=_shop(shop, recipes),
        progress=tuple(_open(issued, known[key], recipes[key]) for key in lots),
    )
    if issued.replan is None:
        return sent
    before = issued.replan.model_copy(update={"scrap": tuple(map(sent.lost, issued.scrap))})
    return replace(sent, issued=sent.issued.model_copy(update={"replan": before}))


def _kept(recipe: Recipe, lot: Lot) -> int:
    """The passes of a recipe up to the one from which its lot goes through once more."""
    first = max(n for n, step in enumerate(recipe.steps) if step.again)
    return sum(step.passes[lot.spec.surface] for step in recipe.steps[:first])


def carry_on(
    issued: Plan, orders: Sequence[OrderLine], shop: Shop
) -> tuple[tuple[OrderLine, ...], Shop]:
    """The orders and the shop of a week planned again after lots went back: a line keeps the
    recipe that its lot got then, as the orders workbook knows nothing of it."""
    again = {
        recipe.name: recipe
        for recipe in issued.shop.recipes
        if any(step.again for step in recipe.steps)
    }
    before = {line.key: line.recipe or "" for line in issued.orders}
    kept = {
        line.key: again[name]
        for line in orders
        for name in [before.get(line.key, "")]
        if name in again and line.recipe and name.startswith(f"{line.recipe}{AGAIN}")
    }
    lines = tuple(
        line.model_copy(update={"recipe": kept[line.key].name}) if line.key in kept else line
        for line in orders
    )
    return lines, _shop(shop, kept)


def _open(issued: Plan, lot: Lot, recipe: Recipe) -> Progress:
    kept = _kept(recipe, lot)
    later = tuple(
        operation.key
        for operation in issued.operations
        if operation.lot == lot.key
        if operation.step not in _BEFORE[lot.saw_first] or operation.pass_no > kept
    )
    return Progress(later, State.OPEN, note="its finish goes back one grade")


def _refusals(issued: Plan, lot: Lot | None, now_min: int) -> Iterator[str]:
    if lot is None:
        yield "the plan that was issued has no such lot."
        return
    if lot.recipe is None:
        yield "it has no finish, so it cannot go back a grade."
    sticks = next(each.sticks for each in issued.cut_lists if each.lot == lot.key)
    if any(stick.finished for stick in sticks):
        yield "it holds finished remnants, which nobody has checked: enter it as a new order line."
    started = {slot.operation for slot in issued.slots if slot.start_min < now_min}
    if not any(o.key in started for o in issued.operations if o.lot == lot.key):
        yield "none of its passes has begun, so there is nothing to go back from."
    after = [
        operation.key
        for operation in issued.operations
        if operation.lot == lot.key and operation.key in started
        if operation.step not in _BEFORE[lot.saw_first]
    ]
    if after:
        yield (
            f"{after[0]} has begun, and cut or bent tube cannot go through as it was: enter the "
            "pieces as a new order line."
        )


_BEFORE = {False: (Step.FINISH,), True: (Step.FINISH, Step.SAW)}
"""Steps that may have begun, by whether the lot is sawn first."""


def _recipe(shop: Shop, lot: Lot, reached: int | None) -> Recipe:
    """The recipe of a lot that goes back, under a name that no other recipe has."""
    made = rework_recipe(shop.recipe(lot.recipe or ""), lot.spec.surface, reached)
    assert made is not None, "a planned lot has passes"
    same = next((recipe for recipe in shop.recipes if recipe.name == made.name), None)
    if same in (None, made):
        return made
    return made.model_copy(update={"name": f"{made.name} ({lot.key})"})


def _lot(lot: Lot, recipes: Mapping[str, Recipe]) -> Lot:
    if lot.key not in recipes:
        return lot
    return lot.model_copy(update={"recipe": recipes[lot.key].name})


def _line(
    line: OrderLine,
    changed: Mapping[str, str],
    lots: Mapping[str, Lot],
    recipes: Mapping[str, Recipe],
) -> OrderLine:
    key = changed.get(line.key)
    if key is None or line.recipe != lots[key].recipe:
        return line
    return line.model_copy(update={"recipe": recipes[key].name})


def _shop(shop: Shop, recipes: Mapping[str, Recipe]) -> Shop:
    known = {recipe.name for recipe in shop.recipes}
    new = {recipe.name: recipe for recipe in recipes.values() if recipe.name not in known}
    return shop.model_copy(update={"recipes": (*shop.recipes, *new.values())})
