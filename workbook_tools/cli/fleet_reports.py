"""The options of `check` that make reports of a fleet."""

from __future__ import annotations

import fnmatch
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from workbook_tools.checks import Options
    from workbook_tools.fleet.sinks import Sink

FORMS = (".xlsx", ".html", ".htm")


def report_options(function: Callable[..., None]) -> Callable[..., None]:
    """The options for reports of a fleet: reports, followups and names."""
    for option in (
        click.option("--names", is_flag=True, help="Name the person beside a finding on a line of the Crew sheet."),
        click.option(
            "--followups",
            type=click.Path(file_okay=False, path_type=Path),
            metavar="DIR",
            help="Write there, for each ship, a list of what to correct.",
        ),
        click.option(
            "--report",
            "reports",
            type=click.Path(dir_okay=False, path_type=Path),
            multiple=True,
            metavar="FILE",
            help="Write a report of all books: FILE.xlsx or FILE.html. May be given twice.",
        ),
    ):
        function = option(function)
    return function


def refuse_targets(
    reports: Sequence[Path], followups: Path | None, paths: Sequence[str], books: Sequence[Path]
) -> None:
    """Refuse, as wrong usage, what would be written over a book, or be taken for one by the next run."""
    for target in reports:
        if target.suffix.lower() not in FORMS:
            raise click.UsageError(f"--report {target}: the name must end in .xlsx or .html")
        if target.exists() and any(target.samefile(book) for book in books if book.exists()):
            raise click.UsageError(f"--report {target} is one of the books to check: they are never written to")
        if target.suffix.lower() == ".xlsx":
            _refuse_among("--report", target, paths)
    if len({target.absolute() for target in reports}) < len(reports):
        raise click.UsageError("--report names one file twice")
    if followups is not None:
        _refuse_among("--followups", followups / "list.xlsx", paths)


def _refuse_among(option: str, target: Path, paths: Sequence[str]) -> None:
    """Refuse a workbook that the next run over the same paths would read as a ship's record."""
    resolved = target.resolve()
    for text in paths:
        path = Path(text)
        inside = path.is_dir() and path.resolve() in resolved.parents
        if inside or (not path.exists() and fnmatch.fnmatch(str(resolved), str(path.absolute()))):
            where = target if option == "--report" else target.parent
            raise click.UsageError(
                f"{option} {where} lies in {text}, which is checked: the next run would take it for a ship's workbook. "
                "Write it elsewhere"
            )


def report_sink(options: Options, reports: Sequence[Path], followups: Path | None) -> Sink:
    """The sink that writes reports and lists, and says on the error output what it wrote."""
    from workbook_tools.fleet.report_sink import ReportSink

    return ReportSink(options, reports, followups, lambda line: click.echo(line, err=True))
