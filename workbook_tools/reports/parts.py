"""A report of many books in parts: what one book adds is worded at once, wherever it was audited; no report is ever
held as a whole."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from workbook_tools.findings import BookResult
from workbook_tools.reports import json, text

if TYPE_CHECKING:
    from workbook_tools.reports.text import Ranked

PARTS: dict[str, Callable[[BookResult], str]] = {
    "text": text.book_text,
    "json": json.indented_book,
    "jsonl": json.book_line,
}


def worded(result: BookResult, form: str) -> tuple[str, Ranked]:
    """A book's part of a report in one of the forms, '' for none; and its line in a list of books, for text only."""
    if not form:
        return "", ((), "")
    return PARTS[form](result), text.ranked(result) if form == "text" else ((), "")
