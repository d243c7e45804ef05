"""A worker to which a book can do harm by its name: 'dies', 'hangs', 'eats', 'once' (dies the first time only)."""

from __future__ import annotations

import os
import time
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from workbook_tools.checks.audit import audit_together
from workbook_tools.fleet import work, worker
from workbook_tools.fleet.job import Job
from workbook_tools.reading import load
from workbook_tools.schema import validate

_load = load
_validate = validate
_HELD: list[bytearray] = []


def serve(pipe: Connection, job: Job, memory: int | None) -> None:
    """Serve as a worker does, with a reader that does what a book's name says."""
    vars(work).update(load=_harmed, validate=_harmed_together, audit_together=_harmed_audits)
    worker.serve(pipe, job, memory)


def serve_never(pipe: Connection, job: Job, memory: int | None) -> None:
    """End before beginning."""
    os._exit(9)


def _harmed(path: Path, *arguments: Any, **options: Any) -> Any:
    if "dies" in path.name:
        os.abort()
    if "once" in path.name and not path.with_suffix(".seen").exists():
        path.with_suffix(".seen").touch()
        os._exit(3)
    if "hangs" in path.name:
        time.sleep(1000)
    if "eats" in path.name:
        _eat()
    return _load(path, *arguments, **options)


def _harmed_together(books: Any) -> None:
    if any("together" in book.path for book in books):
        os._exit(4)
    _validate(books)


def _harmed_audits(books: Any, options: Any) -> Any:
    if any("audited" in book.path for book in books):
        os._exit(5)
    return audit_together(books, options)


def _eat() -> None:
    for _ in range(200):
        _HELD.append(bytearray(b"x") * 10_000_000)
        time.sleep(0.02)
