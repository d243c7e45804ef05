"""The davitbook command. Heavy modules are loaded by the commands that need them, so that --help starts at once."""

from __future__ import annotations

from pathlib import Path

import click

from workbook_tools import __version__
from workbook_tools.cli.addin import addin
from workbook_tools.cli.adopt import adopt
from workbook_tools.cli.calendar import calendar
from workbook_tools.cli.check import check
from workbook_tools.cli.compare import compare
from workbook_tools.cli.completion import completion
from workbook_tools.cli.doctor import doctor
from workbook_tools.cli.group import Davitbook, beginning
from workbook_tools.cli.muster import muster
from workbook_tools.cli.new import new
from workbook_tools.cli.order import order
from workbook_tools.cli.pages import arrival, handover
from workbook_tools.cli.ration import ration
from workbook_tools.cli.rules import rules
from workbook_tools.cli.servicing import servicing


@click.group(
    cls=Davitbook,
    invoke_without_command=True,
    context_settings={"help_option_names": ["-h", "--help"], "max_content_width": 80},
)
@click.version_option(__version__, prog_name="davitbook")
@click.pass_context
def main(context: click.Context) -> None:
    """The ship's record of life-saving and fire-fighting appliances as one
    workbook, and the audit of it.

    davitbook COMMAND --help explains a command, davitbook alone says what to do
    first.
    """
    if context.invoked_subcommand is None:
        click.echo(beginning(__version__, Path.cwd()), nl=False)


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
    doctor,
    completion,
):
    main.add_command(command)
