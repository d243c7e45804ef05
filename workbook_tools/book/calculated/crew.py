"""Hidden: which lines of the Crew sheet are of persons who have joined by the day asked."""

from __future__ import annotations

from typing import Any

from workbook_tools.book.calculated.grid import Figured, write_grid
from workbook_tools.book.calculated.writer import CalculatedBook
from workbook_tools.book.layout import FIRST_ROW

COLUMNS = (
    Figured(
        "listed",
        "listed",
        'IF(AND({crew.number}="",{crew.rank}="",{crew.name}=""),0,'
        "IF(ISNUMBER({crew.joined}),N({crew.joined}<=[ship.asked]),1))",
    ),
)


def write_crew(calc: CalculatedBook, page: Any) -> None:
    """Write the sheet."""
    write_grid(calc, page, "crew", COLUMNS, FIRST_ROW, calc.room["crew"], heading_row=FIRST_ROW - 1)
    page.protect("")
