"""Opens a workbook file and hands over its cells, or says in one line why it cannot.

Read with calamine. Three things calamine cannot tell are looked up in the sheet XML of .xlsx and .xlsm files before
it runs: cells so far out that reading them would exhaust the memory, cells that hold an error value, and cells with
a formula whose result was never saved.
"""

import io
import multiprocessing
import re
import zipfile
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

from workbook_tools.reading.address import split

Grid = list[list[Any]]

EXTENSIONS = (".xlsx", ".xlsm", ".xlsb", ".xls", ".ods")

# Past these a file is refused, and says so. A ship's book has a few hundred kilobytes and a few thousand rows.
MOST_PART_BYTES = 200_000_000
MOST_ROWS = 200_000
MOST_CELLS = 5_000_000

_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_CELL = re.compile(rb"<(?:\w+:)?c(?=[\s/>])([^>]*)>")
_ROW = re.compile(rb"<(?:\w+:)?row(?=[\s/>])([^>]*)>")
_ADDRESS = re.compile(rb"""(?<![\w:])r\s*=\s*(?:"([^"]*)"|'([^']*)')""")
_ERROR = re.compile(rb"""(?<![\w:])t\s*=\s*["']e["']""")
# What follows the opening tag of a cell whose formula has no result. A formula's text has no '<'.
_NO_RESULT = re.compile(
    rb"\s*<(?:\w+:)?f(?=[\s/>])[^>]*(?:/>|(?<!/)>[^<]*</(?:\w+:)?f>)\s*"
    rb"(?:<(?:\w+:)?v\s*/>|<(?:\w+:)?v>\s*</(?:\w+:)?v>)?\s*</(?:\w+:)?c>"
)
_TEXT_RESULT = re.compile(rb"""(?<![\w:])t\s*=\s*["']str["']""")
_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_RELATION = "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id"


# Stands among the error values for a formula that was written by a program which does not work formulas out.
NO_RESULT = "no result"


class UnreadableBook(Exception):
    """A file that cannot be audited; the text says why and what to do."""


@dataclass
class RawBook:
    """The cells of a workbook, sheet by sheet, as they stand."""

    path: str
    sheets: dict[str, Grid]
    hidden: set[str] = field(default_factory=set)
    errors: dict[str, dict[tuple[int, int], str]] = field(default_factory=dict)  # sheet -> (row, column) -> #N/A
    dotted: dict[str, list[tuple[int, int]]] = field(default_factory=dict)  # sheet -> cells that Excel cannot work out
    merged: dict[str, list[tuple[tuple[int, int], tuple[int, int]]]] = field(default_factory=dict)  # first, last cell


def load(path: Path) -> RawBook:
    """Read every sheet of a workbook.

    Raises UnreadableBook with one line: not a workbook, protected by a password, truncated, too large.
    """
    try:
        with path.open("rb") as file:
            start = file.read(8)
    except OSError as error:
        raise UnreadableBook(f"cannot be opened: {error.strerror or error}") from error
    errors: dict[str, dict[tuple[int, int], str]] = {}
    dotted: dict[str, list[tuple[int, int]]] = {}
    if start.startswith(b"PK"):
        looked = _look_into_zip(path, dotted)
        if looked is None:
            return _read_apart(path)
        errors = looked
    elif start.startswith(_OLE):
        if _is_encrypted(path):
            raise UnreadableBook("protected by a password: save a copy without one and check that")
        return _read_apart(path)
    elif not start:
        raise UnreadableBook("the file is empty")
    else:
        raise UnreadableBook("not a workbook, whatever its name says: save it as .xlsx and check that")
    book = _read_cells(path, errors)
    book.dotted = dotted
    return book


def _is_encrypted(path: Path) -> bool:
    """Whether an OLE file is an encrypted Office document: its directory names the stream in UTF-16."""
    data = path.read_bytes()[:4_000_000]
    return "EncryptedPackage".encode("utf-16-le") in data


def _look_into_zip(
    path: Path, dotted: dict[str, list[tuple[int, int]]]
) -> dict[str, dict[tuple[int, int], str]] | None:
    """The error values of a zipped book; None for a binary one, whose cells cannot be looked at beforehand."""
    try:
        with zipfile.ZipFile(path) as archive:
            names = archive.namelist()
            for part in archive.infolist():
                if part.file_size > MOST_PART_BYTES:
                    raise UnreadableBook(
                        f"part {part.filename} unpacks to {part.file_size:,} bytes; {MOST_PART_BYTES:,} at most"
                    )
            if "mimetype" in names and b"opendocument" in archive.read("mimetype"):
                if "META-INF/manifest.xml" in names and b"encryption-data" in archive.read("META-INF/manifest.xml"):
                    raise UnreadableBook("protected by a password: save a copy without one and check that")
                return _scan_opendocument(archive)
            if "xl/workbook.xml" not in names:
                if "xl/workbook.bin" in names:
                    return None
                raise UnreadableBook("a zip file, but no workbook inside: save it as .xlsx and check that")
            return _scan_sheets(archive, dotted)
    except zipfile.BadZipFile as error:
        raise UnreadableBook("damaged or cut short: copy it again from its source") from error
    except (OSError, RuntimeError, ElementTree.ParseError, KeyError, EOFError) as error:
        raise UnreadableBook(f"damaged ({error}): copy it again from its source") from error


def _sheet_parts(archive: zipfile.ZipFile) -> dict[str, str]:
    """Sheet names and the zip parts that hold them."""
    for part in ("xl/workbook.xml", "xl/_rels/workbook.xml.rels"):
        if b"<!ENTITY" in archive.read(part):
            raise UnreadableBook(f"part {part} defines entities, which no spreadsheet program writes: not read")
    relations = ElementTree.fromstring(archive.read("xl/_rels/workbook.xml.rels"))
    targets = {entry.get("Id"): entry.get("Target", "") for entry in relations}
    book = ElementTree.fromstring(archive.read("xl/workbook.xml"))
    parts: dict[str, str] = {}
    for entry in book.iter(f"{_MAIN}sheet"):
        target = targets.get(entry.get(_RELATION), "")
        parts[entry.get("name", "")] = target.lstrip("/") if target.startswith("/") else f"xl/{target}"
    return parts


# Our functions as LibreOffice before 24.8 writes them into .xlsx, which Excel does not know: LSA.WATER_L( ... )
_DOTTED = re.compile(rb"<(?:\w+:)?f[^>]*>[^<]*\b(?:LSA|FFA)\.[A-Z_]+\(")


def _scan_sheets(
    archive: zipfile.ZipFile, dotted: dict[str, list[tuple[int, int]]]
) -> dict[str, dict[tuple[int, int], str]]:
    """Error values by sheet and cell; dotted is filled with the cells that hold our functions under dotted names."""
    found: dict[str, dict[tuple[int, int], str]] = {}
    names = set(archive.namelist())
    for sheet, part in _sheet_parts(archive).items():
        if part not in names:
            raise UnreadableBook(f"damaged: sheet {sheet!r} is missing from the file; copy it again from its source")
        data = archive.read(part)
        if b"<!ENTITY" in data:
            raise UnreadableBook(f"part {part} defines entities, which no spreadsheet program writes: not read")
        most_row = most_column = 0
        look_for_dots = b"LSA." in data or b"FFA." in data
        for match in _ROW.finditer(data):
            if number := _attribute(match[1]):
                most_row = max(most_row, _row_number(number, sheet))
        for match in _CELL.finditer(data):
            written = _attribute(match[1])
            if not written:
                continue
            place = split(written)
            if place is None:
                raise UnreadableBook(f"damaged: sheet {sheet!r} has a cell addressed {written!r}; save it anew")
            most_row, most_column = max(most_row, place[0]), max(most_column, place[1])
            if _ERROR.search(match[1]):
                value = re.search(rb"<(?:\w+:)?v>([^<]*)<", data[match.end() : match.end() + 2000])
                found.setdefault(sheet, {})[place] = value[1].decode() if value else "#ERROR"
            elif look_for_dots and not match[1].endswith(b"/") and _DOTTED.match(data, match.end()):
                dotted.setdefault(sheet, []).append(place)
            elif _has_no_result(data, match):
                found.setdefault(sheet, {})[place] = NO_RESULT
        _refuse_far_cells(sheet, most_row, most_column)
    return found


def _has_no_result(data: bytes, cell: re.Match[bytes]) -> bool:
    """Whether a cell holds a formula and no result. An empty text is a result, and said to be a text."""
    if cell[1].endswith(b"/") or _TEXT_RESULT.search(cell[1]):
        return False
    return _NO_RESULT.match(data, cell.end()) is not None


def _attribute(attributes: bytes) -> str:
    """The r attribute of a row or cell, in whichever quotes; '' when there is none."""
    match = _ADDRESS.search(attributes)
    return (match[1] or match[2] or b"").decode("ascii", "replace") if match else ""


def _row_number(text: str, sheet: str) -> int:
    if not text.isdigit():
        raise UnreadableBook(f"damaged: sheet {sheet!r} has a row numbered {text!r}; save it anew")
    return int(text) - 1


def _refuse_far_cells(sheet: str, row: int, column: int) -> None:
    """Refuse a sheet whose outermost cell, counted from 0, would make the reader reserve more than it can have."""
    if row >= MOST_ROWS or (row + 1) * (column + 1) > MOST_CELLS:
        raise UnreadableBook(
            f"sheet {sheet!r} reaches to row {row + 1:,}, column {column + 1:,}: delete the stray cells "
            f"far outside the table (at most {MOST_ROWS:,} rows are read)"
        )


_TABLE = "{urn:oasis:names:tc:opendocument:xmlns:table:1.0}"
_OFFICE = "{urn:oasis:names:tc:opendocument:xmlns:office:1.0}"
_CALC = "{urn:org:documentfoundation:names:experimental:calc:xmlns:calcext:1.0}"
_TEXT = "{urn:oasis:names:tc:opendocument:xmlns:text:1.0}"


def _scan_opendocument(archive: zipfile.ZipFile) -> dict[str, dict[tuple[int, int], str]]:
    """Error values of an .ods file, and a refusal of cells too far out. Empty cells are stored as repeats."""
    found: dict[str, dict[tuple[int, int], str]] = {}
    data = archive.read("content.xml")
    if b"<!ENTITY" in data:
        raise UnreadableBook("part content.xml defines entities, which no spreadsheet program writes: not read")
    sheet, row, column, most = "", 0, 0, (-1, -1)
    for event, element in ElementTree.iterparse(io.BytesIO(data), events=("start", "end")):
        tag = element.tag
        if event == "start":
            if tag == f"{_TABLE}table":
                sheet, row, most = element.get(f"{_TABLE}name", ""), 0, (-1, -1)
            elif tag == f"{_TABLE}table-row":
                column = 0
            continue
        if tag in (f"{_TABLE}table-cell", f"{_TABLE}covered-table-cell"):
            repeated = int(element.get(f"{_TABLE}number-columns-repeated", "1"))
            if element.get(f"{_OFFICE}value-type") is not None:
                most = (max(most[0], row), max(most[1], column + repeated - 1))
            if element.get(f"{_CALC}value-type") == "error":
                found.setdefault(sheet, {})[row, column] = element.findtext(f"{_TEXT}p") or "#ERROR"
            column += repeated
        elif tag == f"{_TABLE}table-row":
            repeated = int(element.get(f"{_TABLE}number-rows-repeated", "1"))
            if most[0] == row:  # this row holds something, and is stored once for several
                most = (row + repeated - 1, most[1])
            row += repeated
            element.clear()
        elif tag == f"{_TABLE}table":
            _refuse_far_cells(sheet, *most)
    return found


# Memory that a reader of a binary book may take: one that asks for more is damaged or hostile.
_CHILD_BYTES = 4_000_000_000


def _read_apart(path: Path) -> RawBook:
    """Read a binary book in a process of its own: a cell far out makes the reader end the whole process."""
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe(duplex=False)
    child = context.Process(target=_read_in_child, args=(path, theirs), daemon=True)
    child.start()
    theirs.close()
    try:
        result = ours.recv()
    except EOFError:
        raise UnreadableBook("damaged: the reader gave up; save it as .xlsx and check that") from None
    finally:
        child.join()
    if isinstance(result, str):
        raise UnreadableBook(result)
    book: RawBook = result
    return book


def _read_in_child(path: Path, answer: Connection) -> None:
    try:
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (_CHILD_BYTES, _CHILD_BYTES))
    except (ImportError, ValueError, OSError):
        pass  # no such limit on this system: the process of its own has to do
    try:
        answer.send(_read_cells(path, {}))
    except UnreadableBook as error:
        answer.send(str(error))
    except MemoryError:
        answer.send("damaged: its cells do not fit into the memory; save it as .xlsx and check that")


def _read_cells(path: Path, errors: dict[str, dict[tuple[int, int], str]]) -> RawBook:
    import python_calamine

    try:
        with python_calamine.CalamineWorkbook.from_path(str(path)) as book:
            pages = {
                name: book.get_sheet_by_name(name)
                for name, meta in zip(book.sheet_names, book.sheets_metadata, strict=True)
                if meta.typ == python_calamine.SheetTypeEnum.WorkSheet
            }
            sheets = {name: page.to_python(skip_empty_area=False) for name, page in pages.items()}
            merged = {name: list(page.merged_cell_ranges or ()) for name, page in pages.items()}
            hidden = {
                meta.name for meta in book.sheets_metadata if meta.visible != python_calamine.SheetVisibleEnum.Visible
            }
    except python_calamine.PasswordError as error:
        raise UnreadableBook("protected by a password: save a copy without one and check that") from error
    except (python_calamine.CalamineError, OSError) as error:
        raise UnreadableBook(f"damaged ({str(error).splitlines()[0]}): copy it again from its source") from error
    except BaseException as error:
        if type(error).__name__ != "PanicException":  # what calamine's Rust raises when it gives up
            raise
        raise UnreadableBook("damaged: the reader gave up; copy it again from its source") from error
    return RawBook(str(path), sheets, hidden, errors, merged=merged)
