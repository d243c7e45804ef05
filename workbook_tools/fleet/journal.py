"""The journal of a run: each outcome as it comes, so that a run that was interrupted can be gone on with.

A file beside the output. It begins with a line that says what was asked; a record follows for each book. A record
that was cut short, and what follows it, counts for nothing. The journal of a run that asked something else is refused;
a book whose content has changed since is checked anew.
"""

from __future__ import annotations

import hashlib
import json
import os
import struct
import zlib
from contextlib import suppress
from dataclasses import replace
from pathlib import Path
from typing import IO

from workbook_tools import __version__
from workbook_tools.fleet.job import Job, Outcome, stamp_of
from workbook_tools.fleet.packing import pack, unpack

# The number of this layout. It changes with what a record holds.
VERSION = 1
_LENGTHS = struct.Struct("<III")  # of the book's name, of the record, and the record's checksum
_MOST_BYTES = 500_000_000


class JournalError(Exception):
    """A journal that cannot be gone on with; the text says why and what to do."""


def journal_beside(target: Path) -> Path:
    """Where the journal of a run lies that writes this output."""
    return target.with_name(f"{target.name}.journal")


def asked(job: Job) -> dict[str, str]:
    """What decides the outcomes of a run, in words and checksums."""
    options = job.options
    company = options.company
    return {
        "davitbook": __version__,
        "rules": _rules_checksum(),
        "--on": options.on.isoformat(),
        "--warn": str(options.warn_days),
        "--rules": str(options.rule_set),
        "--month-expiry": "first" if options.month_first_day else "last",
        "--company": hashlib.sha256(repr(company).encode()).hexdigest()[:16] if company else "",
        "--format": job.form,
        "other options": repr((replace(options, company=None), job.whole, job.extracts)),
    }


def _rules_checksum() -> str:
    """A checksum of the rules and lists in force: a journal of other figures is of no use."""
    from workbook_tools import catalogue, rules

    digest = hashlib.sha256()
    for package in (rules, catalogue):
        for path in sorted(Path(package.__path__[0]).rglob("*.csv")):
            digest.update(path.read_bytes())
    return digest.hexdigest()[:16]


class Journal:
    """Writes outcomes into a journal, and gives back those of an earlier run.

    Raises JournalError where the file is no journal, or one of another run; OSError where it cannot be written.
    """

    def __init__(self, path: Path, job: Job, resume: bool) -> None:
        self.path = path
        self._places: dict[str, tuple[int, int]] = {}  # by book: where its record begins, and its length
        head = json.dumps({"davitbook journal": VERSION, "asked": asked(job)}, sort_keys=True).encode() + b"\n"
        if resume and path.exists():
            self._file: IO[bytes] = path.open("r+b")
            try:
                self._read(head)
            except BaseException:
                self._file.close()
                raise
        else:
            self._file = path.open("w+b")
            self._file.write(head)
            self._file.flush()

    def __len__(self) -> int:
        return len(self._places)

    def _read(self, head: bytes) -> None:
        """Find the records of an earlier run, and cut off what was not written whole."""
        first = self._file.readline(100_000)
        if first != head:
            self._refuse(first, head)
        end = self._file.tell()
        size = os.fstat(self._file.fileno()).st_size
        while len(lengths := self._file.read(_LENGTHS.size)) == _LENGTHS.size:
            name_length, length, checksum = _LENGTHS.unpack(lengths)
            if not name_length or self._file.tell() + name_length + length > size or length > _MOST_BYTES:
                break
            name, record = self._file.read(name_length), self._file.read(length)
            if zlib.crc32(name + record) != checksum:
                break
            end = self._file.tell()
            self._places[os.fsdecode(name)] = (end - length, length)
        self._file.truncate(end)
        self._file.seek(end)

    def _refuse(self, first: bytes, head: bytes) -> None:
        remedy = f"delete {self.path} to begin anew"
        try:
            theirs, ours = json.loads(first), json.loads(head)
            if theirs["davitbook journal"] != VERSION:
                raise JournalError(f"{self.path} is of another version of davitbook: {remedy}")
            differ = [name for name, value in ours["asked"].items() if theirs["asked"].get(name) != value]
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
            raise JournalError(
                f"{self.path} is no journal of davitbook: move it away, or name another --out"
            ) from error
        shown = ", ".join(
            f"{name} {theirs['asked'].get(name) or 'not given'} then, {ours['asked'][name] or 'not given'} now"
            if name.startswith("--")
            else f"another {name}"
            for name in differ
        )
        raise JournalError(f"{self.path} is of a run that asked something else ({shown}): ask the same, or {remedy}")

    def add(self, outcome: Outcome) -> None:
        """Write an outcome. It stays, whatever happens to this process after."""
        name = os.fsencode(outcome.book)
        record = zlib.compress(pack(outcome.to_plain()), 1)
        self._file.write(_LENGTHS.pack(len(name), len(record), zlib.crc32(name + record)) + name + record)
        self._file.flush()

    def holds(self, book: str) -> bool:
        """Whether there is an outcome of an earlier run for a book as it is now: its content is the same."""
        if book not in self._places:
            return False
        try:
            stamp = self.recall(book).stamp
        except ValueError:
            return False
        return stamp != "" and stamp == stamp_of(book)

    def recall(self, book: str) -> Outcome:
        """The outcome of an earlier run, of a book that is in the journal. Raises ValueError for a spoilt record."""
        begin, length = self._places[book]
        end = self._file.seek(0, os.SEEK_END)
        self._file.seek(begin)
        data = self._file.read(length)
        self._file.seek(end)
        try:
            return Outcome(*unpack(zlib.decompress(data)))
        except (zlib.error, TypeError) as error:
            raise ValueError(f"no record of an outcome: {error}") from error

    def close(self) -> None:
        """Close the journal and leave it, for a run to go on with it. What a full disk did not take is left out."""
        with suppress(OSError):
            self._file.close()

    def discard(self) -> None:
        """Close the journal and delete it: the run is done."""
        self._file.close()
        self.path.unlink(missing_ok=True)
