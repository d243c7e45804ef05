"""Types one cell at a time. What cannot be read without guessing is not read, and says so."""

import math
import re
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Any

from workbook_tools import catalogue
from workbook_tools.columns import Column
from workbook_tools.core.day_text import DAY_NAME_YEAR, ISO, NAME_DAY_YEAR, day_or_none, read_day, year_and_month
from workbook_tools.core.expiry import month_expiry
from workbook_tools.core.imo_number import read_imo_number
from workbook_tools.core.interval import parse_interval


@dataclass(frozen=True, slots=True)
class Typed:
    """A typed cell: its value (None when empty or not readable), what is wrong with it, and what was assumed."""

    value: Any = None
    problem: str = ""
    remedy: str = ""
    about_date: bool = False
    month_only: bool = False
    unit: str | None = None  # written behind a number


EMPTY = Typed()

# A cell can hold 32,000 characters: so many of them are quoted, and no longer one is read as a number or day.
QUOTED_LENGTH = 80


def shortened(text: str, most: int = QUOTED_LENGTH) -> str:
    """A text cut to so many characters, the last three of them dots where something is left out."""
    return text if len(text) <= most else f"{text[: most - 3]}..."


def quoted(text: str) -> str:
    """A cell's text as a finding quotes it."""
    return repr(shortened(text))


_NIL = re.compile(
    r"nil|none|n/a|n\.a|na|not applicable|nothing(?: to report)?|nil to report|no defects?|nil defects?|"
    r"no deficienc(?:y|ies)|no entries|no exemptions?|no actions?|[-\u2010-\u2015/]+"
)
_NO_DATE = re.compile(r"no expiry(?: date)?|no date|does not expire|permanent|unlimited|indefinite")


def is_nil(value: Any) -> bool:
    """Whether a cell says in a word that there is nothing: Nil, N/A, a dash."""
    return _says(_NIL, value)


def _is_no_date(value: Any) -> bool:
    return _says(_NIL, value) or _says(_NO_DATE, value)


def _says(words: re.Pattern[str], value: Any) -> bool:
    return isinstance(value, str) and words.fullmatch(value.strip().casefold().rstrip(".!")) is not None


_THREE_NUMBERS = re.compile(r"(\d{1,2})\s*[-/.]\s*(\d{1,2})\s*[-/.]\s*(\d{4}|\d{2})")
_WRITE_ISO = "write the date as YYYY-MM-DD"


def _date_problem(problem: str, remedy: str = _WRITE_ISO) -> Typed:
    return Typed(problem=problem, remedy=remedy, about_date=True)


def type_date(value: Any, kind: str, month_first_day: bool = False) -> Typed:
    """A day from a date cell or from text that can be read in one way only.

    kind 'expiry' and 'made' accept a month and year; 'date' does not.
    """
    if isinstance(value, datetime):
        return Typed(value.date())
    if isinstance(value, date):
        return Typed(value)
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return _date_problem(f"{value} is no date")
    if isinstance(value, int | float):
        return _number_as_date(float(value))
    return _text_as_date(value.strip(), kind, month_first_day)


def _number_as_date(number: float) -> Typed:
    if number.is_integer() and 1900 <= number <= 2200:
        return _date_problem(f"{number:.0f} is a year without month and day")
    if 20_000 <= number <= 80_000:
        day = date(1899, 12, 30) + timedelta(days=math.floor(number))
        return _date_problem(
            f"{number:g} is a plain number; as a day count it would be {day} (1900) or "
            f"{day + timedelta(days=1462)} (1904)",
            "format the cell as a date and see that it shows the right day",
        )
    return _date_problem(f"{number:g} is a number, no date")


def _text_as_date(text: str, kind: str, month_first_day: bool) -> Typed:
    """A text by core.day_text; one that means no day, or more than one, with the reason why."""
    if len(text) > QUOTED_LENGTH:
        return _date_problem(f"{quoted(text)} is no date")
    if found := read_day(text):
        return Typed(found)
    if match := _THREE_NUMBERS.fullmatch(text):
        return _three_numbers(text, *(match[1], match[2], match[3]))
    if ISO.fullmatch(text) or any(form.fullmatch(text.casefold()) for form in (DAY_NAME_YEAR, NAME_DAY_YEAR)):
        return _date_problem(f"{quoted(text)} is no date in any calendar")
    return _month_only(text, kind, month_first_day)


def _three_numbers(text: str, first: str, second: str, year: str) -> Typed:
    """Why three numbers mean no one day."""
    if len(year) == 2:
        return _date_problem(f"{quoted(text)} can be read in more than one way")
    day_first = day_or_none(int(year), int(second), int(first))
    if day_first is None:
        return _date_problem(f"{quoted(text)} is no date in any calendar")
    month_first = day_or_none(int(year), int(first), int(second))
    return _date_problem(f"{quoted(text)} can be read as {day_first} or as {month_first}")


def _month_only(text: str, kind: str, month_first_day: bool) -> Typed:
    year, month = year_and_month(text.casefold())
    if re.fullmatch(r"\d{1,2}\s*[-/.]\s*\d{2}", text):
        return _date_problem(f"{quoted(text)} is short of a four-digit year")
    if not 1 <= month <= 12 or not 1900 <= year <= 2200:
        return _date_problem(f"{quoted(text)} is no date")
    if kind == "date":
        return _date_problem(f"{quoted(text)} has no day")
    return Typed(month_expiry(year, month, first_day=month_first_day or kind == "made"), month_only=kind == "expiry")


_THOUSANDS = re.compile(r"[+-]?\d{1,3}([ \u00a0\u202f']\d{3})+(\.\d+)?")
_PLAIN = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)")
_DECIMAL_COMMA = re.compile(r"[+-]?\d+,(\d{1,2}|\d{4,})")
_COMMA_THREE = re.compile(r"[+-]?\d{1,3}(,\d{3})+(\.\d+)?")


def type_number(value: Any) -> Typed:
    """A number from a number cell, or from text that can be read in one way only ('1,500' cannot)."""
    if isinstance(value, bool):
        return Typed(problem=f"{value} is no number", remedy="write a number")
    if isinstance(value, int | float):
        if not math.isfinite(value):
            return Typed(problem=f"{value} is no number", remedy="write a number")
        return Typed(float(value))
    if not isinstance(value, str):
        return Typed(problem=f"{value} is a date, no number", remedy="write a number and format the cell as a number")
    text = value.strip()
    if len(text) > QUOTED_LENGTH:
        return Typed(problem=f"{quoted(text)} is no number", remedy="write a number alone; words go to Remarks")
    if _PLAIN.fullmatch(text):
        return Typed(float(text))
    if _THOUSANDS.fullmatch(text):
        return Typed(float(re.sub(r"[ \u00a0\u202f']", "", text)))
    if _DECIMAL_COMMA.fullmatch(text):
        return Typed(float(text.replace(",", ".")))
    if _COMMA_THREE.fullmatch(text):
        if text.count(",") == 1 and "." not in text:
            both = f"{text.replace(',', '')} or {text.replace(',', '.')}"
            return Typed(problem=f"{quoted(text)} can be read as {both}", remedy="write the number without a comma")
        return Typed(float(text.replace(",", "")))
    return Typed(problem=f"{quoted(text)} is no number", remedy="write a number alone; words go to Remarks")


def _whole(typed: Typed) -> Typed:
    if typed.value is None:
        return typed
    if not float(typed.value).is_integer():
        return Typed(problem=f"{typed.value:g} is no whole number", remedy="write a whole number")
    return Typed(int(typed.value), unit=typed.unit)


_CONTENT = re.compile(r"(.*?[\d.])\s*([^\d\s].*)")


def _number_and_unit(value: Any) -> tuple[Typed, str] | None:
    """A number and the unit written behind it; None where no known unit stands there."""
    if not isinstance(value, str) or len(value) > QUOTED_LENGTH:
        return None
    match = _CONTENT.fullmatch(value.strip())
    unit = catalogue.find_unit(match[2]) if match else None
    return (type_number(match[1]), unit) if match and unit else None


def type_amount(value: Any, column: Column) -> Typed:
    """A number, or one with a unit behind it that can be meant: the column's own, or one of counting ('6 pcs').

    A quantity of the inventory may have any unit; it is handed over with the number.
    """
    typed = type_number(value)
    if typed.value is None and (found := _number_and_unit(value)):
        number, unit = found
        stock = column.kind == "number" and column.key in ("quantity", "asked")
        own = catalogue.find_unit(column.unit) if column.unit else None
        if unit == own if own else stock or catalogue.units()[unit].dimension == "count":
            typed = replace(number, unit=unit)
    return _whole(typed) if column.kind == "whole" else typed


def type_content(value: Any) -> Typed:
    """A number, or a number with its unit: the value is (number, unit or None)."""
    if found := _number_and_unit(value):
        number, unit = found
        if number.value is not None:
            return Typed((number.value, unit))
    typed = type_number(value)
    return Typed((typed.value, None)) if typed.value is not None else typed


_WEARER_SIZE = re.compile(
    r"(?:x{0,4}[sml]|[2-5]xl|small|medium|large|extra[ -]large|universal|one size|adult|child|infant|junior|oversize)"
    r"(?:\s*[/-]\s*(?:x{0,4}[sml]|[2-5]xl))?",
    re.IGNORECASE,
)


def is_wearer_size(value: Any) -> bool:
    """Whether a cell holds the size of a suit or lifejacket: S, XL, universal."""
    return isinstance(value, str) and _WEARER_SIZE.fullmatch(value.strip()[:QUOTED_LENGTH]) is not None


# The signs that turn the direction of what follows would turn round what stands behind the text in a report.
_SPACES = re.compile(r"[\s\x00-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]+")


def as_text(value: Any) -> str:
    """A cell as the text a person sees: 25.0 is '25'."""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float) and value.is_integer() and abs(value) < 1e15:
        return str(int(value))
    return shown_text(str(value))


def shown_text(text: str) -> str:
    """A text as a person sees it: every run of spaces, ends of lines and signs that do not print is one space."""
    if text.isprintable() and "  " not in text:
        return text.strip(" ")  # of all spaces only the plain one is printable
    return _SPACES.sub(" ", text).strip()


# Short texts are typed once for a column: the words of a list and the remarks of one officer come again and again.
_REMEMBERED_LENGTH = 60
_MOST_REMEMBERED = 5_000
_typed_texts: dict[int, tuple[Column, dict[tuple[str, bool], Typed]]] = {}  # by the column's identity, which is kept


def type_cell(value: Any, column: Column, month_first_day: bool = False) -> Typed:
    """Type a cell by its column's kind. An empty cell is EMPTY.

    Choices, items and units keep the text they do not know: the schema and the checks say what is wrong with it.
    """
    if not isinstance(value, str) or len(value) > _REMEMBERED_LENGTH:
        return _type_cell(value, column, month_first_day)
    _, typed = _typed_texts.setdefault(id(column), (column, {}))
    known = typed.get((value, month_first_day))
    if known is None:
        if len(typed) >= _MOST_REMEMBERED:
            typed.clear()
        known = typed[value, month_first_day] = _type_cell(value, column, month_first_day)
    return known


def _type_cell(value: Any, column: Column, month_first_day: bool) -> Typed:
    if value is None or (isinstance(value, str) and not value.strip()):
        return EMPTY
    if column.kind in ("date", "expiry", "made", "year") and _is_no_date(value):
        return EMPTY
    if column.kind in ("date", "expiry", "made"):
        return type_date(value, column.kind, month_first_day)
    if column.kind in ("number", "whole"):
        return type_amount(value, column)
    typer = _TYPERS.get(column.kind)
    if typer is not None:
        return typer(value)
    text = as_text(value)
    if column.kind == "choice":
        return Typed(column.names.find(text) or shortened(text))
    if column.kind == "unit":
        return Typed(catalogue.find_unit(text) or shortened(text))
    if column.kind == "imo":
        return Typed(read_imo_number(text) or shortened(text))
    if column.kind == "item" and catalogue.item_names().find(text) is None:
        return Typed(shortened(text))
    return Typed(text)


def type_interval(value: Any) -> Typed:
    """An interval such as 12M; the value is an Interval."""
    text = as_text(value)
    try:
        return Typed(parse_interval(text))
    except ValueError:
        return Typed(problem=f"{quoted(text)} is no interval", remedy="write 12M, 5Y, 2W or 30D")


def type_year(value: Any) -> Typed:
    """A year from a number, or from a date or month of which the year counts."""
    number = type_number(value) if not isinstance(value, date | datetime) else Typed()
    if number.value is not None and float(number.value).is_integer() and 1000 <= number.value <= 9999:
        return Typed(int(number.value))
    day = type_date(value, "made")
    if day.value is not None:
        return Typed(day.value.year)
    return Typed(problem=f"{quoted(as_text(value))} is no year", remedy="write the year alone, such as 2021")


_TYPERS: dict[str, Callable[[Any], Typed]] = {
    "content": type_content,
    "interval": type_interval,
    "year": type_year,
}
