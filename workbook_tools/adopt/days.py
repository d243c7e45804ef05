"""Dates as people write them in a list of their own: the order of day and month is proved by the column or left open.

'03/04/2026' means two days. A column that also holds '25/03/2026' proves that its writer puts the day first; one that
proves nothing decides nothing, and such a cell is listed as not carried over.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.words import vocabulary
from workbook_tools.core.day_text import day_or_none, full_year, read_day, year_and_month
from workbook_tools.core.expiry import month_expiry
from workbook_tools.reading.cells import type_date

DAY_FIRST, MONTH_FIRST, YEAR_FIRST = "day first", "month first", "year first"
MONTH_YEAR, YEAR_MONTH = "month/year", "year/month"
# How three numbers can be read, and how two can, where the year has two digits.
ORDERS = (DAY_FIRST, MONTH_FIRST, YEAR_FIRST)
SHORT_ORDERS = (MONTH_YEAR, YEAR_MONTH)

_THREE = re.compile(r"(\d{1,2})\s*[-/.]\s*(\d{1,2})\s*[-/.]\s*(\d{4}|\d{2})")
_TWO = re.compile(r"(\d{1,2})\s*[-/.]\s*(\d{2})")
_NAMED_DAY = re.compile(r"(\d{1,2})\.?[\s./-]+(?:de[\s]+)?([^\W\d_]+)\.?[\s./-]+(?:del?[\s]+)?(\d{4}|\d{2})")
_NAMED_MONTH = re.compile(r"([^\W\d_]+)\.?[\s./'-]+(?:del?[\s]+)?(\d{4}|\d{2})")


@dataclass(frozen=True, slots=True)
class Day:
    """A day that a cell means; month_only where it named a month alone; problem where it means none or several."""

    value: date | None = None
    month_only: bool = False
    problem: str = ""


def _readings(text: str) -> dict[str, date]:
    """The days that three numbers can mean, by the order in which they are read."""
    match = _THREE.fullmatch(text.strip())
    if match is None:
        return {}
    first, second, third = match.groups()
    readings = {
        DAY_FIRST: day_or_none(full_year(third), int(second), int(first)),
        MONTH_FIRST: day_or_none(full_year(third), int(first), int(second)),
        YEAR_FIRST: day_or_none(2000 + int(first), int(second), int(third)) if len(third) == 2 else None,
    }
    return {order: day for order, day in readings.items() if day is not None}


def _short_readings(text: str) -> dict[str, tuple[int, int]]:
    """The years and months that two short numbers can mean."""
    match = _TWO.fullmatch(text.strip())
    if match is None:
        return {}
    first, second = int(match[1]), int(match[2])
    found = {}
    if 1 <= first <= 12:
        found[MONTH_YEAR] = (2000 + second, first)
    if 1 <= second <= 12 and len(match[1]) == 2:
        found[YEAR_MONTH] = (2000 + first, second)
    return found


@dataclass(frozen=True, slots=True)
class Proof:
    """What a column's texts prove: an order, or none; by which cell, and against which."""

    order: str = ""
    by: str = ""
    against: str = ""
    open: int = 0  # texts that need an order

    def words(self) -> str:
        """The proof in a sentence."""
        if self.order:
            return f"{self.by} can only be read {self.order}"
        if self.against:
            return f"{self.by} and {self.against} contradict each other"
        return f"{self.open} texts can be read in more than one way, and nothing in the column decides"


def prove(cells: Iterable[tuple[str, Any]]) -> Proof:
    """The order that the dates of a column prove. cells: address and value of each."""
    return _prove(cells, _readings, ORDERS)


def prove_short(cells: Iterable[tuple[str, Any]]) -> Proof:
    """The order that texts such as 03/27 prove: month and year, or year and month."""
    return _prove(cells, _short_readings, SHORT_ORDERS)


def _prove(cells: Iterable[tuple[str, Any]], readings_of: Any, orders: tuple[str, ...]) -> Proof:
    """The one order left when each text strikes out those in which it means nothing; which text struck out most."""
    left, undecided, by = set(orders), 0, ""
    for name, value in cells:
        readings = readings_of(value) if isinstance(value, str) else {}
        if not readings:
            continue
        undecided += len(set(readings.values())) > 1
        meant = set(readings) & left
        if not meant:
            return Proof(by=by, against=f"{value!r} in {name}", open=undecided)
        if meant < left:
            by = f"{value!r} in {name}"
        left = meant
    return Proof(left.pop(), by, open=undecided) if len(left) == 1 and by else Proof(open=undecided)


def read(value: Any, kind: str, order: str = "", short: str = "", month_first_day: bool = False) -> Day:
    """The day of a cell. kind as of a column: 'expiry' and 'made' take a month and year, 'date' does not.

    order and short decide texts that can be read in several ways; '' leaves them unread.
    """
    typed = type_date(value, kind, month_first_day)
    if typed.value is not None:
        return Day(typed.value, typed.month_only)
    if not isinstance(value, str):
        return Day(problem=typed.problem)
    text = value.strip()
    readings = _readings(text)
    if len(set(readings.values())) == 1:
        return Day(next(iter(readings.values())))
    if order in readings:
        return Day(readings[order])
    if readings:
        return Day(problem=f"{typed.problem}; no order of day and month is proved or given for its column")
    return _named(text, kind, short, month_first_day, typed.problem)


def _named(text: str, kind: str, short: str, month_first_day: bool, problem: str) -> Day:
    """A day with its month in words of another language, or a month and year."""
    if match := _NAMED_DAY.fullmatch(text):
        month = _month_named(match[2])
        day = day_or_none(full_year(match[3]), month, int(match[1])) if month else None
        return Day(day) if day else Day(problem=problem)
    months = _short_readings(text)
    year, month = months.get(short, (0, 0))
    if (match := _NAMED_MONTH.fullmatch(text)) and (named := _month_named(match[1])):
        year, month = full_year(match[2]), named
    if not month:
        return Day(problem=f"{text!r} can be month and year, and no order is given" if months else problem)
    if kind == "date":
        return Day(problem=f"{text!r} has no day")
    return Day(month_expiry(year, month, first_day=month_first_day or kind == "made"), month_only=kind == "expiry")


def _month_named(text: str) -> int:
    folded = fold(text)
    return vocabulary().months.get(folded, 0) or year_and_month(f"{folded} 2000")[1]


def looks_like_date(value: Any) -> bool:
    """Whether a cell is a date, or a text that means one in some order."""
    if isinstance(value, datetime | date):
        return True
    if not isinstance(value, str) or len(value) > 40:
        return False
    text = value.strip()
    if _readings(text) or read_day(text, month_will_do=True):
        return True
    if _short_readings(text):
        return True
    return _named(text, "expiry", "", False, "").value is not None
