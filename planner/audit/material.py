"""Invariant 1: every piece is cut once, from a stick of its spec that holds it and is there."""

from __future__ import annotations

from collections import Counter

from planner.audit.facts import Breaches, Facts, breach
from planner.blanks import make_blank
from planner.hours import DAY_MIN
from planner.orders import Step
from planner.records import Blank, CutList, Lot, Stick
from planner.shaping import GRIP, TRIM
from planner.shop import SawSettings
from planner.stock import StockItem
from planner.units import NM_PER_MM


def check_material(facts: Facts) -> Breaches:
    """All breaches of invariant 1."""
    yield from _blanks(facts)
    yield from _lots(facts)
    yield from _pieces(facts)
    for cut_list in facts.plan.cut_lists:
        lot = facts.lots[cut_list.lot]
        yield from _saw_settings(facts, cut_list)
        for stick in cut_list.sticks:
            yield from _stick(facts, lot, stick)
            yield from _balance(facts, cut_list, stick)
    yield from _tags(facts)
    yield from _counts(facts)
    yield from _arrivals(facts)


def _mm(length_nm: int) -> str:
    return f"{length_nm / NM_PER_MM:.2f} mm"


def _blanks(facts: Facts) -> Breaches:
    for key, line in facts.orders.items():
        blank = facts.blanks[key]
        right = make_blank(line, facts.shop)
        if blank.length_nm != right.length_nm:
            off = blank.length_nm - right.length_nm
            yield breach(1, key, f"its blank is {_mm(off)} off the {_mm(right.length_nm)} needed.")
        if blank.quantity != line.quantity:
            yield breach(1, key, f"{blank.quantity} blanks for {line.quantity} pieces ordered.")
        if _terms(blank) != _terms(right):
            yield breach(1, key, "the terms of its blank are not those of the order.")
        same = (blank.steps, sorted(blank.saddles_nm), blank.bends, blank.clr_nm)
        if same != (right.steps, sorted(right.saddles_nm), right.bends, right.clr_nm):
            yield breach(1, key, "its blank's steps, saddles or bends are not those of the order.")


def _terms(blank: Blank) -> list[tuple[int, str]]:
    """The lengths that a blank is made of; by name only those that marks for hands begin from."""
    names = {GRIP, TRIM}
    return [(term.length_nm, term.what if term.what in names else "") for term in blank.terms]


def _lots(facts: Facts) -> Breaches:
    for lot in facts.plan.lots:
        for key in lot.lines:
            line = facts.orders[key]
            if line.spec != lot.spec:
                yield breach(1, key, f"is in lot {lot.key}, which is of another tube spec.")
            if line.recipe != lot.recipe:
                yield breach(1, key, f"is in lot {lot.key}, which gets another finish.")
            if _saw_first(facts.blanks[key]) != lot.saw_first:
                yield breach(1, key, f"is in lot {lot.key}, which takes another way.")
        today = facts.plan.options.start_min // DAY_MIN
        if lot.ordered_day not in range(0 if lot.key in facts.issued_lots else today, today + 1):
            yield breach(1, lot.key, f"was not formed on day {lot.ordered_day} of the plan.")


def _saw_first(blank: Blank) -> bool:
    steps = blank.steps
    return Step.FINISH in steps and steps.index(Step.SAW) < steps.index(Step.FINISH)


def _pieces(facts: Facts) -> Breaches:
    cut = Counter(
        (cut_list.lot, piece.line)
        for cut_list in facts.plan.cut_lists
        for stick in cut_list.sticks
        for piece in stick.pieces
    )
    wanted = {
        (lot.key, key): facts.orders[key].quantity for lot in facts.plan.lots for key in lot.lines
    }
    for place in sorted(cut.keys() | wanted.keys()):
        lot, key = place
        found, right = cut.get(place, 0), wanted.get(place, 0)
        if found != right:
            yield breach(1, key, f"{found} pieces are cut in lot {lot}, {right} are right.")


def _saw_settings(facts: Facts, cut_list: CutList) -> Breaches:
    for operation in facts.of_lot(cut_list.lot, Step.SAW):
        station = facts.slots[operation.key].station
        saw = facts.stations[station].saw
        for what, claimed, real in (
            ("kerf", cut_list.kerf_nm, saw.kerf_nm),
            ("stick trim", cut_list.stick_trim_nm, saw.stick_trim_nm),
            ("end trim", cut_list.end_trim_nm, saw.end_trim_nm),
        ):
            if claimed < real:
                yield breach(
                    1,
                    cut_list.lot,
                    f"is cut with a {what} of {_mm(claimed)}, but {station} takes {_mm(real)}.",
                )


def _stick(facts: Facts, lot: Lot, stick: Stick) -> Breaches:
    item = facts.stock[stick.stock]
    if item.spec != lot.spec:
        yield breach(1, stick.tag, f"is of another tube spec than lot {lot.key}.")
    if item.length_nm != stick.length_nm:
        off = stick.length_nm - item.length_nm
        yield breach(1, stick.tag, f"is {_mm(off)} longer than {item.key} in stock.")
    if item.finished not in (None, lot.recipe):
        yield breach(1, stick.tag, f"is finished {item.finished}, lot {lot.key} {lot.recipe}.")
    if item.finished is not None and lot.saw_first:
        yield breach(1, stick.tag, f"is finished, but lot {lot.key} is finished as blanks.")
    if stick.finished != (item.finished is not None):
        yield breach(1, stick.tag, f"skips its passes, or not, against what {item.key} is.")
    for piece in stick.pieces:
        right = facts.blanks[piece.line].length_nm
        if piece.length_nm != right:
            off = piece.length_nm - right
            yield breach(1, piece.tag, f"is {_mm(off)} off its blank of {_mm(right)}.")


def _balance(facts: Facts, cut_list: CutList, stick: Stick) -> Breaches:
    """The stick from its first end: both trims, then each piece with a kerf behind it; the last
    kerf may fall into the trim of the far end."""
    head = cut_list.stick_trim_nm + cut_list.end_trim_nm
    pieces = sum(piece.length_nm for piece in stick.pieces)
    used = head + pieces + len(stick.pieces) * cut_list.kerf_nm
    over = used - cut_list.kerf_nm + cut_list.end_trim_nm - stick.length_nm
    if over > 0:
        yield breach(1, stick.tag, f"its trims, pieces and kerfs are {_mm(over)} too long.")
    drop = max(0, stick.length_nm - used)
    if drop != stick.drop_nm:
        yield breach(1, stick.tag, f"its drop is given as {_mm(stick.drop_nm)}, not {_mm(drop)}.")
    short = _clamp(facts, cut_list).clamp_nm - drop
    if short > 0:
        yield breach(1, stick.tag, f"its drop is {_mm(short)} too short for the saw's clamp.")
    if stick.kept != (drop >= facts.shop.house.remnant_nm):
        yield breach(1, stick.tag, f"a drop of {_mm(drop)} is kept or scrapped against the rule.")


def _clamp(facts: Facts, cut_list: CutList) -> SawSettings:
    slots = [facts.slots[operation.key] for operation in facts.of_lot(cut_list.lot, Step.SAW)]
    return facts.stations[slots[0].station].saw if slots else SawSettings()


def _tags(facts: Facts) -> Breaches:
    tags = Counter(
        tag
        for cut_list in facts.plan.cut_lists
        for stick in cut_list.sticks
        for tag in (stick.tag, *(piece.tag for piece in stick.pieces))
    )
    for tag, count in tags.items():
        if not tag.strip():
            yield breach(1, "a stick or piece", "has no tag.")
        if count > 1:
            yield breach(1, tag, f"{count} sticks or pieces carry this tag.")
    for cut_list in facts.plan.cut_lists:
        for number, stick in enumerate(cut_list.sticks, start=1):
            yield from _tagged(stick.tag, f"{cut_list.lot}-{number:02d}")
            for place, piece in enumerate(stick.pieces, start=1):
                yield from _tagged(piece.tag, f"{stick.tag}.{place}")


def _tagged(tag: str, right: str) -> Breaches:
    """A tag is how a hand finds the lot, the stick and the piece."""
    if tag.strip() and tag != right:
        yield breach(1, tag, f"is the tag of {right}.")


def _counts(facts: Facts) -> Breaches:
    used = Counter(stick.stock for cut_list in facts.plan.cut_lists for stick in cut_list.sticks)
    for key, count in used.items():
        there = facts.stock[key].count
        if there is not None and count > there:
            yield breach(1, key, f"{count} sticks are used, there are {there}.")


def _available_min(facts: Facts, item: StockItem, lot: Lot) -> int:
    """First minute at which sticks of a stock item can be worked on for a lot. What is to be bought
    is ordered on the day on which the lot was formed."""
    arrives = (item.arrives - facts.plan.options.start).days if item.arrives else 0
    lead = lot.ordered_day + item.lead_days if item.count is None and item.lead_days else 0
    return DAY_MIN * max(arrives, lead, 0)


def _arrivals(facts: Facts) -> Breaches:
    for lot in facts.plan.lots:
        there = max(
            _available_min(facts, facts.stock[stick.stock], lot)
            for stick in facts.cut_lists[lot.key].sticks
        )
        for operation in facts.of_lot(lot.key):
            if operation.release_min != there:
                off = operation.release_min - there
                yield breach(1, operation.key, f"its material is said to be there {off} min off.")
            start = facts.slots[operation.key].start_min
            if start < there and operation.key not in facts.past:
                yield breach(
                    1,
                    operation.key,
                    f"begins {there - start} minutes before its material is there.",
                )
