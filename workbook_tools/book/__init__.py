"""The workbook we write."""

from workbook_tools.book.description import Description, DescriptionError, read_description
from workbook_tools.book.template import TEMPLATE_DAY, build

__all__ = ["TEMPLATE_DAY", "Description", "DescriptionError", "build", "read_description"]
