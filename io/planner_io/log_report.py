"""What a log has taught, in lines to read."""

from __future__ import annotations

from collections.abc import Iterator

from planner.finisher.learned import Lesson
from planner.shop import Shop, StationKind
from planner_io.views.ruler import per_cent, plural


def lesson_lines(before: Shop, lesson: Lesson) -> Iterator[str]:
    """The lesson of a log: medians before and after, spreads, outliers and alarms."""
    yield f"{plural(len(lesson.observations), 'run')} learned from."
    yield from _finishers(before, lesson)
    yield from _belts(lesson)
    yield from _setups(lesson)
    yield from _errors(lesson)
    for outlier in lesson.calibration.outliers:
        yield (
            f"Row {outlier.row} took {outlier.factor:.2g} times what was expected: left out; "
            "check it."
        )
    for drift in lesson.drifts:
        yield drift.message


def _finishers(before: Shop, lesson: Lesson) -> Iterator[str]:
    for old in before.of_kind(StationKind.FINISHER):
        new = lesson.shop.station(old.name).finisher
        yield (
            f"{old.name}: slip {old.finisher.slip:.2f} → {new.slip:.2f}, handling "
            f"{old.finisher.handling_s} → {new.handling_s} s a stick, "
            f"{old.finisher.short_handling_s} → {new.short_handling_s} s a piece in one hand."
        )
    works = [observation.work for observation in lesson.observations]
    if any(lesson.calibration.unsettled(work) for work in works):
        yield (
            "Feeding and handling cannot be told apart yet, only their sum is sure: time five "
            "tubes with a watch and log them with Timed = yes."
        )


def _belts(lesson: Lesson) -> Iterator[str]:
    works = [observation.work for observation in lesson.observations]
    latest = {(work.station, work.belt): work for work in works}
    for (station, belt), work in latest.items():
        told = lesson.calibration.predict(work)
        low, high = (100 * (end / told.median_s - 1) for end in (told.low_s, told.high_s))
        yield (
            f"{station}, {belt}: slip {lesson.calibration.slip(work):.2f}; 80 % of runs within "
            f"−{-low:.0f} and +{high:.0f} % of the median; {told.basis}."
        )


def _setups(lesson: Lesson) -> Iterator[str]:
    for what, time in lesson.setups.items():
        if time.runs == 0:
            continue
        yield (
            f"Changing {what.value}: table {time.table_min:.0f} min, learned "
            f"{time.median_min:.0f} ({time.low_min:.0f} to {time.high_min:.0f} in 80 %); "
            f"{time.basis}."
        )


def _errors(lesson: Lesson) -> Iterator[str]:
    if lesson.validation:
        found = lesson.validation
        yield (
            f"Half of the runs are off by less than {per_cent(found.before)} with the "
            f"shop's settings, {per_cent(found.after)} with what was learned (each run predicted "
            f"from the others); {per_cent(found.covered)} lie in their 80 % interval."
        )
