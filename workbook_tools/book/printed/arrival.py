"""Arrival page: what an inspector sees first, what to lay on the table, as far as formulas can tell."""

from __future__ import annotations

from workbook_tools.book.printed.flow import write_flow
from workbook_tools.book.printed.handover import CAUTION, signatures
from workbook_tools.book.printed.helper_sheet import HelperSheet
from workbook_tools.book.printed.paper import Paper, PaperFormats, part_choice
from workbook_tools.book.printed.sections import (
    SHOWN_FIRST,
    SHOWN_SECOND,
    WIDTHS,
    attention,
    certificates,
    defects,
    exemptions,
    last_held,
    rafts,
    write_persons,
)
from workbook_tools.columns.calculated import ARRIVAL

_PART_ROW, _PERSONS_ROW = 2, 3
ONLY_DAVITBOOK = (
    "Only davitbook arrival can tell: which findings must be put right before sailing or within 14 days, the service "
    "certificates of gear other than rafts, and whether an exemption covers a finding."
)


def write_arrival(helpers: HelperSheet, formats: PaperFormats) -> None:
    """Write the page. The sources must stand on the helper sheet already."""
    paper = Paper(helpers.calc, formats, ARRIVAL, WIDTHS)
    paper.head("Arrival page: for the inspector's visit")
    part = paper.choose(_PART_ROW, 4, "Part", part_choice())
    sections = [
        *(attention(), defects(), certificates(), rafts(), exemptions()),
        last_held(helpers, "arrival", drills_only=True),
    ]
    write_flow(helpers, "arrival", sections, SHOWN_FIRST + SHOWN_SECOND, part)
    paper.formula_across(_PART_ROW, 1, 2, "[beyond.words]&[arrival_parts.words]", formats.warning)
    first = write_persons(paper, _PERSONS_ROW) + 1
    second = first + SHOWN_FIRST
    paper.flow("arrival", first, SHOWN_FIRST, 4)
    paper.flow("arrival", second, SHOWN_SECOND, 4, after=SHOWN_FIRST)
    row = second + SHOWN_SECOND
    paper.across(row, 0, 4, ONLY_DAVITBOOK, formats.help)
    signatures(paper, row + 2, ("Made ready by (rank):", "Seen by the master:"))
    paper.finish(row + 5, [second], [CAUTION])
