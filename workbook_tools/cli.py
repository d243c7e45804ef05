"""The davitbook command. Heavy modules are loaded by the commands that need them, so that --help starts at once."""

from __future__ import annotations

import os
import sys
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

from workbook_tools import __version__
from workbook_tools.findings import CAUTION
from workbook_tools.rules import rule_set_names
from workbook_tools.rules.loader import lead_time_words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from workbook_tools.checks import Options
    from workbook_tools.checks.context import Audit
    from workbook_tools.findings import BookResult
    from workbook_tools.reports.layout import Page
    from workbook_tools.rules.company import Company

CLEAR, ACTION_REQUIRED, WRONG_USAGE, NOT_READ = 0, 1, 2, 3


class Day(click.ParamType[date]):
    """A day as YYYY-MM-DD."""

    name = "YYYY-MM-DD"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> date:
        """Read the day; wrong usage says how to write it."""
        if isinstance(value, date):
            return value
        try:
            return datetime.strptime(str(value), "%Y-%m-%d").date()
        except ValueError:
            self.fail(f"{value!r} is no date; write it as 2026-11-25", param, ctx)


class WarningDays(click.IntRange):
    """A number of days from 0 to ten years."""

    name = "DAYS"

    def _describe_range(self) -> str:
        return ""  # the range is no news to anybody who asks for help

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> int:
        """Read the number; wrong usage says what it may be."""
        try:
            return int(super().convert(value, param, ctx))  # type: ignore[arg-type]  # click reads any text
        except click.BadParameter:
            self.fail(f"{value!r} is no number of days from {self.min} to {self.max}", param, ctx)


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


@main.command()
@click.argument("paths", nargs=-1, required=True, metavar="PATH...")
@click.option("--on", type=Day(), default=None, help="The day asked. Default: today.")
@click.option(
    "--warn",
    type=WarningDays(0, 3660),
    default=None,
    metavar="DAYS",
    help=f"Call things due so many days ahead. Default, by kind: {lead_time_words()}.",
)
@click.option(
    "--rules",
    "rule_set",
    type=click.Choice(list(rule_set_names())),
    default=None,
    help="The rule set. Default: the one the Ship sheet names, else solas.",
)
@click.option(
    "--month-expiry",
    type=click.Choice(["last", "first"]),
    default="last",
    show_default=True,
    help="The day that an expiry given as month and year stands for.",
)
@click.option(
    "--company",
    type=click.Path(path_type=Path),
    default=None,
    metavar="TOML",
    help="The company's own rules: tighter figures, rules of its own, longer lead times.",
)
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
@click.option("--out", type=click.Path(path_type=Path), default=None, metavar="FILE", help="Write there instead.")
def check(
    paths: tuple[str, ...],
    on: date | None,
    warn: int | None,
    rule_set: str | None,
    month_expiry: str,
    company: Path | None,
    form: str,
    out: Path | None,
) -> None:
    """Audit workbooks: files, folders or patterns.

    Says for each finding which cell, what is there, what the rule asks, where
    the rule stands and what to do. The workbooks are never written to.

    A finding with an open line on the Follow-up sheet (an order, or the day it
    is expected) stands apart until that day; it is still action required.

    \b
    A company's own rules (--company) are a small file; they never ask less than
    the published rule, unless the Administration's letter is named:
    name = "Fleet instruction 12"
    [[rule]]
    tightens = "lifeboat.fresh-water"
    per_person = 4
    reference = "FI 12.3"
    [[rule]]
    key = "company.blankets"
    item = "blanket"
    subject = "lifeboat"
    evidence = "inventory"
    fixed = 2
    reference = "FI 12.4"
    [warn]
    pyrotechnic = 120

    \b
    Exit status: 0 no action required, 1 action required (followed up or not),
    2 wrong usage, 3 some book could not be read (the rest is still reported).
    """
    from workbook_tools.fleet.run import NoBooks, find_books

    try:
        books = find_books(paths)
    except NoBooks as error:
        raise click.UsageError(str(error)) from error
    if out is not None:
        _refuse_input(out, books)
    from workbook_tools.checks import Options
    from workbook_tools.fleet import check_paths

    own = _company(company)
    options = Options(on or date.today(), warn, rule_set, month_expiry == "first", own)
    results = _with_progress(check_paths(books, options), len(books))
    from workbook_tools import reports

    if form == "json":
        text = reports.as_json(results, options.on, rule_set or "", own)
    else:
        text = reports.as_text(results, options.on, warn, own)
    _print_or_write(text, out)
    sys.exit(_status(results))


def _company(file: Path | None) -> Company | None:
    """The company's rules, compared with the published ones; a fault in the file is wrong usage."""
    if file is None:
        return None
    from workbook_tools.core.quantity import required
    from workbook_tools.rules.company import CompanyError, read_company

    try:
        return read_company(file, required)
    except CompanyError as error:
        raise click.UsageError(str(error)) from error


def _refuse_input(out: Path, books: list[Path]) -> None:
    if out.exists() and any(out.samefile(book) for book in books):
        raise click.UsageError(f"--out {out} is one of the books to check: they are never written to")


def _with_progress(results: Iterable[BookResult], count: int) -> list[BookResult]:
    """Gather results, with a progress bar where there is much to do and somebody watches."""
    if count < 5 or not sys.stderr.isatty():
        return list(results)
    with click.progressbar(results, length=count, label="Checking", file=sys.stderr, show_pos=True) as bar:
        return list(bar)


def _print_or_write(text: str, out: Path | None) -> None:
    if out is None:
        click.echo(click.unstyle(text) if os.environ.get("NO_COLOR") else text, nl=False)
        return
    _write(out, click.unstyle(text).encode())


def _write(out: Path, data: bytes) -> None:
    from workbook_tools.output import write_whole

    try:
        write_whole(out, data)
    except OSError as error:
        raise click.UsageError(f"cannot write {out}: {error.strerror or error}") from error


def _status(results: list[BookResult]) -> int:
    if any(not result.readable for result in results):
        return NOT_READ
    return ACTION_REQUIRED if any(result.grade_counts()["action"] for result in results) else CLEAR


def _page_options(function: Callable[..., None]) -> Callable[..., None]:
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


def _print_page(
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
        _refuse_input(out, [book])
    try:
        audit, result = check_one(book, options)
    except UnreadableBook as error:
        click.echo(f"NOT READ  {book}: {error}", err=True)
        sys.exit(NOT_READ)
    page = make(audit, result)
    _print_or_write(as_html_page(page) if form == "html" else as_text_page(page), out)


@main.command()
@click.option("--from", "first", type=Day(), default=None, help="Day of the handover. Default: today.")
@click.option("--to", "last", type=Day(), required=True, help="Last day of the relief's time on board.")
@_page_options
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

    options = Options(begin, rule_set=rule_set, company=_company(company))
    _print_page(book, options, lambda audit, result: pages.handover(audit, result, last), form, out)


@main.command()
@click.option("--on", type=Day(), default=None, help="Day of arrival. Default: today.")
@_page_options
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

    options = Options(on or date.today(), rule_set=rule_set, company=_company(company))
    _print_page(book, options, pages.arrival, form, out)


@main.command()
@click.option("--ship", required=True, metavar="NAME", help="The ship's name.")
@click.option("--out", type=click.Path(path_type=Path), required=True, metavar="FILE", help="The workbook to make.")
@click.option(
    "--like",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    default=None,
    metavar="TOML",
    help="A description of the ship and its craft: the Inventory then begins as a checklist of what each must carry.",
)
@click.option(
    "--lambda",
    "lambda_names",
    is_flag=True,
    help="Give the book the cell functions as LAMBDA names too, for Excel 365; leave it out for a book that is also "
    "kept in LibreOffice.",
)
@click.option("--force", is_flag=True, help="Replace FILE if it is there.")
def new(ship: str, out: Path, like: Path | None, lambda_names: bool, force: bool) -> None:
    """Make a workbook to fill in.

    With --like, the Craft sheet is filled and the Inventory lists every item
    each craft must carry, with the quantity asked; what is there is left for
    you to count. The description names the columns of the Ship and Craft
    sheets, a [[craft]] for each craft:

    \b
    [ship]
    ship_type = "general cargo ship"
    gross_tonnage = 5200
    voyages = "international"

    \b
    [[craft]]
    name = "Lifeboat 1"
    type = "lifeboat"
    side = "port"
    persons_permitted = 20
    stowage_height = 11
    """
    if not ship.strip():
        raise click.UsageError("--ship is empty: give the ship's name")
    if out.suffix.lower() != ".xlsx":
        raise click.UsageError(f"--out {out}: the name must end in .xlsx")
    if out.exists() and not force:
        raise click.UsageError(f"{out} is there already; choose another name, or --force to replace it")
    from workbook_tools.book import DescriptionError, build, read_description

    try:
        description = read_description(like) if like is not None else None
    except DescriptionError as error:
        raise click.UsageError(str(error)) from error
    more_names = None
    if lambda_names:
        from workbook_tools.addins.lambda_names import write_names

        more_names = write_names
    _write(out, build(ship, description, more_names=more_names))
    click.echo(f"{out}: fill in the sheets from left to right, then: davitbook check {out}")


@main.command()
@click.argument("what", required=False)
def rules(what: str | None) -> None:
    """Explain a finding (EQ01), a rule (lifeboat.fresh-water) or a list.

    \b
    davitbook rules              every code, and the rule sets
    davitbook rules EQ01         what a code means
    davitbook rules lifeboat     every rule whose key begins so
    davitbook rules "hand flare" the rules for an item
    davitbook rules III/20.8     the rules of a paragraph
    davitbook rules items        the items and their other names
    """
    from workbook_tools import handbook

    text = handbook.explain(what)
    if text is None:
        near = handbook.nearest(what or "")
        hint = f"; did you mean {near}?" if near else ""
        raise click.UsageError(f"no code, rule or list named {what!r}{hint}")
    click.echo(text)
    click.echo()
    click.echo(CAUTION)


@main.group()
def addin() -> None:
    """Build the cell functions for Excel or LibreOffice Calc.

    \b
    davitbook addin calc --out DIR     extension for LibreOffice Calc
    davitbook addin excel --out DIR    module, VBA and steps for Excel
    davitbook addin lambda --out DIR   named formulas for Excel 365
    """


_ADDIN_OUT = click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    required=True,
    metavar="DIR",
    help="The folder to write to; made if it is missing.",
)


@addin.command()
@_ADDIN_OUT
def calc(out: Path) -> None:
    """Write the extension for LibreOffice Calc (davitbook.oxt)."""
    from workbook_tools.addins.calc import build

    _build_addin(build, out)


@addin.command()
@_ADDIN_OUT
def excel(out: Path) -> None:
    """Write what Excel needs: VBA, module, settings, steps.

    Needs xlwings (pip install "davitbook[excel]"). The steps for a locked-down
    PC stand in README.md of the folder.
    """
    from workbook_tools.addins.excel.package import build

    _build_addin(build, out)


@addin.command("lambda")
@_ADDIN_OUT
def lambda_names(out: Path) -> None:
    """Write named formulas for Excel 365: no macros, no Python."""
    from workbook_tools.addins.lambda_names import build

    _build_addin(build, out)


def _build_addin(build: Callable[[Path], Path], out: Path) -> None:
    """Build into a folder and say where; what stands in the way is wrong usage."""
    try:
        click.echo(f"{build(out)}: written")
    except ImportError as error:
        raise click.UsageError(f'{error}: install xlwings with pip install "davitbook[excel]"') from error
    except OSError as error:
        raise click.UsageError(f"cannot write to {out}: {error.strerror or error}") from error


if __name__ == "__main__":
    main()
