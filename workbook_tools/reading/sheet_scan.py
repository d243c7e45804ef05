"""Looks through the XML of a sheet for what calamine cannot tell, before calamine runs.

Cells so far out that reading them would exhaust the memory; cells that hold an error value; cells with a formula whose
result was never saved; cells with our functions under names that Excel does not know.

Most sheets have none of these, and one look with searches that run in C shows it. Only the others are gone through
cell by cell.
"""

import re
from dataclasses import dataclass, field

from workbook_tools.reading.address import column_index, split
from workbook_tools.reading.limits import MOST_CELLS, MOST_ROWS, UnreadableBook, refuse_far_cells

# Stands among the error values for a formula that was written by a program which does not work formulas out.
NO_RESULT = "no result"


@dataclass(slots=True)
class Scan:
    """What stands in one sheet, by row and column counted from 0."""

    errors: dict[tuple[int, int], str] = field(default_factory=dict)  # the error value, or NO_RESULT
    dotted: list[tuple[int, int]] = field(default_factory=list)  # cells with our functions as LSA.WATER_L( ... )


def scan_sheet(data: bytes, sheet: str) -> Scan:
    """Look through a sheet's XML. Raises UnreadableBook for cells too far out and addresses that are none."""
    return Scan() if _is_plain(data) else _scan_cells(data, sheet)


_PLAIN = re.compile(rb'<c r="([A-Z]{1,3}[0-9]{1,7})"')
# A cell with another address than one of a sheet so small that it is read whatever stands in it: up to GZ9999, Z99999.
_NOT_NEAR = re.compile(rb'<c(?! r="(?:[A-G]?[A-Z][0-9]{1,4}|[A-Z][0-9]{5})")')
_FAR = re.compile(rb'<c r="[A-Z]{1,3}[0-9]{%d}' % (len(str(MOST_ROWS)) + 1))
_WITH_RESULT = re.compile(rb"<f(?:>[^<]*</f>| [^>]*(?:/>|(?<!/)>[^<]*</f>))<v>[^<]")
# Signs of what needs a closer look, each with a byte of it that most sheets have not: one byte is searched for at once.
_CLOSER_LOOK = (
    *((b"e", b'"e"'), (b"'", b"'e'"), (b"!", b"<!--"), (b"!", b"<![CDATA["), (b":", b":c"), (b":", b":f")),
    *((b".", b"LSA."), (b".", b"FFA.")),
)
_TO_LETTERS = bytes.maketrans(b"0123456789", b" " * 10)
_TO_DIGITS = bytes.maketrans(bytes(range(65, 91)), b" " * 26)
_BEGIN, _END = b"<sheetData", b"</sheetData>"


def _is_plain(data: bytes) -> bool:
    """Whether every cell has an address as the programs write it, near enough, and none needs a closer look."""
    begin, end = data.find(_BEGIN), data.rfind(_END)
    if begin < 0 or end < begin or b"sheetData" in data[:begin] or b"sheetData" in data[end + len(_END) :]:
        return False
    cells = data[begin + len(_BEGIN) : end]
    if any(byte in cells and sign in cells for byte, sign in _CLOSER_LOOK):
        return False
    formulas = cells.count(b"<f") if b"f" in cells else 0
    if formulas and formulas != len(_WITH_RESULT.findall(cells)):
        return False
    return _NOT_NEAR.search(cells) is None or _are_near(cells)


def _are_near(cells: bytes) -> bool:
    if _FAR.search(cells):
        return False
    addresses = _PLAIN.findall(cells)
    if len(addresses) != cells.count(b"<c"):
        return False
    together = b" ".join(addresses)
    rows = set(together.translate(_TO_DIGITS).split())
    digits = max(map(len, rows), default=0)
    if digits > len(str(MOST_ROWS)):
        return False
    row = int(max((text for text in rows if len(text) == digits), default=b"0"))
    column = max((column_index(text.decode()) for text in set(together.translate(_TO_LETTERS).split())), default=0)
    return row <= MOST_ROWS and row * (column + 1) <= MOST_CELLS


# A cell that holds anything: one that has only a style takes no room and may be anywhere.
_FILLED = re.compile(rb"<(?:\w+:)?c(?=[\s/>])([^>]*)(?<!/)>(?!\s*</(?:\w+:)?c\s*>)")
_ROW_OR_CELL = re.compile(rb"<(?:\w+:)?(?:(row)|c)(?=[\s/>])([^>]*)>")
_ADDRESS = re.compile(rb"""(?<![\w:])r\s*=\s*(?:"([^"]*)"|'([^']*)')""")
_ERROR = re.compile(rb"""(?<![\w:])t\s*=\s*["']e["']""")
# What follows the opening tag of a cell whose formula has no result. A formula's text has no '<'.
_NO_RESULT = re.compile(
    rb"\s*<(?:\w+:)?f(?=[\s/>])[^>]*(?:/>|(?<!/)>[^<]*</(?:\w+:)?f>)\s*"
    rb"(?:<(?:\w+:)?v\s*/>|<(?:\w+:)?v>\s*</(?:\w+:)?v>)?\s*</(?:\w+:)?c>"
)
_TEXT_RESULT = re.compile(rb"""(?<![\w:])t\s*=\s*["']str["']""")
_VALUE = re.compile(rb"<(?:\w+:)?v>([^<]*)<")
# Our functions as LibreOffice before 24.8 writes them into .xlsx, which Excel does not know: LSA.WATER_L( ... )
_DOTTED = re.compile(rb"<(?:\w+:)?f[^>]*>[^<]*\b(?:LSA|FFA)\.[A-Z_]+\(")


def _scan_cells(data: bytes, sheet: str) -> Scan:
    found = Scan()
    most_row = most_column = 0
    all_addressed = True
    for match in _FILLED.finditer(data):
        written = _attribute(match[1])
        if not written:
            all_addressed = False
            continue
        row, column = _place(written, sheet)
        most_row, most_column = max(most_row, row), max(most_column, column)
        _look_at(data, match, (row, column), found)
    refuse_far_cells(sheet, most_row, most_column)
    if not all_addressed:
        _refuse_far_unaddressed(data, sheet)
    return found


def _place(written: str, sheet: str) -> tuple[int, int]:
    place = split(written)
    if place is None:
        raise UnreadableBook(f"damaged: sheet {sheet!r} has a cell addressed {written!r}; save it anew")
    return place


def _refuse_far_unaddressed(data: bytes, sheet: str) -> None:
    """Refuse cells too far out where some have no address: such a cell stands beside the one before it."""
    row, column, most_row, most_column = -1, -1, 0, 0
    for match in _ROW_OR_CELL.finditer(data):
        written = _attribute(match[2])
        if match[1]:
            row, column = _row_number(written, sheet) if written else row + 1, -1
        else:
            row, column = _place(written, sheet) if written else (max(row, 0), column + 1)
            most_row, most_column = max(most_row, row), max(most_column, column)
    refuse_far_cells(sheet, most_row, most_column)


def _look_at(data: bytes, cell: re.Match[bytes], place: tuple[int, int], found: Scan) -> None:
    if _ERROR.search(cell[1]):
        value = _VALUE.search(data, cell.end(), cell.end() + 2000)
        found.errors[place] = value[1].decode(errors="replace") if value else "#ERROR"
    elif _DOTTED.match(data, cell.end()):
        found.dotted.append(place)
    elif not _TEXT_RESULT.search(cell[1]) and _NO_RESULT.match(data, cell.end()):
        found.errors[place] = NO_RESULT  # an empty text is a result, and said to be a text


def _attribute(attributes: bytes) -> str:
    """The r attribute of a row or cell, in whichever quotes; '' when there is none."""
    match = _ADDRESS.search(attributes)
    return (match[1] or match[2] or b"").decode("ascii", "replace") if match else ""


def _row_number(text: str, sheet: str) -> int:
    if not (text.isascii() and text.isdigit()):
        raise UnreadableBook(f"damaged: sheet {sheet!r} has a row numbered {text!r}; save it anew")
    return int(text) - 1
