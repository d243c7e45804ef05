"""Many books: which files to read, reading them, and going on when one of them fails."""

from workbook_tools.fleet.books import find_books
from workbook_tools.fleet.run import check_fleet, check_paths

__all__ = ["check_fleet", "check_paths", "find_books"]
