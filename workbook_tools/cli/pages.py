"""davitbook handover and davitbook arrival: pages made of one audit."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from workbook_tools.cli.common import NOT_READ, Day, company_rules, print_or_write, refuse_input
from workbook_tools.rules import rule_set_names

if TYPE_CHECKING:
    from collections.abc import Callable

    from workbook_tools.checks import Options
    from workbook_tools.checks.context import Audit
    from workbook_tools.findings import BookResult
    from workbook_tools.reports.layout import Page


def page_options(function: Callable[..., None]) -> Callable[..., None]:
    """The options that the printed pages share."""
    for option in (
        click.option("--out", type=click.Path(path_type=Path), metavar="FILE", help="Write there instead."),
        click.option("--format", "form", type=click.Choice(["text", "html"]), default="text", show_default=True),
        click.option("--company", type=click.Path(path_type=Path), metavar="TOML", help="The company's own rules."),
        click.option("--rules", "rule_set", type=click.Choice(list(rule_set_names())), help="The rule set."),
        click.argument("book", type=click.Path(exists=True, dir_okay=False, path_type=Path)),
    ):
        function = option(function)
    return function


def print_page(
    book: Path,
    options: Options,
    make: Callable[[Audit, BookResult], Page],
    form: str,
    out: Path | None,
) -> None:
    """Audit one book and print the page made of it; a book that cannot be read ends with status 3."""
    from workbook_tools.fleet.run import check_one
    from workbook_tools.reading import UnreadableBook
    from workbook_tools.reports.layout import as_html_page, as_text_page

    if out is not None:
        refuse_input(out, [book])
    try:
        audit, result = check_one(book, options)
    except UnreadableBook as error:
        click.echo(f"NOT READ  {book}: {error}", err=True)
        sys.exit(NOT_READ)
    page = make(audit, result)
    print_or_write(as_html_page(page) if form == "html" else as_text_page(page), out)


@click.command()
@click.option("--from", "first", type=Day(), default=None, help="Day of the handover. Default: today.")
@click.option("--to", "last", type=Day(), required=True, help="Last day of the relief's time on board.")
@page_options
def handover(
    book: Path, first: date | None, last: date, rule_set: str | None, company: Path | None, form: str, out: Path | None
) -> None:
    """Print a page for the relief.

    Persons and places, findings by priority, what is being followed up, what
    lapses in the relief's time, open defects, the last drills and services.
    Persons stand there by crew number or rank, never by name.

    Exit status: 0 printed, 2 wrong usage, 3 the book could not be read.
    """
    begin = first or date.today()
    if last < begin:
        raise click.UsageError(f"--to {last} lies before --from {begin}")
    from workbook_tools.checks import Options
    from workbook_tools.reports import pages

    options = Options(begin, rule_set=rule_set, company=company_rules(company))
    print_page(book, options, lambda audit, result: pages.handover(audit, result, last), form, out)


@click.command()
@click.option("--on", type=Day(), default=None, help="Day of arrival. Default: today.")
@page_options
def arrival(
    book: Path, on: date | None, rule_set: str | None, company: Path | None, form: str, out: Path | None
) -> None:
    """Print a page for the inspector's visit.

    What an inspector would see first, the certificates to lay on the table
    with their dates, exemptions, the last drills.

    Exit status: 0 printed, 2 wrong usage, 3 the book could not be read.
    """
    from workbook_tools.checks import Options
    from workbook_tools.reports import pages

    options = Options(on or date.today(), rule_set=rule_set, company=company_rules(company))
    print_page(book, options, pages.arrival, form, out)
