"""davitbook calendar."""

from __future__ import annotations

import sys
from datetime import UTC, date, datetime, time
from pathlib import Path
from typing import TYPE_CHECKING

import click

from workbook_tools.cli.common import CLEAR, NOT_READ, Day, WarningDays, company_rules, refuse_input, write
from workbook_tools.core.words import counted
from workbook_tools.rules import rule_set_names
from workbook_tools.rules.loader import warning_days_words

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from workbook_tools.checks import Options
    from workbook_tools.planning.calendar import ShipDeadlines


@click.command()
@click.argument("paths", nargs=-1, required=True, metavar="BOOK...")
@click.option("--out", type=click.Path(path_type=Path), required=True, metavar="FILE.ics", help="The calendar to make.")
@click.option("--on", type=Day(), default=None, help="The day asked, and the calendar's stamp. Default: now.")
@click.option(
    "--warn",
    type=WarningDays(0, 3660),
    default=None,
    metavar="DAYS",
    help=f"Alarm so many days ahead. Default, by kind: {warning_days_words()}.",
)
@click.option("--rules", "rule_set", type=click.Choice(list(rule_set_names())), help="The rule set.")
@click.option("--company", type=click.Path(path_type=Path), metavar="TOML", help="The company's own rules.")
def calendar(
    paths: tuple[str, ...],
    out: Path,
    on: date | None,
    warn: int | None,
    rule_set: str | None,
    company: Path | None,
) -> None:
    """Write every deadline into a calendar file (.ics).

    Expiries, services, drills and inspections, certificates, exemptions and
    follow-ups: one all-day event each, with an alarm ahead. Several books, or
    a folder of them, make one calendar. Import the file again after the book
    has changed: an event that is known is moved, not doubled. An event whose
    line has left the book stays until you delete it.

    \b
    davitbook calendar book.xlsx --out due.ics
    davitbook calendar returns/ --out fleet.ics

    Exit status: 0 written, 2 wrong usage, 3 some book was left out (the rest
    is written).
    """
    from workbook_tools.checks import Options
    from workbook_tools.fleet.run import NoBooks, find_books
    from workbook_tools.planning.calendar import as_ics

    try:
        books = find_books(paths)
    except NoBooks as error:
        raise click.UsageError(str(error)) from error
    refuse_input(out, books)
    options = Options(on or date.today(), warn, rule_set, company=company_rules(company))
    ships, left_out = gathered(_read(books, options))
    if not ships:
        click.echo("no calendar written: no book could be read", err=True)
        sys.exit(NOT_READ)
    write(out, as_ics(ships, datetime.combine(on, time(), UTC) if on else datetime.now(UTC).replace(microsecond=0)))
    events = sum(len(ship.deadlines) for ship in ships)
    click.echo(f"{out}: {counted(events, 'event')} of {counted(len(ships), 'ship')}")
    sys.exit(NOT_READ if left_out else CLEAR)


def gathered(found: Iterator[ShipDeadlines | str]) -> tuple[list[ShipDeadlines], int]:
    """The ships, each once, and how many books were left out; each of those is told on standard error."""
    ships: dict[str, ShipDeadlines] = {}
    left_out = 0
    for ship in found:
        if isinstance(ship, str):
            click.echo(ship, err=True)
        elif (first := ships.get(ship.key)) is not None:
            text = f"LEFT OUT  {ship.book}: {first.book} is of the same ship already; give one book for each ship"
            click.echo(text, err=True)
        else:
            ships[ship.key] = ship
            continue
        left_out += 1
    return list(ships.values()), left_out


def _read(books: Sequence[Path], options: Options) -> Iterator[ShipDeadlines | str]:
    """The deadlines of each book, or why it was not read."""
    from workbook_tools.fleet.run import check_one
    from workbook_tools.planning.calendar import ShipDeadlines
    from workbook_tools.planning.deadlines import deadlines
    from workbook_tools.reading import UnreadableBook

    for book in books:
        try:
            audit, result = check_one(book, options)
        except UnreadableBook as error:
            yield f"NOT READ  {book}: {error}"
            continue
        yield ShipDeadlines(result.ship, result.imo_number, str(book), deadlines(audit))
