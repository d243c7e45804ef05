"""Reads the cells of one sheet's XML with what no other reader tells: whether a cell holds a formula.

Only the sheets that a workbook calculates itself are read so, and of these only the lines that show something.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache

from workbook_tools.reading.address import column_index

Value = str | float | None


@dataclass(frozen=True, slots=True)
class Cell:
    """What a cell shows ('' for an empty text, None for nothing at all), and whether by a formula."""

    value: Value
    formula: bool


EMPTY = Cell(None, False)
Line = dict[int, Cell]  # cells of a row by column counted from 0

_ROW = re.compile(rb"<row\b([^>]*)(?<!/)>(.*?)</row>", re.DOTALL)
_CELL = re.compile(rb"<c\b([^>]*?)(?:/>|>(.*?)</c>)", re.DOTALL)
# A cell as the spreadsheet programs write it: letters, type, formula, value.
_USUAL = re.compile(
    rb'<c r="([A-Z]{1,3})\d+"(?: s="\d+")?(?: t="(\w+)")?'
    rb"(?:/>|>(<f(?:[^>]*/>|[^>]*>[^<]*</f>))?(?:<v>([^<]*)</v>)?</c>)"
)
_NUMBER = re.compile(rb"""(?<![\w:])r\s*=\s*["'](\d+)["']""")
_ADDRESS = re.compile(rb"""(?<![\w:])r\s*=\s*["']([A-Z]{1,3})\d+["']""")
_TYPE = re.compile(rb"""(?<![\w:])t\s*=\s*["'](\w+)["']""")
_FORMULA = re.compile(rb"<f[\s/>]")
_VALUE = re.compile(rb"<v(?:\s[^>]*)?>([^<]*)</v>")
_TEXT = re.compile(rb"<t(?:\s[^>]*)?>([^<]*)</t>")
_PREFIX = re.compile(rb"<(\w+):worksheet\b")
_STRING = re.compile(rb"<\w+:si(?=[\s/>])")


@cache
def _index(letters: bytes) -> int:
    return column_index(letters.decode())


class UnusualXml(Exception):
    """A sheet is stored in a form that no spreadsheet program writes."""


def text_of(data: bytes) -> str:
    """A piece of XML text as it is meant."""
    return html.unescape(data.decode("utf-8", "replace"))


class SharedTexts:
    """The texts that the cells of a workbook share; a text is looked at only when a cell needs it."""

    def __init__(self, data: bytes) -> None:
        pieces = data.split(b"<si") if b"<si" in data else _STRING.split(data)
        self._pieces: Sequence[bytes] = pieces[1:]

    def __getitem__(self, number: int) -> str:
        """The text of this number; '' where there is none."""
        if not 0 <= number < len(self._pieces):
            return ""
        piece = re.sub(rb"<(/?)\w+:", rb"<\1", self._pieces[number])
        return "".join(text_of(part) for part in _TEXT.findall(piece))


class SheetXml:
    """One sheet's rows, one after another. Raises UnusualXml for what is stored in an unusual form."""

    def __init__(self, data: bytes, texts: SharedTexts) -> None:
        if b"!" in data and b"<!" in data:  # a comment, or text set apart; one byte is looked for in no time
            raise UnusualXml("the sheet is stored in a form that no spreadsheet program writes")
        if prefix := _PREFIX.search(data[:2000]):
            data = re.sub(rb"<(/?)%s:" % prefix[1], rb"<\1", data)
        self._data, self._texts = data, texts

    def rows(self, first: int = 0) -> Iterator[tuple[int, Line, int]]:
        """Rows from one on: number counted from 0, cells, and where in the XML the row ends."""
        number = -1
        for match in _ROW.finditer(self._data):
            written = _NUMBER.search(match[1])
            number = int(written[1]) - 1 if written else number + 1
            if number >= first:
                yield number, self._line(match[2]), match.end()

    def all_formulas_after(self, place: int) -> bool:
        """Whether every cell from a place in the XML on holds a formula, by one look at the whole rest."""
        data = self._data
        end = data.find(b"</sheetData>", place)
        return data.count(b"<c ", place, end) == data.count(b"<f", place, end)

    def _line(self, row: bytes) -> Line:
        usual = _USUAL.findall(row)
        if len(usual) == row.count(b"<c"):
            return {
                _index(letters): Cell(self._value(kind or b"n", value, b""), formula != b"")
                if formula or value
                else EMPTY
                for letters, kind, formula, value in usual
            }
        line: Line = {}
        column = -1
        for match in _CELL.finditer(row):
            address = _ADDRESS.search(match[1])
            column = _index(address[1]) if address else column + 1
            line[column] = self._cell(match[1], match[2] or b"")
        return line

    def _cell(self, attributes: bytes, inside: bytes) -> Cell:
        if not inside:
            return EMPTY
        formula, kind = _FORMULA.search(inside) is not None, _TYPE.search(attributes)
        written = _VALUE.search(inside)
        return Cell(self._value(kind[1] if kind else b"n", written[1] if written else None, inside), formula)

    def _value(self, kind: bytes, written: bytes | None, inside: bytes) -> Value:
        if kind == b"inlineStr":
            return "".join(text_of(part) for part in _TEXT.findall(inside))
        if written is None:
            return None
        if kind == b"s":
            return self._texts[int(written)] if written.isdigit() else ""
        if kind == b"b":
            return "TRUE" if written.strip() == b"1" else "FALSE"
        if kind != b"n" or not written:
            return text_of(written)
        try:
            return float(written)
        except ValueError:
            return text_of(written)
