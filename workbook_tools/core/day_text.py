"""A day written as text, read only where it can be read in one way. Standard library only.

The forms are those of the workbook's own cells: 2026-11-25, 25 Nov 2026, Nov 25 2026, 25/11/2026 where the order is
plain, and, where a month will do, 11/2026, 2026-11, Nov 2026. 03/04/2026 is refused: it can be read in two ways.
"""

from __future__ import annotations

import re
from datetime import date

from workbook_tools.core.expiry import month_expiry

MONTHS = {
    name: number
    for number, names in enumerate(
        (
            "jan january",
            "feb february",
            "mar march",
            "apr april",
            "may",
            "jun june",
            "jul july",
            "aug august",
            "sep sept september",
            "oct october",
            "nov november",
            "dec december",
        ),
        start=1,
    )
    for name in names.split()
}
_GAP = r"[\s./,\-]+"
ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]00:00(?::00(?:\.0+)?)?)?")
_THREE_NUMBERS = re.compile(r"(\d{1,2})\s*[-/.]\s*(\d{1,2})\s*[-/.]\s*(\d{4})")
DAY_NAME_YEAR = re.compile(rf"(\d{{1,2}})(?:st|nd|rd|th)?{_GAP}([a-z]+)\.?{_GAP}(\d{{4}}|\d{{2}})")
NAME_DAY_YEAR = re.compile(rf"([a-z]+)\.?{_GAP}(\d{{1,2}})(?:st|nd|rd|th)?{_GAP}(\d{{4}})")
_YEAR_MONTH = re.compile(r"(\d{4})[-/.](\d{1,2})")
_MONTH_YEAR = re.compile(r"(\d{1,2})\s*[-/.]\s*(\d{4})")
_NAME_YEAR = re.compile(rf"([a-z]+)\.?{_GAP}(\d{{4}}|\d{{2}})")


def read_day(text: str, month_will_do: bool = False) -> date | None:
    """The day that a text means, or None when it means none or more than one.

    month_will_do: a month and year is read as its last day (policy row month-expiry.last-day), as for an expiry.
    """
    lower = text.strip().casefold()
    if match := ISO.fullmatch(lower.upper()):
        return day_or_none(int(match[1]), int(match[2]), int(match[3]))
    if match := DAY_NAME_YEAR.fullmatch(lower):
        return day_or_none(full_year(match[3]), MONTHS.get(match[2], 0), int(match[1]))
    if match := NAME_DAY_YEAR.fullmatch(lower):
        return day_or_none(int(match[3]), MONTHS.get(match[1], 0), int(match[2]))
    if match := _THREE_NUMBERS.fullmatch(lower):
        return _either_order(int(match[1]), int(match[2]), int(match[3]))
    return _month(lower) if month_will_do else None


def day_or_none(year: int, month: int, day: int) -> date | None:
    """The day, or None where no calendar has it."""
    try:
        return date(year, month, day)
    except ValueError:
        return None


def full_year(text: str) -> int:
    """Four digits as they stand; two are of this century."""
    return int(text) if len(text) == 4 else 2000 + int(text)


def _either_order(first: int, second: int, year: int) -> date | None:
    day_first, month_first = day_or_none(year, second, first), day_or_none(year, first, second)
    if day_first and month_first and day_first != month_first:
        return None
    return day_first or month_first


def year_and_month(text: str) -> tuple[int, int]:
    """The year and month of 11/2026, 2026-11 or Nov 2026 in lower case; (0, 0) when it is none of them."""
    if match := _YEAR_MONTH.fullmatch(text):
        return int(match[1]), int(match[2])
    if match := _MONTH_YEAR.fullmatch(text):
        return int(match[2]), int(match[1])
    if (match := _NAME_YEAR.fullmatch(text)) and match[1] in MONTHS:
        return full_year(match[2]), MONTHS[match[1]]
    return 0, 0


def _month(text: str) -> date | None:
    year, month = year_and_month(text)
    return month_expiry(year, month) if 1 <= month <= 12 and 1900 <= year <= 2200 else None
