"""Finds each sheet's headings and types every cell below them."""

import difflib
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from workbook_tools.catalogue import normalise
from workbook_tools.columns import SHEETS, Column, Sheet
from workbook_tools.findings import Finding
from workbook_tools.reading.address import address
from workbook_tools.reading.book import Book, Row, Table
from workbook_tools.reading.cells import EMPTY, Typed, as_text, type_cell
from workbook_tools.reading.load import Grid, RawBook, UnreadableBook, load

# Headings are looked for in this many rows from the top.
HEADER_ROWS = 60


def read_book(path: Path, month_first_day: bool = False) -> Book:
    """Read a workbook into typed tables. Raises UnreadableBook."""
    return read_raw(load(path), month_first_day)


def read_raw(raw: RawBook, month_first_day: bool = False) -> Book:
    """Type the cells of an opened workbook. Raises UnreadableBook when a sheet or heading it needs is missing."""
    book = Book(raw.path, {}, month_first_day=month_first_day)
    read: set[str] = set()
    for sheet in SHEETS:
        name = _find_sheet(raw, sheet)
        if name is None:
            if sheet.required:
                seen = ", ".join(repr(other) for other in raw.sheets) or "none"
                raise UnreadableBook(
                    f"no sheet named {sheet.name!r} (sheets found: {seen}): name it so and check again"
                )
            continue
        reader = _read_form if sheet.layout == "form" else _read_table
        read.add(name)
        table = reader(sheet, name, raw.sheets[name], raw.errors.get(name, {}), book)
        if table is not None:
            book.tables[sheet.key] = table
    _report_sheets(raw, read, book)
    return book


# Sheets of the template that hold nothing to read.
_OURS_WITHOUT_DATA = ("Notes", "Lists")


def _report_sheets(raw: RawBook, read: set[str], book: Book) -> None:
    """Name the sheets that are not read; say so in a note where the name is nearly one of ours."""
    missing = {normalise(sheet.name): sheet for sheet in SHEETS if sheet.key not in book.tables}
    for name, grid in raw.sheets.items():
        if (
            name in read
            or name in _OURS_WITHOUT_DATA
            or not any(cell not in ("", None) for line in grid for cell in line)
        ):
            continue
        near = difflib.get_close_matches(normalise(name), missing, n=1, cutoff=0.8)
        copied = next((t for t in book.tables.values() if normalise(name).startswith(normalise(t.name) + " ")), None)
        if near:
            _not_read(missing[near[0]], name, f"did you mean {missing[near[0]].name!r}?", book)
        elif copied:
            _not_read(copied.sheet, name, f"{copied.name!r} is read in its place", book)
        else:
            book.sheets_not_read.append(name)


def _find_sheet(raw: RawBook, sheet: Sheet) -> str | None:
    wanted = [normalise(name) for name in (sheet.name, *sheet.other_names)]
    by_name = {normalise(name): name for name in reversed(raw.sheets)}
    return next((by_name[name] for name in wanted if name in by_name), None)


def _heading(cell: Any, sheet: Sheet) -> Column | None:
    """The column a heading cell names, the star and what stands in brackets apart."""
    return _exact_heading(cell, sheet) or _heading_before_bracket(cell, sheet)


def _exact_heading(cell: Any, sheet: Sheet) -> Column | None:
    if not isinstance(cell, str) or not cell.strip():
        return None
    return sheet.headings.get(normalise(cell.strip().rstrip("*")))


def _heading_before_bracket(cell: Any, sheet: Sheet) -> Column | None:
    """'Quantity (pcs)' is Quantity; but 'Quantity (pcs)' beside a plain 'Quantity' is a column of their own."""
    if not isinstance(cell, str) or "(" not in cell:
        return None
    return sheet.headings.get(normalise(cell.split("(", 1)[0]))


def record_finding(
    code: str, grade: str, table: Table, cell: str, message: str, remedy: str, subject: str = ""
) -> Finding:
    return Finding(
        code=code,
        rule=f"record.{code.lower()}",
        grade=grade,
        priority="plan" if grade == "note" else "at next port",
        sheet=table.name,
        cell=cell,
        subject=subject or f"{table.name}!{cell}",
        message=message,
        remedy=remedy,
    )


def _type_into(row: Row, column: Column, raw: Any, error: str | None, table: Table, book: Book) -> None:
    """Type one cell into a row; what cannot be read becomes None, a finding and a mark on the row."""
    cell = table.cell(row, column.key)
    if error:
        typed = Typed(problem=f"the cell shows {error}", remedy="mend the formula, or write the value itself")
    else:
        typed = type_cell(raw, column, book.month_first_day)
    if typed is EMPTY:
        return
    if typed.problem:
        code = "WB01" if error else "WB03" if typed.about_date else "WB02"
        row.unclear[column.key] = error or as_text(raw)
        book.findings.append(
            record_finding(
                code, "query", table, cell, f"{column.heading}: {typed.problem}", typed.remedy, row_subject(row, table)
            )
        )
        return
    book.month_only += typed.month_only
    if column.kind == "content":
        number, unit = typed.value
        row.values[column.key] = number
        if unit is not None:
            row.values.setdefault("content_unit", unit)
        return
    row.values[column.key] = typed.value


def lot_name(row: Row) -> str:
    """A lot by place, item and what tells it from others there: its batch, or the date on it. '' when nothing is read.

    The row's number is no part of it, so that a finding keeps its id when lines are sorted or taken out.
    """
    own = row.values.get("batch") or row.values.get("expires") or row.unclear.get("expires")
    parts = (row.values.get("place"), row.values.get("item"), own)
    return ", ".join(as_text(part) for part in parts if part is not None)


def row_subject(row: Row, table: Table) -> str:
    """What a row is about, for the reader and for the finding's identity: it must not hold the row number."""
    keys = {
        "craft": ("name",),
        "crew": ("number",),
        "servicing": ("appliance", "service"),
        "routine": ("task", "subject"),
        "fire": ("number", "kind"),
        "defects": ("subject", "fitting"),
        "follow_up": ("finding",),
        "certificates": ("certificate",),
        "record_of_equipment": ("entry",),
        "exemptions": ("rule", "subject"),
    }.get(table.sheet.key, ())
    parts = [as_text(row.values[key]) for key in keys if row.values.get(key) is not None]
    if table.sheet.key == "inventory":
        return lot_name(row) or "lot without a name"
    if table.sheet.key == "crew":  # a number or a rank stands for a person, never the name
        rank = row.values.get("rank")
        return f"crew number {parts[0]}" if parts else as_text(rank) if rank else "person without a number"
    return ", ".join(parts) or (
        table.name if table.sheet.layout == "form" else f"{table.sheet.row_name} without a name"
    )


def _cells(grid: Grid, row: int, errors: dict[tuple[int, int], str]) -> Iterable[tuple[int, Any, str | None]]:
    for index, cell in enumerate(grid[row]):
        yield index, cell, errors.get((row, index))


# A value stands in the cell beside its label, or so many cells further where a form has merged or empty columns.
_FURTHEST_VALUE = 3


def _read_form(sheet: Sheet, name: str, grid: Grid, errors: dict[tuple[int, int], str], book: Book) -> Table | None:
    table = Table(sheet, name, {}, [])
    row = Row(0, {})
    labels = [
        (number, index, column)
        for number, line in enumerate(grid)
        for index, cell in enumerate(line)
        if (column := _heading(cell, sheet)) is not None
    ]
    beside = _value_distance(grid, labels)
    values = {(number, index + beside) for number, index, _ in labels}
    for number, index, column in labels:
        if (number, index) in values and (number, index - beside) in {(line, start) for line, start, _ in labels}:
            continue  # a value that reads like a label
        if row.get(column.key) is not None or column.key in row.unclear:
            continue
        at = index + beside
        table.form_cells[column.key] = (number, at)
        value = grid[number][at] if at < len(grid[number]) else None
        _type_into(row, column, value, errors.get((number, at)), table, book)
    if not table.form_cells:
        return None
    table.rows.append(row)
    return table


def _value_distance(grid: Grid, labels: list[tuple[int, int, Column]]) -> int:
    """How far right of their labels the values stand: the nearest column in which any label has something."""
    for distance in range(1, _FURTHEST_VALUE + 1):
        for number, index, _ in labels:
            line = grid[number]
            if index + distance < len(line) and line[index + distance] not in ("", None):
                return distance
    return 1


def _header(sheet: Sheet, grid: Grid) -> tuple[int, dict[str, int], list[tuple[int, Column]]] | None:
    """Row and columns of the heading line that names most columns, and headings that stand twice."""
    best: tuple[int, dict[str, int], list[tuple[int, Column]]] | None = None
    for number, line in enumerate(grid[:HEADER_ROWS]):
        columns, twice = _columns_of(line, sheet)
        if len(columns) >= 2 and (best is None or len(columns) > len(best[1])):
            best = (number, columns, twice)
    return best


def _columns_of(line: list[Any], sheet: Sheet) -> tuple[dict[str, int], list[tuple[int, Column]]]:
    """Column keys and indexes that a line of headings gives, and the headings that stand twice. Exact ones go first."""
    columns: dict[str, int] = {}
    twice: list[tuple[int, Column]] = []
    for index, cell in enumerate(line):
        column = _exact_heading(cell, sheet)
        if column is not None and columns.setdefault(column.key, index) != index:
            twice.append((index, column))
    for index, cell in enumerate(line):
        column = None if index in columns.values() else _heading_before_bracket(cell, sheet)
        if column is not None and _exact_heading(cell, sheet) is None:
            columns.setdefault(column.key, index)
    return columns, twice


def _read_table(sheet: Sheet, name: str, grid: Grid, errors: dict[tuple[int, int], str], book: Book) -> Table | None:
    header = _header(sheet, grid)
    if header is None:
        if not sheet.required:
            if any(cell not in ("", None) for line in grid for cell in line):
                _not_read(sheet, name, "it has no heading line that we know", book)
            return None
        wanted = ", ".join(column.heading for column in sheet.columns if column.required)
        raise UnreadableBook(
            f"sheet {name!r} has no heading line in its first {HEADER_ROWS} rows: it needs at least {wanted}"
        )
    number, columns, twice = header
    missing = [column for column in sheet.columns if column.required and column.key not in columns]
    if missing:
        wanted = ", ".join(repr(column.heading) for column in missing)
        if not sheet.required:
            _not_read(sheet, name, f"it has no column headed {wanted}", book)
            return None
        raise UnreadableBook(f"sheet {name!r}, row {number + 1}: no column headed {wanted}")
    table = Table(sheet, name, columns, [], number)
    _report_headings(table, grid[number], twice, book)
    by_index = {index: sheet.column(key) for key, index in columns.items()}
    for line in range(number + 1, len(grid)):
        row = Row(line, {})
        filled = [
            (by_index[index], cell, error)
            for index, cell, error in _cells(grid, line, errors)
            if index in by_index and (error or not (cell is None or (isinstance(cell, str) and not cell.strip())))
        ]
        if not filled or (len(filled) >= 2 and all(_heading(cell, sheet) is column for column, cell, _ in filled)):
            continue  # an empty line, or the headings printed again; 'rating' and 'PSCRB' among others is a person
        for column, cell, error in sorted(filled, key=_naming_first):
            _type_into(row, column, cell, error, table, book)
        table.rows.append(row)
    return table


def _naming_first(filled: tuple[Column, Any, str | None]) -> int:
    """What names a line is typed first, so that a finding on it has the same subject whatever the order of columns."""
    kind = filled[0].kind
    return 0 if kind in ("text", "item") else 1 if kind in ("date", "expiry", "made") else 2


def _not_read(sheet: Sheet, name: str, why: str, book: Book) -> None:
    """Say that a sheet with one of our names is left out."""
    table = Table(sheet, name, {}, [])
    wanted = ", ".join(column.heading for column in sheet.columns if column.required) or sheet.columns[0].heading
    book.findings.append(
        record_finding(
            "WB18",
            "note",
            table,
            "A1",
            f"sheet {name!r} is not read as {sheet.name}: {why}",
            f"head its columns as in the template (at least {wanted}), or give a sheet of your own another name",
            f"sheet {sheet.name}",
        )
    )


def _report_headings(table: Table, line: list[Any], twice: list[tuple[int, Column]], book: Book) -> None:
    for index, column in twice:
        cell = address(table.header_row, index)
        first = address(table.header_row, table.columns[column.key])
        book.findings.append(
            record_finding(
                "WB12",
                "query",
                table,
                cell,
                f"{line[index]!r} heads the column {column.heading!r} a second time; {first} is read, this one is not",
                "keep one of the two columns",
                f"heading {column.heading}",
            )
        )
    known = {*table.columns.values(), *(index for index, _ in twice)}
    for index, cell in enumerate(line):
        if index in known or not isinstance(cell, str) or not cell.strip():
            continue
        near = difflib.get_close_matches(normalise(cell), table.sheet.headings, n=1, cutoff=0.8)
        hint = f"; did you mean {table.sheet.headings[near[0]].heading!r}?" if near else ""
        book.findings.append(
            record_finding(
                "WB13",
                "note",
                table,
                address(table.header_row, index),
                f"column {as_text(cell)!r} is none of this sheet's: it is not read{hint}",
                "rename the heading if it should be read; otherwise nothing",
                f"heading {as_text(cell)}",
            )
        )
