"""What a file may be at most, and how it is refused."""

# Past these a file is refused, and says so. A ship's book has a few hundred kilobytes and a few thousand rows.
MOST_FILE_BYTES = 200_000_000
MOST_PART_BYTES = 200_000_000
MOST_INDEX_BYTES = 5_000_000  # the parts that only list sheets and files
MOST_ROWS = 200_000
MOST_CELLS = 5_000_000
MOST_CHARACTERS = 100_000_000
MOST_PARTS = 10_000
MOST_MERGED = 50_000

# Deflate packs 1,032 bytes into one at most: a part that small unpacks to less than a part may have.
MOST_RATIO = 1032


class UnreadableBook(Exception):
    """A file that cannot be audited; the text says why and what to do."""


class ReaderGaveUp(UnreadableBook):
    """A file at which the reader failed: whether by what stands in it or for want of memory cannot be told."""


def refuse_much_text(characters: int) -> None:
    """Refuse a book whose texts, each as often as it is shown, would fill the memory."""
    if characters > MOST_CHARACTERS:
        raise UnreadableBook(
            f"its texts come to {characters:,} characters, {MOST_CHARACTERS:,} at most are read: a long text stands in "
            "far too many cells; delete them and save it anew"
        )


def refuse_many_cells(cells: int) -> None:
    """Refuse a book whose sheets, each small enough, come to too many cells together."""
    if cells > MOST_CELLS:
        raise UnreadableBook(
            f"its sheets come to {cells:,} cells, {MOST_CELLS:,} at most are read: delete the stray cells far outside "
            "the tables, or the sheets that are not used"
        )


def refuse_far_cells(sheet: str, row: int, column: int) -> None:
    """Refuse a sheet whose outermost cell, counted from 0, would make the reader reserve more than it can have."""
    if row >= MOST_ROWS or (row + 1) * (column + 1) > MOST_CELLS:
        raise UnreadableBook(
            f"sheet {sheet!r} reaches to row {row + 1:,}, column {column + 1:,}: delete the stray cells "
            f"far outside the table (at most {MOST_ROWS:,} rows and {MOST_CELLS:,} cells are read)"
        )
