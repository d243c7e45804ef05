"""Handover page: what the relief must know on the day, as far as the workbook's own formulas can tell."""

from __future__ import annotations

from workbook_tools.book.printed.flow import write_flow
from workbook_tools.book.printed.helper_sheet import HelperSheet
from workbook_tools.book.printed.paper import Paper, PaperFormats, part_choice
from workbook_tools.book.printed.sections import (
    SHOWN_FIRST,
    SHOWN_SECOND,
    WIDTHS,
    attention,
    certificates,
    defects,
    followed,
    last_held,
    write_persons,
)
from workbook_tools.columns.calculated import HANDOVER

_PART_ROW, _PERSONS_ROW = 2, 3
ONLY_DAVITBOOK = (
    "Only davitbook handover can tell: all findings by priority with their paragraphs and ids, what lapses until the "
    "day of the next relief, services and their next dates, exemptions, and whether the record contradicts itself."
)
CAUTION = (
    "Pyrotechnics that have expired are kept apart until landed, not tried. Release gear and launching appliances: "
    "work only by those certified for it, by the maker's manual. Medicines: as the ship's medical guide says."
)


def write_handover(helpers: HelperSheet, formats: PaperFormats) -> None:
    """Write the page. The sources must stand on the helper sheet already."""
    paper = Paper(helpers.calc, formats, HANDOVER, WIDTHS)
    paper.head("Handover of life-saving and fire-fighting appliances")
    part = paper.choose(_PART_ROW, 4, "Part", part_choice())
    sections = [attention(), defects(), followed(), certificates(), last_held(helpers, "handover", drills_only=False)]
    write_flow(helpers, "handover", sections, SHOWN_FIRST + SHOWN_SECOND, part)
    paper.formula_across(_PART_ROW, 1, 2, "[beyond.words]&[handover_parts.words]", formats.warning)
    first = write_persons(paper, _PERSONS_ROW) + 1
    second = first + SHOWN_FIRST
    paper.flow("handover", first, SHOWN_FIRST, 4)
    paper.flow("handover", second, SHOWN_SECOND, 4, after=SHOWN_FIRST)
    row = second + SHOWN_SECOND
    paper.across(row, 0, 4, ONLY_DAVITBOOK, formats.help)
    signatures(paper, row + 2, ("Handed over by (rank):", "Taken over by (rank):"))
    paper.finish(row + 5, [second], [CAUTION])


def signatures(paper: Paper, row: int, who: tuple[str, ...]) -> None:
    """Lines to sign, each with a place for the date."""
    for offset, words in enumerate(who):
        paper.page.set_row(row + offset, 22)
        paper.write(row + offset, 1, words, paper.formats.choice_label)
        paper.page.write_blank(row + offset, 2, None, paper.formats.signature)
        paper.write(row + offset, 3, "Date:", paper.formats.choice_label)
        paper.page.write_blank(row + offset, 4, None, paper.formats.signature)
