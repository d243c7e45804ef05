"""The davitbook command. Heavy modules are loaded by the commands that need them, so that --help starts at once."""

from __future__ import annotations

import click

from workbook_tools import __version__
from workbook_tools.cli.addin import addin
from workbook_tools.cli.check import check
from workbook_tools.cli.new import new
from workbook_tools.cli.pages import arrival, handover
from workbook_tools.cli.rules import rules


@click.group(context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80})
@click.version_option(__version__, prog_name="davitbook")
def main() -> None:
    """The ship's record of life-saving and fire-fighting appliances as one
    workbook, and the audit of it.

    \b
    davitbook new --ship "Name" --out book.xlsx   begin a record
    davitbook check book.xlsx                     audit one, or a whole folder
    davitbook handover book.xlsx --to 2027-02-28  a page for the relief
    davitbook arrival book.xlsx                   a page for the inspector
    davitbook rules EQ01                          explain a finding or a rule
    davitbook addin calc --out DIR                functions for any cell
    """


for command in (new, check, handover, arrival, rules, addin):
    main.add_command(command)
