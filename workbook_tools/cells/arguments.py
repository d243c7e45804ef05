"""Reads one argument of a cell function: what a host hands over becomes text, a number or a day, or an error kind.

Nothing is guessed: '1,500' is no number, '03/04/2026' no day, 2026 no day either (it is a year).
"""

from __future__ import annotations

import math
from datetime import date, datetime
from functools import lru_cache

from workbook_tools.cells.registry import NOT_AVAILABLE, NUMBER_ERROR, VALUE_ERROR, CellError, Range, Scalar

_DAY_ZERO = date(1899, 12, 30)
_DAY_ZERO_NUMBER = _DAY_ZERO.toordinal()
FIRST_SERIAL = 61  # 1 March 1900: before it Excel and Calc number the days differently
LAST_SERIAL = 2_958_465  # 31 December 9999
FIRST_YEAR, LAST_YEAR = 1900, 2200  # a whole number between them is a year, written where a day is asked
MOST = 1e9  # no count, length or volume of a ship comes near it


def text_of(value: Scalar) -> str:
    """A text argument; a number is taken as it is shown (25.0 is '25')."""
    if isinstance(value, str):
        return value.strip()
    if isinstance(value, bool) or value is None:
        raise CellError(VALUE_ERROR, f"{value} is no text")
    if isinstance(value, float) and value.is_integer():
        return str(int(value))
    return str(value)


def number_of(value: Scalar, name: str) -> float:
    """A number from 0 on, from a number or a text that is plainly one. #VALUE! below zero, #NUM! beyond MOST."""
    if isinstance(value, str):
        value = _number_in(value.strip(), name)
    if isinstance(value, bool) or not isinstance(value, int | float) or not value >= 0:
        raise CellError(VALUE_ERROR, f"{name}: {value} is no number from 0 on")
    if value > MOST:
        raise CellError(NUMBER_ERROR, f"{name}: {value} is too large")
    return float(value)


def _number_in(text: str, name: str) -> float:
    sign, digits = text[:1] in ("+", "-"), text.lstrip("+-")
    if digits.isascii() and digits.replace(".", "", 1).isdigit() and len(text) - len(digits) == sign:
        return float(text)
    raise CellError(VALUE_ERROR, f"{name}: {text!r} is no number")


def whole_of(value: Scalar, name: str) -> int:
    """A whole number from 0 on."""
    if type(value) is float and 0.0 <= value <= MOST and value.is_integer():
        return int(value)
    number = number_of(value, name)
    if not number.is_integer():
        raise CellError(VALUE_ERROR, f"{name}: {number:g} is no whole number")
    return int(number)


def day_of(value: Scalar, name: str, month_will_do: bool = False) -> date:
    """A day from a serial number (1900 system), a date, or a text that can be read in one way only.

    month_will_do: a month and year stands for its last day. #NUM! outside 1 March 1900 to 31 December 9999.
    """
    if isinstance(value, date):
        return _within(value.date() if isinstance(value, datetime) else value, name)
    if isinstance(value, str):
        day = _read_day(value, month_will_do)
        if day is None:
            raise CellError(VALUE_ERROR, f"{name}: {value!r} is no day that can be read in one way only")
        return _within(day, name)
    if isinstance(value, bool) or value is None or not math.isfinite(value):
        raise CellError(VALUE_ERROR, f"{name}: {value} is no day")
    if FIRST_YEAR <= value <= LAST_YEAR and value == math.floor(value):
        raise CellError(VALUE_ERROR, f"{name}: {value:g} is a year without month and day")
    if not FIRST_SERIAL <= value < LAST_SERIAL + 1:
        raise CellError(NUMBER_ERROR, f"{name}: {value:g} lies outside the calendar")
    return date.fromordinal(_DAY_ZERO_NUMBER + math.floor(value))


@lru_cache(maxsize=4096)
def _read_day(text: str, month_will_do: bool) -> date | None:
    from workbook_tools.core.day_text import read_day

    return read_day(text, month_will_do)


def _within(day: date, name: str) -> date:
    if day.toordinal() - _DAY_ZERO_NUMBER < FIRST_SERIAL:
        raise CellError(NUMBER_ERROR, f"{name}: {day} lies before 1 March 1900")
    return day


def serial_of(day: date) -> float:
    """The serial number of a day (1900 system)."""
    return float(_within(day, "result").toordinal() - _DAY_ZERO_NUMBER)


def yes_of(value: Scalar, name: str) -> bool:
    """A yes or no; blank is no."""
    if isinstance(value, bool):
        return value
    word = "" if value is None else text_of(value).casefold()
    if word in ("yes", "y", "true", "1"):
        return True
    if word in ("", "no", "n", "false", "0"):
        return False
    raise CellError(VALUE_ERROR, f"{name}: {word!r} is neither yes nor no")


def is_blank(value: Scalar) -> bool:
    """Whether a cell holds nothing, or nothing but spaces."""
    return value is None or (isinstance(value, str) and not value.strip())


def cells_of(value: Scalar | Range) -> list[Scalar]:
    """The cells of a range, row by row; of a single value, that value."""
    return [cell for row in value for cell in row] if isinstance(value, tuple) else [value]


def unknown(what: str, text: str) -> CellError:
    """The error for a word that stands in no list."""
    return CellError(NOT_AVAILABLE, f"no {what} goes by {text!r}")
