"""The Required sheet: what the rules ask of each craft, what is carried in date, what is short, and says who."""

from __future__ import annotations

from typing import Any

from workbook_tools.book.calculated.grid import Figured, write_grid
from workbook_tools.book.calculated.lines import line_rows
from workbook_tools.book.calculated.writer import CalculatedBook
from workbook_tools.book.formats import set_up_page
from workbook_tools.book.layout import FIRST_ROW, HEADING_ROW
from workbook_tools.columns.calculated import REQUIRED
from workbook_tools.core.caution import CAUTION


def _line(column: str) -> str:
    return f"INDEX([lines.{column}],[line])"


def _rule(column: str) -> str:
    return f"INDEX([rules.{column}],[rule])"


_BLANK = 'IF([line]=0,"",'

COLUMNS = (
    Figured("craft", "Craft", f"{_BLANK}INDEX([craft.shown],[craft_no]))", 18, "wrapped"),
    Figured("item", "Item", f"{_BLANK}{_rule('name')})", 32, "wrapped"),
    Figured("asked", "Asked", f"{_BLANK}{_line('asked')})", 9, "number"),
    Figured("carried", "Carried, in date", f'{_BLANK}IF({_line("kind")}<3,{_line("sure")},""))', 9, "number"),
    Figured(
        "missing",
        "Short",
        f'{_BLANK}IF(OR([words]=4,[words]=5),[asked]-[carried],""))',
        9,
        "number",
    ),
    Figured("unit", "Unit", f'{_BLANK}{_rule("unit")}&"")', 12),
    Figured("earliest", "Earliest expiry", f"{_BLANK}{_line('earliest')})", 12, "date"),
    Figured(
        "lapses",
        "Enough until",
        f'{_BLANK}IF(AND([words]=3,{_line("watch")}=0),"see check",{_line("lapses")}))',
        12,
        "date",
    ),
    Figured("says", "Says", f"{_BLANK}INDEX([lists.words_says],[words]))", 18),
    Figured("remedy", "What to do", f'{_BLANK}INDEX([lists.words_remedy],[words])&"")', 44, "wrapped"),
    Figured("paragraph", "Paragraph", f"{_BLANK}{_rule('reference')})", 26, "wrapped"),
    Figured("key", "Rule", f"{_BLANK}{_rule('key')})", 30),
    Figured(
        "line",
        "line",
        "IF(ROW()-{first}>MAX([lines.shown]),0,IFERROR(MATCH(ROW()-{first}-0.5,[lines.shown],1),0)+1)".replace(
            "{first}", str(FIRST_ROW)
        ),
        6,
    ),
    Figured("rule", "rule", "IF([line]=0,0,INDEX([lines.rule],[line]))", 6),
    Figured("words", "words", "IF([line]=0,0,INDEX([lines.words],[line]))", 6),
    Figured("craft_no", "craft no", "IF([line]=0,0,INDEX([lines.craft],[line]))", 6),
)
_HIDDEN = 4


def write_required(calc: CalculatedBook, page: Any) -> None:
    """Write the sheet."""
    formats = calc.formats
    rows = line_rows(calc.room["craft"])
    words = f"What each craft must carry and what the Inventory shows, in date on the day asked. {CAUTION}"
    calc.head(page, REQUIRED, words, len(COLUMNS) - _HIDDEN, 200, rows)
    page.set_row(HEADING_ROW, 33)
    write_grid(calc, page, "required", COLUMNS, FIRST_ROW, rows, heading_row=HEADING_ROW)
    calc.colour(page, [column.key for column in COLUMNS].index("says"), rows)
    visible = len(COLUMNS) - _HIDDEN
    for index in range(visible, len(COLUMNS)):
        page.set_column(index, index, 6, formats.plain, {"hidden": True})
    page.autofilter(HEADING_ROW, 0, FIRST_ROW + rows - 1, visible - 1)
    page.freeze_panes(FIRST_ROW, 2)
    page.repeat_rows(HEADING_ROW)
    set_up_page(page, calc.ship, landscape=True)
    calc.protect(page)
