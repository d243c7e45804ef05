"""Many books: which files to read, reading them, and going on when one of them fails."""

from workbook_tools.fleet.run import check_paths, find_books

__all__ = ["check_paths", "find_books"]
