"""Months and weekdays in German, French and Spanish, brought to the English that dates are read in.

Only whole words and the usual abbreviations count: a word that could be two days or two months is
none of them.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping

_MONTHS: Mapping[str, str] = {
    "jan": "januar jaenner janner janvier janv enero ene",
    "feb": "februar feber fevrier fevr fev febrero",
    "mar": "marz maerz mrz mars marzo",
    "apr": "avril avr abril abr",
    "may": "mai mayo",
    "jun": "juni juin junio",
    "jul": "juli juillet juil julio",
    "aug": "aout agosto ago",
    "sep": "septembre septiembre setiembre set",
    "oct": "oktober okt octobre octubre",
    "nov": "novembre noviembre",
    "dec": "dezember dez decembre diciembre dic",
}
_WEEKDAYS: Mapping[str, str] = {
    "mon": "montag mo lundi lun lunes",
    "tue": "dienstag di mardi martes mar",
    "wed": "mittwoch mi mercredi mer miercoles mie",
    "thu": "donnerstag do jeudi jeu jueves jue",
    "fri": "freitag fr vendredi ven viernes vie",
    "sat": "samstag sonnabend sa samedi sam sabado sab",
    "sun": "sonntag so dimanche dim domingo dom",
}
_MONTH_OF = {word: month for month, words in _MONTHS.items() for word in words.split()}
_WEEKDAY_OF = {word: day for day, words in _WEEKDAYS.items() for word in words.split()}
_WORD = re.compile(r"[a-z]+")
_FIRST_WORD = re.compile(r"([a-z]+)\.?(?=,? |$)")
_DATE_BEHIND = re.compile(r",? ?[0-9]{1,2}(?:[-/.][0-9]|.* [a-z]{3})")
"""What follows `mar` where it is a Tuesday: a whole date, and not just the day in March."""
_ORDINAL = re.compile(r"\b1(?:er|ero|º|°)(?=[ .])")
_BETWEEN = re.compile(r"(?<=[0-9a-z]) del?(?= [0-9a-z])")
_LEAD = re.compile(r"^(?:bis zum|bis|am|den|avant le|pour le|le|antes del|para el|el) (?=.)")


def in_english(words: str) -> str:
    """A date in small letters, its month and weekday in English; as it is if they are already.

    >>> in_english("freitag, 4. dezember 2026"), in_english("1er août 2026")
    ('fri, 4. dec 2026', '1 aug 2026')
    >>> in_english("mar 1 dic"), in_english("mar 1"), in_english("3 de mayo de 2027")
    ('tue 1 dec', 'mar 1', '3 may 2027')
    """
    plain = _plain(words)
    if not plain.isascii():
        return words
    weekday = _weekday(plain)
    return _WORD.sub(lambda match: _MONTH_OF.get(match[0], match[0]), weekday)


def _plain(words: str) -> str:
    """The words without accents and without those that join a date: `3 de mayo` is `3 mayo`."""
    flat = unicodedata.normalize("NFKD", _ORDINAL.sub("1", words))
    letters = "".join(letter for letter in flat if not unicodedata.combining(letter))
    return _BETWEEN.sub("", _LEAD.sub("", letters))


def _weekday(words: str) -> str:
    match = _FIRST_WORD.match(words)
    if match is None or match[1] not in _WEEKDAY_OF:
        return words
    rest = words[match.end() :]
    if match[1] == "mar" and not _DATE_BEHIND.match(rest):
        return words
    return _WEEKDAY_OF[match[1]] + rest
