"""Audits foreign workbooks by a kept mapping, as they stand: what `check --map` does to each."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from typing import TypeVar

from workbook_tools.adopt.mapped import book_from_map
from workbook_tools.adopt.mapping import Mapping
from workbook_tools.checks.audit import audit_in_full
from workbook_tools.columns import SHEETS
from workbook_tools.findings import BookResult, Finding, Lapse
from workbook_tools.fleet.job import Job, Outcome, outcome_of, stamp_of, unreadable
from workbook_tools.fleet.work import fault
from workbook_tools.reading import UnreadableBook

Work = Callable[[Sequence[str], Job], Iterator[tuple[int, Outcome]]]
_Placed = TypeVar("_Placed", Finding, Lapse)


def by_map(mapping: Mapping) -> Work:
    """The work of a run whose books are laid out as a mapping says; one after another, in this process."""

    def work(paths: Sequence[str], job: Job) -> Iterator[tuple[int, Outcome]]:
        for number, path in enumerate(paths):
            yield number, _outcome(path, mapping, job)

    return work


def _outcome(path: str, mapping: Mapping, job: Job) -> Outcome:
    stamp = stamp_of(path) if job.stamped else ""
    try:
        audit, result = audit_in_full(
            book_from_map(Path(path), mapping, job.options.month_first_day or None), job.options
        )
        result = in_their_cells(result)
        extracted = {}
        for name in job.extracts:
            module, _, function = name.partition(":")
            extracted[name] = getattr(import_module(module), function)(audit, result)
        return outcome_of(result, job, extracted, stamp)
    except UnreadableBook as error:
        return unreadable(path, str(error), job)
    except Exception as error:
        return unreadable(path, str(fault("the audit by the mapping", error)), job)


def in_their_cells(result: BookResult) -> BookResult:
    """The result of an audit of a mapped book, each finding on the sheet and cell of theirs that it is about."""
    return replace(
        result,
        findings=[
            replace(_in_their_cell(one), message=_theirs(one.message), remedy=_theirs(one.remedy))
            for one in result.findings
        ],
        states=[replace(state, why=_theirs(state.why)) for state in result.states],
        lapses=[_in_their_cell(lapse) for lapse in result.lapses],
    )


# 'Inventory!LB1!C7' in a sentence: the sheet of ours before a cell of theirs.
_OURS_BEFORE_THEIRS = re.compile(
    rf"\b(?:{'|'.join(re.escape(one.name) for one in SHEETS)})!(?=[^!]{{1,31}}![A-Z]{{1,3}}\d)"
)


def _theirs(text: str) -> str:
    return _OURS_BEFORE_THEIRS.sub("", text)


def _in_their_cell(about: _Placed) -> _Placed:
    name, mark, cell = about.cell.rpartition("!")
    return replace(about, sheet=name, cell=cell) if mark else about
