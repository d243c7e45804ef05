"""The functions on days: in date or expired, days left, the next due date. The day is always an argument."""

from __future__ import annotations

from functools import cache, lru_cache
from typing import TYPE_CHECKING

from workbook_tools.cells.arguments import day_of, serial_of, whole_of
from workbook_tools.cells.declare import cell_function
from workbook_tools.cells.registry import NUMBER_ERROR, VALUE_ERROR, Argument, CellError, Scalar, Value

if TYPE_CHECKING:
    from workbook_tools.core.interval import Interval

EXPIRY = Argument(
    "expiry",
    "Last good day: a date, or text that can be read in one way only (2027-03-31, 31 Mar 2027). "
    "A month and year is read as its last day.",
    "date",
    zero_is_blank=True,
)
ON_DATE = Argument("on_date", "The day asked, as a date; TODAY() where you mean today.", "date", zero_is_blank=True)


@cache
def _default_warning() -> int:
    from workbook_tools.rules import warning_days

    return int(warning_days("*").value)


@cell_function(
    "Whether a thing with a date is in date, due (its last day comes within the warning days) or expired.",
    (
        EXPIRY,
        ON_DATE,
        Argument("warn_days", "Days of warning before the last day. Default: 30.", "whole", optional=True),
    ),
    "text",
    (
        ("=LSA_STATUS(DATE(2027,3,31),DATE(2026,11,25))", "in date"),
        ("=LSA_STATUS(DATE(2026,12,5),DATE(2026,11,25))", "due"),
        ("=LSA_STATUS(DATE(2026,11,24),DATE(2026,11,25))", "expired"),
    ),
    "LSA Code 1.2.3; the warning days are our choice",
)
def LSA_STATUS(expiry: Scalar, on_date: Scalar, warn_days: Scalar = None) -> Value:
    """'in date', 'due' or 'expired'; the day marked is the last good day."""
    from workbook_tools.core.expiry import status

    warning = _default_warning() if warn_days is None else whole_of(warn_days, "warn_days")
    return status(day_of(expiry, "expiry", month_will_do=True), day_of(on_date, "on_date"), warning)


@cell_function(
    "Days from the day asked to the last good day: 0 on that day, below 0 when it has passed.",
    (EXPIRY, ON_DATE),
    "number",
    (("=LSA_DAYS_LEFT(DATE(2026,12,31),DATE(2026,11,25))", 36.0),),
    "subtraction of dates",
)
def LSA_DAYS_LEFT(expiry: Scalar, on_date: Scalar) -> Value:
    """Whole days between the two dates."""
    from workbook_tools.core.expiry import days_left

    return float(days_left(day_of(expiry, "expiry", month_will_do=True), day_of(on_date, "on_date")))


@lru_cache(maxsize=256)
def _interval(text: str) -> Interval | None:
    from workbook_tools.core.interval import parse_interval

    try:
        return parse_interval(text)
    except ValueError:
        return None


@cell_function(
    "The day on which an interval that began on the last date ends; format the cell as a date.",
    (
        Argument("last_done", "Day on which it was last done, as a date.", "date", zero_is_blank=True),
        Argument(
            "interval",
            "Text such as 12M, 5Y, 2W or 30D; a number without a letter is refused.",
            "text",
            zero_is_blank=True,
        ),
    ),
    "date",
    (('=LSA_NEXT_DUE(DATE(2026,1,31),"1M")', 46081.0), ('=LSA_NEXT_DUE(DATE(2026,11,25),"30D")', 46381.0)),
    "months count as EDATE does: 31 January and 1M give the last day of February",
)
def LSA_NEXT_DUE(last_done: Scalar, interval: Scalar) -> Value:
    """The serial number of the day. #VALUE!: an interval that is none. #NUM!: outside the calendar."""
    from workbook_tools.core.interval import next_due

    begun = day_of(last_done, "last_done")
    if not isinstance(interval, str):
        raise CellError(VALUE_ERROR, f"interval: {interval} has no letter; write 12M, 5Y, 2W or 30D")
    span = _interval(interval)
    if span is None:
        raise CellError(VALUE_ERROR, f"interval: {interval!r} is no interval; write 12M, 5Y, 2W or 30D")
    try:
        return serial_of(next_due(begun, span))
    except OverflowError:
        raise CellError(NUMBER_ERROR, f"{begun} and {interval} end outside the calendar") from None
