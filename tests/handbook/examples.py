"""Worked examples of the handbook: the very cases that the tests run, shown as the lines that they change.

They live here and not in the package, because a page of the handbook then cannot show an example that no test runs.
"""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

from tests.checks.cases import CASES as AUDIT_CASES
from tests.compare.cases import CASES as COMPARE_CASES
from tests.compare.pairs import step, suspicions, two
from tests.workbooks import Line, Workbook, clean
from workbook_tools.columns import SHEETS, sheet
from workbook_tools.findings import Finding
from workbook_tools.reading.address import address

Snapshot = dict[str, list[tuple[int, Line]]]


@dataclass(frozen=True)
class Change:
    """One line of a sheet before and after; None where it was not there, or is no more."""

    sheet: str  # key of the sheet
    before: Line | None
    after: Line | None

    @property
    def changed(self) -> list[str]:
        """Keys of the columns whose value differs; of a whole line that is new or gone, every column it has."""
        one, other = self.before or {}, self.after or {}
        keys = dict.fromkeys([*other, *one])
        return [key for key in keys if shown(one.get(key), True) != shown(other.get(key), True)]


@dataclass(frozen=True)
class Example:
    """What one case changes, in words where no line changes, and the finding that it brings, if any."""

    changes: tuple[Change, ...]
    words: tuple[str, ...]
    finding: Finding | None


def examples() -> dict[str, tuple[Example, Example]]:
    """For each code a case that trips it and one that stays silent."""
    found = {}
    for code, (trips, silents) in AUDIT_CASES.items():
        found[code] = (_visible(_of_audit, code, trips), _visible(_of_audit, code, silents))
    for code, (trips_two, silents_two) in COMPARE_CASES.items():
        found[code] = (_visible(_of_returns, code, trips_two), _visible(_of_returns, code, silents_two))
    return found


def _visible(run: Callable[[str, Any], Example], code: str, cases: Sequence[object]) -> Example:
    """The first case that changes something a reader can see; the first of all where none does."""
    made = (run(code, case) for case in cases)
    first = next(made)
    return next((example for example in itertools.chain([first], made) if example.changes or example.words), first)


def _of_audit(code: str, edit: Callable[[Workbook], object]) -> Example:
    book = clean()
    before, form = _snapshot(book), _form(book)
    place = edit(book)
    findings = [finding for finding in book.findings() if finding.code == code]
    return Example(tuple(_changes(before, book)), tuple(_words(form, book)), _named(findings, place))


def _of_returns(code: str, edit: Callable[[Workbook, Workbook], object]) -> Example:
    old, new = two()
    before, form = _snapshot(new), _form(new)
    place = edit(old, new)
    findings = [finding for finding in suspicions(step(old, new)) if finding.code == code]
    return Example(tuple(_changes(before, new)), tuple(_words(form, new)), _named(findings, place))


def _named(findings: list[Finding], place: object) -> Finding | None:
    """The finding at the cell that the case names; the first where it names none."""
    at = [finding for finding in findings if (finding.sheet, finding.cell) == place]
    return next(iter(at or findings), None)


def _snapshot(book: Workbook) -> Snapshot:
    lines = {entry.key: [(id(line), dict(line)) for line in book.rows.get(entry.key, [])] for entry in SHEETS}
    lines["ship"] = [(id(book.ship), dict(book.ship))]
    return lines


def _changes(before: Snapshot, book: Workbook) -> Iterator[Change]:
    for key, lines in before.items():
        if key != "ship" and key not in book.rows:
            continue  # the whole sheet is gone: told in words
        now = {id(line): line for line in ([book.ship] if key == "ship" else book.rows[key])}
        known = dict(lines)
        removed = [line for number, line in lines if number not in now]
        for number, line in now.items():
            if number not in known:
                if line in removed:  # the same line, written anew
                    removed.remove(line)
                    continue
                yield Change(key, None, line)
            elif _texts(known[number]) != _texts(line):
                yield Change(key, known[number], line)
        yield from (Change(key, line, None) for line in removed)


def _form(book: Workbook) -> dict[str, Any]:
    """What a case may change beside the lines."""
    return {
        "title_rows": book.title_rows,
        "columns": {key: list(order) for key, order in book.columns.items()},
        "headings": dict(book.headings),
        "errors": {key: dict(cells) for key, cells in book.errors.items()},
        "dotted": {key: list(cells) for key, cells in book.dotted.items()},
        "sheets": [entry.key for entry in SHEETS if entry.key in book.rows],
    }


def _words(before: dict[str, Any], book: Workbook) -> Iterator[str]:
    after = _form(book)
    for key in (key for key in before["sheets"] if key not in after["sheets"]):
        yield f"The sheet *{sheet(key).name}* is not in the workbook."
    if after["title_rows"] != before["title_rows"]:
        yield f"{after['title_rows']} title lines stand above the headings."
    for (key, column), heading in after["headings"].items():
        if before["headings"].get((key, column)) != heading:
            name = sheet(key).column(column).heading
            yield f"On the sheet *{sheet(key).name}* the column {name} is headed '{heading}'."
    for key, order in after["columns"].items():
        if before["columns"].get(key) != order:
            names = [entry.heading for entry in sheet(key).columns if entry.key not in order]
            yield f"On the sheet *{sheet(key).name}* these columns are missing: {', '.join(names) or 'none'}."
    for name, cells in after["errors"].items():
        if before["errors"].get(name) != cells:
            for (row, column), error in cells.items():
                yield f"The cell *{name}!{address(row, column)}* shows {error}."
    if after["dotted"] != before["dotted"]:
        yield "A formula was saved with a dotted name of one of our functions, LSA.WATER_L."


def _texts(line: Line) -> dict[str, str]:
    return {key: shown(value, True) for key, value in line.items() if shown(value)}


def shown(value: object, numeric: bool = False) -> str:
    """A value as a cell shows it; in a numeric column a number that was typed as text says so."""
    if value is None:
        return ""
    if numeric and isinstance(value, str) and re.fullmatch(r"[\d ,.]*\d", value):
        return f"'{value}' as text"
    if isinstance(value, date):
        return value.isoformat()
    return f"{value:g}" if isinstance(value, float) else str(value)
