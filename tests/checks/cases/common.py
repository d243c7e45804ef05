"""How cases are written: a trip edits a clean book and returns where the finding must point; a look-alike edits one.

A module of this folder holds CASES (code -> trips and look-alikes) and FOLLOWS (code -> other codes that a trip brings
along, because one cause is told by two).
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from tests.workbooks import Workbook
from workbook_tools.columns import sheet

Trip = Callable[[Workbook], tuple[str, str]]
Silent = Callable[[Workbook], object]
Cases = dict[str, tuple[list[Trip], list[Silent]]]


def at(book: Workbook, key: str, line: dict[str, Any] | None, column: str) -> tuple[str, str]:
    """Sheet and cell of a line's column; line None: of the heading."""
    return sheet(key).name, book.cell(key, line, column)


def change(key: str, wanted: dict[str, Any], **values: Any) -> Trip:
    """An edit that finds a line (of the Ship form: the form) and changes it; it points at the first value changed."""

    def edit(book: Workbook) -> tuple[str, str]:
        line = book.ship if key == "ship" else book.find(key, **wanted)
        line.update(values)
        return at(book, key, line, next(iter(values)))

    return edit


def add(key: str, column: str, **values: Any) -> Trip:
    """An edit that adds a line; it points at one of its columns."""

    def edit(book: Workbook) -> tuple[str, str]:
        return at(book, key, book.add(key, **values), column)

    return edit


def lot(item: str, /, **values: Any) -> Trip:
    """An edit of the first lot of an item in Lifeboat 1."""
    return change("inventory", {"item": item, "place": "Lifeboat 1"}, **values)


def quiet(edit: Callable[[Workbook], Any]) -> Silent:
    """A look-alike from an edit that returns something."""

    def run(book: Workbook) -> None:
        edit(book)

    return run
