"""Two returns of one ship that follow each other: their matched lines, and what could not be compared."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property

from workbook_tools.checks.followup import name_remover
from workbook_tools.columns import SHEETS
from workbook_tools.compare.matching import Matched, columns_of_one, match
from workbook_tools.findings import Finding
from workbook_tools.reading import Book, Row, Table
from workbook_tools.reading.tables import row_subject


@dataclass
class Step:
    """The way from one return to the next. left_out: what was not compared and why, with how often."""

    old: Book
    new: Book
    left_out: Counter[str] = field(default_factory=Counter)

    @cached_property
    def matched(self) -> dict[str, Matched]:
        """The matched lines of every sheet that both returns keep."""
        return {key: match(*tables) for key, tables in self.tables.items()}

    @cached_property
    def tables(self) -> dict[str, tuple[Table, Table]]:
        """The sheets that both returns keep, older and newer."""
        return {
            sheet.key: (self.old.tables[sheet.key], self.new.tables[sheet.key])
            for sheet in SHEETS
            if sheet.key in self.old.tables and sheet.key in self.new.tables
        }

    @cached_property
    def nameless(self) -> Callable[[str], str]:
        """A function that puts crew number or rank in the place of each full name that either return knows."""
        old, new = name_remover(self.old), name_remover(self.new)
        return lambda text: old(new(text))  # the newer crew numbers are those that the reader knows

    def keeps(self, sheet: str, column: str) -> bool:
        """Whether both returns keep a column."""
        tables = self.tables.get(sheet)
        return tables is not None and all(column in (table.columns or table.form_cells) for table in tables)

    def where(self, sheet: str, row: Row, column: str) -> str:
        """A cell of the newer return as printed: Inventory!D12."""
        table = self.new.tables[sheet]
        return f"{table.name}!{table.cell(row, column)}"

    def where_before(self, sheet: str, row: Row, column: str) -> str:
        """A cell of the older return as printed."""
        table = self.old.tables[sheet]
        return f"{table.name}!{table.cell(row, column)}"

    def subject(self, sheet: str, row: Row) -> str:
        """What a line of the newer return is about, without a person's name."""
        return self.nameless(row_subject(row, self.new.tables[sheet]))

    def query(
        self, code: str, sheet: str, row: Row | None, column: str, message: str, remedy: str, grade: str = "query"
    ) -> Finding:
        """Make a finding at a cell of the newer return; a note where grade says so."""
        table = self.new.tables[sheet]
        return Finding(
            code=code,
            rule=f"compare.{code.lower()}",
            grade=grade,
            priority="plan" if grade == "note" else "at next port",
            sheet=table.name,
            cell=table.cell(row, column),
            subject=self.subject(sheet, row) if row is not None else table.name,
            message=self.nameless(message),
            remedy=remedy,
        )

    def count_left_out(self) -> None:
        """Count the sheets and columns that only one of the two returns keeps."""
        for sheet in SHEETS:
            if (sheet.key in self.old.tables) != (sheet.key in self.new.tables):
                which = "newer" if sheet.key in self.new.tables else "older"
                self.left_out[f"sheet {sheet.name}: only the {which} return keeps it"] += 1
        for old, new in self.tables.values():
            for column in columns_of_one(old, new):
                which = "newer" if column in (new.columns or new.form_cells) else "older"
                heading = f"{old.sheet.name}, {old.sheet.column(column).heading}"
                self.left_out[f"column {heading}: only the {which} return keeps it"] += 1
