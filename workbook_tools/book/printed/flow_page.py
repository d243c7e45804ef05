"""A page whose sections follow each other over two sheets of paper: handover and arrival are such pages."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from workbook_tools.book.printed.flow import Section, write_flow
from workbook_tools.book.printed.helper_sheet import HelperSheet
from workbook_tools.book.printed.paper import Paper, PaperFormats, part_choice
from workbook_tools.book.printed.sections import SHOWN_FIRST, SHOWN_SECOND, WIDTHS, write_persons

_PART_ROW, _PERSONS_ROW = 2, 3
CAUTION = (
    "Pyrotechnics that have expired are kept apart until landed, not tried. Release gear and launching appliances: "
    "work only by those certified for it, by the maker's manual. Medicines: as the ship's medical guide says."
)


@dataclass(frozen=True, slots=True)
class FlowPage:
    """One such page. key: of its columns on the helper sheet. beyond: what only davitbook can tell. signed: by whom."""

    sheet: str
    key: str
    title: str
    beyond: str
    signed: tuple[str, ...]


def write_flow_page(helpers: HelperSheet, formats: PaperFormats, page: FlowPage, sections: Sequence[Section]) -> None:
    """Write the page. The sources must stand on the helper sheet already."""
    paper = Paper(helpers.calc, formats, page.sheet, WIDTHS)
    paper.head(page.title)
    part = paper.choose(_PART_ROW, 4, "Part", part_choice())
    write_flow(helpers, page.key, sections, SHOWN_FIRST + SHOWN_SECOND, part)
    paper.formula_across(_PART_ROW, 1, 2, f"[beyond.words]&[{page.key}_parts.words]", formats.warning)
    first = write_persons(paper, _PERSONS_ROW) + 1
    second = first + SHOWN_FIRST
    paper.flow(page.key, first, SHOWN_FIRST, 4)
    paper.flow(page.key, second, SHOWN_SECOND, 4, after=SHOWN_FIRST)
    row = second + SHOWN_SECOND
    paper.across(row, 0, 4, page.beyond, formats.help)
    _signatures(paper, row + 2, page.signed)
    paper.finish(row + 5, [second], [CAUTION])


def _signatures(paper: Paper, row: int, who: tuple[str, ...]) -> None:
    """Lines to sign, each with a place for the date."""
    for offset, words in enumerate(who):
        paper.page.set_row(row + offset, 22)
        paper.write(row + offset, 1, words, paper.formats.choice_label)
        paper.page.write_blank(row + offset, 2, None, paper.formats.signature)
        paper.write(row + offset, 3, "Date:", paper.formats.choice_label)
        paper.page.write_blank(row + offset, 4, None, paper.formats.signature)
