"""Compares what a workbook's own sheets show with the audit, for the day that stands on its Status sheet.

The formulas know the published rules and their lead times, and the rule set that the book names: the audit they are
compared with is asked the same, whatever the command asked.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any, TypeVar

from workbook_tools.catalogue import normalise
from workbook_tools.checks.context import Audit, Options, open_audit
from workbook_tools.checks.coverage import scenarios
from workbook_tools.checks.required_lines import RequiredLine, required_lines
from workbook_tools.columns.calculated import EVERYONE, LEFT_OUT, OPEN, SEE_CHECK
from workbook_tools.core.coverage import Scenario
from workbook_tools.reading.cells import as_text, quoted
from workbook_tools.reading.own_sheets import Block, OwnSheets

_DAY_ZERO = date(1899, 12, 30)
_NUMBERS, _DAYS = ("asked", "carried", "missing"), ("earliest", "until")
_SHARE = 1e-6  # figures closer than this are one: a spreadsheet stores 15 digits
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Difference:
    """One cell that does not show what it should; rows and columns counted from 0."""

    row: int
    column: int
    about: str
    shows: str
    should: str


def differences(audit: Audit, own: OwnSheets) -> dict[str, list[Difference]]:
    """The cells that differ, by sheet. Nothing where the sheets cannot be compared."""
    if own.why_not or own.day is None or own.required is None or own.coverage is None:
        return {}
    then = _audit_at(audit, own.day)
    found = {
        own.required.sheet: list(_required(own.required, required_lines(then), blind=own.unread > 0)),
        own.coverage.sheet: list(_coverage(own.coverage, scenarios(then), blind=own.unread > 0)),
    }
    return {sheet: _in_whole_rows(own, sheet, entries) for sheet, entries in found.items()}


def _audit_at(audit: Audit, day: date) -> Audit:
    asked = audit.options
    same = asked.on == day and (asked.warn_days, asked.rule_set, asked.company) == (None, None, None)
    return audit if same else open_audit(audit.book, Options(day, month_first_day=asked.month_first_day))


def _in_whole_rows(own: OwnSheets, sheet: str, found: Iterable[Difference]) -> list[Difference]:
    """Without rows in which a cell was typed over: that is told already, and the cells beside it follow from it."""
    over = {entry.row for entry in own.typed_over.get(sheet, ())}
    return [entry for entry in found if entry.row not in over]


def _by_key(entries: Iterable[tuple[tuple[str, ...], T]]) -> dict[tuple[str, ...], T | None]:
    """Entries by their keys; None for a key that stands twice: which of two craft of one name is meant nobody knows."""
    listed = list(entries)
    counts = Counter(key for key, _ in listed)
    return {key: entry if counts[key] == 1 else None for key, entry in listed}


def _required(block: Block, lines: list[RequiredLine], blind: bool) -> Iterator[Difference]:
    """blind: somewhere stands a cell that formulas cannot read; they may then leave out lines and days of a craft."""
    shown = _by_key(((_folded(cells["craft"]), str(cells["rule"])), (row, cells)) for row, cells in block.lines)
    truth = _by_key(((_folded(line.craft), line.rule), line) for line in lines)
    for key, entry in shown.items():
        line = truth.get(key)
        if entry is None or entry[1]["says"] == SEE_CHECK:
            continue
        if line is not None:
            yield from _line(block, *entry, line, blind)
        elif key not in truth and not blind:
            about = f"{as_text(entry[1]['craft'])}, {entry[1]['rule']}"
            yield Difference(entry[0], block.columns["craft"], about, "a line for it", "none")
    for key, line in truth.items():
        if line is not None and key not in shown and not blind:
            about = f"{line.craft}, {line.rule}"
            yield Difference(block.next_row, block.columns["craft"], about, "no line for it", line.says)


def _line(block: Block, row: int, cells: Mapping[str, Any], line: RequiredLine, blind: bool) -> Iterator[Difference]:
    about = f"{line.craft}, {cells['item']}"
    for key in (*_NUMBERS, *_DAYS, "says"):
        right, there = getattr(line, key), cells[key]
        if there == "see check" or (blind and key == "earliest"):
            continue
        if not _alike(right, there):
            yield Difference(
                row,
                block.columns[key],
                f"{block.headings[key]}, {about}",
                _words(there, as_day=key in _DAYS),
                _words(right, as_day=key in _DAYS),
            )


def _coverage(block: Block, found: list[Scenario], blind: bool) -> Iterator[Difference]:
    """Where a cell of ship or craft cannot be read the sheet leaves everything open, and is not compared."""
    if blind:
        return
    truth = _by_key(((_folded(scenario.name),), scenario) for scenario in found)
    shown = _by_key(((_folded(cells["scenario"]),), (row, cells)) for row, cells in block.lines)
    for key, entry in shown.items():
        scenario = truth.get(key)
        if entry is None or (key in truth and scenario is None):
            continue
        for name, right in answers_of(scenario).items():
            if not _alike(right, entry[1][name]):
                about = f"{block.headings[name]}, {entry[1]['scenario']}"
                yield Difference(entry[0], block.columns[name], about, _words(entry[1][name]), _words(right))
    for key, scenario in truth.items():
        if scenario is not None and key not in shown:
            should = str(answers_of(scenario)["says"])
            yield Difference(block.next_row, block.columns["scenario"], scenario.name, "no line for it", should)


def answers_of(scenario: Scenario | None) -> dict[str, float | str | None]:
    if scenario is None:
        return {"persons": None, "places": None, "left_out": None, "says": OPEN}
    exact = scenario.places.least == scenario.places.most
    return {
        "persons": scenario.persons,
        "places": scenario.places.least if exact else "not clear",
        "left_out": scenario.left_out,
        "says": LEFT_OUT if scenario.left_out else OPEN if scenario.perhaps_left_out else EVERYONE,
    }


def _folded(name: Any) -> str:
    return normalise(as_text(name))


def _alike(right: Any, there: Any) -> bool:
    """Whether a cell shows an answer. Nothing and 0 are shown alike."""
    if isinstance(right, date):
        right = float((right - _DAY_ZERO).days)
    if not right or not there:
        return not right and not there
    if isinstance(right, int | float) and isinstance(there, int | float):
        return abs(there - right) <= _SHARE * max(1.0, abs(right))
    return bool(right == there)


def _words(value: Any, as_day: bool = False) -> str:
    if value in (None, ""):
        return "nothing"
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, int | float):
        if as_day and 0 < value < 100_000:
            return (_DAY_ZERO + timedelta(days=int(value))).isoformat()
        return f"{value:.10g}"
    return quoted(str(value))
