"""The Notes sheet: how to fill in, what counts, assumptions, sources and cautions."""

from __future__ import annotations

from typing import Any

from workbook_tools.book.formats import Formats, row_height, set_up_page
from workbook_tools.columns import CONTRACT
from workbook_tools.findings import CAUTION
from workbook_tools.rules.loader import lead_time_words


def write_notes(page: Any, formats: Formats, ship: str) -> None:
    """Write the sheet."""
    page.set_column(0, 0, 24)
    page.set_column(1, 1, 92)
    page.write(0, 0, "Notes", formats.title)
    for row, (label, text) in enumerate(texts(), start=3):
        page.write(row, 0, label, formats.bold)
        page.write(row, 1, text, formats.wrapped)
        page.set_row(row, row_height(text, 88))
    set_up_page(page, ship, landscape=False)


def texts() -> list[tuple[str, str]]:
    leads = lead_time_words()
    return [
        (
            "How to fill in",
            "Ship first, then Craft, then the others. Headings with a star must be filled; the rest helps.",
        ),
        ("Inventory", "One line for each lot: the same item with the same date in one place. Count what is there."),
        ("What counts", "Only what is in date and whose condition is empty, 'in use' or 'spare'."),
        ("Liferafts", "A raft is sealed: its service certificate and earliest dated content show what is inside."),
        ("Remote raft", "A raft with purpose 'remote' never counts towards the places for persons."),
        ("Month and year", "An expiry given as month and year is read as the last day of that month (an assumption)."),
        ("Lead times", f"Days before its date at which a thing is called due: {leads}."),
        ("Not recorded", "What is left empty is 'not evaluated', never a fault."),
        ("Exemptions", "A waiver counts with the authority's reference and its last day."),
        (
            "Pyrotechnics",
            "Expired flares are not for testing: keep them apart, marked 'awaiting landing', until landed.",
        ),
        (
            "Release gear",
            "Hooks, falls and releases are worked on only by those certified for them, by the maker's manual.",
        ),
        (
            "Audit",
            "davitbook check names each cell to mend, the paragraph and the remedy. It never writes to this file.",
        ),
        ("Who decides", CAUTION),
        ("This book", f"Contract {CONTRACT}; sheets may be re-ordered, columns moved, columns of your own added."),
    ]
