"""The example fleet, its manifest, and its audit on each of the manifest's days."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from functools import cache
from pathlib import Path
from typing import Any

from example_books.build import HERE
from workbook_tools.checks import Options
from workbook_tools.findings import BookResult, Finding
from workbook_tools.fleet import check_paths

MANIFEST: dict[str, Any] = tomllib.loads((HERE / "manifest.toml").read_text(encoding="utf-8"))
DAYS = [date.fromisoformat(day) for day in MANIFEST["days"]]
BOOKS: dict[str, dict[str, Any]] = {book["file"]: book for book in MANIFEST["book"]}
CLEAN = [name for name, book in BOOKS.items() if "not_evaluated_at_most" in book]

# What the manifest says of a finding; rule and subject may be left out.
FIELDS = ("code", "grade", "sheet", "cell", "rule", "subject")


@dataclass(frozen=True)
class Expected:
    """One finding of the manifest."""

    said: dict[str, str]

    def is_met_by(self, finding: Finding) -> bool:
        """Whether a finding agrees with everything that is said."""
        return all(getattr(finding, field) == self.said[field] for field in FIELDS if field in self.said)

    def __str__(self) -> str:
        return ", ".join(self.said[field] for field in FIELDS if field in self.said)


def expected(book: str, day: date) -> list[Expected]:
    """What a book must show on a day."""
    return [
        Expected(entry)
        for entry in BOOKS[book].get("finding", [])
        if entry["on"] == "any" or day.isoformat() in entry["on"]
    ]


def audit(paths: Sequence[Path], day: date) -> list[BookResult]:
    """Audit books on a day."""
    return list(check_paths(paths, Options(day)))


@cache
def audited(day: date) -> dict[str, BookResult]:
    """The audit of the whole set on a day, by file name."""
    return {Path(result.book).name: result for result in audit([HERE / name for name in BOOKS], day)}


def as_entry(finding: Finding, day: date) -> str:
    """A finding as it would stand in the manifest."""
    lines = [f'on = ["{day}"]', *(f'{field} = "{getattr(finding, field)}"' for field in FIELDS)]
    return "\n".join(["[[book.finding]]", *lines, f"# {finding.message}"])
