"""Steps, mounted things and changes, in the shop's words."""

from __future__ import annotations

from collections.abc import Sequence

from planner.change import Change
from planner.mounting import size_nm
from planner.orders import Step
from planner.records import Operation, Setting
from planner.shop import What
from planner.units import format_angle
from planner_io.views.ruler import Ruler

_MEASURED = frozenset({What.OD, What.CUTTER, What.ROLLER})
"""What may stand in a mounted state as its OD in nanometres, when no tool is named."""


def mounted(what: What, value: str, ruler: Ruler) -> str:
    """One mounted thing in words; an OD that stands as nanometres is measured.

    >>> mounted(What.ROLLER, "50800000", Ruler("inch")), mounted(What.ROLLER, "2", Ruler("inch"))
    ('2"', '2')
    """
    od_nm = size_nm(value) if what in _MEASURED else None
    return ruler.size(od_nm) if od_nm is not None else value


def called(what: What, value: str, ruler: Ruler) -> str:
    """A mounted thing with its kind, unless the name says so itself.

    >>> called(What.DIE, "die 1 x 3", Ruler("inch")), called(What.BELT, "P80 steel", Ruler("inch"))
    ('die 1 x 3', 'belt P80 steel')
    """
    words = mounted(what, value, ruler)
    return words if words.casefold().startswith(what.value.casefold()) else f"{what.value} {words}"


def change(found: Change, ruler: Ruler) -> str:
    """One change of a changeover.

    >>> change(Change(what=What.OD, before="38100000", after="50800000", minutes=8), Ruler("inch"))
    'OD 1-1/2" → 2"'
    """
    if found.before is None:
        return called(found.what, found.after, ruler)
    before = called(found.what, found.before, ruler)
    return f"{before} → {mounted(found.what, found.after, ruler)}"


def step_name(operation: Operation) -> str:
    """What is done, such as `Finish P80, pass 1 of 3`."""
    if operation.step != Step.FINISH:
        return {Step.TOUCH_UP: "Touch up"}.get(operation.step, operation.step.value.capitalize())
    several = f", pass {operation.pass_no} of {operation.passes}" if operation.passes > 1 else ""
    return f"Finish {operation.grade}{several}"


def ranges(numbers: Sequence[int]) -> str:
    """Numbers in their order, those that follow each other from the first to the last.

    >>> ranges((1, 2, 3, 5, 8, 9))
    '1–3, 5, 8, 9'
    """
    found: list[list[int]] = []
    for number in numbers:
        if found and number == found[-1][-1] + 1:
            found[-1].append(number)
        else:
            found.append([number])
    return ", ".join(
        f"{run[0]}–{run[-1]}" if len(run) > 2 else ", ".join(map(str, run)) for run in found
    )


SIZES = frozenset({"rail", "tube OD", "centreline radius", "saddle on OD"})
"""Settings that name a thing by its size, which is never rounded to a mark of the tape."""


def setting_number(setting: Setting, ruler: Ruler) -> str:
    """The number that hands set, in the shop's unit."""
    if setting.length_nm is not None:
        show = ruler.size if setting.name in SIZES else ruler.length
        return show(setting.length_nm)
    return format_angle(setting.angle_mdeg) if setting.angle_mdeg is not None else setting.value


def setting_other(setting: Setting, ruler: Ruler) -> str:
    """The same in the other unit; empty for what is no length."""
    return ruler.other(setting.length_nm) if setting.length_nm is not None else ""


def is_measured(setting: Setting) -> bool:
    """Whether a setting is a number to measure and not words."""
    return setting.length_nm is not None or setting.angle_mdeg is not None


def is_set_by_hand(setting: Setting) -> bool:
    """Whether a setting is measured and set, not a size that is chosen or a number to check."""
    is_chosen = setting.name in SIZES or setting.remark == "check"
    return is_measured(setting) and not is_chosen
