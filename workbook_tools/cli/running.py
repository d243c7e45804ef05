"""Runs an audit of many books from the command line: progress, the journal, an interruption, the exit status."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

import click

from workbook_tools.cli.common import ACTION_REQUIRED, CLEAR, INTERRUPTED, NOT_READ
from workbook_tools.core.words import counted

if TYPE_CHECKING:
    from workbook_tools.checks import Options
    from workbook_tools.fleet.job import Job, Outcome
    from workbook_tools.fleet.journal import Journal
    from workbook_tools.fleet.run import Work
    from workbook_tools.fleet.sinks import Sink

# A bar is of use from so many books on.
_BAR_FROM = 5


def job_of(options: Options, sinks: Sequence[Sink], stamped: bool) -> Job:
    """What the sinks together ask of every book."""
    from workbook_tools.fleet.job import Job

    return Job(
        options,
        form=next((sink.form for sink in sinks if sink.form), ""),
        whole=any(sink.whole for sink in sinks),
        extracts=tuple(sorted({sink.extract for sink in sinks if sink.extract})),
        stamped=stamped,
    )


def run(
    books: Sequence[Path],
    options: Options,
    sinks: Sequence[Sink],
    jobs: int | None = None,
    resume: bool = False,
    work: Work | None = None,
) -> int:
    """Audit books into sinks; return the exit status.

    jobs: workers at a time. resume: go on with the journal of an earlier run. work: does the work in another way than
    in workers of this machine.
    """
    from workbook_tools.fleet.journal import JournalError
    from workbook_tools.fleet.run import check_fleet
    from workbook_tools.fleet.supervisor import WorkersFailed

    paths = [str(book) for book in books]
    journal, target = None, journal_target(sinks)
    try:
        job = job_of(options, sinks, stamped=target is not None)
        journal = _journal(target, job, resume, len(books))
        outcomes = check_fleet(paths, job, jobs, journal, work=work)
        status = _drain(outcomes, len(books), sinks, journal)
    except JournalError as error:
        raise click.UsageError(str(error)) from error
    except WorkersFailed as error:
        raise click.ClickException(f"{error}; a few books at a time are checked without worker processes") from error
    except OSError as error:
        if error.filename is None and isinstance(error, BrokenPipeError):
            raise  # nobody reads on: click ends quietly
        raise click.UsageError(f"cannot write {error.filename or _named(sinks)}: {error.strerror or error}") from error
    finally:
        if journal is not None:
            journal.close()
    if journal is not None and status != INTERRUPTED:
        journal.discard()
    return status


def _named(sinks: Sequence[Sink]) -> str:
    return ", ".join(str(sink.target) for sink in sinks if sink.target is not None) or "the output"


def journal_target(sinks: Sequence[Sink]) -> Path | None:
    """The output beside which the journal lies: the first that is a file, or will be."""
    for sink in sinks:
        if sink.target is not None and (not sink.target.exists() or sink.target.is_file()):
            return sink.target
    return None


def _journal(target: Path | None, job: Job, resume: bool, books: int) -> Journal | None:
    from workbook_tools.fleet.journal import Journal, journal_beside
    from workbook_tools.fleet.run import FEW

    if target is None:
        if resume:
            raise click.UsageError("--resume goes on with the journal beside the output: name it with --out")
        return None
    path = journal_beside(target)
    if resume and not path.exists():
        click.echo(f"No journal {path}: every book is checked.", err=True)
    if books <= FEW and not resume:
        return None
    journal = Journal(path, job, resume)
    if resume and len(journal):
        click.echo(f"Going on with {path}: {counted(len(journal), 'book')} in it.", err=True)
    return journal


def _drain(outcomes: Iterator[Outcome], books: int, sinks: Sequence[Sink], journal: Journal | None) -> int:
    """Give every outcome to every sink; return the exit status. Interrupted, say what is done and how to go on."""
    status, done = CLEAR, 0
    try:
        with _bar(books, sinks) as advance:
            for outcome in outcomes:
                for sink in sinks:
                    sink.take(outcome)
                status = max(status, _status(outcome))
                done += 1
                advance()
        for sink in sinks:
            sink.finish()
    except KeyboardInterrupt:
        close = getattr(outcomes, "close", None)
        if close is not None:
            close()
        _stopped(done, books, sinks, journal)
        return INTERRUPTED
    except BaseException:
        for sink in sinks:
            sink.abandon()
        raise
    return status


def _status(outcome: Outcome) -> int:
    if not outcome.readable:
        return NOT_READ
    return ACTION_REQUIRED if outcome.action else CLEAR


def _stopped(done: int, books: int, sinks: Sequence[Sink], journal: Journal | None) -> None:
    """Ctrl-C: what is printed may end with what is done; files stay away; the journal tells how to go on."""
    printed = [sink for sink in sinks if sink.target is None and sink.form == "text"]
    for sink in sinks:
        if sink in printed and done:
            sink.finish()
        else:
            sink.abandon()
    click.echo(f"\nStopped after {done:,} of {counted(books, 'book')}.", err=True)
    if journal is not None:
        click.echo(f"What is done is kept in {journal.path}: the same command with --resume goes on.", err=True)
    elif printed and done:
        click.echo("The report is of those.", err=True)
    else:
        click.echo("With --out FILE a run keeps a journal, with which --resume goes on.", err=True)


@contextmanager
def _bar(books: int, sinks: Sequence[Sink]) -> Iterator[Callable[[], None]]:
    """A bar with books a second and the time left, where there is much to do and somebody watches."""
    lines_on_screen = sys.stdout.isatty() and any(sink.form == "jsonl" and sink.target is None for sink in sinks)
    if books < _BAR_FROM or not sys.stderr.isatty() or lines_on_screen or os.environ.get("TERM") == "dumb":
        yield lambda: None
        return
    began = time.monotonic()
    with click.progressbar(length=books, label="Checking", file=sys.stderr, show_pos=True, show_eta=True) as bar:

        def advance() -> None:
            seconds = time.monotonic() - began
            if seconds > 0:
                bar.label = f"Checking, {(bar.pos + 1) / seconds:.0f} books/s"
            bar.update(1)

        yield advance
