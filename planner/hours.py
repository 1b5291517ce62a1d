"""When the shop, each station and each person work, as intervals of minutes.

The rows of a day lie in layers: the shop's rows for the weekday, then the station's or
person's own rows for the weekday, then the shop's rows for the date, then the own rows for
the date. A layer with working hours replaces everything below it; a layer without them adds
its overtime and takes away its breaks and closed times. So `overtime 17:00-19:00` on one date
lengthens that day, and `closed` on a holiday closes it for everybody with no hours of their
own for that date.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from planner.shop import HoursKind, HoursRow, Shop

DAY_MIN = 1440
SHOP = "shop"
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


@dataclass(frozen=True, slots=True, order=True)
class Interval:
    """Working time from `start_min` up to `end_min`, minutes from midnight of the first day."""

    start_min: int
    end_min: int
    overtime: bool = False


def working(shop: Shop, who: str, start: date, days: int) -> tuple[Interval, ...]:
    """Working intervals of `who` (`shop`, a station or a person) on `days` days from `start`.

    Sorted and disjoint; pieces of the same kind that touch are one, also over midnight. Where
    ordinary hours and overtime overlap, the hour is an ordinary one.
    """
    pieces: list[Interval] = []
    for number in range(days):
        offset = number * DAY_MIN
        pieces.extend(
            Interval(piece.start_min + offset, piece.end_min + offset, piece.overtime)
            for piece in _day(shop, who, start + timedelta(days=number))
        )
    return tuple(_joined(pieces))


def common(sets: Iterable[tuple[Interval, ...]]) -> tuple[tuple[int, int], ...]:
    """Spans of minutes (start, end) in which all of the given intervals work, joined where
    they touch, whether overtime or not."""
    iterator = iter(sets)
    spans = spans_of(next(iterator, ()))
    for other in iterator:
        spans = _intersection(spans, spans_of(other))
    return spans


def spans_of(intervals: tuple[Interval, ...]) -> tuple[tuple[int, int], ...]:
    """The intervals as spans (start, end), joined where they touch, whether overtime or not."""
    plain = (Interval(piece.start_min, piece.end_min) for piece in intervals)
    return tuple((piece.start_min, piece.end_min) for piece in _joined(plain))


def due_minute(due: datetime, start: date) -> int:
    """Minutes from midnight of `start` to `due`; negative when it is due before."""
    return int((due - datetime.combine(start, time())).total_seconds() // 60)


def moment(minute: int, start: date) -> datetime:
    """The time of day that lies `minute` minutes after midnight of `start`."""
    return datetime.combine(start, time()) + timedelta(minutes=minute)


def clock(minute: int) -> str:
    """Time of day of a minute of the plan.

    >>> clock(1440 + 425)
    '7:05'
    """
    return f"{minute % DAY_MIN // 60}:{minute % 60:02d}"


_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def day_name(day: date) -> str:
    """A day as people name it, in English whatever the machine's language.

    >>> day_name(date(2026, 11, 30))
    'Mon 30 Nov'
    """
    return f"{WEEKDAYS[day.weekday()][:3]} {day.day} {_MONTHS[day.month - 1]}"


def when(at: datetime) -> str:
    """A day and a time.

    >>> when(datetime(2026, 11, 30, 7, 5))
    'Mon 30 Nov 7:05'
    """
    return f"{day_name(at)} {at.hour}:{at.minute:02d}"


def when_minute(minute: int, start: date) -> str:
    """The day and time of a minute of the plan."""
    return when(moment(minute, start))


def end_of_day(shop: Shop, day: date) -> datetime:
    """What a due date without a time means: the end of the shop's hours on that day, or 23:59
    when it is closed or works to midnight."""
    pieces = working(shop, SHOP, day, 1)
    last = pieces[-1].end_min if pieces else DAY_MIN
    return moment(min(last, DAY_MIN - 1), day)


def usual_spans(shop: Shop, start: date, days: int) -> tuple[tuple[int, int], ...]:
    """The shop's own hours without overtime; all of the days where it has none of its own."""
    pieces = working(shop, SHOP, start, days)
    usual = tuple((piece.start_min, piece.end_min) for piece in pieces if not piece.overtime)
    return usual or ((0, days * DAY_MIN),)


def ahead_of(spans: Sequence[tuple[int, int]], minute: int, minutes: int) -> int:
    """The minute that lies so many worked `minutes`, at least 1, before another one, or that at
    which the spans begin."""
    for start, end in reversed(spans):
        worked = min(end, minute) - start
        if worked >= minutes:
            return min(end, minute) - minutes
        if worked > 0:
            minute, minutes = start, minutes - worked
    return minute


def worked_between(spans: Sequence[tuple[int, int]], first: int, last: int) -> int:
    """How many minutes of the spans lie from `first` up to `last`."""
    return sum(max(0, min(end, last) - max(start, first)) for start, end in spans)


def _day(shop: Shop, who: str, day: date) -> list[Interval]:
    pieces: list[Interval] = []
    for layer in _layers(shop, who, day):
        work = [row for row in layer if row.kind == HoursKind.WORK]
        overtime = [row for row in layer if row.kind == HoursKind.OVERTIME]
        if work:
            pieces = []
        for row in work:
            pieces = _added(pieces, Interval(row.start_min, row.end_min))
        for row in overtime:
            pieces = _added(pieces, Interval(row.start_min, row.end_min, overtime=True))
        for row in layer:
            if row.kind in (HoursKind.BREAK, HoursKind.CLOSED):
                pieces = _without(pieces, row.start_min, row.end_min)
    return pieces


def _layers(shop: Shop, who: str, day: date) -> Iterator[list[HoursRow]]:
    names = (SHOP,) if who == SHOP else (SHOP, who)
    for name in names:
        yield [row for row in shop.hours if _is_for(row, name) and row.weekday == day.weekday()]
    for name in names:
        yield [row for row in shop.hours if _is_for(row, name) and row.day == day]


def _is_for(row: HoursRow, name: str) -> bool:
    return row.who == name and row.start_min < row.end_min


def _added(pieces: list[Interval], new: Interval) -> list[Interval]:
    if new.overtime:
        rest = [new]
        for piece in pieces:
            rest = _without(rest, piece.start_min, piece.end_min)
        return _joined([*pieces, *rest])
    return _joined([*_without(pieces, new.start_min, new.end_min), new])


def _without(pieces: list[Interval], start_min: int, end_min: int) -> list[Interval]:
    rest: list[Interval] = []
    for piece in pieces:
        if piece.start_min < min(piece.end_min, start_min):
            rest.append(Interval(piece.start_min, min(piece.end_min, start_min), piece.overtime))
        if max(piece.start_min, end_min) < piece.end_min:
            rest.append(Interval(max(piece.start_min, end_min), piece.end_min, piece.overtime))
    return rest


def _joined(pieces: Iterable[Interval]) -> list[Interval]:
    joined: list[Interval] = []
    for piece in sorted(pieces):
        last = joined[-1] if joined else None
        if last and last.overtime == piece.overtime and piece.start_min <= last.end_min:
            end_min = max(last.end_min, piece.end_min)
            joined[-1] = Interval(last.start_min, end_min, last.overtime)
        else:
            joined.append(piece)
    return joined


def _intersection(
    left: tuple[tuple[int, int], ...], right: tuple[tuple[int, int], ...]
) -> tuple[tuple[int, int], ...]:
    both: list[tuple[int, int]] = []
    at = 0
    for start, end in left:
        while at < len(right) and right[at][1] <= start:
            at += 1
        here = at
        while here < len(right) and right[here][0] < end:
            both.append((max(start, right[here][0]), min(end, right[here][1])))
            here += 1
    return tuple(both)


def duration(minutes: int) -> str:
    """Minutes of work as people say them: in hours, as a day of work is a shift.

    >>> duration(45), duration(130), duration(120), duration(-4330)
    ('45 min', '2 h 10', '2 h', '−72 h 10')
    """
    hours, rest = divmod(abs(minutes), 60)
    sign = "−" if minutes < 0 else ""
    if not hours:
        return f"{sign}{rest} min"
    return f"{sign}{hours} h {rest:02d}" if rest else f"{sign}{hours} h"


def how_late(minutes: int) -> str:
    """How late something is by the clock: from a day on in days and whole hours.

    >>> how_late(130), how_late(1440), how_late(1440 + 95), how_late(71 * 60 + 47)
    ('2 h 10', '1 day', '1 day 2 h', '3 days')
    """
    if minutes < DAY_MIN:
        return duration(minutes)
    days, hours = divmod(round(minutes / 60), 24)
    words = f"{days} day{'s' if days > 1 else ''}"
    return f"{words} {hours} h" if hours else words
