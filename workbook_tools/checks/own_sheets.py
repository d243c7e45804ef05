"""Whether a returned workbook shows in its own sheets what is true (WB codes from 25 to 28).

Only of a workbook that calculates sheets itself, and of a .xlsx or .xlsm file: of others it is "not evaluated".
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from workbook_tools.checks.context import Audit
from workbook_tools.checks.own_answers import Difference, differences
from workbook_tools.checks.registry import Code, check, states
from workbook_tools.columns.calculated import CALCULATED_SHEETS
from workbook_tools.findings import Finding, State
from workbook_tools.reading.address import address
from workbook_tools.reading.cells import quoted
from workbook_tools.reading.own_names import is_known_otherwise
from workbook_tools.reading.own_sheets import TypedOver

RULE = "record.own-sheets"
_NAMED = 3  # cells of a sheet that are named one by one; the others are counted
_RANGES = 12  # hidden rows, or ranges of them, that are named
_RECALCULATE = (
    "open the book in the spreadsheet program, let it recalculate (F9; everything: Ctrl+Alt+F9 in Excel, Ctrl+Shift+F9 "
    "in LibreOffice) and save it; if the cells stay as they are, copy the lines into a fresh template"
)


@states
def own_sheets_state(audit: Audit) -> Iterator[State]:
    """That the workbook's own sheets were not compared, and why."""
    own = audit.book.own
    if own is not None and own.why_not:
        yield State(RULE, "workbook", "not_evaluated", f"what the workbook's own sheets show: {own.why_not}")


@check(
    Code(
        "WB25",
        "calculated-sheet-stale",
        ("query",),
        "the sheets Required and Coverage show what the audit says for the day that stands on Status",
        "the officer on board goes by what the workbook shows",
        "a line was changed by a program and the book never recalculated since: Required still shows 6 flares; a "
        "formula overwritten on a hidden sheet; a template with older rules",
        "'see check'; a day asked that is long past; a book just made and not yet opened; cells that formulas cannot "
        "read, which Status counts",
        _RECALCULATE,
    )
)
def calculated_sheet_stale(audit: Audit) -> Iterator[Finding]:
    """Yield one finding for each calculated sheet that shows something else than the audit."""
    own = audit.book.own
    if own is None:
        return
    for sheet, found in differences(audit, own).items():
        if found:
            first = min(found, key=lambda entry: (entry.row, entry.column))
            yield _finding(
                "WB25",
                sheet,
                address(first.row, first.column),
                f"{_cells(len(found))} not show what the audit says for {own.day}, the day on the Status sheet: "
                f"{_named(found)}. A formula is stale, overwritten or of an older template",
                _RECALCULATE,
            )


def _cells(count: int) -> str:
    return "1 cell does" if count == 1 else f"{count} cells do"


def _named(found: Sequence[Difference]) -> str:
    in_order = sorted(found, key=lambda entry: (entry.row, entry.column))
    parts = [
        f"{address(entry.row, entry.column)} ({entry.about}) shows {entry.shows} and should show {entry.should}"
        for entry in in_order[:_NAMED]
    ]
    return "; ".join(parts) + _more(len(found))


def _more(count: int) -> str:
    return f"; and {count - _NAMED} more" if count > _NAMED else ""


@check(
    Code(
        "WB26",
        "calculated-cell-typed-over",
        ("query",),
        "each cell of Status, Required and Coverage that should be calculated still holds its formula",
        "a figure that was typed stays as it is, whatever is on board",
        "'6' typed into the column 'Carried, in date'; a day typed over 'Day asked'; a formula deleted",
        "a day typed under 'Ask for another day'; an empty row put in; a title that was changed",
        "undo it or take a fresh template; the sheets were protected, without a password, against this",
    )
)
def calculated_cell_typed_over(audit: Audit) -> Iterator[Finding]:
    """Yield one finding for each calculated sheet on which something stands in the place of a formula."""
    own = audit.book.own
    for sheet, found in own.typed_over.items() if own is not None else ():
        count = len(found)
        yield _finding(
            "WB26",
            sheet,
            address(found[0].row, found[0].column),
            f"{'1 cell holds' if count == 1 else f'{count} cells hold'} no formula any more: "
            + "; ".join(map(_over, found[:_NAMED]))
            + _more(count),
            "in the spreadsheet program, undo it or copy the formula from the cell above or below; otherwise copy the "
            "lines into a fresh template. A day is asked for under 'Ask for another day' on Status",
        )


def _over(entry: TypedOver) -> str:
    what = f"{quoted(entry.typed)} was typed over it" if entry.typed else "it was cleared"
    return f"{address(entry.row, entry.column)} ({entry.heading}): {what}"


@check(
    Code(
        "WB27",
        "row-hidden-by-hand",
        ("query",),
        "no line of the record is hidden by hand",
        "a line that nobody sees is counted all the same, and neither corrected nor landed",
        "row 12 of Inventory hidden, with six hand flares on it",
        "a row that a filter leaves out; a folded group, whose plus sign stands in the margin; a hidden empty row",
        "show the rows again; delete a line that is no longer true",
    )
)
def row_hidden_by_hand(audit: Audit) -> Iterator[Finding]:
    """Yield one finding for each input sheet with hidden rows that hold data."""
    own = audit.book.own
    for table in audit.book.tables.values() if own is not None and own.hidden else ():
        assert own is not None
        if table.sheet.layout == "form":
            row = table.rows[0]
            filled = {at[0] for key, at in table.form_cells.items() if row.get(key) is not None or key in row.unclear}
        else:
            filled = {row.number for row in table.rows}
        rows = sorted(filled & set(own.hidden.get(table.name, ())))
        if rows:
            plural = len(rows) > 1
            yield _finding(
                "WB27",
                table.name,
                address(rows[0], 0),
                f"{'rows' if plural else 'row'} {_ranges(rows)} {'are' if plural else 'is'} hidden and "
                f"{'hold lines' if plural else 'holds a line'} of the record: read and counted all the same",
                "show the rows again, look at them, and delete what is no longer true",
            )


def _ranges(rows: Sequence[int]) -> str:
    """Rows counted from 0 as they are numbered in the program: 4, 7 to 9."""
    ranges: list[tuple[int, int]] = []
    for row in rows:
        if ranges and ranges[-1][1] == row - 1:
            ranges[-1] = (ranges[-1][0], row)
        else:
            ranges.append((row, row))
    words = [f"{first + 1}" if first == last else f"{first + 1} to {last + 1}" for first, last in ranges]
    more = f" and {len(words) - _RANGES} more stretches" if len(words) > _RANGES else ""
    return ", ".join(words[:_RANGES]) + more


@check(
    Code(
        "WB28",
        "own-sheet-renamed",
        ("query", "note"),
        "the sheets of the workbook have the names that the template gives them",
        "a sheet under another name is looked for in vain, by davitbook and by the next officer",
        "'Craft' renamed 'Our craft'; 'Required' renamed 'Requirements'",
        "a sheet of your own; a sheet that was deleted; other capitals",
        "give the sheet its name again; formulas follow",
    )
)
def own_sheet_renamed(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for each sheet of a living workbook that goes by another name."""
    own = audit.book.own
    for now, should in own.renamed.items() if own is not None and not own.other_format else ():
        if now.casefold() == should.casefold():
            continue
        table = next((table for table in audit.book.tables.values() if table.sheet.name == should), None)
        yield _finding(
            "WB28",
            now,
            "A1",
            f"sheet {now!r} is the sheet {should} of this workbook under another name: {_read_as(now, should, table)}",
            f"name it {should} again; its formulas follow by themselves",
            grade="note" if is_known_otherwise(now, should) else "query",
        )


def _read_as(now: str, should: str, table: object) -> str:
    name = getattr(table, "name", None)
    if name == now:
        return "it is read all the same"
    if name is not None:
        return f"{name!r} is read as {should}, while the formulas of the book read {now!r}"
    return "it is taken for what it was" if should in CALCULATED_SHEETS else "it is not read"


def _finding(code: str, sheet: str, cell: str, message: str, remedy: str, grade: str = "query") -> Finding:
    return Finding(
        code=code,
        rule=f"record.{code.lower()}",
        grade=grade,
        priority="plan" if grade == "note" else "at next port",
        sheet=sheet,
        cell=cell,
        subject=f"sheet {sheet}",
        message=message,
        remedy=remedy,
    )
