"""Looks through an .ods file before calamine opens it: error values, and cells too far out."""

import io
import zipfile
from collections.abc import Collection
from xml.etree import ElementTree

from workbook_tools.reading.limits import refuse_far_cells, refuse_many_cells, refuse_much_text
from workbook_tools.reading.zipped import unpacked

_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
_CALC = "{urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0}"
_TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"


def scan_opendocument(archive: zipfile.ZipFile, skip: Collection[str] = ()) -> dict[str, dict[tuple[int, int], str]]:
    """Error values by sheet and cell. Raises UnreadableBook for cells too far out. Empty ones are stored as repeats."""
    found: dict[str, dict[tuple[int, int], str]] = {}
    data = unpacked(archive, "content.xml")
    sheet, row, column, most = "", 0, 0, (-1, -1)
    cells = characters = in_row = 0
    for event, element in ElementTree.iterparse(io.BytesIO(data), events=("start", "end")):
        tag = element.tag
        if event == "start":
            if tag == f"{_TABLE}table":
                sheet, row, most = element.get(f"{_TABLE}name", ""), 0, (-1, -1)
            elif tag == f"{_TABLE}table-row":
                column = in_row = 0
            continue
        if tag in (f"{_TABLE}table-cell", f"{_TABLE}covered-table-cell"):
            repeated = int(element.get(f"{_TABLE}number-columns-repeated", "1"))
            if element.get(f"{_OFFICE}value-type") is not None:
                most = (max(most[0], row), max(most[1], column + repeated - 1))
                in_row += repeated * _length(element)
            if element.get(f"{_CALC}value-type") == "error":
                found.setdefault(sheet, {})[row, column] = element.findtext(f"{_TEXT}p") or "#ERROR"
            column += repeated
        elif tag == f"{_TABLE}table-row":
            repeated = int(element.get(f"{_TABLE}number-rows-repeated", "1"))
            if most[0] == row:  # this row holds something, and is stored once for several
                most = (row + repeated - 1, most[1])
            row += repeated
            characters += repeated * in_row
            refuse_much_text(characters)
            element.clear()
        elif tag == f"{_TABLE}table":
            refuse_far_cells(sheet, *most)
            cells += (most[0] + 1) * (most[1] + 1)
            refuse_many_cells(cells)
    return {sheet: errors for sheet, errors in found.items() if sheet not in skip}


def _length(cell: ElementTree.Element) -> int:
    """Characters that a cell shows at most; a run of spaces is stored as their number."""
    texts = sum(len(part.text or "") + len(part.tail or "") for part in cell.iter())
    return texts + sum(int(spaces.get(f"{_TEXT}c", "1")) for spaces in cell.iter(f"{_TEXT}s"))
