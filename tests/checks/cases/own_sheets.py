"""What a living workbook shows in its own sheets, stated without a file: see test_own_sheets.py for real ones."""

from __future__ import annotations

from datetime import date
from typing import Any

from tests.checks.cases.common import Cases, Silent, Trip
from tests.workbooks import ON, Workbook
from workbook_tools.book.calculated.engine import serial
from workbook_tools.checks import Options
from workbook_tools.checks.audit import audit_in_full
from workbook_tools.checks.coverage import scenarios
from workbook_tools.checks.own_answers import answers_of
from workbook_tools.checks.required_lines import required_lines
from workbook_tools.columns.calculated import SEE_CHECK
from workbook_tools.reading import RawBook, read_raw
from workbook_tools.reading.own_sheets import COVERAGE_HEADINGS, REQUIRED_HEADINGS, Block, OwnSheets, TypedOver

FIRST = 3  # the row of the first line, counted from 0


def _shown(value: Any) -> Any:
    return serial(value) if isinstance(value, date) else "" if value is None else value


def _block(name: str, headings: dict[str, str], lines: list[dict[str, Any]]) -> Block:
    keys = list(headings.values())
    return Block(
        name,
        {key: index for index, key in enumerate(keys)},
        {key: title for title, key in headings.items()},
        [(FIRST + number, {key: _shown(line[key]) for key in keys}) for number, line in enumerate(lines)],
        FIRST + len(lines),
    )


def living(book: Workbook, on: date = ON) -> OwnSheets:
    """Give a book sheets of its own that show what is true on a day."""
    audit = audit_in_full(read_raw(RawBook("test.xlsx", book.grids())), Options(on))[0]
    required = [
        {**{key: getattr(line, key) for key in ("craft", "rule", "asked", "carried", "missing", "earliest", "until")},
         "says": line.says, "item": line.rule}
        for line in required_lines(audit)
    ]  # fmt: skip
    coverage = [{"scenario": scenario.name, **answers_of(scenario)} for scenario in scenarios(audit)]
    book.own = OwnSheets(
        day=on,
        required=_block("Required", REQUIRED_HEADINGS, required),
        coverage=_block("Coverage", COVERAGE_HEADINGS, coverage),
    )
    return book.own


def _cell(sheet: str, column: str, **values: Any) -> Trip:
    """A cell of the first line of a sheet shows something else."""

    def edit(book: Workbook) -> tuple[str, str]:
        own = living(book)
        block = own.required if sheet == "Required" else own.coverage
        assert block is not None
        block.lines[0][1].update(values)
        return sheet, f"{column}{FIRST + 1}"

    return edit


def _line_gone(book: Workbook) -> tuple[str, str]:
    block = living(book).required
    assert block is not None
    block.lines.pop()
    block.next_row -= 1
    return "Required", f"A{block.next_row + 1}"


def _changed_since(book: Workbook) -> tuple[str, str]:
    """A program takes a bucket out of the last boat, and nothing recalculates."""
    block = living(book).required
    assert block is not None
    book.lot("bucket")["quantity"] = 2.5
    row = next(row for row, line in block.lines if line["rule"] == "lifeboat.buckets" and line["craft"] == "Lifeboat 1")
    return "Required", f"D{row + 1}"


def _quiet(**values: Any) -> Silent:
    """Innocent values in the first line of Required, or of the whole."""

    def edit(book: Workbook) -> None:
        own = living(book)
        assert own.required is not None
        own.required.lines[0][1].update(values)

    return edit


def _long_past(book: Workbook) -> None:
    living(book, date(2025, 3, 1))


def _unreadable_somewhere(book: Workbook) -> None:
    own = living(book)
    assert own.required is not None
    own.unread = 1
    own.required.lines.pop()


def _typed(book: Workbook) -> tuple[str, str]:
    living(book).typed_over["Required"] = [TypedOver(FIRST, 3, "Carried, in date", "6")]
    return "Required", f"D{FIRST + 1}"


def _hidden(*rows: int, sheet: str = "Inventory") -> Trip:
    def edit(book: Workbook) -> tuple[str, str]:
        living(book).hidden[sheet] = list(rows)
        return sheet, f"A{rows[0] + 1}"

    return edit


def _only_empty_rows_hidden(book: Workbook) -> None:
    living(book).hidden["Inventory"] = [0, 4000]


def _renamed(book: Workbook, now: str, should: str) -> tuple[str, str]:
    living(book).renamed[now] = should
    return now, "A1"


def _of_another_format(book: Workbook) -> None:
    book.own = OwnSheets(why_not="the formulas of a .ods file are not read")


def _nothing_typed(book: Workbook) -> None:
    living(book)


CASES: Cases = {
    "WB25": (
        [
            _cell("Required", "C", asked=77.0),
            _cell("Required", "F", earliest=46000.0),
            _cell("Required", "H", says="■ SHORT"),
            _cell("Coverage", "C", places=77.0),
            _line_gone,
            _changed_since,
        ],
        [
            _nothing_typed,
            _quiet(says=SEE_CHECK, carried=77.0),
            _quiet(until="see check"),
            _long_past,
            _unreadable_somewhere,
            _of_another_format,
        ],
    ),
    "WB26": ([_typed], [_nothing_typed]),
    "WB27": ([_hidden(4), _hidden(5, 6, 9), _hidden(3, sheet="Craft")], [_only_empty_rows_hidden]),
    "WB28": (
        [lambda book: _renamed(book, "Our craft", "Craft"), lambda book: _renamed(book, "What is asked", "Required")],
        [lambda book: _renamed(book, "CRAFT", "Craft"), _nothing_typed],
    ),
}

FOLLOWS: dict[str, set[str]] = {}
