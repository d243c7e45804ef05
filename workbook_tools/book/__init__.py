"""The workbook we write."""

from workbook_tools.book.description import Description, DescriptionError, read_description
from workbook_tools.book.template import build

__all__ = ["Description", "DescriptionError", "build", "read_description"]
