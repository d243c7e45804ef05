"""What the planning commands share: their options, the audit they begin from, and the forms they print."""

from __future__ import annotations

import json
import sys
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from workbook_tools.cli.common import NOT_READ, company_rules, print_or_write, refuse_input, write
from workbook_tools.rules import rule_set_names

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from workbook_tools.checks.context import Audit
    from workbook_tools.findings import BookResult
    from workbook_tools.reports.layout import Page

FORMS = ("text", "json", "html", "xlsx")


def plan_options(function: Callable[..., None]) -> Callable[..., None]:
    """The options that the planning commands share."""
    for option in (
        click.option("--out", type=click.Path(path_type=Path), metavar="FILE", help="Write there instead."),
        click.option(
            "--format",
            "form",
            type=click.Choice(FORMS),
            default="text",
            show_default=True,
            help="xlsx needs --out.",
        ),
        click.option(
            "--month-expiry",
            type=click.Choice(["last", "first"]),
            default="last",
            show_default=True,
            help="The day that an expiry given as month and year stands for.",
        ),
        click.option("--company", type=click.Path(path_type=Path), metavar="TOML", help="The company's own rules."),
        click.option("--rules", "rule_set", type=click.Choice(list(rule_set_names())), help="The rule set."),
        click.argument("book", type=click.Path(exists=True, dir_okay=False, path_type=Path)),
    ):
        function = option(function)
    return function


def audited(
    book: Path, on: date, rule_set: str | None, company: Path | None, month_expiry: str, form: str, out: Path | None
) -> tuple[Audit, BookResult]:
    """The audit that a plan begins from; a book that cannot be read ends with status 3."""
    if form == "xlsx" and out is None:
        raise click.UsageError("--format xlsx needs --out FILE: a workbook cannot be shown on the screen")
    if out is not None:
        refuse_input(out, [book])
    own = company_rules(company)
    from workbook_tools.checks import Options
    from workbook_tools.fleet.run import check_one
    from workbook_tools.reading import UnreadableBook

    try:
        return check_one(book, Options(on, None, rule_set, month_expiry == "first", own))
    except UnreadableBook as error:
        click.echo(f"NOT READ  {book}: {error}", err=True)
        sys.exit(NOT_READ)


@contextmanager
def solving(book: Path) -> Iterator[None]:
    """Turn a solver that gives up into a message that names the book."""
    from workbook_tools.planning.program import NotSolved

    try:
        yield
    except NotSolved as error:
        raise click.ClickException(f"{book}: no plan ({error}): a fault of the program; please report it") from error


def print_plan(audit: Audit, page: Page, data: dict[str, Any], form: str, out: Path | None, sheet: str) -> None:
    """Print or write a plan in the form asked, without the names of persons."""
    from workbook_tools.checks.followup import name_remover
    from workbook_tools.planning.names import nameless_data, nameless_page

    nameless = name_remover(audit.book)
    page, data = nameless_page(page, nameless), nameless_data(data, nameless)
    if form == "xlsx":
        from workbook_tools.planning.page_sheet import as_xlsx

        if out is not None:
            write(out, as_xlsx(page, sheet))
        return
    if form == "json":
        print_or_write(json.dumps(data, indent=2, ensure_ascii=False) + "\n", out)
        return
    from workbook_tools.reports.layout import as_html_page, as_text_page

    print_or_write(as_html_page(page) if form == "html" else as_text_page(page), out)
