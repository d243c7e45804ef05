"""davitbook check."""

from __future__ import annotations

import os
import sys
from datetime import date
from pathlib import Path
from typing import IO, TYPE_CHECKING

import click

from workbook_tools.cli.common import Day, WarningDays, company_rules, jobs_option, refuse_input, refuse_unwritable
from workbook_tools.cli.fleet_reports import refuse_targets, report_options, report_sink
from workbook_tools.cli.fleet_scale import archive_sink, cluster_work, scale_options
from workbook_tools.cli.mapped import map_option, work_by_map
from workbook_tools.rules import rule_set_names
from workbook_tools.rules.loader import warning_days_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from workbook_tools.checks import Options
    from workbook_tools.fleet.sinks import Sink


@click.command()
@click.argument("paths", nargs=-1, metavar="PATH...")
@click.option("--on", type=Day(), default=None, help="The day asked. Default: today.")
@click.option(
    "--warn",
    type=WarningDays(0, 3660),
    default=None,
    metavar="DAYS",
    help=f"Call things due so many days ahead. Default, by kind: {warning_days_words()}.",
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
    help="The company's own rules: tighter figures, rules of its own, more warning days.",
)
@click.option(
    "--format",
    "form",
    type=click.Choice(["text", "json", "jsonl"]),
    default="text",
    show_default=True,
    help="jsonl: one line a book, each as soon as it is there.",
)
@click.option("--out", type=click.Path(path_type=Path), default=None, metavar="FILE", help="Write there instead.")
@click.option(
    "--list",
    "listed",
    type=click.File(encoding="utf-8"),
    default=None,
    metavar="FILE",
    help="Check the books, folders and patterns named in FILE as well, one a line; - is the standard input.",
)
@jobs_option
@click.option("--resume", is_flag=True, help="Go on with a run that was interrupted, from the journal beside FILE.")
@report_options
@scale_options
@map_option
def check(
    paths: tuple[str, ...],
    on: date | None,
    warn: int | None,
    rule_set: str | None,
    month_expiry: str,
    company: Path | None,
    form: str,
    out: Path | None,
    listed: IO[str] | None,
    jobs: int | None,
    resume: bool,
    reports: tuple[Path, ...],
    followups: Path | None,
    names: bool,
    archive: Path | None,
    cluster: str | None,
    map_file: Path | None,
) -> None:
    """Audit workbooks: files, folders or patterns, as many as there are.

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

    --report, --followups: links in them lead to the workbooks where these lie
    now; the list for a ship belongs beside the workbook on board. The list of
    ships alone is printed then, unless --format or --out asks for more.

    Ctrl-C ends a run; with --out, what is done is kept in FILE.journal, and the
    same command with --resume goes on from there.

    \b
    Exit status: 0 no action required, 1 action required (followed up or not),
    2 wrong usage, 3 some book could not be read (the rest is still reported),
    130 ended by Ctrl-C.
    """
    books = _books(paths, listed)
    if out is not None:
        refuse_input(out, books)
    refuse_targets(reports, followups, paths, books)
    for target in (out, *reports):
        refuse_unwritable(target)
    for made in (followups, archive):
        refuse_unwritable(made, folder=True)
    from workbook_tools.checks.context import Options
    from workbook_tools.cli.running import run

    own, first_day = company_rules(company), month_expiry == "first"
    options = Options(on or date.today(), warn, rule_set, first_day, own, names=names, lapses=bool(reports))
    brief = bool(reports or followups) and len(books) > 1 and out is None and _by_default("form")
    sinks: list[Sink] = [_report(form, out, options, brief)]
    if reports or followups is not None:
        sinks.append(report_sink(options, reports, followups))
    if archive is not None:
        sinks.append(archive_sink(archive, options))
    work = work_by_map(map_file, resume, cluster)
    if cluster is not None:
        work = cluster_work(cluster)
    sys.exit(run(books, options, sinks, jobs, resume, work))


def _books(paths: Sequence[str], listed: IO[str] | None) -> list[Path]:
    from workbook_tools.fleet.books import NoBooks, find_books, read_list

    try:
        more: list[str] = read_list(listed.read(), listed.name) if listed is not None else []
        if not (paths or more):
            raise click.UsageError("name the workbooks, folders or patterns to check")
        return find_books([*paths, *more])
    except NoBooks as error:
        raise click.UsageError(str(error)) from error
    except (OSError, UnicodeDecodeError) as error:
        raise click.UsageError(f"cannot read the list {listed.name if listed else ''}: {error}") from error


def _by_default(option: str) -> bool:
    return click.get_current_context().get_parameter_source(option) is click.core.ParameterSource.DEFAULT


def _report(form: str, out: Path | None, options: Options, brief: bool) -> Sink:
    """The sink of --format and --out; brief: of the text, the list of books alone."""
    from workbook_tools.fleet import sinks
    from workbook_tools.reports import text

    if form == "jsonl":
        return sinks.LinesSink(out, _print)
    if form == "json":
        return sinks.JsonSink(out, _print, options.on, options.rule_set or "", options.company)

    def head(books: list[text.Ranked]) -> str:
        return text.text_head(books, options.on, options.warn_days, options.company)

    return sinks.TextSink(out, _print, head, click.unstyle, brief)


def _print(piece: str) -> None:
    piece = piece.encode("utf-8", "backslashreplace").decode()
    click.echo(click.unstyle(piece) if os.environ.get("NO_COLOR") else piece, nl=False)
