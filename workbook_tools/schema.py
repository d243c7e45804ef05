"""The pandera schema of each sheet, built from the column declarations on first use.

Cells are typed before they come here, so nothing is coerced; the rows of many books are validated in one frame,
with a book number beside each row.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cache
from itertools import compress, count
from operator import itemgetter
from typing import TYPE_CHECKING, Any

from workbook_tools.catalogue import normalise
from workbook_tools.columns import SHEETS, Column, Sheet
from workbook_tools.findings import Finding
from workbook_tools.reading.book import Book, Row, Table
from workbook_tools.reading.cells import as_text
from workbook_tools.reading.tables import record_finding, row_subject

if TYPE_CHECKING:
    import pandas as pd
    import pandera.pandas as pa

BOOK = "__book__"
_NUMBERS = ("number", "whole", "content", "year")


def _constrained(column: Column) -> bool:
    return bool(
        column.required
        or column.unique
        or column.choices
        or column.minimum is not None
        or column.above is not None
        or column.maximum is not None
    )


def _checks(column: Column) -> list[pa.Check]:
    import pandera.pandas as pa

    checks = []
    if column.choices:
        checks.append(pa.Check.isin(column.choices, name="choice"))
    if column.minimum is not None:
        checks.append(pa.Check.ge(column.minimum, name="range"))
    if column.above is not None:
        checks.append(pa.Check.gt(column.above, name="range"))
    if column.maximum is not None:
        checks.append(pa.Check.le(column.maximum, name="range"))
    return checks


def _not_twice(key: str) -> Callable[[pd.DataFrame], Any]:
    def check(frame: pd.DataFrame) -> Any:
        names = frame[key].map(lambda name: normalise(name) if isinstance(name, str) else name)
        return names.isna() | ~frame[[BOOK]].assign(name=names).duplicated()

    return check


@cache
def schema(sheet_key: str) -> pa.DataFrameSchema:
    """The schema of a sheet: choices, ranges, empty cells and names that stand twice."""
    import pandera.pandas as pa

    sheet = next(entry for entry in SHEETS if entry.key == sheet_key)
    columns = {
        column.key: pa.Column(
            float if column.kind in _NUMBERS else object,
            checks=_checks(column),
            nullable=not column.required,
            title=column.heading,
            description=column.help,
            metadata={"unit": column.unit},
        )
        for column in sheet.columns
        if _constrained(column)
    }
    unique = [
        pa.Check(_not_twice(column.key), name=f"twice:{column.key}", ignore_na=False)
        for column in sheet.columns
        if column.unique
    ]
    return pa.DataFrameSchema(columns, checks=unique, name=sheet.name)


def validate(books: Sequence[Book]) -> None:
    """Validate the typed rows of many books at once.

    Every failure becomes a finding of its book, and its cell counts as not readable from there on. An empty cell that
    reading already reported, and a checklist line still to be counted, are no failures.
    """
    for sheet in SHEETS:
        rows: list[tuple[Book, Table, Row]] = [
            (book, table, row)
            for book in books
            if (table := book.tables.get(sheet.key)) is not None
            for row in table.rows
        ]
        if rows:
            _validate_sheet(sheet, rows)


def _validate_sheet(sheet: Sheet, rows: list[tuple[Book, Table, Row]]) -> None:
    """Let pandera judge the rows that may fail. Most books are clean, and most rows of the others: these are let by."""
    suspects = [rows[place] for place in sorted(_may_fail(sheet, rows))]
    if not suspects:
        return
    import pandas as pd

    numbers: dict[int, int] = {}
    data: dict[str, Any] = {BOOK: [numbers.setdefault(id(book), len(numbers)) for book, _, _ in suspects]}
    for column in sheet.columns:
        if _constrained(column):
            values = [row.values.get(column.key) for _, _, row in suspects]
            data[column.key] = pd.Series(values, dtype=float if column.kind in _NUMBERS else object)
    _report(sheet, suspects, sorted(_failures(schema(sheet.key), pd.DataFrame(data)), key=itemgetter(0)))


def _failures(rules: pa.DataFrameSchema, frame: pd.DataFrame) -> Iterator[tuple[int, str, str]]:
    """Place, name of the check and column of each failure of a schema's checks.

    The checks are run one by one: to put their failures into a table of pandera's takes twenty times as long.
    """
    for check in rules.checks:
        passed = check(frame).check_output
        yield from ((place, str(check.name), "") for place in passed.index[~passed])
    for key, column in rules.columns.items():
        cells = frame[key]
        there = cells.notna()
        if not column.nullable:
            yield from ((place, "not_nullable", key) for place in cells.index[~there])
        for check in column.checks:
            passed = check(cells[there]).check_output
            yield from ((place, str(check.name), key) for place in passed.index[~passed])


def _may_fail(sheet: Sheet, rows: Sequence[tuple[Book, Table, Row]]) -> set[int]:
    """Places of the rows with a value that its column does not plainly allow, or that stands twice in a book."""
    lines = [row.values for _, _, row in rows]
    places: set[int] = set()
    for column in sheet.columns:
        if not _constrained(column):
            continue
        key = column.key
        cells = [line.get(key) for line in lines]
        wrong = {value for value in set(cells) if not _plainly_allowed(value, column)}
        if wrong:
            places.update(compress(count(), map(wrong.__contains__, cells)))
        if column.unique:
            places.update(_twice_there(cells, rows))
    return places


def _plainly_allowed(value: Any, column: Column) -> bool:
    if value is None:
        return not column.required
    if column.choices and value not in column.choices:
        return False
    if column.minimum is None and column.above is None and column.maximum is None:
        return column.kind not in _NUMBERS or isinstance(value, int | float)
    return (
        isinstance(value, int | float)
        and (column.minimum is None or value >= column.minimum)
        and (column.above is None or value > column.above)
        and (column.maximum is None or value <= column.maximum)
    )


def _twice_there(cells: Sequence[Any], rows: Sequence[tuple[Book, Table, Row]]) -> Iterator[int]:
    """Places of the values that stand in one book more than once."""
    names = [
        None if cell is None else (id(entry[0]), normalise(cell) if isinstance(cell, str) else cell)
        for cell, entry in zip(cells, rows, strict=True)
    ]
    counts = Counter(names)
    return (place for place, name in enumerate(names) if name is not None and counts[name] > 1)


def _report(sheet: Sheet, rows: Sequence[tuple[Book, Table, Row]], failures: Iterable[tuple[int, str, str]]) -> None:
    seen: set[tuple[int, str]] = set()
    for index, name, failed in failures:
        key = name.partition(":")[2] if name.startswith("twice:") else failed
        if (index, key) in seen:
            continue
        seen.add((index, key))
        book, table, row = rows[index]
        column = sheet.column(key)
        if name.startswith("twice:"):
            book.findings.append(_twice(table, row, column))
        elif name == "not_nullable":
            if column.key in row.unclear or _still_to_count(row, column):
                continue
            book.findings.append(_empty(table, row, column))
            continue
        else:
            book.findings.append(_wrong(table, row, column))
        row.unclear[key] = as_text(row.values.pop(key))


def _still_to_count(row: Row, column: Column) -> bool:
    """A checklist line that nobody has counted yet: it has the quantity asked, and nothing of what is there."""
    return (
        column.key == "quantity"
        and row.get("asked") is not None
        and not any(row.get(key) for key in ("batch", "made", "expires"))
    )


def _empty(table: Table, row: Row, column: Column) -> Finding:
    return record_finding(
        "WB04",
        "query",
        table,
        table.cell(row, column.key),
        f"{column.heading} is empty",
        f"fill it in: {column.help}"
        if table.sheet.layout == "form"
        else f"fill it in, or clear the line: {column.help}",
        row_subject(row, table),
    )


def _wrong(table: Table, row: Row, column: Column) -> Finding:
    value = row.values[column.key]
    cell = table.cell(row, column.key)
    if column.choices:
        near = column.names.nearest(as_text(value))
        hint = f"; did you mean {near!r}?" if near else ""
        choices = column.choices if len(column.choices) <= 8 else (*column.choices[:7], "...")
        message = f"{column.heading}: {as_text(value)!r} is not known{hint}"
        return record_finding(
            "WB05", "query", table, cell, message, f"choose one of: {', '.join(choices)}", row_subject(row, table)
        )
    least = f"above {column.above:,g}" if column.above is not None else None
    if column.minimum is not None:
        least = f"{column.minimum:g} or more"
    most = f"at most {column.maximum:,.0f}" if column.maximum is not None else None
    bounds = " and ".join(filter(None, (least, most)))
    unit = f" {column.unit}" if column.unit else ""
    message = f"{column.heading} is {value:g}{unit}; it must be {bounds}{unit}"
    return record_finding("WB06", "query", table, cell, message, "correct the number", row_subject(row, table))


def _twice(table: Table, row: Row, column: Column) -> Finding:
    name = as_text(row.values[column.key])[:80]
    first = next(
        other
        for other in table.rows
        if other is not row
        and normalise(as_text(other.values.get(column.key) or other.unclear.get(column.key, ""))) == normalise(name)
    )
    message = (
        f"{column.heading} {name!r} stands here a second time, first at {table.name}!{table.cell(first, column.key)}"
    )
    remedy = f"give each a {column.heading.lower()} of its own"
    return record_finding("WB07", "query", table, table.cell(row, column.key), message, remedy, row_subject(row, table))
