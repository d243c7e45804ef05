"""Everything with a date: gathered on a hidden sheet, and shown by the Due sheet, the first to come first."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from workbook_tools.book.calculated.grid import Figured, input_column, resolve, write_grid
from workbook_tools.book.calculated.lists import escaped, folded
from workbook_tools.book.calculated.lots import NEVER, SPARE
from workbook_tools.book.calculated.writer import MOST_ROWS, CalculatedBook, block
from workbook_tools.book.formats import set_up_page
from workbook_tools.book.layout import FIRST_ROW, HEADING_ROW
from workbook_tools.columns import sheet
from workbook_tools.columns.calculated import DATES, DUE, DUE_SOON, IN_DATE, PAST
from workbook_tools.columns.suppliers import offer_number
from workbook_tools.core.caution import CAUTION
from workbook_tools.reading.address import column_letters


@dataclass(frozen=True, slots=True)
class Source:
    """Where dates come from: for each line of an input sheet the day, the thing, where it is, and its lead time.

    In its formulas <column> is that column of the line.
    """

    sheet: str
    day: str
    thing: str
    where: str
    lead: str
    cell: str  # the column that the date stands in
    supplier: str = "0"  # the number of who renews it, among the offers of a call


def _number(expression: str, condition: str = "TRUE") -> str:
    return f'IF(AND(ISNUMBER({expression}),{condition}),INT({expression}),"")'


_SERVICING = "[lists.lead_servicing]"
_LOT = "INDEX([lots.{0}],[row]-" + str(FIRST_ROW) + ")"
_CRAFT = "INDEX([craft.{0}],[row]-" + str(FIRST_ROW) + ")"
_STORES, _STATION = (str(offer_number(name)) for name in ("stores", "liferaft_station"))
_PERSON = 'IF(<number><>"","crew number "&<number>,<rank>&"")'

SOURCES = (
    Source(
        "inventory",
        f'IF(OR({_LOT.format("date")}={NEVER},N({_LOT.format("fit")})<>1,{_LOT.format("named")}=""),"",{_LOT.format("date")})',
        f'IF({_LOT.format("item")}=0,<item>&"",INDEX([lists.item_name],{_LOT.format("item")}))',
        '<place>&""',
        f"IF({_LOT.format('item')}=0,[lists.lead_other],INDEX([lists.item_lead],{_LOT.format('item')}))",
        "expires",
        f"IF({_LOT.format('item')}=0,{_STORES},INDEX([lists.item_supplier],{_LOT.format('item')}))",
    ),
    Source(
        "craft",
        _number("<earliest_content>", f'{_CRAFT.format("family")}="liferaft"'),
        '"dated contents of the pack"',
        '<name>&""',
        _SERVICING,
        "earliest_content",
        _STATION,
    ),
    Source(
        "craft",
        f'IF(OR({_CRAFT.format("elsewhere")}=1,{_CRAFT.format("family")}<>"liferaft"),"",{_CRAFT.format("service_due")})',
        '"liferaft service"',
        '<name>&""',
        _SERVICING,
        "serviced",
        _STATION,
    ),
    Source(
        "servicing",
        _number("<next_due>"),
        '<service>&" (as written)"',
        '<appliance>&""',
        _SERVICING,
        "next_due",
        f"IFERROR(INDEX([lists.servicealias_supplier],MATCH({escaped(folded('<service>'))},[lists.servicealias_text],0)),0)",
    ),
    Source("certificates", _number("<until>"), '<certificate>&""', '"ship"', _SERVICING, "until"),
    Source("crew", _number("<certificate_expires>"), '"certificate"', _PERSON, _SERVICING, "certificate_expires"),
    Source("crew", _number("<medical_expires>"), '"medical certificate"', _PERSON, _SERVICING, "medical_expires"),
    Source("exemptions", _number("<until>"), '"exemption of "&<rule>', '<subject>&""', _SERVICING, "until"),
    Source(
        "follow_up",
        _number("<expected>", '<closed>=""'),
        '"follow-up of "&<finding>',
        'IF(<port>="","ship",<port>&"")',
        "[lists.lead_other]",
        "expected",
    ),
)


def date_rows(room: dict[str, int] | Any) -> int:
    """Lines that can have a date."""
    return sum(_rows(room, source) for source in SOURCES)


def _rows(room: Any, source: Source) -> int:
    return int(room[source.sheet]) + (SPARE if source.sheet == "inventory" else 0)


def _of_line(formula: str, sheet: str) -> str:
    """<column> by the cell of that column of an input sheet, in the row that stands beside."""
    return re.sub(r"<(\w+)>", lambda match: f"INDEX([in.{sheet}.{match[1]}],[row])", formula)


_KEYS = ("source", "row", "day", "key", "thing", "where", "lead", "supplier")


def write_dates(calc: CalculatedBook, page: Any) -> None:
    """Write the hidden sheet: the lines of every source one below the other."""
    total = date_rows(calc.room)
    for index, key in enumerate(_KEYS):
        page.write(FIRST_ROW - 1, index, key, calc.formats.optional)
        calc.names[f"dates.{key}"] = block(DATES, index, FIRST_ROW, FIRST_ROW + total - 1)
    first = FIRST_ROW
    for number, source in enumerate(SOURCES, start=1):
        rows = _rows(calc.room, source)
        for column in sheet(source.sheet).columns:
            calc.names.setdefault(f"in.{source.sheet}.{column.key}", input_column(source.sheet, column.key))
        for row in range(rows):
            page.write(first + row, 0, number)
            page.write(first + row, 1, FIRST_ROW + row + 1)
        columns = (
            ("day", source.day),
            ("key", f'IF([day]="","",[day]*{MOST_ROWS}+ROW())'),
            ("thing", f'IF([day]="","",{source.thing})'),
            ("where", f'IF([day]="","",{source.where})'),
            ("lead", f'IF([day]="",0,{source.lead})'),
            ("supplier", f'IF([day]="",0,{source.supplier})'),
        )
        for key, formula in columns:
            own = resolve(calc, _same_row(_of_line(formula, source.sheet), first))
            calc.column(page, first, first + rows - 1, _KEYS.index(key), own)
        first += rows
    page.protect("")


def _same_row(formula: str, row: int) -> str:
    return formula.replace("[row]", f"$B{row + 1}").replace("[day]", f"$C{row + 1}")


_LINE = 'IF([line]=0,"",'
COLUMNS = (
    Figured("day", "Day", f"{_LINE}INDEX([dates.day],[line]))", 12, "date"),
    Figured("left", "Days left", f"{_LINE}[day]-[ship.asked])", 9, "number"),
    Figured(
        "says",
        "Says",
        f'{_LINE}IF([left]<0,"{PAST}",IF([left]<=INDEX([dates.lead],[line]),"{DUE_SOON}","{IN_DATE}")))',
        14,
    ),
    Figured("thing", "What", f"{_LINE}INDEX([dates.thing],[line]))", 40, "wrapped"),
    Figured("where", "Where", f"{_LINE}INDEX([dates.where],[line]))", 26, "wrapped"),
    Figured("sheet", "Sheet", f"{_LINE}INDEX([lists.datesource_sheet],INDEX([dates.source],[line])))", 16),
    Figured(
        "cell",
        "Cell",
        f"{_LINE}INDEX([lists.datesource_column],INDEX([dates.source],[line]))&INDEX([dates.row],[line]))",
        9,
    ),
    Figured(
        "line",
        "line",
        f"IF(ROW()-{FIRST_ROW}>COUNT([dates.key]),0,MOD(SMALL([dates.key],ROW()-{FIRST_ROW}),{MOST_ROWS})-{FIRST_ROW})",
        6,
    ),
)


def source_rows() -> Sequence[tuple[str, str]]:
    """The sheet of each source, and the letters of the column that its date stands in."""
    found = []
    for source in SOURCES:
        contract = sheet(source.sheet)
        index = [column.key for column in contract.columns].index(source.cell)
        found.append((contract.name, column_letters(index)))
    return found


def write_due(calc: CalculatedBook, page: Any) -> None:
    """Write the sheet."""
    formats = calc.formats
    rows = date_rows(calc.room)
    words = (
        "Every date written in this book, the first to come first. What follows from the last service, drill or "
        f"routine is counted by davitbook check. {CAUTION}"
    )
    calc.head(page, DUE, words, len(COLUMNS) - 1, 120, rows)
    page.set_row(HEADING_ROW, 20)
    write_grid(calc, page, "due", COLUMNS, FIRST_ROW, rows, heading_row=HEADING_ROW)
    calc.colour(page, [column.key for column in COLUMNS].index("says"), rows)
    page.set_column(len(COLUMNS) - 1, len(COLUMNS) - 1, 6, formats.plain, {"hidden": True})
    page.autofilter(HEADING_ROW, 0, FIRST_ROW + rows - 1, len(COLUMNS) - 2)
    page.freeze_panes(FIRST_ROW, 0)
    page.repeat_rows(HEADING_ROW)
    set_up_page(page, calc.ship, landscape=True)
    calc.protect(page)
