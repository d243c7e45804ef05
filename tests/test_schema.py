"""What pandera is asked of the rows that may fail is what it says of all of them."""

from __future__ import annotations

from typing import Any

import pandas as pd
import pandera.errors
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.workbooks import clean
from workbook_tools import schema as module
from workbook_tools.columns import SHEETS, Column, Sheet
from workbook_tools.reading import Book, read_raw
from workbook_tools.reading.book import Row, Table
from workbook_tools.schema import BOOK, schema, validate

TABLES = [entry for entry in SHEETS if entry.layout == "table"]


def _values(column: Column) -> list[Any]:
    if column.kind in ("number", "whole", "content", "year"):
        bounds = [bound for bound in (column.minimum, column.above, column.maximum) if bound is not None]
        return [None, 1.0, *bounds, *(bound - 1 for bound in bounds), *(bound + 1 for bound in bounds)]
    return [None, *column.choices[:3], "no word of ours", "Another", "another"]


@st.composite
def _stacked(draw: st.DrawFn) -> tuple[Sheet, list[tuple[Book, Table, Row]]]:
    sheet = draw(st.sampled_from(TABLES))
    rows: list[tuple[Book, Table, Row]] = []
    for number in range(draw(st.integers(1, 3))):
        table = Table(sheet, sheet.name, {column.key: index for index, column in enumerate(sheet.columns)}, [])
        book = Book(f"{number}.xlsx", {sheet.key: table})
        for line in range(draw(st.integers(1, 4))):
            chosen = {column.key: draw(st.sampled_from(_values(column))) for column in sheet.columns}
            row = Row(line + 1, {key: value for key, value in chosen.items() if value is not None})
            table.rows.append(row)
            rows.append((book, table, row))
    return sheet, rows


def _by_pandera(sheet: Sheet, rows: list[tuple[Book, Table, Row]]) -> set[tuple[int, str]]:
    """Place and check of each failure, of all rows at once and lazily."""
    numbers: dict[int, int] = {}
    data: dict[str, Any] = {BOOK: [numbers.setdefault(id(book), len(numbers)) for book, _, _ in rows]}
    for key, column in schema(sheet.key).columns.items():
        kind = float if str(column.dtype) == "float64" else object
        data[key] = pd.Series([row.get(key) for _, _, row in rows], dtype=kind)
    try:
        schema(sheet.key).validate(pd.DataFrame(data), lazy=True)
    except pandera.errors.SchemaErrors as errors:
        failures = errors.failure_cases
        named = zip(failures["index"], failures["check"], failures["column"], strict=True)
        return {(int(place), _fault(str(check), str(key))) for place, check, key in named}
    return set()


@settings(max_examples=60, deadline=None)
@given(_stacked())
def test_what_is_let_by_is_what_passes(stacked: tuple[Sheet, list[tuple[Book, Table, Row]]]) -> None:
    sheet, rows = stacked
    asked: list[set[tuple[int, str]]] = []
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "_report", lambda _, suspects, failures: asked.append(_named(rows, suspects, failures)))
        validate([book for number, (book, _, _) in enumerate(rows) if book is not rows[number - 1][0] or number == 0])
    assert set().union(*asked) == _by_pandera(sheet, rows)


def _named(rows: list[Any], suspects: list[Any], failures: Any) -> set[tuple[int, str]]:
    places = {id(entry[2]): place for place, entry in enumerate(rows)}
    return {(places[id(suspects[place][2])], _fault(check, key)) for place, check, key in failures}


def _fault(check: str, key: str) -> str:
    """What is at fault, whichever way a check is worded: a cell that is empty, one that is wrong, a name twice."""
    return check if check.startswith("twice:") else f"{key} {'empty' if check == 'not_nullable' else 'wrong'}"


def test_pandera_is_not_loaded_for_a_clean_book(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(module, "schema", lambda _: pytest.fail("a clean book needs no schema"))
    from workbook_tools.reading import RawBook

    validate([read_raw(RawBook("test.xlsx", clean().grids()))])


def test_a_name_that_stands_twice_is_found_in_its_own_book_only() -> None:
    from workbook_tools.reading import RawBook

    books = []
    for twice in (False, True):
        book = clean()
        if twice:
            book.rows["craft"].append(dict(book.rows["craft"][0]))
        books.append(read_raw(RawBook(f"{twice}.xlsx", book.grids())))
    validate(books)
    assert [[finding.code for finding in book.findings] for book in books] == [[], ["WB07"]]
