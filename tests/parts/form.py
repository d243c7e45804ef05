"""A line of the Record of Equipment that agrees with the rule and with what is carried."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from tests.workbooks import Workbook


def fill(book: Workbook) -> None:
    """Add the figure of the form."""
    book.add("record_of_equipment", entry="rescue boats", figure=1)
