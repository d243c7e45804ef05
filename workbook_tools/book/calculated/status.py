"""The Status sheet: one page that answers at once, for the day that stands on it."""

from __future__ import annotations

from datetime import date
from typing import Any

from workbook_tools.book.calculated.grid import input_reach, resolve
from workbook_tools.book.calculated.lots import SPARE
from workbook_tools.book.calculated.words import plural
from workbook_tools.book.calculated.writer import MOST_ROWS, CalculatedBook, Place, cell
from workbook_tools.book.formats import row_height, set_up_page
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.columns import sheet
from workbook_tools.columns.calculated import (
    LAPSES,
    LEFT_OUT,
    OPEN,
    SEE_CHECK,
    SEND_AT_ONCE,
    SEND_SOON,
    SHORT_NOW,
    STATUS,
)
from workbook_tools.core.caution import CAUTION
from workbook_tools.findings import SOON_DAYS, priority_of_due

DATE_ASKED: Place = (STATUS, 2, 1)
OTHER_DAY: Place = (STATUS, 3, 1)
VERDICT: Place = (STATUS, 5, 0)
FIRST_COUNT = 8
TOO_FAR_DOWN = "lines too far down"
WORST = 10

COUNTS = (
    ("action required", "COUNTIF([lines.grade],3)", "short, expired or outside a limit: see Required"),
    ("due", "COUNTIF([lines.grade],2)", "enough today, and too little within the warning days"),
    ("note", "COUNTIF([lines.grade],1)", "the same of craft carried as extra"),
    ("enough", 'COUNTIF([required.says],"●*")', "rules met, counted or by certificate"),
    ("not evaluated", f'COUNTIF([required.says],"{OPEN}")', "the record does not show it; that is no fault"),
    (
        "ask davitbook check",
        f'COUNTIF([required.says],"{SEE_CHECK}")',
        "a cell of the craft cannot be read by formulas",
    ),
    (
        "lines not read",
        'COUNTIF([lots.unread],">0")+[ship.craft_doubts]',
        "cells with a name, number or date that formulas cannot read",
    ),
    (
        "persons left out",
        f'COUNTIF([coverage.says],"{LEFT_OUT}")',
        "losses after which somebody has no place: see Coverage",
    ),
    ("past", 'COUNTIF([due.says],"■*")', "dates that have passed: see Due"),
    ("due soon", 'COUNTIF([due.says],"▲*")', "dates within their warning days: see Due"),
    (
        "rules answered in this book",
        "INDEX([lists.set_answered],[ship.set_number])",
        "rules of this set that the Required sheet answers",
    ),
    (
        "rules for davitbook check only",
        "INDEX([lists.set_rules],[ship.set_number])-INDEX([lists.set_answered],[ship.set_number])",
        "servicing, drills, crew, fire, fittings, ship's stock",
    ),
    (TOO_FAR_DOWN, "", "lines below the rows that the formulas read: move them up"),
    (
        "to be sent",
        f'COUNTIF([order.says],"{SHORT_NOW}")+COUNTIF([order.says],"{SEND_AT_ONCE}")+COUNTIF([order.says],"{SEND_SOON}")',
        "orders and bookings for what is short or lapses before the calls planned: see Order dates",
    ),
)

FIRST_WORST = FIRST_COUNT + len(COUNTS) + 3  # a free line, a title and the headings stand between


def _number_of(key: str) -> str:
    return cell(STATUS, FIRST_COUNT + [name for name, _, _ in COUNTS].index(key), 1)


def announce_status(calc: CalculatedBook) -> None:
    """Make the day asked known: the one cell that every formula reads it from."""
    calc.names["date asked"] = cell(*DATE_ASKED)
    calc.names["verdict"] = cell(*VERDICT)


def _beyond(calc: CalculatedBook) -> str:
    """How many lines stand below the rows that formulas read."""
    terms = []
    for key in ("craft", "inventory"):
        last = FIRST_ROW + calc.room[key] + (SPARE if key == "inventory" else 0)
        reach = input_reach(key, sheet(key).columns[0].key)
        # the number of the last row stands in the formula: a line inserted above must not move it
        terms.append(f'SUMPRODUCT((ROW({reach})>{last})*({reach}<>""))')
    return "+".join(terms)


def _verdict() -> str:
    """The worst of what the counts say stands first, with its sign; the others follow it."""
    action, due, left = _number_of("action required"), _number_of("due"), _number_of("persons left out")
    past, unread, open_ = _number_of("past"), _number_of("lines not read"), _number_of("not evaluated")
    told_action = plural(action, "rule is not met", "rules are not met")
    told_left = plural(left, "loss leaves persons without a place", "losses leave persons without a place")
    told_due = plural(due, "rule will not be met", "rules will not be met") + '&" within the warning days"'
    told_past = plural(past, "date has passed", "dates have passed") + '&" (see Due)"'
    told_open = plural(open_, "rule is not evaluated", "rules are not evaluated")
    told_unread = plural(unread, "cell cannot be read here", "cells cannot be read here")
    return (
        'IF([ship.outside]=1,"○ The chapter does not apply to this ship; the flag has rules of its own.",'
        'IF([ship.lines]=0,"○ Nothing to say yet: fill in Ship, Craft and Inventory.",'
        f'IF({action}>0,"■ ACTION REQUIRED: "&{told_action},'
        f'IF({left}>0,"■ LOOK: "&{told_left},'
        f'IF({due}>0,"▲ DUE: "&{told_due},'
        f'IF({past}>0,"▲ LOOK: "&{told_past},'
        '"● Nothing short in what this book can see"))))'
        f'&IF(AND({left}>0,{action}>0),"; "&{told_left},"")'
        f'&IF(AND({due}>0,{action}+{left}>0),"; "&{told_due},"")'
        f'&IF(AND({past}>0,{action}+{left}+{due}>0),"; "&{told_past},"")'
        f'&IF({open_}>0,"; "&{told_open},"")'
        f'&IF({unread}>0,"; "&{told_unread},"")&"."))'
    )


def write_status(calc: CalculatedBook, page: Any) -> None:
    """Write the sheet."""
    formats = calc.formats
    page.set_column(0, 0, 30)
    page.set_column(1, 1, 30)
    page.set_column(2, 2, 22)
    page.set_column(3, 3, 60)
    page.set_column(4, 4, 24)
    page.write(0, 0, "Status", formats.title)
    page.write(1, 0, "What this book shows for the day asked. Sheets to fill in follow to the right.", formats.help)
    _days(calc, page)
    _facts(calc, page)
    page.merge_range(VERDICT[1], 0, VERDICT[1], 4, "", formats.verdict)
    calc.formula(page, VERDICT[1], 0, resolve(calc, _verdict()), formats.verdict)
    page.set_row(VERDICT[1], 40)  # two lines
    page.write(FIRST_COUNT - 1, 0, "Count", formats.optional)
    page.write(FIRST_COUNT - 1, 1, "Number", formats.optional)
    page.merge_range(FIRST_COUNT - 1, 2, FIRST_COUNT - 1, 4, "What is counted", formats.optional)
    for row, (name, formula, words) in enumerate(COUNTS, start=FIRST_COUNT):
        page.write(row, 0, name, formats.label)
        own = _beyond(calc) if name == TOO_FAR_DOWN else formula
        calc.formula(page, row, 1, resolve(calc, own), formats.value_count)
        page.merge_range(row, 2, row, 4, words, formats.help)
    _worst(calc, page)
    _foot(calc, page)
    set_up_page(page, calc.ship, landscape=True)
    page.fit_to_pages(1, 1)
    calc.protect(page)


def _days(calc: CalculatedBook, page: Any) -> None:
    formats, other = calc.formats, cell(*OTHER_DAY)
    page.write(DATE_ASKED[1], 0, "Day asked", formats.label_filled)
    calc.formula(page, DATE_ASKED[1], 1, f"IF(ISNUMBER({other}),INT({other}),TODAY())", formats.value_date)
    page.write(OTHER_DAY[1], 0, "Ask for another day", formats.label)
    page.write_blank(OTHER_DAY[1], 1, None, formats.open_date)
    page.data_validation(
        OTHER_DAY[1],
        1,
        OTHER_DAY[1],
        1,
        {
            "validate": "date",
            "criteria": "between",
            "minimum": date(1998, 7, 1),
            "maximum": date(2100, 12, 31),
            "input_title": "Another day",
            "input_message": "Empty: today. A day typed here, such as 2027-03-31, is asked for in every sheet.",
            "error_title": "Not a day",
            "error_message": "Type a day as 2027-03-31, or leave the cell empty for today.",
        },
    )


def _facts(calc: CalculatedBook, page: Any) -> None:
    """Ship, record date and rule set, to the right of the days."""
    formats = calc.formats
    lines = (
        (2, "Ship", '{ship.name}&IF({ship.imo_number}="",""," · IMO "&{ship.imo_number})', formats.value),
        (
            3,
            "Rules",
            'INDEX([lists.set_title],[ship.set_number])&", compared on "&INDEX([lists.set_edition],[ship.set_number])',
            formats.value,
        ),
        (4, "Record date", 'IF({ship.record_date}="","not recorded",{ship.record_date})', formats.value_date),
    )
    for row, label, formula, cell_format in lines:
        page.write(row, 2, label, formats.label)
        calc.formula(page, row, 3, resolve(calc, formula), cell_format)
    page.write(4, 0, "Shown as worked out for the day asked.", formats.help)


def _worst(calc: CalculatedBook, page: Any) -> None:
    formats, head = calc.formats, FIRST_WORST - 1
    page.write(head - 1, 0, f"The worst {WORST}, and what to do next", formats.heading)
    for column, text in enumerate(("Craft", "Item", "Says", "What to do", "Paragraph")):
        page.write(head, column, text, formats.optional)
    for row in range(FIRST_WORST, FIRST_WORST + WORST):
        place = row - FIRST_WORST + 1
        line = f"MOD(SMALL([lines.rank],{place}),{MOST_ROWS})"
        blank = f'IF(COUNT([lines.rank])<{place},"",'
        rule = f"INDEX([lines.rule],{line})"
        words = f"INDEX([lines.words],{line})"
        left = f"N(INDEX([lines.lapses],{line}))-[ship.asked]"
        # what lapses is due by its day, as in the audit; what is not met, by its rule
        due = (
            f'IF(AND({left}>=0,{left}<={SOON_DAYS}),"{priority_of_due(SOON_DAYS)}","{priority_of_due(SOON_DAYS + 1)}")'
        )
        priority = f'IF(INDEX([lists.words_says],{words})="{LAPSES}",{due},INDEX([rules.priority],{rule}))'
        for column, formula in enumerate(
            (
                f"INDEX([craft.shown],INDEX([lines.craft],{line}))",
                f"INDEX([rules.name],{rule})",
                f"INDEX([lists.words_says],{words})",
                f'{priority}&": "&INDEX([lists.words_remedy],{words})',
                f"INDEX([rules.reference],{rule})",
            )
        ):
            calc.formula(page, row, column, resolve(calc, f"{blank}{formula})"), formats.boxed_wrapped)
        page.set_row(row, 31)
    calc.colour(page, 2, WORST, FIRST_WORST)


def _foot(calc: CalculatedBook, page: Any) -> None:
    row = FIRST_WORST + WORST + 1
    formats = calc.formats
    first = (
        'IF(COUNT([due.day])=0,"No date is recorded yet.",INDEX([due.thing],[first coming])&", "'
        '&INDEX([due.where],[first coming])&", in "&INDEX([due.left],[first coming])&" days.")'
    )
    coming = 'IF(COUNTIF([due.left],"<0")>=COUNT([due.day]),COUNT([due.day]),COUNTIF([due.left],"<0")+1)'
    page.write(row, 0, "Next date to come", formats.label)
    page.merge_range(row, 1, row, 4, "", formats.value)
    calc.formula(page, row, 1, resolve(calc, first.replace("[first coming]", coming)), formats.value)
    page.merge_range(row + 2, 0, row + 2, 4, CAUTION, formats.help_wrapped)
    page.set_row(row + 2, row_height(CAUTION, 140))
