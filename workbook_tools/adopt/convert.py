"""One cell of theirs becomes values of ours, or says why not."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from typing import Any

from workbook_tools import catalogue
from workbook_tools.adopt import days, measures
from workbook_tools.adopt.mapping import ColumnMap
from workbook_tools.adopt.words import find_unit
from workbook_tools.columns import Column
from workbook_tools.reading.cells import as_text, quoted, shortened, type_amount, type_cell, type_content

_DATES = ("date", "expiry", "made")
Values = dict[str, Any]


@dataclass
class Converted:
    """What a cell gives: values by column key, one set for each lot it tells of; or why it gives none.

    also: what else was read out of its text, or assumed; for the person who looks it over.
    """

    lots: list[Values] = field(default_factory=list)
    problem: str = ""
    also: str = ""


def one(key: str, value: Any, also: str = "") -> Converted:
    """A cell that gives one value."""
    return Converted([{key: value}], also=also)


def shown(value: Any) -> str:
    """A cell as a person reads it."""
    if isinstance(value, datetime) and value.time() == time(0):
        return value.date().isoformat()
    if isinstance(value, datetime | date | time):
        return value.isoformat(" ") if isinstance(value, datetime) else value.isoformat()
    if isinstance(value, timedelta):
        return str(value)
    return as_text(value)


def convert(value: Any, mapped: ColumnMap, column: Column, sheet: str, month_first_day: bool) -> Converted:
    """Read a cell as a column of ours. Words of lists and places are looked up by the caller."""
    if column.kind in _DATES:
        return _date(value, mapped, column, month_first_day)
    if column.kind in ("number", "whole"):
        return _amount(value, mapped, column, sheet, month_first_day)
    if column.kind == "unit":
        unit = find_unit(shown(value))
        return one(column.key, unit) if unit else Converted(problem=f"{quoted(shown(value))} is no unit that we know")
    if column.kind == "content":
        return _content(value)
    if column.kind == "text":
        return one(column.key, shown(value))
    typed = type_cell(value, column)
    if typed.problem:
        return Converted(problem=typed.problem)
    return one(column.key, shown(value) if column.kind == "interval" else typed.value)


def _date(value: Any, mapped: ColumnMap, column: Column, month_first_day: bool) -> Converted:
    told: measures.Lot | None = None
    written = value
    if isinstance(value, str) and not days.looks_like_date(value):
        found = measures.lots(value)
        if found and len(found) == 1 and found[0].expires:
            told, written = found[0], found[0].expires
    day = days.read(written, column.kind, mapped.date_order, mapped.month_order, month_first_day)
    if day.value is None:
        return Converted(problem=day.problem)
    values: Values = {column.key: day.value}
    also = _how_read(written, day, mapped, month_first_day or column.kind == "made")
    if told is not None and told.quantity is not None:
        values.update(_of_lot(told))
    return Converted([values], also=also)


def _how_read(written: Any, day: days.Day, mapped: ColumnMap, first: bool) -> str:
    if not isinstance(written, str) or day.value is None:
        return ""
    notes = [f"{written!r} read as {day.value.isoformat()}"]
    if day.month_only:
        notes.append(f"the {'first' if first else 'last'} day of its month is assumed")
    return ", ".join(notes)


def _amount(value: Any, mapped: ColumnMap, column: Column, sheet: str, month_first_day: bool) -> Converted:
    typed = type_amount(value, column)
    if typed.value is not None:
        values: Values = {column.key: typed.value}
        if typed.unit and column.key == "quantity" and sheet == "inventory" and typed.unit != "each":
            values["unit"] = typed.unit
        return Converted([values], also=f"{shown(value)!r} read as number and unit" if typed.unit else "")
    found = measures.lots(value) if isinstance(value, str) else None
    if not found or any(lot.quantity is None for lot in found):
        return Converted(problem=typed.problem)
    if sheet != "inventory" or column.key != "quantity":
        return _plain_amount(found, column, typed.problem)
    lots = []
    for lot in found:
        values = _of_lot(lot)
        if lot.expires:
            day = days.read(lot.expires, "expiry", mapped.date_order, mapped.month_order, month_first_day)
            if day.value is None:
                return Converted(problem=f"the date in {quoted(value)}: {day.problem}")
            values["expires"] = day.value
        lots.append(values)
    return Converted(lots, also="; ".join(_lot_words(values) for values in lots))


def _plain_amount(found: list[measures.Lot], column: Column, problem: str) -> Converted:
    """A number of another column than Quantity: a unit of counting or the column's own may stand behind it."""
    lot = found[0]
    if len(found) > 1 or lot.expires or lot.content is not None or lot.quantity is None:
        return Converted(problem=problem)
    unit = lot.unit or "each"
    own = catalogue.find_unit(column.unit) if column.unit else None
    if unit != own and catalogue.units()[unit].dimension != "count":
        return Converted(problem=problem)
    if column.kind == "whole" and not lot.quantity.is_integer():
        return Converted(problem=problem)
    return one(column.key, int(lot.quantity) if column.kind == "whole" else lot.quantity)


def _of_lot(lot: measures.Lot) -> Values:
    values: Values = {"quantity": lot.quantity}
    if lot.unit and lot.unit != "each":
        values["unit"] = lot.unit
    if lot.content is not None:
        values |= {"content": lot.content, "content_unit": lot.content_unit}
    return values


def _lot_words(values: Values) -> str:
    return "read as " + ", ".join(f"{key.replace('_', ' ')} {shown(value)}" for key, value in values.items())


def _content(value: Any) -> Converted:
    typed = type_content(value)
    if typed.value is not None:
        number, unit = typed.value
        return Converted([{"content": number} | ({"content_unit": unit} if unit else {})])
    lot = measures.amount_of(value.strip()) if isinstance(value, str) else None
    if lot is None or lot.quantity is None or lot.content is not None or lot.unit is None:
        return Converted(problem=typed.problem)
    return Converted(
        [{"content": lot.quantity, "content_unit": lot.unit}], also=shortened(f"{value!r} read as a measure")
    )
