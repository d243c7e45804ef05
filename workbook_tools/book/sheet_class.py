"""The sheet that our books are made of: formulas as they stand, and one formula for a whole column stored once."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from xlsxwriter.utility import xl_rowcol_to_cell_fast
from xlsxwriter.worksheet import Worksheet


@dataclass(frozen=True, slots=True)
class Shared:
    """A cell of a column that shares one formula, which the first row holds in the file and those below only name."""

    formula: str
    format: Any
    value: str | float | bool


class PlainSheet(Worksheet):  # type: ignore[misc]  # the library has no types
    """XlsxWriter's sheet without its search of every formula for functions younger than Excel 2010: we use none.

    The search takes thirty regular expressions a formula: nine tenths of the time of a book of 40,000 formulas.
    """

    def _prepare_formula(self, formula: str, expand_future_functions: bool = False) -> str:
        return formula.removeprefix("=")

    def write_shared_formula(
        self, first: int, column: int, formula: str, cell_format: Any, number: int, values: Sequence[str | float | bool]
    ) -> None:
        """Write one formula down a column, as its first row has it, with the value of each row.

        It is stored once, in the form that spreadsheet programs themselves use (ISO/IEC 29500 18.3.1.40): written out
        in each of two thousand rows a formula makes a book slow to open. number: of the formula in its sheet.
        """
        last = first + len(values) - 1
        if self._check_dimensions(first, column) or self._check_dimensions(last, column):
            raise ValueError(f"{self.get_name()}: rows {first + 1} to {last + 1} do not fit on a sheet")
        ref = f"{xl_rowcol_to_cell_fast(first, column)}:{xl_rowcol_to_cell_fast(last, column)}"
        head = f'<f t="shared" ref="{ref}" si="{number}">{self._escape_data(formula)}</f>'
        below = f'<f t="shared" si="{number}"/>'
        for row, value in enumerate(values, start=first):
            self.table[row][column] = Shared(head if row == first else below, cell_format, value)

    def _write_cell(self, row: int, col: int, cell: Any) -> None:
        if type(cell) is not Shared:
            super()._write_cell(row, col, cell)
            return
        value, kind = cell.value, ""
        if isinstance(value, bool):
            value, kind = int(value), ' t="b"'
        elif isinstance(value, str) and value:
            value, kind = self._escape_data(value), ' t="str"'
        style = cell.format or next(self._formats_around(row, col), None)
        index = f' s="{style._get_xf_index()}"' if style is not None else ""
        place = xl_rowcol_to_cell_fast(row, col)
        self.fh.write(f'<c r="{place}"{index}{kind}>{cell.formula}<v>{value}</v></c>')

    def _formats_around(self, row: int, column: int) -> Iterator[Any]:
        """The formats of the row and of the column, where they have any."""
        if row in self.row_info and self.row_info[row].row_format:
            yield self.row_info[row].row_format
        elif column in self.col_info and self.col_info[column].column_format:
            yield self.col_info[column].column_format
