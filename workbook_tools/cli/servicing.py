"""davitbook servicing."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

import click

from workbook_tools.cli.common import Day
from workbook_tools.cli.planning import audited, plan_options, print_plan, solving


@click.command()
@click.option(
    "--months",
    type=click.IntRange(1, 36),
    default=18,
    show_default=True,
    metavar="MONTHS",
    help="How far ahead; 12 to 24 is usual.",
)
@click.option("--on", "first", type=Day(), default=None, help="The day asked. Default: today.")
@plan_options
def servicing(
    book: Path,
    months: int,
    first: date | None,
    rule_set: str | None,
    company: Path | None,
    month_expiry: str,
    form: str,
    out: Path | None,
) -> None:
    """Which service at which call, and which rafts are ashore when.

    Places what falls due (rafts, releases, extinguishers, suits, falls, yearly
    and five-year work) at the calls of the Ports sheet, never so that rafts
    ashore leave fewer places than the rules ask for those on board. The calls
    are chosen so that as few days as possible are without a service in force,
    then as few calls as possible, then with the least validity thrown away.
    What cannot be in time is named, with the constraint that keeps it.

    \b
    Exit status: 0 all in time, 1 something cannot be, 2 wrong usage,
    3 the book could not be read.
    """
    on = first or date.today()
    audit, result = audited(book, on, rule_set, company, month_expiry, form, out)
    from workbook_tools.core.servicing import months_after
    from workbook_tools.planning.servicing import plan_servicing
    from workbook_tools.planning.servicing_report import as_dict, as_page

    with solving(book):
        plan = plan_servicing(audit, result, months_after(on, months))
    print_plan(audit, as_page(plan), as_dict(plan), form, out, "Servicing")
    sys.exit(1 if plan.gaps else 0)
