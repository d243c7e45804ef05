"""Findings become text and JSON. Nothing is worked out here."""

from workbook_tools.reports.json import as_json
from workbook_tools.reports.text import as_text

__all__ = ["as_json", "as_text"]
