"""The functions on the water ration: common practice of the training texts, no rule."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from workbook_tools.cells.arguments import number_of, whole_of
from workbook_tools.cells.declare import cell_function
from workbook_tools.cells.registry import NUMBER_ERROR, VALUE_ERROR, Argument, CellError, Scalar, Table, Value

if TYPE_CHECKING:
    from workbook_tools.core.rations import Issue

LITRES = Argument("litres", "Fresh water in the craft, in litres.", "number")
PERSONS = Argument("persons", "Number of persons in the craft. 0 reads as blank.", "whole", zero_is_blank=True)
RATION = Argument(
    "litres_per_day",
    "Litres for each person and day, after the dry days. Default: 0.5.",
    "number",
    optional=True,
    zero_is_blank=True,
)
DRY = Argument("dry_days", "First days on which nothing is issued. Default: 1.", "number", optional=True)
_PRACTICE = (
    "survival-craft training texts: common practice, no rule (policy rows ration.dry-days, ration.litres-per-day)"
)


@cache
def _practice(key: str) -> float:
    from workbook_tools.rules.loader import policies

    return policies()[key].value


def _read(litres: Scalar, persons: Scalar, ration: Scalar, dry: Scalar) -> tuple[float, Issue]:
    from workbook_tools.core.rations import Issue

    each = _practice("ration.litres-per-day") if ration is None else number_of(ration, "litres_per_day")
    none = _practice("ration.dry-days") if dry is None else number_of(dry, "dry_days")
    people = whole_of(persons, "persons")
    if not people or not each:
        raise CellError(VALUE_ERROR, "persons and litres_per_day must be above 0")
    return number_of(litres, "litres"), Issue(people, each, none)


@cell_function(
    "Days that the water lasts: nothing in the first day, then half a litre for each person and day.",
    (LITRES, PERSONS, RATION, DRY),
    "number",
    (("=LSA_RATION_DAYS(37.5,25)", 4.0), ("=LSA_RATION_DAYS(108,36)", 7.0)),
    _PRACTICE,
)
def LSA_RATION_DAYS(litres: Scalar, persons: Scalar, litres_per_day: Scalar = None, dry_days: Scalar = None) -> Value:
    """Dry days and the days of issue; a part of a day counts as a part."""
    from workbook_tools.core.rations import days_lasting

    days = days_lasting(*_read(litres, persons, litres_per_day, dry_days))
    if days is None:
        raise CellError(NUMBER_ERROR, "the water lasts longer than can be told")
    return days


@cell_function(
    "The water ration day by day: day, litres for each person, litres for all, litres left. "
    "Fills four columns downwards.",
    (
        LITRES,
        PERSONS,
        Argument("days", "Number of days to plan for, 366 at most. 0 reads as blank.", "whole", zero_is_blank=True),
        RATION,
        DRY,
    ),
    "table",
    (("=INDEX(LSA_RATION_PLAN(9,6,4),2,2)", 0.5),),
    _PRACTICE,
)
def LSA_RATION_PLAN(
    litres: Scalar, persons: Scalar, days: Scalar, litres_per_day: Scalar = None, dry_days: Scalar = None
) -> Value | Table:
    """One row a day. The last water is shared out evenly; then nothing is left. #NUM!: more than 366 days."""
    from workbook_tools.core.rations import LONGEST_PLAN, plan

    water, issue = _read(litres, persons, litres_per_day, dry_days)
    span = whole_of(days, "days")
    if not issue.dry_days.is_integer():
        raise CellError(VALUE_ERROR, "dry_days: a plan takes whole days")
    if span > LONGEST_PLAN:
        raise CellError(NUMBER_ERROR, f"days: {span} is more than {LONGEST_PLAN}")
    return tuple(
        (float(day.day), round(day.issued / issue.persons, 9), day.issued, day.left) for day in plan(water, issue, span)
    )
