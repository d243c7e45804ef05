"""Handover page: what the relief must know on the day, as far as the workbook's own formulas can tell."""

from __future__ import annotations

from workbook_tools.book.printed.flow_page import FlowPage, write_flow_page
from workbook_tools.book.printed.helper_sheet import HelperSheet
from workbook_tools.book.printed.paper import PaperFormats
from workbook_tools.book.printed.sections import attention, certificates, defects, followed, last_held
from workbook_tools.columns.calculated import HANDOVER

PAGE = FlowPage(
    HANDOVER,
    "handover",
    "Handover of life-saving and fire-fighting appliances",
    "Only davitbook handover can tell: all findings by priority with their paragraphs and ids, what lapses until the "
    "day of the next relief, services and their next dates, exemptions, and whether the record contradicts itself.",
    ("Handed over by (rank):", "Taken over by (rank):"),
)


def write_handover(helpers: HelperSheet, formats: PaperFormats) -> None:
    """Write the page. The sources must stand on the helper sheet already."""
    held = last_held(helpers, PAGE.key, drills_only=False)
    write_flow_page(helpers, formats, PAGE, [attention(), defects(), followed(), certificates(), held])
