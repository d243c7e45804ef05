"""What changed between two returns, line by line. A line that moved has not changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from workbook_tools.compare.matching import Pair, said, shared_columns
from workbook_tools.compare.step import Step
from workbook_tools.reading import Row, Table
from workbook_tools.reading.cells import as_text, shortened
from workbook_tools.reading.tables import row_subject

NEW, GONE, CHANGED = "new", "gone", "changed"
KINDS = (NEW, GONE, CHANGED)

# A log grows with every return: its new lines are counted, and only those that are gone or altered are told.
LOGS = frozenset({"routine"})
# Compared, and never shown.
PERSONAL = frozenset({("crew", "name")})
# Says when the record was gone through: it is the return's own date and no change.
OF_THE_RETURN = frozenset({("ship", "record_date")})
_SHOWN_LENGTH = 60


@dataclass(frozen=True, slots=True)
class Difference:
    """One cell that says something else. before, after: as printed, '' for an empty cell."""

    column: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Change:
    """One line that is new, gone or changed. cell and old_cell: addresses in the newer and the older return, or ''."""

    sheet: str
    kind: str
    subject: str
    differences: tuple[Difference, ...] = ()
    cell: str = ""
    old_cell: str = ""


def changes(step: Step) -> Iterator[Change]:
    """Yield the changes of every sheet that both returns keep, in the contract's order."""
    for sheet, (old, new) in step.tables.items():
        matched = step.matched[sheet]
        for pair in matched.pairs:
            change = _changed(step, sheet, old, new, pair)
            if change is not None:
                yield change
        if sheet not in LOGS:
            for row in matched.new:
                yield _of_one(step, new, row, NEW)
        for row in matched.gone:
            yield _of_one(step, old, row, GONE)


def new_log_lines(step: Step) -> dict[str, int]:
    """How many lines each log has that the older return had not, by the sheet's name."""
    return {step.tables[sheet][1].sheet.name: len(step.matched[sheet].new) for sheet in LOGS if sheet in step.tables}


def _of_one(step: Step, table: Table, row: Row, kind: str) -> Change:
    first = next((column.key for column in table.sheet.columns if column.key in table.columns), "")
    cell = table.cell(row, first)
    quantity = _shown(step, row, "quantity") if table.sheet.key == "inventory" else ""
    subject = step.nameless(row_subject(row, table)) + (f": {quantity}" if quantity else "")
    return Change(
        table.sheet.name, kind, subject, cell=cell if kind == NEW else "", old_cell=cell if kind == GONE else ""
    )


def _changed(step: Step, sheet: str, old: Table, new: Table, pair: Pair) -> Change | None:
    differences: list[Difference] = []
    first = ""
    for column in shared_columns(old, new):
        if (sheet, column) in OF_THE_RETURN or said(sheet, pair.old, column) == said(sheet, pair.new, column):
            continue
        if column in pair.old.unclear or column in pair.new.unclear:
            step.left_out["cells that cannot be read in one of the two returns"] += 1
            continue
        heading = old.sheet.column(column).heading
        if (sheet, column) in PERSONAL:
            differences.append(_persons(heading, pair.old.get(column), pair.new.get(column)))
        else:
            differences.append(Difference(heading, _shown(step, pair.old, column), _shown(step, pair.new, column)))
        first = first or column
    if not differences:
        return None
    return Change(
        old.sheet.name,
        CHANGED,
        step.nameless(row_subject(pair.new, new)),
        tuple(differences),
        new.cell(pair.new, first),
        old.cell(pair.old, first),
    )


def _persons(heading: str, old: Any, new: Any) -> Difference:
    """A name that changed, without the name."""
    if old is None or new is None:
        return Difference(heading, "" if old is None else "given", "" if new is None else "given")
    return Difference(heading, "a person", "another person")


def _shown(step: Step, row: Row, column: str) -> str:
    value: Any = row.get(column)
    if value is None:
        return ""
    if isinstance(value, date):
        return value.isoformat()
    return shortened(step.nameless(as_text(value)), _SHOWN_LENGTH)
