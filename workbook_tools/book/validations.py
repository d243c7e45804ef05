"""What a cell of an input sheet accepts, the help it shows when it is chosen, and what it says when it refuses.

Formulas refer to other sheets by defined names only, and hold no constant in braces: both are refused in a validation
by older programs. `{cell}` is the cell that is filled in.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from workbook_tools.columns import Column, Sheet

# Columns that name a craft: their drop-down shows the names of the Craft sheet, and other words are accepted.
CRAFT_NAMES = frozenset(
    {
        ("crew", "craft"),
        ("inventory", "place"),
        ("servicing", "appliance"),
        ("routine", "subject"),
        ("defects", "subject"),
        ("exemptions", "subject"),
    }
)
# A spreadsheet reads these as "any letters" where it looks a craft up.
WILDCARDS = ("*", "?", "~")
FIRST_DAY, LAST_DAY = date(1950, 1, 1), date(2100, 12, 31)
MOST_NUMBER = 1_000_000  # where a column sets no limit of its own
MOST_TITLE, MOST_TEXT = 32, 255  # letters that a file can hold
_MONTH_ONLY = "Where only a month is marked, type its last day: a spreadsheet turns 03/2027 into 1 March."
_DAY = "Type it as 2026-11-25."


def input_message(column: Column) -> str:
    """The help shown when a cell of the column is chosen."""
    parts = [column.help]
    if column.kind == "expiry":
        parts.append(_MONTH_ONLY)
    if column.kind in ("date", "made"):
        parts.append(_DAY)
    if column.unit:
        parts.append(f"In {column.unit}.")
    if column.required:
        parts.append("Must be filled.")
    return " ".join(parts)


def validation(contract: Sheet, column: Column, lists: Mapping[str, str], cell: str, area: str) -> dict[str, Any]:
    """The validation of a column, for XlsxWriter.

    lists: name of the list behind each drop-down, by sheet and column key. cell: address of the first cell, its row
    relative; area: the column's cells, absolute.
    """
    rule = _rule(contract, column, lists, cell, area)
    rule["input_title"] = column.heading[:MOST_TITLE]
    rule["input_message"] = input_message(column)
    return rule


def _rule(contract: Sheet, column: Column, lists: Mapping[str, str], cell: str, area: str) -> dict[str, Any]:
    if (contract.key, column.key) in CRAFT_NAMES:
        return _list(
            "list_craft_names",
            "Not on the Craft sheet",
            "No craft of this name stands on the Craft sheet. A place on board may stand here too.",
            "information",
        )
    if column.kind == "item":
        return _list(
            "list_items",
            "Not in the list of items",
            "Other names are read too, as far as they are known. The list has the trade names.",
            "information",
        )
    if column.kind == "unit":
        return _list(lists[f"{contract.key}_{column.key}"], "Unknown unit", "Choose a unit from the list.")
    if column.choices:
        return _list(
            lists[f"{contract.key}_{column.key}"],
            "Not in the list",
            "Choose one of the words in the list, so that the rules can be applied.",
        )
    if column.unique:
        return _name(contract, column, cell, area)
    return _BY_KIND[column.kind](column, cell) if column.kind in _BY_KIND else {"validate": "any"}


def _list(name: str, title: str, message: str, how: str = "stop") -> dict[str, Any]:
    return {
        "validate": "list",
        "source": f"={name}",
        "error_type": how,
        "error_title": title,
        "error_message": message,
    }


def without_wildcards(cell: str) -> str:
    """The formula that is TRUE for a text without * ? and ~."""
    return ",".join(f'ISERROR(FIND("{sign}",{cell}))' for sign in WILDCARDS)


def times(cell: str, area: str) -> str:
    """The formula that counts how often a name stands in its column; case and spaces are no matter.

    Compared one by one: COUNTIF would take "Boat*" for every boat.
    """
    return f"SUMPRODUCT(--(TRIM({area})=TRIM({cell})))"


def _name(contract: Sheet, column: Column, cell: str, area: str) -> dict[str, Any]:
    """A name of its own: never twice; for a craft, no wildcard either."""
    again = f"The same {column.heading.lower()} stands in another line already. Give each {contract.row_name} its own."
    once = f"{times(cell, area)}=1"
    if contract.key != "craft":
        return _custom(once, f"{column.heading} twice", again)
    return _custom(
        f"AND({once},{without_wildcards(cell)})",
        "Not a name for a craft",
        "Either another line has this name already, or there is a * ? or ~ in it: a spreadsheet reads these signs as "
        "'any letters' and would count the wrong lines. Write Lifeboat 1, Raft P2.",
    )


def _custom(formula: str, title: str, message: str, how: str = "stop") -> dict[str, Any]:
    return {
        "validate": "custom",
        "value": f"={formula}",
        "error_type": how,
        "error_title": title[:MOST_TITLE],
        "error_message": message,
    }


def _number(column: Column, cell: str) -> dict[str, Any]:
    kind = "integer" if column.kind == "whole" else "decimal"
    least = column.minimum if column.minimum is not None else column.above or 0
    most = column.maximum if column.maximum is not None else MOST_NUMBER
    unit = f" {column.unit}" if column.unit else ""
    words = f"{'above' if column.above is not None else 'from'} {least:g} to {most:,.0f}{unit}, without words"
    title = "Not a number that fits"
    if column.above is not None:  # 'between' would take the limit itself
        return _custom(f"AND(ISNUMBER({cell}),{cell}>{least:g},{cell}<={most:g})", title, f"Type a number {words}.")
    return {
        "validate": kind,
        "criteria": "between",
        "minimum": int(least) if kind == "integer" else least,
        "maximum": int(most) if kind == "integer" else most,
        "error_title": title,
        "error_message": f"Type a {'whole ' if kind == 'integer' else ''}number {words}.",
    }


def _content(column: Column, cell: str) -> dict[str, Any]:
    """A number, or a number with its unit behind it."""
    least, most = column.above or 0, column.maximum or MOST_NUMBER
    return _custom(
        f"OR(ISTEXT({cell}),AND({cell}>{least:g},{cell}<={most:g}))",
        "Not a content",
        f"Type a number above {least:g} to {most:,.0f}, with its unit in the next column or behind it: 500 mL.",
    )


def _year(column: Column, cell: str) -> dict[str, Any]:
    """A year, or a day of it."""
    least, most = int(column.minimum or FIRST_DAY.year), int(column.maximum or LAST_DAY.year)
    return _custom(
        f"OR(AND({cell}>={least},{cell}<={most}),AND({cell}>=DATE({least},1,1),{cell}<=DATE({most},12,31)))",
        "Not a year",
        f"Type the year of making, from {least} to {most}, or a date as 2026-11-25.",
    )


def _date(_: Column, cell: str) -> dict[str, Any]:
    return {
        "validate": "date",
        "criteria": "between",
        "minimum": FIRST_DAY,
        "maximum": LAST_DAY,
        "error_title": "Not a date",
        "error_message": f"{_DAY} It must lie between {FIRST_DAY.year} and {LAST_DAY.year}.",
    }


def _marked_day(_: Column, cell: str) -> dict[str, Any]:
    """A day, or a month as text; never a bare year or a number, which a spreadsheet would take for a day of 1905."""
    return _custom(
        f"OR(ISTEXT({cell}),AND({cell}>={_serial(FIRST_DAY)},{cell}<={_serial(LAST_DAY)}))",
        "Not a date",
        f"A number alone is no date: {_DAY[0].lower()}{_DAY[1:-1]}, or the last day of the month marked on it.",
    )


def _serial(day: date) -> str:
    return f"DATE({day.year},{day.month},{day.day})"


def _imo(_: Column, cell: str) -> dict[str, Any]:
    """Seven digits with their check digit: resolution A.1117(30), as workbook_tools.core.imo_number."""
    digits = f"RIGHT(TRIM({cell}),7)"
    total = "+".join(f"{8 - place}*MID({digits},{place},1)" for place in range(1, 7))
    return _custom(
        f"AND(LEN({digits})=7,RIGHT({total},1)=RIGHT({digits},1))",
        "Not an IMO number",
        "An IMO number has seven digits, of which the last is a check digit. One of them is wrong here: look at the "
        "certificate of registry.",
        "warning",
    )


def _interval(_: Column, cell: str) -> dict[str, Any]:
    # the last letter of D, W, M, Y or of days, week, month, year
    return _custom(
        f'AND(ISNUMBER(VALUE(LEFT(TRIM({cell}),1))),ISNUMBER(FIND(UPPER(RIGHT(TRIM({cell}),1)),"DWMYSKHR")))',
        "Not an interval",
        "Type a number and D, W, M or Y: 30D is thirty days, 2W two weeks, 12M twelve months, 5Y five years.",
        "warning",
    )


_BY_KIND: dict[str, Callable[[Column, str], dict[str, Any]]] = {
    "number": _number,
    "whole": _number,
    "content": _content,
    "year": _year,
    "date": _date,
    "expiry": _marked_day,
    "made": _marked_day,
    "imo": _imo,
    "interval": _interval,
}
