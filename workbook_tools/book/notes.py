"""The Notes sheet: how to fill in, what counts, assumptions, sources and cautions."""

from __future__ import annotations

from collections import Counter
from typing import Any

from workbook_tools import __version__
from workbook_tools.book.formats import Formats, row_height, set_up_page
from workbook_tools.checks.cautions import CO2_CAUTION, PYROTECHNIC_CAUTION, RELEASE_CAUTION
from workbook_tools.columns import CONTRACT
from workbook_tools.columns.calculated import CHARTS, COVERAGE, DUE, ORDERS, REQUIRED, RULES, STATUS
from workbook_tools.core.caution import CAUTION
from workbook_tools.rules.loader import RuleSet, load_rule_set, rule_set_names, warning_days_words
from workbook_tools.rules.model import STATUSES

_LABEL_WIDTH, _TEXT_WIDTH = 22, 92
Note = tuple[str, str]

# What a status of a rule row says, for somebody who does not know our words.
_STATUS_WORDS = {
    "confirmed": "read in the rule's text",
    "secondary": "read on a page that restates it",
    "memory": "from memory",
    "derived": "worked out or chosen by us",
}


def write_notes(page: Any, formats: Formats, ship: str) -> None:
    """Write the sheet."""
    page.set_column(0, 0, _LABEL_WIDTH)
    page.set_column(1, 1, _TEXT_WIDTH)
    page.write(0, 0, "Notes", formats.title)
    page.write(1, 0, CAUTION, formats.help)
    first = 3
    for heading, notes in sections():
        page.write(first, 0, heading, formats.section)
        page.write_blank(first, 1, None, formats.section)
        for row, (label, text) in enumerate(notes, start=first + 1):
            page.write(row, 0, label, formats.bold)
            page.write(row, 1, text, formats.wrapped)
            page.set_row(row, row_height(text, _TEXT_WIDTH + 8))
        first += len(notes) + 2
    page.freeze_panes(1, 0)
    page.repeat_rows(0)
    set_up_page(page, ship, landscape=False)


def sections() -> list[tuple[str, list[Note]]]:
    """Each heading with its notes."""
    return [
        ("How to fill in", _filling_in()),
        ("What the sheets show", _shown()),
        ("What counts", _counted()),
        ("What is assumed", _assumed()),
        ("Where the rules stand", [(_set_name(entry), _source(entry)) for entry in _rule_sets()]),
        ("Cautions", _cautions()),
        (
            "This book",
            [
                ("Made by", f"davitbook {__version__}, contract {CONTRACT}. Every later davitbook reads it."),
                (
                    "Your own layout",
                    "Sheets may be put in another order, columns moved, columns of your own added behind the last one. "
                    "The calculated sheets find the columns where this book has them: move them only for "
                    "davitbook check, which reads the headings.",
                ),
            ],
        ),
    ]


def _filling_in() -> list[Note]:
    return [
        ("Order", "Ship first, then Craft, then the others. A heading with a star must be filled; the rest helps."),
        ("Help", "Click a cell: its help appears beside it. Where a small arrow appears, choose from the list."),
        ("Dates", "Type 2026-11-25, or use your computer's own short form. It must turn into a date, not stay a text."),
        (
            "Inventory",
            "One line for each lot: the same item with the same date in one place. Count what is there, and write the "
            "number under Quantity. What is missing altogether has no line, or a line with an empty quantity.",
        ),
        (
            "More lines",
            "Write, paste, sort, filter and insert lines as you like: the input sheets are not protected. Each is a "
            "table with room below its last line; in Excel it grows when you write under its end.",
        ),
        ("Craft names", "Give each craft a name of its own, and use exactly that name on the other sheets."),
    ]


def _shown() -> list[Note]:
    return [
        (
            "Signs",
            "■ past, twice or wrong: act. ▲ soon, or still to be filled in. ? not understood: look at it. "
            "× not counted, and struck through. √ closed. A striped frame is a starred cell that is empty.",
        ),
        (
            "Calculated sheets",
            f"{STATUS}, {REQUIRED}, {COVERAGE}, {DUE}, {ORDERS}, {CHARTS}, {RULES} and "
            "the pages to print work themselves out. They are protected, without a password, so that nobody types "
            "over them by accident.",
        ),
        (
            "Day asked",
            f"Everything is worked out for the day that stands on {STATUS}: today, unless you write another day there.",
        ),
        (
            "Audit",
            "davitbook check weighs more than this book can by itself, and names each cell to mend, the paragraph and "
            "the remedy. It never writes to this file.",
        ),
    ]


def _counted() -> list[Note]:
    return [
        ("In date", "Only what is in date on the day asked. The day marked on a lot is its last good day."),
        ("Condition", "Only what is 'in use' or 'spare'; an empty condition means in use."),
        ("Not recorded", "What is left empty is 'not evaluated', never a fault."),
        (
            "Persons",
            "Quantities for each person follow the number the craft is permitted to carry, not those on board.",
        ),
        ("Liferafts", "A raft is sealed: its service certificate and earliest dated content show what is inside."),
        ("Remote raft", "A raft with purpose 'remote' never counts towards the places for persons."),
        ("Exemptions", "A waiver counts with the authority's reference and its last day."),
    ]


def _assumed() -> list[Note]:
    return [
        ("Month and year", "An expiry given as month and year is read as the last day of that month."),
        ("Warning days", f"Days before its date at which a thing is called due: {warning_days_words()}. Our choice."),
        ("Rounding", "Where a percentage of persons gives no whole number, it is rounded up. Our choice."),
        ("Doubtful dates", "A date such as 12/03/2027 that stays a text is never guessed."),
    ]


def _rule_sets() -> list[RuleSet]:
    return [load_rule_set(name) for name in rule_set_names()]


def _set_name(rule_set: RuleSet) -> str:
    return f"Rule set '{rule_set.key}'"


def _source(rule_set: RuleSet) -> str:
    counted = Counter(rule.status for rule in rule_set.rules)
    sure = ", ".join(f"{counted[status]} {_STATUS_WORDS[status]}" for status in STATUSES if counted[status])
    return (
        f"{rule_set.name}, edition {rule_set.edition}; last compared on {compared_on(rule_set)}. Of its "
        f"{len(rule_set.rules)} rows: {sure}. The paragraph stands beside each row on the {RULES} sheet."
    )


def compared_on(rule_set: RuleSet) -> str:
    """The latest day on which a row of the set was compared with its source."""
    return max(rule.compared_on for rule in rule_set.rules).isoformat()


def rule_edition() -> str:
    """The rule sets with their editions, for the document's properties."""
    return "; ".join(f"{entry.key} {entry.edition}, compared {compared_on(entry)}" for entry in _rule_sets())


def _cautions() -> list[Note]:
    return [
        ("Who decides", CAUTION),
        ("Pyrotechnics", f"{PYROTECHNIC_CAUTION} Mark them 'awaiting landing'."),
        ("Release gear", RELEASE_CAUTION),
        ("CO2", CO2_CAUTION),
        (
            "Launching",
            "Nobody is in a boat that hangs on its falls for maintenance without the hanging-off gear; drills follow "
            "the master's orders.",
        ),
        (
            "Medicines",
            "Given as the ship's medical guide and radio medical advice say; only dates and numbers are judged here.",
        ),
    ]
