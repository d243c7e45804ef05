"""davitbook check."""

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
    WarningDays,
    company_rules,
    print_or_write,
    refuse_input,
)
from workbook_tools.rules import rule_set_names
from workbook_tools.rules.loader import lead_time_words

if TYPE_CHECKING:
    from collections.abc import Iterable

    from workbook_tools.findings import BookResult


@click.command()
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
        refuse_input(out, books)
    from workbook_tools.checks import Options
    from workbook_tools.fleet import check_paths

    own = company_rules(company)
    options = Options(on or date.today(), warn, rule_set, month_expiry == "first", own)
    results = with_progress(check_paths(books, options), len(books))
    from workbook_tools import reports

    if form == "json":
        text = reports.as_json(results, options.on, rule_set or "", own)
    else:
        text = reports.as_text(results, options.on, warn, own)
    print_or_write(text, out)
    sys.exit(status(results))


def with_progress(results: Iterable[BookResult], count: int) -> list[BookResult]:
    """Gather results, with a progress bar where there is much to do and somebody watches."""
    if count < 5 or not sys.stderr.isatty():
        return list(results)
    with click.progressbar(results, length=count, label="Checking", file=sys.stderr, show_pos=True) as bar:
        return list(bar)


def status(results: list[BookResult]) -> int:
    if any(not result.readable for result in results):
        return NOT_READ
    return ACTION_REQUIRED if any(result.grade_counts()["action"] for result in results) else CLEAR
