"""davitbook compare."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from workbook_tools.cli.common import (
    ACTION_REQUIRED,
    CLEAR,
    NOT_READ,
    Day,
    company_rules,
    jobs_option,
    print_or_write,
    refuse_input,
    refuse_unwritable,
)
from workbook_tools.rules import rule_set_names

if TYPE_CHECKING:
    from workbook_tools.checks import Options
    from workbook_tools.compare import ShipComparison
    from workbook_tools.compare.returns import Fleet


@click.command()
@click.argument("places", nargs=-1, required=True, metavar="OLD [...] NEW")
@click.option("--on", type=Day(), default=None, help="The day of returns without a record date. Default: today.")
@click.option(
    "--open-for",
    type=click.IntRange(2, 120),
    default=2,
    show_default=True,
    metavar="RETURNS",
    help="Name a finding that is open in so many returns in a row.",
)
@click.option("--brief", is_flag=True, help="Only what looks wrong; leave out what merely changed.")
@click.option("--rules", "rule_set", type=click.Choice(list(rule_set_names())), help="The rule set.")
@click.option(
    "--month-expiry",
    type=click.Choice(["last", "first"]),
    default="last",
    show_default=True,
    help="The day that an expiry given as month and year stands for.",
)
@jobs_option
@click.option("--company", type=click.Path(path_type=Path), metavar="TOML", help="The company's own rules.")
@click.option("--format", "form", type=click.Choice(["text", "json", "html"]), default="text", show_default=True)
@click.option("--out", type=click.Path(path_type=Path), metavar="FILE", help="Write there instead.")
def compare(
    places: tuple[str, ...],
    on: date | None,
    open_for: int,
    brief: bool,
    rule_set: str | None,
    month_expiry: str,
    jobs: int | None,
    company: Path | None,
    form: str,
    out: Path | None,
) -> None:
    """Compare a return with the one before it.

    OLD and NEW are two workbooks of one ship, or two folders of returns, whose
    ships are matched by IMO number (by name where one is missing, which is
    said). More than two may be given, oldest first.

    Says what changed on each sheet, whichever way the lines are sorted, and
    what looks wrong: an expiry moved on without a new batch, a quantity
    restored without one, a service without a new certificate, a return that
    only has a new date, a craft's capacity changed, a finding that stays open.
    davitbook rules CP01 explains each. Persons stand there by crew number or
    rank, never by name. The workbooks are never written to.

    \b
    davitbook compare october.xlsx november.xlsx
    davitbook compare returns/2026-10 returns/2026-11 --brief
    davitbook compare returns/2026-0[89] returns/2026-1* --open-for 3

    \b
    Exit status: 0 nothing looks wrong, 1 something looks wrong or no ship
    could be compared, 2 wrong usage, 3 some book could not be read, 130 ended
    by Ctrl-C.
    """
    if len(places) < 2:
        raise click.UsageError("give two books or folders at least: the older one first, then the newer")
    from workbook_tools.checks import Options
    from workbook_tools.compare import NothingToCompare, gather
    from workbook_tools.fleet.run import NoBooks, cores, find_books

    try:
        if out is not None:
            refuse_input(out, find_books(places))
            refuse_unwritable(out)
        fleet = gather(places, jobs or cores())
    except (NoBooks, NothingToCompare) as error:
        raise click.UsageError(str(error)) from error
    options = Options(
        on or date.today(),
        rule_set=rule_set,
        month_first_day=month_expiry == "first",
        company=company_rules(company),
    )
    ships = _compared(fleet, options, open_for, jobs or cores())
    print_or_write(_output(fleet, ships, options.on, open_for, brief, form), out)
    sys.exit(_status(fleet, ships))


def _compared(fleet: Fleet, options: Options, open_for: int, jobs: int) -> list[ShipComparison]:
    from workbook_tools.compare import compare_fleet

    results = compare_fleet(fleet, options, open_for, jobs)
    if len(fleet.ships) < 5 or not sys.stderr.isatty():
        return list(results)
    with click.progressbar(results, length=len(fleet.ships), label="Comparing", file=sys.stderr, show_pos=True) as bar:
        return list(bar)


def _output(fleet: Fleet, ships: list[ShipComparison], on: date, open_for: int, brief: bool, form: str) -> str:
    from workbook_tools.compare.document import as_json
    from workbook_tools.compare.report import page
    from workbook_tools.reports.layout import as_html_page, as_text_page

    if form == "json":
        return as_json(fleet, ships, on, open_for)
    made = page(fleet, ships, brief)
    return as_html_page(made) if form == "html" else as_text_page(made)


def _status(fleet: Fleet, ships: list[ShipComparison]) -> int:
    if fleet.unreadable or any(ship.unreadable for ship in ships):
        return NOT_READ
    queries = any(finding.grade == "query" for ship in ships for finding in ship.all_findings())
    return ACTION_REQUIRED if queries or not ships else CLEAR
