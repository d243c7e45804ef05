"""davitbook ration."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from workbook_tools.cli.common import NOT_READ, Day, company_rules, print_or_write, refuse_input, write
from workbook_tools.core.rations import LONGEST_PLAN
from workbook_tools.rules import rule_set_names

if TYPE_CHECKING:
    from workbook_tools.checks import Options
    from workbook_tools.checks.context import Audit
    from workbook_tools.findings import BookResult


class Rain(click.ParamType[tuple[int, float]]):
    """Litres collected in each craft: '2' every day, '3=10' on day 3. A day of 0 means every day."""

    name = "[DAY=]LITRES"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> tuple[int, float]:
        """Read it; wrong usage says how to write it."""
        if isinstance(value, tuple):
            return value
        day, equals, litres = str(value).partition("=")
        try:
            found = (int(day), float(litres)) if equals else (0, float(day))
        except ValueError:
            self.fail(f"{value!r} is no rain; write 2 (litres every day) or 3=10 (10 litres on day 3)", param, ctx)
        if not 0 <= found[1] < 1e6 or (equals and not 1 <= found[0] <= LONGEST_PLAN):
            self.fail(f"{value!r}: days go from 1 to {LONGEST_PLAN}, litres from 0 up", param, ctx)
        return found


@click.command()
@click.argument("book", type=click.Path(exists=True, dir_okay=False, path_type=Path))
@click.option("--on", type=Day(), default=None, help="The day asked. Default: today.")
@click.option(
    "--issue",
    type=click.FloatRange(0.01, 20),
    default=None,
    metavar="LITRES",
    help="Litres for each person and day. Default: the training texts' half litre.",
)
@click.option(
    "--reach",
    type=click.IntRange(1, LONGEST_PLAN),
    multiple=True,
    metavar="DAY",
    help="Say which issue reaches this day; may be given again. Default: 10, 15, 30.",
)
@click.option(
    "--injured",
    type=click.IntRange(0, 500),
    default=0,
    metavar="NUMBER",
    help="Injured in each craft: they drink on day 1.",
)
@click.option("--rain", type=Rain(), multiple=True, help="Litres collected in each craft: 2 every day, 3=10 on day 3.")
@click.option(
    "--days",
    type=click.IntRange(1, LONGEST_PLAN),
    default=None,
    metavar="DAYS",
    help="Days to show. Default: until the water ends.",
)
@click.option("--rules", "rule_set", type=click.Choice(list(rule_set_names())), help="The rule set.")
@click.option("--company", type=click.Path(path_type=Path), metavar="TOML", help="The company's own rules.")
@click.option("--format", "form", type=click.Choice(["text", "html", "xlsx"]), default="text", show_default=True)
@click.option("--out", type=click.Path(path_type=Path), metavar="FILE", help="Write there instead.")
def ration(
    book: Path,
    on: date | None,
    issue: float | None,
    reach: tuple[int, ...],
    injured: int,
    rain: tuple[tuple[int, float], ...],
    days: int | None,
    rule_set: str | None,
    company: Path | None,
    form: str,
    out: Path | None,
) -> None:
    """Say how long water and food last in each craft.

    As assigned, full, and with either side lost: nothing in the first 24 hours
    but to the injured, then the same issue every day, in three parts. Shows
    what is left day by day, which issue reaches day 10, 15 and 30, and what
    rain and the desalinators of the Inventory add.

    \b
    davitbook ration book.xlsx --issue 0.4 --injured 2
    davitbook ration book.xlsx --reach 12 --rain 3=10 --rain 0.5
    davitbook ration book.xlsx --format xlsx --out ration.xlsx

    Exit status: 0 printed, 2 wrong usage, 3 the book could not be read.
    """
    if form == "xlsx" and out is None:
        raise click.UsageError("--format xlsx needs --out FILE")
    if out is not None:
        refuse_input(out, [book])
    from workbook_tools import checks
    from workbook_tools.planning.ration_page import ration_page, ration_xlsx
    from workbook_tools.planning.rations import Ask, ration_plan
    from workbook_tools.reports.layout import as_html_page, as_text_page

    audit, result = audited(book, checks.Options(on or date.today(), rule_set=rule_set, company=company_rules(company)))
    by_day: dict[int, float] = {}
    for day, litres in rain:
        by_day[day] = by_day.get(day, 0.0) + litres
    every = by_day.pop(0, 0.0)
    ask = Ask(issue, injured, by_day, every, tuple(sorted(set(reach))) or Ask().reach, days)
    plan = ration_plan(audit, ask)
    page = ration_page(audit, result, plan)
    if form == "xlsx" and out is not None:
        write(out, ration_xlsx(page, plan))
        return
    print_or_write(as_html_page(page) if form == "html" else as_text_page(page), out)


def audited(book: Path, options: Options) -> tuple[Audit, BookResult]:
    """Audit one book for a page; one that cannot be read ends with status 3."""
    from workbook_tools.fleet.run import check_one
    from workbook_tools.reading import UnreadableBook

    try:
        return check_one(book, options)
    except UnreadableBook as error:
        click.echo(f"NOT READ  {book}: {error}", err=True)
        sys.exit(NOT_READ)
