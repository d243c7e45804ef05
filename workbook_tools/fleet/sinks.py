"""Where outcomes go: each sink takes every outcome of a run as it comes, in the order of the books, and is finished at
the end. None of them holds the whole of a run in memory.

To add an output, derive from ResultSink and enter it in cli/check.py where the others are.
"""

from __future__ import annotations

import tempfile
from collections.abc import Callable, Iterable, Iterator
from contextlib import AbstractContextManager, ExitStack
from datetime import date
from pathlib import Path
from typing import IO, TYPE_CHECKING, Any, Protocol

from workbook_tools.findings import GRADES, BookResult
from workbook_tools.fleet.job import Outcome
from workbook_tools.output import writing_whole
from workbook_tools.reports import json, text

if TYPE_CHECKING:
    from workbook_tools.rules.company import Company

# Outputs up to this size wait in memory for their end, larger ones in a temporary file.
_SPOOLED_BYTES = 8_000_000


class Sink(Protocol):
    """What takes the outcomes of a run.

    form: the wording it takes from each outcome ('' for none; one form a run). whole: whether it asks for the result
    itself. extract: what it asks for besides, as 'module:function' (see fleet.job.Extract), or ''. target: the file
    that it writes, beside which the journal may lie; None where it writes none.
    """

    form: str
    whole: bool
    extract: str
    target: Path | None

    def take(self, outcome: Outcome) -> None:
        """Take the next outcome."""

    def finish(self) -> None:
        """Write what there is to write, whole. Raises OSError."""

    def abandon(self) -> None:
        """Leave nothing behind: the run ended before its end."""


class ResultSink:
    """A sink that takes the results themselves: derive from it and give `add`, `finish` and, if need be, `abandon`."""

    form: str = ""
    whole: bool = True
    extract: str = ""
    target: Path | None = None

    def take(self, outcome: Outcome) -> None:
        self.add(outcome.result(), outcome.extract(self.extract) if self.extract else None)

    def add(self, result: BookResult, extracted: Any) -> None:
        """Take one book's result, and what `extract` worked out of its audit (None for a book that is not read)."""
        raise NotImplementedError

    def finish(self) -> None:
        """Write what there is to write, whole."""

    def abandon(self) -> None:
        """Leave nothing behind."""


class Printer(Protocol):
    """Prints a piece of a report on the standard output."""

    def __call__(self, piece: str) -> None: ...


def encoded(piece: str) -> bytes:
    """A piece of a report as bytes. What a file's name holds that is no text stands there in figures."""
    return piece.encode("utf-8", "backslashreplace")


class _Written:
    """A sink of one form that writes a file, or prints where no file is named."""

    form = ""
    whole = False
    extract = ""

    def __init__(self, target: Path | None, printed: Printer) -> None:
        self.target, self._print = target, printed

    def abandon(self) -> None:
        """Leave nothing behind."""

    def _pour(self, pieces: Iterable[str]) -> None:
        if self.target is None:
            for piece in pieces:
                self._print(piece)
            return
        with writing_whole(self.target) as file:
            for piece in pieces:
                file.write(encoded(piece))


class LinesSink(_Written):
    """JSON lines: each is written as it comes; a file appears when all of them are there."""

    form = "jsonl"

    def __init__(self, target: Path | None, printed: Printer) -> None:
        super().__init__(target, printed)
        self._stack = ExitStack()
        writing: AbstractContextManager[IO[bytes]] | None = writing_whole(target) if target is not None else None
        self._file = self._stack.enter_context(writing) if writing is not None else None

    def take(self, outcome: Outcome) -> None:
        if self._file is None:
            self._print(outcome.part)
        else:
            self._file.write(encoded(outcome.part))

    def finish(self) -> None:
        self._stack.close()

    def abandon(self) -> None:
        """Leave no file behind."""
        stopped = KeyboardInterrupt()
        try:
            self._stack.__exit__(KeyboardInterrupt, stopped, None)
        except KeyboardInterrupt as error:
            if error is not stopped:
                raise


class _Spooled(_Written):
    """A sink whose parts wait until the end, because something before them is known only then."""

    def __init__(self, target: Path | None, printed: Printer) -> None:
        super().__init__(target, printed)
        self._spool = tempfile.SpooledTemporaryFile(  # noqa: SIM115  # closed by finish or abandon
            _SPOOLED_BYTES, "w+", encoding="utf-8", errors="surrogatepass", newline=""
        )
        self._books = 0

    def _keep(self, part: str) -> None:
        self._spool.write(part)
        self._books += 1

    def _kept(self) -> Iterator[str]:
        self._spool.seek(0)
        while piece := self._spool.read(1 << 20):
            yield piece

    def abandon(self) -> None:
        """Let the parts go."""
        self._spool.close()


class TextSink(_Spooled):
    """The report for a screen: a list of the books, worst first, then each."""

    form = "text"

    def __init__(
        self,
        target: Path | None,
        printed: Printer,
        head: Callable[[list[text.Ranked]], str],
        plain: Callable[[str], str],
        brief: bool = False,
    ) -> None:
        """brief: the list alone, because the rest stands in another report."""
        super().__init__(target, printed)
        self._head, self._plain, self._brief = head, plain, brief
        self._ranked: list[text.Ranked] = []

    def take(self, outcome: Outcome) -> None:
        self._ranked.append(outcome.ranked)
        if self._brief:
            return
        part = f"\n{outcome.part}\n"
        self._keep(part if self.target is None else self._plain(part))

    def finish(self) -> None:
        self._pour(self._pieces())
        self._spool.close()

    def _pieces(self) -> Iterator[str]:
        yield self._head(self._ranked)
        yield from self._kept()
        yield text.text_tail()


class JsonSink(_Spooled):
    """The JSON document."""

    form = "json"

    def __init__(
        self, target: Path | None, printed: Printer, on: date, rules: str, company: Company | None = None
    ) -> None:
        super().__init__(target, printed)
        self._head = json.document_head(on, rules, company)
        self._totals = dict.fromkeys(GRADES, 0)

    def take(self, outcome: Outcome) -> None:
        for grade, count in zip(GRADES, outcome.grades, strict=True):
            self._totals[grade] += count
        self._keep(f"{',' if self._books else ''}\n{outcome.part}")

    def finish(self) -> None:
        self._pour(self._pieces())
        self._spool.close()

    def _pieces(self) -> Iterator[str]:
        yield self._head
        yield from self._kept()
        yield json.document_tail(self._books, self._totals)
