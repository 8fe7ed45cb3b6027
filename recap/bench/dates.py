"""Dates as people write them; a day and a month that could change places give none."""

from __future__ import annotations

import re
from datetime import date

_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ].*)?")
_MONTH = re.compile(r"(?P<year>\d{4})[-/.](?P<month>\d{1,2})")
_MONTH_OF_YEAR = re.compile(r"(?P<month>\d{1,2})[-/.](?P<year>\d{4})")
_YEAR = re.compile(r"(?:19|20)\d{2}")
_DOTTED = re.compile(r"(\d{1,2})\.\s?(\d{1,2})\.\s?(\d{4})")
_SLASHED = re.compile(r"(\d{1,2})[/-](\d{1,2})[/-](\d{4})")


def read_date(text: str) -> date | None:
    """Return the date in ``text``: ISO, day.month.year, or a month or year (its first day: age is not flattered).

    ``03/04/2024`` could be March or April and gives None; ``25/04/2024`` can't.
    """
    text = text.strip()
    year_first = _ISO.fullmatch(text)
    if year_first is not None:
        return _date(*(int(part) for part in year_first.groups()))
    month = _MONTH.fullmatch(text) or _MONTH_OF_YEAR.fullmatch(text)
    if month is not None:
        return _date(int(month["year"]), int(month["month"]), 1)
    if _YEAR.fullmatch(text):
        return date(int(text), 1, 1)
    dotted = _DOTTED.fullmatch(text)
    if dotted is not None:
        return _date(int(dotted[3]), int(dotted[2]), int(dotted[1]))
    slashed = _SLASHED.fullmatch(text)
    if slashed is None:
        return None
    first, second, year = (int(part) for part in slashed.groups())
    readings = {_date(year, second, first), _date(year, first, second)} - {None}
    return readings.pop() if len(readings) == 1 else None


def _date(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None
