"""davitbook muster."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

import click

from workbook_tools.cli.common import ACTION_REQUIRED, CLEAR, Day, company_rules, print_or_write, refuse_input, write
from workbook_tools.cli.ration import audited
from workbook_tools.rules import rule_set_names


@click.command()
@click.argument("book", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--on", type=Day(), default=None, help="The day asked. Default: today.")
@click.option(
    "--until",
    type=Day(),
    default=None,
    help="Papers must hold to this day. Default: the end of the voyage on the Ship sheet, else the next call on the "
    "Ports sheet, else the day asked.",
)
@click.option("--names", is_flag=True, help="Print names: a list that is posted on board needs them.")
@click.option("--rules", "rule_set", type=click.Choice(list(rule_set_names())), help="The rule set.")
@click.option("--company", type=click.Path(path_type=Path), metavar="TOML", help="The company's own rules.")
@click.option("--format", "form", type=click.Choice(["text", "html", "xlsx"]), default="text", show_default=True)
@click.option("--out", type=click.Path(path_type=Path), metavar="FILE", help="Write there instead.")
def muster(
    book: Path,
    on: date | None,
    until: date | None,
    names: bool,
    rule_set: str | None,
    company: Path | None,
    form: str,
    out: Path | None,
) -> None:
    """Propose a muster list: who goes to which craft, with which duty.

    A place for everybody, with either side lost as well; a person in charge,
    a second in command, an engine operator and a radio hand for each craft
    that asks for one; papers valid to the end of the voyage; parties kept;
    substitutes for key persons; as few changes from the present list as can
    be. What cannot be met is said, with who or what is missing.

    It is a proposal: the master decides, and your book is not written to.

    Exit status: 0 all is met, 1 something cannot be met, 2 wrong usage,
    3 the book could not be read.
    """
    if form == "xlsx" and out is None:
        raise click.UsageError("--format xlsx needs --out FILE")
    if out is not None:
        refuse_input(out, [book])
    day = on or date.today()
    if until is not None and until < day:
        raise click.UsageError(f"--until {until} lies before the day asked, {day}")
    from workbook_tools.checks import Options
    from workbook_tools.planning.muster import NothingToPropose, propose
    from workbook_tools.planning.muster_page import muster_page
    from workbook_tools.planning.page_sheet import as_xlsx
    from workbook_tools.planning.program import NotSolved
    from workbook_tools.reports.layout import as_html_page, as_text_page

    audit, result = audited(book, Options(day, rule_set=rule_set, company=company_rules(company)))
    try:
        proposal = propose(audit, until)
    except NothingToPropose as error:
        raise click.UsageError(f"{book}: {error}") from error
    except NotSolved as error:
        raise click.ClickException(f"{book}: no list was found ({error}); please report it with the book") from error
    page = muster_page(audit, result, proposal, names)
    if form == "xlsx" and out is not None:
        write(out, as_xlsx(page, "Muster list"))
    else:
        print_or_write(as_html_page(page) if form == "html" else as_text_page(page), out)
    sys.exit(CLEAR if proposal.complete else ACTION_REQUIRED)
