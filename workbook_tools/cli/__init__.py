"""The davitbook command. Heavy modules are loaded by the commands that need them, so that --help starts at once."""

from __future__ import annotations

import click

from workbook_tools import __version__
from workbook_tools.cli.addin import addin
from workbook_tools.cli.adopt import adopt
from workbook_tools.cli.calendar import calendar
from workbook_tools.cli.check import check
from workbook_tools.cli.compare import compare
from workbook_tools.cli.muster import muster
from workbook_tools.cli.new import new
from workbook_tools.cli.order import order
from workbook_tools.cli.pages import arrival, handover
from workbook_tools.cli.plan import servicing
from workbook_tools.cli.ration import ration
from workbook_tools.cli.rules import rules


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80})
@click.version_option(__version__, prog_name="davitbook")
def main() -> None:
    """The ship's record of life-saving and fire-fighting appliances as one
    workbook, and the audit of it.

    \b
    davitbook new --ship "Name" --out book.xlsx   begin a record
    davitbook adopt theirs.xlsx                   begin with a list of your own
    davitbook check book.xlsx                     audit one, or a whole folder
    davitbook compare old.xlsx new.xlsx           what changed, what looks wrong
    davitbook handover book.xlsx --to 2027-02-28  a page for the relief
    davitbook arrival book.xlsx                   a page for the inspector
    davitbook muster book.xlsx                    propose a muster list
    davitbook ration book.xlsx                    how long water and food last
    davitbook calendar book.xlsx --out due.ics    every deadline in a calendar
    davitbook order book.xlsx --until 2027-12-31  what to order at which call
    davitbook servicing book.xlsx                 which service at which call
    davitbook rules EQ01                          explain a finding or a rule
    davitbook addin calc --out DIR                functions for any cell
    """


for command in (
    new,
    adopt,
    check,
    compare,
    handover,
    arrival,
    order,
    servicing,
    muster,
    ration,
    calendar,
    rules,
    addin,
):
    main.add_command(command)
