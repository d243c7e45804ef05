"""Tells the lines of a table from what else stands below its headings: words for nothing, totals, notes."""

import re
from collections.abc import Sequence
from typing import Any

from workbook_tools import catalogue
from workbook_tools.columns import Column, Sheet
from workbook_tools.reading.cells import as_text, is_nil
from workbook_tools.reading.headings import heading

# The filled cells of a line under known headings: column, cell and the error value that it shows.
Filled = list[tuple[Column, Any, str | None]]

_TOTAL = re.compile(
    r"(?:(?:grand|sub)?[\s-]*totals?\b(?!\s+(?:flooding|enclos)).*|sum\s*(?:[:=].*|of\b.*)?)", re.IGNORECASE
)


# First words, normalised, of all words for nothing that begin with a letter; how the first word of a total begins.
NIL_BEGINNINGS = frozenset({"nil", "none", "n", "na", "not", "nothing", "no"})
TOTAL_BEGINNINGS = ("total", "grand", "sub", "sum")


def is_blank(cell: Any) -> bool:
    """Whether a cell holds nothing but spaces."""
    return cell is None or (isinstance(cell, str) and not cell.strip())


def is_no_line(sheet: Sheet, cells: Sequence[Any], filled: Filled) -> bool:
    """Whether a line says nothing of its own: empty, the headings again, only words for nothing, or a total.

    cells are those of the whole line, filled the ones of them under known headings.
    """
    if not filled or all(error is None and is_nil(cell) for _, cell, error in filled):
        return True
    if len(filled) >= 2 and all(heading(cell, sheet) is column for column, cell, _ in filled):
        return True  # the headings printed again; but 'rating' and 'PSCRB' among others is a person
    return _is_total(next((cell for cell in cells if not is_blank(cell)), None), filled[0])


def looks_like_total(text: str) -> bool:
    """Whether a text reads like the heading of a total."""
    return len(text) <= 200 and _TOTAL.fullmatch(text.strip()) is not None


def _is_total(first: Any, known: tuple[Column, Any, str | None]) -> bool:
    if not isinstance(first, str) or not looks_like_total(first):
        return False
    column, cell, _ = known
    return not (cell == first and _is_known(column, first))  # 'total number of persons' is a line of Form E


def _is_known(column: Column, text: str) -> bool:
    """Whether a text is a word that the column knows, or a craft's name such as 'Lifeboat 3'."""
    if column.choices:
        return column.names.find(text) is not None
    if column.kind == "item":
        return catalogue.item_names().find(text) is not None
    return catalogue.craft_kind_names().find(re.sub(r"\W*(no\W*)?\d+\W*", "", text, flags=re.IGNORECASE)) is not None


def without_notes(sheet: Sheet, lines: list[tuple[int, Filled]]) -> list[tuple[int, Filled]]:
    """The numbered lines of a table without the notes under it: words in a single cell, after the last full line.

    Where no column must be filled, a person may be a single word: there a note stands apart, below an empty row.
    """
    required = {column.key for column in sheet.columns if column.required}
    last = -1
    for place, (_, filled) in enumerate(lines):
        if len(filled) >= 2 or (required and required <= {column.key for column, _, _ in filled}):
            last = place
    if last < 0:
        return lines
    kept, apart, before = lines[: last + 1], bool(required), lines[last][0]
    for number, filled in lines[last + 1 :]:
        column, cell, error = filled[0]
        apart, before = apart or number > before + 1, number
        words = error is None and isinstance(cell, str) and column.kind in ("text", "item")
        if not (words and apart) or _is_known(column, as_text(cell)[:200]):
            kept.append((number, filled))
    return kept
