"""Arrival page: what an inspector sees first, what to lay on the table, as far as formulas can tell."""

from __future__ import annotations

from workbook_tools.book.printed.flow_page import FlowPage, write_flow_page
from workbook_tools.book.printed.helper_sheet import HelperSheet
from workbook_tools.book.printed.paper import PaperFormats
from workbook_tools.book.printed.sections import attention, certificates, defects, exemptions, last_held, rafts
from workbook_tools.columns.calculated import ARRIVAL

PAGE = FlowPage(
    ARRIVAL,
    "arrival",
    "Arrival page: for the inspector's visit",
    "Only davitbook arrival can tell: which findings must be put right before sailing or within 14 days, the service "
    "certificates of gear other than rafts, and whether an exemption covers a finding.",
    ("Made ready by (rank):", "Seen by the master:"),
)


def write_arrival(helpers: HelperSheet, formats: PaperFormats) -> None:
    """Write the page. The sources must stand on the helper sheet already."""
    drills = last_held(helpers, PAGE.key, drills_only=True)
    sections = [attention(), defects(), certificates(), rafts(), exemptions(), drills]
    write_flow_page(helpers, formats, PAGE, sections)
