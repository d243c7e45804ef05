"""The command itself: what it says alone, its help in groups, and what it answers to a slip."""

from __future__ import annotations

import difflib
import errno
import os
import signal
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import IO, Any

import click

from workbook_tools.cli.common import INTERRUPTED, WRONG_USAGE

# The commands as they are looked for. One that stands in no group is shown under the last.
GROUPS = (
    ("Begin a record", ("new", "adopt")),
    ("Check it", ("check", "compare", "rules")),
    ("Papers", ("handover", "arrival")),
    ("Plan", ("order", "servicing", "muster", "ration", "calendar")),
    ("Around it", ("addin", "doctor", "completion")),
)
# Words that people try; each leads to a command.
OTHER_WORDS = {
    "audit": "check",
    "validate": "check",
    "init": "new",
    "create": "new",
    "template": "new",
    "import": "adopt",
    "convert": "adopt",
    "diff": "compare",
    "explain": "rules",
    "why": "rules",
    "functions": "addin",
    "ics": "calendar",
    "rations": "ration",
    "service": "servicing",
    "version": "--version",
}
BOOK_ENDINGS = (".xlsx", ".xlsm", ".xlsb", ".xls", ".ods")
TRACEBACK = "DAVITBOOK_TRACEBACK"

_BEGINNING = """\
davitbook {version}: the ship's record of life-saving and fire-fighting appliances
as one workbook, and the audit of it.

Begin    davitbook new --ship "Name" --out book.xlsx    an empty record
         davitbook adopt theirs.xlsx                    a list you keep already
Check    davitbook check book.xlsx                      what is wrong, and where
         davitbook rules EQ01                           what a finding means
Plan     davitbook order book.xlsx --until {until}   what to order, and when
         davitbook servicing book.xlsx                  which service when
Office   davitbook check returns --report fleet.html    the fleet on one page

davitbook --help lists every command, davitbook doctor says what works here.
"""


class Davitbook(click.Group):
    """The group of all commands."""

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """The commands in groups, each with the first sentence of its help."""
        known = self.list_commands(ctx)
        named = {name for _, names in GROUPS for name in names}
        for title, names in GROUPS:
            more = [name for name in known if name not in named] if title == GROUPS[-1][0] else []
            rows = [(name, self._sentence(ctx, name)) for name in (*names, *more) if name in known]
            with formatter.section(title):
                formatter.write_dl(rows)

    def _sentence(self, ctx: click.Context, name: str) -> str:
        command = self.get_command(ctx, name)
        return command.get_short_help_str(limit=200) if command is not None else ""

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """The command that is meant; a word that is none is wrong usage, and the answer says what to type."""
        word = args[0]
        if self.get_command(ctx, word) is None and not word.startswith("-"):
            raise click.UsageError(f"there is no command {word!r}{self._advice(ctx, word)}", ctx)
        return super().resolve_command(ctx, args)

    def _advice(self, ctx: click.Context, word: str) -> str:
        if word.lower().endswith(BOOK_ENDINGS) or Path(word).is_dir():
            return f". To audit it: davitbook check {_quoted(word)}"
        near = OTHER_WORDS.get(word.lower()) or next(
            iter(difflib.get_close_matches(word.lower(), self.list_commands(ctx), n=1, cutoff=0.6)), None
        )
        return f"; did you mean davitbook {near}?" if near else ". davitbook --help lists them"

    def invoke(self, ctx: click.Context) -> Any:
        """Run the command. What is not installed, and a fault of our own, end in words and no traceback."""
        try:
            with _ends_in_order():
                return super().invoke(ctx)
        except KeyboardInterrupt as error:
            raise _Stopped("Stopped.") from error
        except (click.ClickException, click.Abort, click.exceptions.Exit):
            raise
        except ModuleNotFoundError as error:
            raise _NotInstalled(_missing(error)) from error
        except Exception as error:
            if os.environ.get(TRACEBACK) or (isinstance(error, OSError) and error.errno == errno.EPIPE):
                raise
            raise _OwnFault(_own_fault(error)) from error


@contextmanager
def _ends_in_order() -> Iterator[None]:
    """A closed terminal and a shutdown end the command as Ctrl-C does: nothing half-written stays behind."""

    def stop(number: int, frame: object) -> None:
        raise KeyboardInterrupt

    ours = []
    if threading.current_thread() is threading.main_thread():
        for name in ("SIGTERM", "SIGHUP"):  # the second is not known to Windows
            number = getattr(signal, name, None)
            if number is not None and signal.getsignal(number) is signal.SIG_DFL:
                signal.signal(number, stop)
                ours.append(number)
    try:
        yield
    finally:
        for number in ours:
            signal.signal(number, signal.SIG_DFL)


class _Stopped(click.ClickException):
    """Ended by Ctrl-C; the status is the one that shells give it."""

    exit_code = INTERRUPTED

    def show(self, file: IO[Any] | None = None) -> None:
        click.echo(f"\n{self.message}", file=file, err=True)


class _NotInstalled(click.ClickException):
    """Something that this command needs is missing."""

    exit_code = WRONG_USAGE


class _OwnFault(click.ClickException):
    """A fault of the program itself; the status is the one that sysexits.h gives it."""

    exit_code = 70


def _missing(error: ModuleNotFoundError) -> str:
    from workbook_tools.cli.installed import install_words, remedy_for

    remedy = remedy_for(error.name or "") or install_words()
    return f"{error.name} is not installed, and this needs it: {remedy}. davitbook doctor lists all that is missing"


def _own_fault(error: Exception) -> str:
    """A fault that nobody foresaw, with the place where it arose, so that it can be reported in a line."""
    trace = error.__traceback__
    while trace is not None and trace.tb_next is not None:
        trace = trace.tb_next
    place = f"{Path(trace.tb_frame.f_code.co_filename).name}:{trace.tb_lineno}" if trace is not None else "?"
    return (
        f"davitbook itself failed ({type(error).__name__} at {place}: {str(error)[:300]}). No workbook was changed. "
        f"Please report this line; with {TRACEBACK}=1 the whole trace is printed"
    )


def _quoted(word: str) -> str:
    return f'"{word}"' if " " in word else word


def beginning(version: str, folder: Path) -> str:
    """What to do next, for somebody who typed nothing but the name; workbooks in the folder are pointed at."""
    text = _BEGINNING.format(version=version, until=f"{date.today().year + 1}-12-31")
    books = _books_in(folder)
    if len(books) == 1:
        text += f"\nHere lies {books[0]}: davitbook check {_quoted(books[0])}\n"
    elif books:
        text += f"\nHere lie {len(books)} workbooks: davitbook check .\n"
    return text


def _books_in(folder: Path) -> Sequence[str]:
    """Names of the workbooks in a folder, lock files left out; none where it cannot be read."""
    try:
        names = os.listdir(folder)
    except OSError:
        return []
    return sorted(name for name in names if name.lower().endswith(BOOK_ENDINGS) and not name.startswith(("~", ".")))
