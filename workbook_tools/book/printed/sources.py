"""The lines of the input sheets that the pages show, each sheet read in its own rows: what stands open, what is dated.

A date typed as text is no date to a formula: such a line stays on the page with its words as they stand.
"""

from __future__ import annotations

from workbook_tools.book.calculated.grid import input_reach
from workbook_tools.book.calculated.lists import escaped, folded
from workbook_tools.book.calculated.lots import SPARE
from workbook_tools.book.calculated.words import text_of
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.book.printed.flow import SOON, WORST
from workbook_tools.book.printed.helper_sheet import HelperSheet
from workbook_tools.columns import sheet

# Parts a task's number from the day in one figure: more than any day's.
DAYS = 100_000


def write_sources(helpers: HelperSheet) -> None:
    """Write a block for each input sheet that more than one page shows."""
    _required(helpers)
    _defects(helpers)
    _routine(helpers)
    _dated(helpers)
    _beyond(helpers)


def cell_of(sheet: str, column: str, place: str) -> str:
    """What stands in a column of an input sheet, in the line that a block found (a formula for its number, from 1)."""
    return f"INDEX([in.{sheet}.{column}],{place}+{FIRST_ROW})"


def rows_of(helpers: HelperSheet, key: str) -> int:
    """Rows of an input sheet that are read: its room, and what lines inserted above may have pushed down."""
    return helpers.calc.room[key] + SPARE


def _required(helpers: HelperSheet) -> None:
    """Which lines of the Required sheet call for something: shortages first, then what lapses."""
    says = "LEFT(INDEX([required.says],[#]),1)"
    helpers.block(
        "attention",
        {"key": f'IF({says}="{WORST}",[#],IF({says}="{SOON}",{DAYS}+[#],""))'},
        helpers.rows("required.says"),
    )


def open_on_day(sheet_key: str, named: str, begins: str | None, closed: str = "closed") -> str:
    """Whether a line of a sheet stands open on the day asked: it names something, has begun and is not closed."""
    begun = f"AND(ISNUMBER({{{sheet_key}.{begins}}}),{{{sheet_key}.{begins}}}>[date asked])" if begins else "FALSE"
    ended = f"AND(ISNUMBER({{{sheet_key}.{closed}}}),{{{sheet_key}.{closed}}}<=[date asked])"
    return f"AND({named},NOT({begun}),NOT({ended}))"


def _defects(helpers: HelperSheet) -> None:
    still_open = open_on_day("defects", '{defects.subject}&{defects.fitting}<>""', "since")
    helpers.block(
        "defects",
        {"key": f'IF({still_open},[#],"")', "subject": folded("{defects.subject}")},
        rows_of(helpers, "defects"),
    )


def _routine(helpers: HelperSheet) -> None:
    """Each line as task number and day in one figure, what was not held left out; and the last day of each task."""
    column = sheet("routine").column("result")
    not_held = ("not held", *dict(column.choice_names)["not held"])
    helpers.table("notheld", ("text",), [(words,) for words in not_held])
    task = f"MATCH({escaped(text_of('{routine.task}'))},[taskwords.text],0)"
    held = f"ISNA(MATCH({escaped(text_of('{routine.result}'))},[notheld.text],0))"
    helpers.block(
        "routine",
        {
            "task": f'IF({{routine.task}}="",0,IFERROR(INDEX([taskwords.number],{task}),0))',
            "subject": folded("{routine.subject}"),
            "key": 'IF(OR([task]=0,NOT(ISNUMBER({routine.day}))),"",'
            f'IF(AND({{routine.day}}<=[date asked],{held}),[task]*{DAYS}+INT({{routine.day}}),""))',
        },
        rows_of(helpers, "routine"),
    )
    write_last_days(helpers, "lasts", "routine.key")


def write_last_days(helpers: HelperSheet, name: str, key: str) -> None:
    """The last day of each task, from a column of task number and day in one figure: name.value, name.day."""
    helpers.block(
        name,
        {
            "upto": f'COUNTIF([{key}],"<"&([#]+1)*{DAYS})',
            "value": f"IF([upto]=0,0,SMALL([{key}],[upto]))",
            "day": f'IF([value]<[#]*{DAYS},"",[value]-[#]*{DAYS})',
        },
        helpers.rows("tasks.name"),
    )


def _dated(helpers: HelperSheet) -> None:
    """Sheets of which every line that is filled in, or still open, is shown in its own order."""
    for key, named in (("certificates", "certificate"), ("exemptions", "rule")):
        helpers.block(key, {"key": f'IF({{{key}.{named}}}="","",[#])'}, rows_of(helpers, key))
    followed = open_on_day("follow_up", '{follow_up.finding}<>""', None)
    helpers.block("followed", {"key": f'IF({followed},[#],"")'}, rows_of(helpers, "follow_up"))
    helpers.block(
        "rafts",
        {"key": 'IF(INDEX([craft.family],[#])="liferaft",[#],"")'},
        helpers.calc.room["craft"],
    )


# Input sheets of which these pages show lines, with a column that every line fills in.
_READ = (
    ("defects", "subject"),
    ("routine", "day"),
    ("certificates", "certificate"),
    ("exemptions", "rule"),
    ("follow_up", "finding"),
)


def _beyond(helpers: HelperSheet) -> None:
    """Lines that stand below the rows which are read: said on the pages, never left out in silence."""
    told = []
    for key, column in _READ:
        helpers.block(f"filled_{key}", {"here": f'IF({{{key}.{column}}}="",0,1)'}, rows_of(helpers, key))
        contract = sheet(key)
        above = 3 if contract.columns[0].key == column else 1  # title, help and heading; or the heading alone
        lines = f"(COUNTA({input_reach(key, column)})-{above}-SUM([filled_{key}.here]))"
        told.append(f'IF({lines}>0,"{WORST} "&{lines}&" lines below the room of the {contract.name} sheet. ","")')
    helpers.facts("beyond", {"words": "&".join(told)})
