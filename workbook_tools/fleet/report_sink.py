"""The reports of one run: each result is put aside as it comes, and every report is written when the last one is in."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from workbook_tools.checks import Options
from workbook_tools.core.words import counted
from workbook_tools.findings import BookResult
from workbook_tools.fleet.sinks import ResultSink
from workbook_tools.output import write_whole
from workbook_tools.reports.fleet.followups import FollowUpLists
from workbook_tools.reports.fleet.page import fleet_page
from workbook_tools.reports.fleet.record import FleetRecord
from workbook_tools.reports.fleet.workbook import fleet_workbook


class ReportSink(ResultSink):
    """Writes what was asked for: reports (files that end in .xlsx or .html), and lists in a folder.

    say: is told a line for each thing written. If the run ends early, nothing appears. Raises OSError.
    """

    def __init__(
        self, options: Options, reports: Sequence[Path], followups: Path | None, say: Callable[[str], object]
    ) -> None:
        self._reports, self._say = reports, say
        self.target = reports[0] if reports else None
        self._record = FleetRecord(options) if reports else None
        self._lists = FollowUpLists(followups, options) if followups is not None else None

    def add(self, result: BookResult, extracted: Any) -> None:
        """Put one result aside."""
        if self._record is not None:
            self._record.add(result)
        if self._lists is not None:
            self._lists.add(result)

    def finish(self) -> None:
        """Write everything."""
        if self._record is not None:
            for target in self._reports:
                write_whole(target, _made(self._record, target))
                self._say(f"Wrote report of {counted(self._record.books, 'book')} in {target}")
        if self._lists is not None:
            self._say(f"Wrote {self._lists.finish()}")
        self.abandon()

    def abandon(self) -> None:
        """Leave nothing half-made behind."""
        if self._record is not None:
            self._record.close()
        if self._lists is not None:
            self._lists.close()


def _made(record: FleetRecord, target: Path) -> bytes:
    """A report as the ending of its file asks, with links that work from where the file will lie."""
    folder = target.absolute().parent
    if target.suffix.lower() == ".xlsx":
        return fleet_workbook(record, folder)
    return fleet_page(record, folder).encode()
