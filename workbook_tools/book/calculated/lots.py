"""Hidden: each line of the Inventory as a lot that can be counted: where, what, how much, until when.

A line that the formulas cannot read for certain (a date or number as text, a name that is not in the lists) is told
apart: what it might hold is left to `davitbook check`, and no shortage is called where such a line stands.
"""

from __future__ import annotations

from typing import Any

from workbook_tools.book.calculated.grid import Figured, number_read, write_grid
from workbook_tools.book.calculated.lists import escaped, folded
from workbook_tools.book.calculated.writer import CalculatedBook
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.catalogue import DIMENSIONS

NEVER = 9_999_999  # the day of what has none
ANY = "1E+15"  # more than any rule asks
KEY = 1_000  # more than there are items: a craft and an item make one number, its key
DATED_KEY = 10_000_000  # more than NEVER: a key and a day make one number
# Rows beyond the room that are read as well: a line inserted above must not push the last one out of sight.
SPARE = 100

_COUNT = DIMENSIONS.index("count") + 1
_LENGTH = DIMENSIONS.index("length") + 1
_CLEAN = (
    'SUBSTITUTE(SUBSTITUTE(SUBSTITUTE(SUBSTITUTE(SUBSTITUTE(LOWER([place]),","," "),"."," "),"/"," "),"("," "),")"," ")'
)
_WIDTH, _WORDS = 40, 10  # characters set apart for a word, and words looked at
# The words of a place set far apart, then once more with "E/R" as one word: each can be cut out without an array.
_APART = f'SUBSTITUTE(TRIM({_CLEAN}&" "&SUBSTITUTE(SUBSTITUTE(LOWER([place]),"/",""),".",""))," ",REPT(" ",{_WIDTH}))'
_PLACE_WORDS = "+".join(
    f"COUNTIF([lists.placeword_text],TRIM(MID([words],{number * _WIDTH + 1},{_WIDTH})))" for number in range(_WORDS)
)


def _unit(column: str) -> str:
    spelling = escaped(f'SUBSTITUTE({{inventory.{column}}}&""," ","")')
    return f"IFERROR(INDEX([lists.unitalias_number],MATCH({spelling},[lists.unitalias_text],0)),0)"


def _measure(dimension: str) -> str:
    """The lot in the base unit of a dimension; '' where it measures something else or is not counted."""
    inside = f"INDEX([lists.unit_dimension],[content_unit])={dimension}"
    own = f"INDEX([lists.unit_dimension],[unit])={dimension}"
    return (
        f'IF(OR([quantity]="",[unit]=0),"",'
        f'IF(IF([content_unit]=0,FALSE,AND([content]<>"",INDEX([lists.unit_dimension],[unit])={_COUNT},{inside})),'
        "[quantity]*[content]*INDEX([lists.unit_factor],[content_unit]),"
        f'IF({own},[quantity]*INDEX([lists.unit_factor],[unit]),"")))'
    )


def _unmeasured(amount: str, dimension: str) -> str:
    """Whether a lot may hold more than it measures: nothing to measure it by, or packs of so many pieces."""
    packs = (
        f'AND({{inventory.unit}}<>"",INDEX([lists.unit_container],[unit])=1,[content]="",{dimension}={_COUNT},'
        "INDEX([lists.item_container],[item])=0)"
    )
    return f'IF([item]=0,0,IF([{amount}]="",1,N(IF([unit]=0,TRUE,{packs}))))'


def _counts_as(table: str) -> str:
    """The key of what the lot counts as besides: in the same craft."""
    other = f"INDEX([{table}],[item])"
    return f"IF([key]=0,0,IF({other}=0,0,[craft]*{KEY}+{other}))"


_UNREAD = (
    'IF(OR([place]="",[named]=""),0,'
    "IF(OR([item]=0,"
    'AND({inventory.quantity}<>"",[quantity]=""),'
    'AND({inventory.unit}<>"",[unit]=0),'
    'AND({inventory.content}<>"",[content]=""),'
    'AND({inventory.content_unit}<>"",[content_unit]=0),'
    'AND({inventory.expires}<>"",NOT(ISNUMBER({inventory.expires}))),'
    '[fit]="?"),1,'
    "IF(OR([craft]>0,[known_place]>0),0,2)))"
)

COLUMNS = (
    Figured("place", "place", folded("{inventory.place}"), 18),
    Figured("named", "named", folded("{inventory.item}"), 22),
    Figured("craft", "craft", f'IF([place]="",0,IFERROR(MATCH({escaped("[place]")},[craft.name],0),0))', 7),
    Figured("words", "words", f'IF(OR([place]="",[craft]>0),"",{_APART})'),
    Figured("known_place", "known place", f'IF([words]="",0,{_PLACE_WORDS})', 7),
    Figured(
        "item",
        "item",
        f'IF([named]="",0,IFERROR(INDEX([lists.itemalias_number],MATCH({escaped("[named]")},[lists.itemalias_text],0)),0))',
        7,
    ),
    Figured("quantity", "quantity", number_read("inventory", "quantity")),
    Figured(
        "unit",
        "unit",
        f'IF({{inventory.unit}}="",IF([item]=0,0,INDEX([lists.item_unit],[item])),{_unit("unit")})',
        7,
    ),
    Figured("content", "content", number_read("inventory", "content")),
    Figured("content_unit", "content unit", f'IF({{inventory.content_unit}}="",0,{_unit("content_unit")})', 7),
    Figured(
        "fit",
        "fit",
        'IF({inventory.condition}="",1,IFERROR(INDEX([lists.choice_value],MATCH("fit|"&INDEX([lists.choice_value],'
        f'MATCH("condition|"&{escaped(folded("{inventory.condition}"))},[lists.choice_text],0)),[lists.choice_text],0)),"?"))',
    ),
    Figured("date", "date", f"IF(ISNUMBER({{inventory.expires}}),INT({{inventory.expires}}),{NEVER})"),
    Figured("unread", "unread", _UNREAD, 7),
    # 1 counts for certain while in date, 2 may count (not counted yet, or a dated item without its date), 0 does not
    Figured(
        "class",
        "class",
        "IF(OR([item]=0,[unread]=1,[fit]=0),0,"
        f'IF(OR([quantity]="",AND([date]={NEVER},INDEX([lists.item_dated],[item])=1)),2,1))',
        7,
    ),
    Figured("amount", "amount", f"IF([item]=0,0,{_measure('INDEX([lists.item_measure],[item])')})"),
    Figured("open", "open", _unmeasured("amount", "INDEX([lists.item_measure],[item])"), 7),
    Figured("pieces", "pieces", f"IF([item]=0,0,{_measure(str(_COUNT))})"),
    Figured("pieces_open", "pieces open", _unmeasured("pieces", str(_COUNT)), 7),
    # what the sums add up: for certain, at best (a lot that may hold any amount is enough for anything), and past use
    Figured("surely", "surely", "IF([class]=1,N([amount]),0)"),
    Figured("at_best", "at best", f"IF([class]=0,0,IF([open]=1,{ANY},[amount]))"),
    Figured("pieces_surely", "pieces surely", "IF([class]=1,N([pieces]),0)"),
    Figured("pieces_at_best", "pieces at best", f"IF([class]=0,0,IF([pieces_open]=1,{ANY},[pieces]))"),
    Figured("fit_amount", "fit", "IF(N([fit])=1,N([amount]),0)"),
    Figured("key", "key", f"IF(OR([craft]=0,[item]=0,[unread]=1),0,[craft]*{KEY}+[item])"),
    Figured("key1", "key 1", _counts_as("lists.item_counts1")),
    Figured("key2", "key 2", _counts_as("lists.item_counts2")),
    Figured("dated_key", "dated key", f'IF(OR([key]=0,[class]=0,[date]={NEVER}),"",[key]*{DATED_KEY}+[date])', 16),
    Figured(
        "length",
        "length",
        f'IF(OR([content]="",[content_unit]=0),"",IF(INDEX([lists.unit_dimension],[content_unit])={_LENGTH},'
        '[content]*INDEX([lists.unit_factor],[content_unit]),""))',
    ),
)


def write_lots(calc: CalculatedBook, page: Any) -> None:
    """Write the sheet."""
    rows = calc.room["inventory"] + SPARE
    write_grid(calc, page, "lots", COLUMNS, FIRST_ROW, rows, heading_row=FIRST_ROW - 1)
    page.protect("")
