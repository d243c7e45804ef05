"""Finds the tables on a foreign sheet: their headings, of one row or two, the titles above and the lines below."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from functools import lru_cache

from workbook_tools.adopt.days import looks_like_date
from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.names import knows_item
from workbook_tools.adopt.places import read_craft
from workbook_tools.adopt.source import Page
from workbook_tools.adopt.words import vocabulary

# A heading is no longer than this; longer texts are notes.
_LONGEST_HEADING = 60
# Titles stand so many rows above the headings at most.
_TITLE_ROWS = 8


@dataclass
class Block:
    """A table on a sheet. Rows and columns count from 0; body is the first and the last row below the headings."""

    page: Page
    first_heading: int
    last_heading: int
    columns: list[int]
    body: tuple[int, int]
    headings: dict[int, tuple[str, str]] = field(default_factory=dict)  # column -> upper and lower heading
    titles: list[tuple[int, int, str]] = field(default_factory=list)

    def heading(self, column: int) -> str:
        """The whole heading of a column: 'Lifeboat 1 / Qty' where it has two rows."""
        return " / ".join(part for part in self.headings.get(column, ("", "")) if part)


@lru_cache(maxsize=20_000)
def known_for(text: str) -> frozenset[tuple[str, str]]:
    """The sheets and columns of ours that a text heads, what stands in its brackets apart."""
    found: set[tuple[str, str]] = set()
    for tried in (text, text.split("(", 1)[0]):
        folded = fold(tried)
        for sheet, names in vocabulary().headings.items():
            if sheet != "ship" and folded in names:
                found.add((sheet, names[folded].entry))
    return frozenset(found)


def find_blocks(page: Page) -> list[Block]:
    """The tables of a sheet, from top to bottom and left to right."""
    rows = _heading_rows(page)
    blocks: list[Block] = []
    for first, last in rows:
        for columns in _segments(page, first, last):
            blocks.append(Block(page, first, last, columns, (last + 1, last), _headings(page, first, last, columns)))
    for block in blocks:
        block.titles = _titles(page, block, blocks)
    for block in blocks:
        block.body = (block.last_heading + 1, _end(page, block, blocks))
        _take_unheaded_neighbours(block, blocks)
    return [block for block in blocks if _has_lines(block)]


def _has_lines(block: Block) -> bool:
    first, last = block.body
    return any(block.page.filled(row, column) for row in range(first, last + 1) for column in block.columns)


def _is_words(page: Page, row: int, column: int) -> bool:
    text = page.text(row, column)
    return bool(text) and len(text) <= _LONGEST_HEADING and any(letter.isalpha() or letter in "#№" for letter in text)


def _heading_rows(page: Page) -> list[tuple[int, int]]:
    found: list[tuple[int, int]] = []
    row = 0
    while row < len(page.grid):
        if _is_heading_row(page, row) or (_may_begin(page, row, found) and _is_unlike_below(page, row)):
            first, last = _with_neighbours(page, row, found[-1][1] + 1 if found else 0)
            found.append((first, last))
            row = last + 1
        else:
            row += 1
    return found


def _is_heading_row(page: Page, row: int) -> bool:
    """Whether a row names at least two columns of one of our sheets, or one and several craft."""
    cells = page.columns_filled(row)
    words = [page.text(row, column) for column in cells if _is_words(page, row, column)]
    if len(words) < 2 or len(words) < 0.75 * len(cells) or any(knows_item(word) for word in words):
        return False
    by_sheet: dict[str, set[str]] = {}
    for word in words:
        for sheet, key in known_for(word):
            by_sheet.setdefault(sheet, set()).add(key)
    most = max((len(keys) for keys in by_sheet.values()), default=0)
    crafts = sum(read_craft(word) is not None for word in words)
    kinds = any("kind" in keys for keys in by_sheet.values())
    if most >= 2 and not (crafts and most == 2 and kinds):
        return True
    return most >= 1 and crafts >= 2


def _may_begin(page: Page, row: int, found: list[tuple[int, int]]) -> bool:
    """Whether headings in words that we do not know may stand here: under a title or an empty row."""
    above = page.columns_filled(row - 1) if row else []
    return len(above) <= 1 and (not found or row > found[-1][1] + 1)


def _is_unlike_below(page: Page, row: int) -> bool:
    """Whether a row of several short words stands over lines that hold numbers or dates."""
    cells = page.columns_filled(row)
    if len(cells) < 3 or not all(_is_words(page, row, column) for column in cells):
        return False
    if any(knows_item(page.text(row, column)) or read_craft(page.text(row, column)) for column in cells):
        return False
    below = [number for number in range(row + 1, min(row + 5, len(page.grid))) if len(page.columns_filled(number)) >= 2]
    values = [page.value(number, column) for number in below for column in cells]
    figures = sum(isinstance(value, float | int) or looks_like_date(value) for value in values)
    return bool(below) and figures >= len(below)


def _with_neighbours(page: Page, row: int, floor: int) -> tuple[int, int]:
    """The heading rows about one: a second row of headings below, a row of headings over several columns above."""
    if row > floor and _spans(page, row - 1, row):
        return row - 1, row
    if row + 1 < len(page.grid) and _is_second_row(page, row):
        return row, row + 1
    return row, row


def _spans(page: Page, above: int, row: int) -> bool:
    """Whether the row above heads groups of the columns below, or columns that have no heading below."""
    cells = page.columns_filled(above)
    if len(cells) < 2 or not all(_is_words(page, above, column) for column in cells):
        return False
    here = set(page.columns_filled(row))
    wide = sum(_width(page, above, column, here) > 1 for column in cells)
    only_above = [column for column in cells if column not in here and known_for(page.text(above, column))]
    return wide >= 1 and (len(cells) >= 2 or bool(only_above)) and not _looks_like_answers(page, above, cells)


def _looks_like_answers(page: Page, row: int, cells: list[int]) -> bool:
    """Whether a row is a label and its answer ('Vessel:  Orrin Vale'), no headings."""
    names = vocabulary().headings["ship"]
    return any(fold(page.text(row, column)) in names or page.text(row, column).endswith(":") for column in cells)


def _width(page: Page, row: int, column: int, below: set[int]) -> int:
    """Over how many headings below a heading stands: by its merged range, or up to the next one."""
    area = page.merged_at(row, column)
    if area is not None:
        return len([index for index in below if area[1] <= index <= area[3]])
    following = [index for index in page.columns_filled(row) if index > column]
    end = following[0] if following else column + 2
    return len([index for index in below if column <= index < end])


def _is_second_row(page: Page, row: int) -> bool:
    cells = page.columns_filled(row + 1)
    if not cells or not all(_is_words(page, row + 1, column) for column in cells):
        return False
    texts = [page.text(row + 1, column) for column in cells]
    if any(knows_item(text) for text in texts):
        return False
    upper = set(page.columns_filled(row))
    known = sum(bool(known_for(text)) or read_craft(text) is not None for text in texts)
    under_gap = any(column not in upper for column in cells)
    return known >= 1 and known >= 0.5 * len(texts) and under_gap


def _headings(page: Page, first: int, last: int, columns: list[int]) -> dict[int, tuple[str, str]]:
    found: dict[int, tuple[str, str]] = {}
    for column in columns:
        if first == last:
            found[column] = ("", page.text(first, column))
            continue
        lower = page.text(last, column)
        found[column] = (_over(page, first, column) if lower or page.text(first, column) else "", lower)
    return found


def _over(page: Page, row: int, column: int) -> str:
    """The heading over a column in the upper row: its own, that of the merged range, or the last one to the left."""
    if page.filled(row, column):
        return page.text(row, column)
    area = page.merged_at(row, column)
    if area is not None:
        return page.text(area[0], area[1]) if area[0] == row else ""
    if any(top <= row <= bottom for top, _, bottom, _ in page.merged):
        return ""  # this book says what it merges
    left = [index for index in page.columns_filled(row) if index < column]
    return page.text(row, left[-1]) if left and not _ends_there(page, row, left[-1]) else ""


def _ends_there(page: Page, row: int, column: int) -> bool:
    """Whether an upper heading is one column's own: nothing stands below it."""
    return not page.filled(row + 1, column)


def _segments(page: Page, first: int, last: int) -> list[list[int]]:
    """The columns of the tables that stand side by side under one line of headings.

    A gap divides only where the headings begin anew behind it; else it is an empty column in one table.
    """
    cells = sorted({column for row in range(first, last + 1) for column in page.columns_filled(row)})
    groups: list[list[int]] = []
    for column in cells:
        if groups and column == groups[-1][-1] + 1:
            groups[-1].append(column)
        else:
            groups.append([column])
    merged: list[list[int]] = []
    for group in groups:
        if merged and not _begins_anew(page, last, merged[-1], group):
            merged[-1] = [*range(merged[-1][0], group[-1] + 1)]
        else:
            merged.append(group)
    return merged


def _begins_anew(page: Page, row: int, left: list[int], right: list[int]) -> bool:
    if len(right) < 2:
        return False
    here = Counter(fold(page.text(row, column)) for column in left if page.text(row, column))
    repeated = sum(fold(page.text(row, column)) in here for column in right)
    if repeated >= 2 or (repeated and repeated == len(right)):
        return True
    return bool(_names_lines(page, row, left) and _names_lines(page, row, right))


_NAMING = {("inventory", "item"), ("craft", "name"), ("fire", "kind"), ("crew", "name"), ("routine", "task")}


def _names_lines(page: Page, row: int, columns: list[int]) -> bool:
    """Whether one of the headings is that of the things or persons a table lists."""
    return any(known_for(page.text(row, column)) & _NAMING for column in columns)


def _titles(page: Page, block: Block, blocks: list[Block]) -> list[tuple[int, int, str]]:
    """Texts in the rows above a table, nearest first; below another table only those of one piece with it."""
    above = [other.last_heading for other in blocks if other.last_heading < block.first_heading]
    floor = max(above, default=-1)
    found: list[tuple[int, int, str]] = []
    for row in range(block.first_heading - 1, max(floor, block.first_heading - 1 - _TITLE_ROWS), -1):
        cells = page.columns_filled(row)
        if not cells:
            if above and found:
                break
            continue
        if len(cells) > 2 or not all(page.text(row, column) for column in cells):
            if above:
                break
            continue
        found += [(row, column, page.text(row, column)) for column in cells if _is_above(block, blocks, column)]
    return found


def _is_above(block: Block, blocks: list[Block], column: int) -> bool:
    """Whether a title stands over this table, where several stand side by side."""
    beside = [other for other in blocks if other.first_heading == block.first_heading]
    if len(beside) == 1:
        return True
    starts = sorted(other.columns[0] for other in beside)
    following = [start for start in starts if start > block.columns[0]]
    return block.columns[0] <= column and (not following or column < following[0])


def _end(page: Page, block: Block, blocks: list[Block]) -> int:
    """The last row that can belong to a table: before the titles of the next one below it, or the sheet's last."""
    below = [
        other
        for other in blocks
        if other.first_heading > block.last_heading
        and other.columns[0] <= block.columns[-1] + 1
        and other.columns[-1] >= block.columns[0] - 1
    ]
    if not below:
        return len(page.grid) - 1
    following = min(below, key=lambda other: other.first_heading)
    return min([following.first_heading, *(row for row, _, _ in following.titles)]) - 1


def _take_unheaded_neighbours(block: Block, blocks: list[Block]) -> None:
    """Take in a column beside the table that has values in most of its lines and no heading."""
    taken = {column for other in blocks if other.first_heading == block.first_heading for column in other.columns}
    first, last = block.body
    lines = [row for row in range(first, last + 1) if len(block.page.columns_filled(row)) >= 2]
    for column in (block.columns[0] - 1, block.columns[-1] + 1):
        filled = sum(block.page.filled(row, column) for row in lines) if column >= 0 else 0
        if column not in taken and lines and filled > 0.5 * len(lines):
            block.columns = sorted([*block.columns, column])
            block.headings[column] = ("", "")


def headings_of(page: Page, first: int, last: int, columns: list[int]) -> dict[int, str]:
    """The whole headings of columns whose headings stand in these rows."""
    return {
        column: " / ".join(part for part in pair if part)
        for column, pair in _headings(page, first, last, columns).items()
    }
