"""A file becomes typed rows and reading findings. Each cell is typed once, here."""

from workbook_tools.reading.book import Book, Row, Table
from workbook_tools.reading.load import Grid, RawBook, UnreadableBook, load
from workbook_tools.reading.tables import read_book, read_raw

__all__ = ["Book", "Grid", "RawBook", "Row", "Table", "UnreadableBook", "load", "read_book", "read_raw"]
