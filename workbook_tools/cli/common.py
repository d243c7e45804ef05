"""What the commands share: kinds of options, the company's rules, writing the output, exit statuses."""

from __future__ import annotations

import os
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from workbook_tools.rules.company import Company

CLEAR, ACTION_REQUIRED, WRONG_USAGE, NOT_READ = 0, 1, 2, 3
INTERRUPTED = 130


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


jobs_option = click.option(
    "--jobs",
    type=click.IntRange(1, 64),
    default=None,
    metavar="N",
    help="Books read at a time. Default: one for each core.",
)


def company_rules(file: Path | None) -> Company | None:
    """The company's rules, compared with the published ones; a fault in the file is wrong usage."""
    if file is None:
        return None
    from workbook_tools.core.quantity import required
    from workbook_tools.rules.company import CompanyError, read_company

    try:
        return read_company(file, required)
    except CompanyError as error:
        raise click.UsageError(str(error)) from error


def refuse_input(out: Path, books: list[Path]) -> None:
    if out.exists() and any(out.samefile(book) for book in books):
        raise click.UsageError(f"--out {out} is one of the workbooks read: choose another name")


def refuse_unwritable(target: Path | None, folder: bool = False) -> None:
    """Wrong usage, before the work begins, where a result could not be written; folder: one is made if need be."""
    import tempfile

    if target is None or (target.exists() and not folder and not target.is_file() and not target.is_dir()):
        return  # a device or a pipe is written straight to
    if target.exists() and target.is_dir() != folder:
        raise click.UsageError(f"cannot write {target}: it is a {'file' if folder else 'folder'}; choose another name")
    inside = target.parent
    while folder and not inside.exists() and inside != inside.parent:
        inside = inside.parent
    if not inside.is_dir():
        raise click.UsageError(f"cannot write {target}: there is no folder {inside}")
    try:
        with tempfile.TemporaryFile(dir=inside):
            pass
    except OSError as error:
        raise click.UsageError(f"cannot write {target}: {error.strerror or error} (folder {inside})") from error


def print_or_write(text: str, out: Path | None) -> None:
    if out is None:
        try:
            click.echo(click.unstyle(text) if os.environ.get("NO_COLOR") else text, nl=False)
        except BrokenPipeError:
            raise  # nobody reads on: click ends quietly
        except OSError as error:
            raise click.UsageError(f"cannot write the output: {error.strerror or error}") from error
        return
    write(out, click.unstyle(text).encode())


def write(out: Path, data: bytes) -> None:
    from workbook_tools.output import write_whole

    try:
        write_whole(out, data)
    except OSError as error:
        raise click.UsageError(f"cannot write {out}: {error.strerror or error}") from error
