"""davitbook order."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

import click

from workbook_tools.cli.common import Day
from workbook_tools.cli.planning import audited, plan_options, print_plan, solving


@click.command()
@click.option("--until", type=Day(), required=True, help="The last day to provide for.")
@click.option("--on", "first", type=Day(), default=None, help="The day asked. Default: today.")
@plan_options
def order(
    book: Path,
    until: date,
    first: date | None,
    rule_set: str | None,
    company: Path | None,
    month_expiry: str,
    form: str,
    out: Path | None,
) -> None:
    """What to order, at which call, so that nothing lapses unreplaced.

    Reads the calls of the Ports sheet: what can be had there and how long
    before it an order must be sent. A lot that lapses is ordered only where a
    rule would be broken by it. The calls are chosen so that as few days as
    possible are uncovered, then as few calls as possible, then with the least
    life thrown away. Lots that lapse with no call in between are named, with
    what is open to the master meanwhile.

    \b
    Exit status: 0 no day uncovered, 1 some day uncovered, 2 wrong usage,
    3 the book could not be read.
    """
    on = first or date.today()
    if until < on:
        raise click.UsageError(f"--until {until} lies before the day asked, {on}")
    audit, result = audited(book, on, rule_set, company, month_expiry, form, out)
    from workbook_tools.planning.order import plan_order
    from workbook_tools.planning.order_report import as_dict, as_page

    with solving(book):
        plan = plan_order(audit, result, until)
    print_plan(audit, as_page(plan), as_dict(plan), form, out, "Order")
    sys.exit(1 if plan.deficiencies else 0)
