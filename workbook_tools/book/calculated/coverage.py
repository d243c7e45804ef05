"""The Coverage sheet: who has a place when all craft are usable, when either side is lost, and when any craft is.

The same ranges as in core/coverage.py: `least` is sure, `most` is what the record can mean at best.
"""

from __future__ import annotations

from typing import Any

from workbook_tools.book.calculated.grid import Figured, resolve, write_grid
from workbook_tools.book.calculated.rule_rows import rule_rows
from workbook_tools.book.calculated.writer import CalculatedBook
from workbook_tools.book.formats import set_up_page
from workbook_tools.book.layout import FIRST_ROW, HEADING_ROW
from workbook_tools.columns.calculated import COVERAGE, EVERYONE, LEFT_OUT, OPEN
from workbook_tools.core.caution import CAUTION
from workbook_tools.rules.loader import rule_set_names

_MOST = "1E+9"  # places of a craft whose number is not recorded
ALL, PORT_LOST, STARBOARD_LOST, LARGEST_LOST = (
    "all craft usable",
    "port side lost",
    "starboard side lost",
    "largest craft lost",
)
_FIXED = (ALL, PORT_LOST, STARBOARD_LOST, LARGEST_LOST)


def heaviest_rows() -> list[tuple[str, int]]:
    """For each rule set the row, on the Rules sheet, of the mass above which a raft is not easily moved; 0: none."""
    rows = enumerate(rule_rows(), start=1)
    found = {owner: row for row, (owner, rule) in rows if rule.key == "liferaft.packed-mass"}
    return [(name, found.get(name, 0)) for name in rule_set_names()]


_HEAVIEST = "INDEX([rules.fixed],INDEX([lists.heaviest_row],[ship.set_number]))"
_MOVED = (
    'IF(OR([family]<>"liferaft",[transferable]<>"yes"),[transferable],'
    'IF(INDEX([lists.heaviest_row],[ship.set_number])=0,"yes",'
    f'IF([mass_kg]="","perhaps",IF([mass_kg]<={_HEAVIEST},"yes","no"))))'
)


def _sure(side: str) -> str:
    return f'IF([counts]=0,0,IF(AND([family]="liferaft",[moved]="yes"),1,N([side]="{side}")))'


def _possible(side: str) -> str:
    return (
        f'IF([counts]=0,0,IF(OR([{side}_sure]=1,[moved]="perhaps",AND([kind]="liferaft",OR([moved]="",[moved]="?"))),1,'
        'IF(AND(OR([side]="",[side]="?"),[kind]<>"free-fall lifeboat"),1,0)))'
    )


# Further columns of the hidden sheet of craft.
CRAFT_COLUMNS = (
    Figured(
        "counts",
        "counts",
        'IF(AND([used]=1,OR([purpose]="required",[purpose]="?"),OR([family]="lifeboat",[family]="liferaft")),1,0)',
    ),
    Figured("kindless", "no kind", 'IF(AND([used]=1,[kind_no]=0,OR([purpose]="required",[purpose]="?")),1,0)'),
    Figured("moved", "moved", _MOVED),
    Figured("port_sure", "port", _sure("port")),
    Figured("starboard_sure", "starboard", _sure("starboard")),
    Figured("port_possible", "port at best", _possible("port")),
    Figured("starboard_possible", "starboard at best", _possible("starboard")),
    Figured("least", "least", 'IF(OR([counts]=0,[purpose]="?"),0,N([persons]))'),
    Figured("most", "most", f'IF([counts]=0,0,IF([persons]="",{_MOST},[persons]))'),
    Figured("counted", "counted", f"IF(ROW()={FIRST_ROW + 1},0,N([counted^]))+[counts]"),
)

# Lines of the ship's own sheet.
SHIP_LINES = {
    # everyone: the Ship sheet's figure, else the lines of the Crew sheet of those who have joined
    "listed": "SUMPRODUCT([crew.listed])",
    "persons": 'IF([ship.persons_recorded]<>"",[ship.persons_recorded],'
    'IF(OR([ship.ship_family]="passenger",[ship.listed]=0,[ship.persons_unread]>0),"",[ship.listed]))',
    "persons_unread": 'N(AND({ship.persons_on_board}<>"",[ship.persons_recorded]=""))',
    "craft_counting": "SUM([craft.counts])",
    "craft_kindless": "SUM([craft.kindless])",
    "craft_doubts": "[ship.unread]+SUM([craft.doubts])",
    "covered": 'N(AND([ship.persons]<>"",[ship.craft_counting]>0,[ship.craft_kindless]=0,[ship.craft_doubts]=0))',
}


def _sum(least_or_most: str, condition: str = "") -> str:
    return f"SUMIFS([craft.{least_or_most}],[craft.counts],1{condition})"


_LOST = "INDEX([craft.{0}],[place])"
_LEAST = (
    f'IF([scenario]="","",IF([number]=1,{_sum("least")},'
    f"IF([number]=2,{_sum('least', ',[craft.starboard_sure],1')},"
    f"IF([number]=3,{_sum('least', ',[craft.port_sure],1')},"
    f"IF([number]=4,{_sum('least')}-MAX([craft.least]),{_sum('least')}-{_LOST.format('least')})))))"
)
_MOST_PLACES = (
    f'IF([scenario]="","",IF([number]=1,{_sum("most")},'
    f"IF([number]=2,{_sum('most', ',[craft.starboard_possible],1')},"
    f"IF([number]=3,{_sum('most', ',[craft.port_possible],1')},"
    f"IF([number]=4,{_sum('most')}-MAX([craft.most]),{_sum('most')}-{_LOST.format('most')})))))"
)
_BLANK = 'IF(OR([scenario]="",[ship.covered]=0),"",'
COLUMNS = (
    Figured(
        "scenario",
        "What is lost",
        f"IF([number]<={len(_FIXED)},INDEX([lists.scenario_name],[number]),"
        'IF([place]=0,"",INDEX([craft.shown],[place])&" lost"))',
        34,
    ),
    Figured("persons", "Persons on board", f"{_BLANK}[ship.persons])", 10, "number"),
    Figured("places", "Places left", f'{_BLANK}IF([least]=[most],[least],"not clear"))', 10, "number"),
    Figured("left_out", "Left out", f"{_BLANK}MAX(0,[ship.persons]-[most]))", 10, "number"),
    Figured(
        "share",
        "Percent with a place",
        f'{_BLANK}IF([least]<>[most],"",IF([ship.persons]=0,100,ROUND(100*[least]/[ship.persons],1))))',
        11,
        "number",
    ),
    Figured(
        "says",
        "Says",
        f'IF([scenario]="","",IF([ship.covered]=0,"{OPEN}",IF([ship.persons]>[most],"{LEFT_OUT}",'
        f'IF([least]>=[ship.persons],"{EVERYONE}","{OPEN}"))))',
        24,
    ),
    Figured("number", "no", f"ROW()-{FIRST_ROW}", 6),
    Figured(
        "place",
        "craft",
        f"IF(OR([number]<={len(_FIXED)},[number]-{len(_FIXED)}>[ship.craft_counting]),0,"
        f"MATCH([number]-{len(_FIXED)},[craft.counted],0))",
        6,
    ),
    Figured("least", "least", _LEAST, 8),
    Figured("most", "most", _MOST_PLACES, 8),
)
_HIDDEN = 4


def scenario_rows() -> list[tuple[str]]:
    """The scenarios that every ship has."""
    return [(name,) for name in _FIXED]


def write_coverage(calc: CalculatedBook, page: Any) -> None:
    """Write the sheet."""
    formats = calc.formats
    words = (
        "Who still has a place. A raft that is easily moved counts on both sides, a remote or extra craft never; what "
        "lies over the stern counts on neither side. Which loss is a rule for this ship, davitbook check says. "
        + CAUTION
    )
    calc.head(page, COVERAGE, words, len(COLUMNS) - _HIDDEN, 90, calc.room["craft"] + len(_FIXED))
    page.set_row(HEADING_ROW, 33)
    rows = len(_FIXED) + calc.room["craft"]
    write_grid(calc, page, "coverage", COLUMNS, FIRST_ROW, rows, heading_row=HEADING_ROW)
    calc.colour(page, [column.key for column in COLUMNS].index("says"), rows)
    for index in range(len(COLUMNS) - _HIDDEN, len(COLUMNS)):
        page.set_column(index, index, 6, formats.plain, {"hidden": True})
    note = FIRST_ROW + rows + 1
    reason = (
        'IF([ship.persons]="","Persons on board are not recorded on the Ship sheet.",'
        'IF([ship.craft_counting]=0,"No lifeboat or liferaft that counts is recorded on the Craft sheet.",'
        'IF([ship.craft_kindless]>0,"The type of a craft is not recorded or not known.",'
        'IF([ship.craft_doubts]>0,"A cell of the Ship or Craft sheet cannot be read here: davitbook check names it.",'
        '""))))'
    )
    calc.formula(page, note, 0, resolve(calc, reason), formats.bold)
    page.freeze_panes(FIRST_ROW, 1)
    page.repeat_rows(HEADING_ROW)
    set_up_page(page, calc.ship, landscape=True)
    calc.protect(page)
