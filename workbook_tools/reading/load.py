"""Opens a workbook file and hands over its cells, or says in one line why it cannot.

Read with calamine. What calamine cannot tell, and what would bring it down, is looked up in the file before it runs.
"""

import multiprocessing
import zipfile
import zlib
from collections.abc import Collection
from dataclasses import dataclass, field
from multiprocessing.connection import Connection
from pathlib import Path
from typing import IO, Any
from xml.etree import ElementTree

from workbook_tools.columns import calculated
from workbook_tools.reading.book_zip import BookZip
from workbook_tools.reading.limits import MOST_FILE_BYTES, MOST_MERGED, ReaderGaveUp, UnreadableBook
from workbook_tools.reading.opendocument import scan_opendocument
from workbook_tools.reading.own_sheets import OwnSheets, find_own, not_looked_at, read_own
from workbook_tools.reading.shared_texts import SharedTexts
from workbook_tools.reading.sheet_scan import NO_RESULT, scan_sheet
from workbook_tools.reading.zipped import check_directory, check_sizes, sheet_parts, unpacked

__all__ = ["EXTENSIONS", "NO_RESULT", "Grid", "RawBook", "UnreadableBook", "load"]

Grid = list[list[Any]]

EXTENSIONS = (".xlsx", ".xlsm", ".xlsb", ".xls", ".ods")

_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


@dataclass
class RawBook:
    """The cells of a workbook, sheet by sheet, as they stand."""

    path: str
    sheets: dict[str, Grid]
    hidden: set[str] = field(default_factory=set)
    errors: dict[str, dict[tuple[int, int], str]] = field(default_factory=dict)  # sheet -> (row, column) -> #N/A
    dotted: dict[str, list[tuple[int, int]]] = field(default_factory=dict)  # sheet -> cells that Excel cannot work out
    merged: dict[str, list[tuple[tuple[int, int], tuple[int, int]]]] = field(default_factory=dict)  # first, last cell
    skipped: tuple[str, ...] = ()  # sheets that are there and were not read
    own: OwnSheets | None = None  # what a living workbook shows in the sheets that it calculates itself


@dataclass(slots=True)
class _Look:
    """What was seen in a file before it is read: whether its cells could be looked at, and what stands in them."""

    inside: bool = True
    endings: tuple[str, ...] = (".xlsx", ".xlsm")  # of names that fit what is inside
    skipped: frozenset[str] = frozenset()
    errors: dict[str, dict[tuple[int, int], str]] = field(default_factory=dict)
    dotted: dict[str, list[tuple[int, int]]] = field(default_factory=dict)
    own: OwnSheets | None = None


def load(path: Path, skip: Collection[str] | None = None, apart: bool = True) -> RawBook:
    """Read the sheets of a workbook but those to skip: None, those that our own workbook calculates itself.

    apart: read a binary book, whose cells cannot be looked at beforehand, in a process of its own; False where the
    caller is such a process.

    Raises UnreadableBook with one line: not a workbook, protected by a password, truncated, too large.
    """
    try:
        if path.is_dir():
            raise UnreadableBook("a folder, whatever its name says: name the workbook itself")
        if path.exists() and not path.is_file():
            raise UnreadableBook("a pipe or a device, whatever its name says: name the workbook itself")
        with path.open("rb") as file:
            start = file.read(8)
        size = path.stat().st_size
    except OSError as error:
        raise UnreadableBook(f"cannot be opened: {error.strerror or error}") from error
    if size > MOST_FILE_BYTES:
        raise UnreadableBook(f"the file has {size:,} bytes; {MOST_FILE_BYTES:,} at most are read")
    if start.startswith(b"PK"):
        look = _look_into_zip(path, skip)
    elif start.startswith(_OLE):
        if _is_encrypted(path):
            raise UnreadableBook("protected by a password: save a copy without one and check that")
        look = _Look(inside=False, endings=(".xls",))
    elif not start:
        raise UnreadableBook("the file is empty")
    else:
        raise UnreadableBook("not a workbook, whatever its name says: save it as .xlsx and check that")
    return _read_cells(path, look, skip) if look.inside or not apart else _read_apart(path, look, skip)


def _is_encrypted(path: Path) -> bool:
    """Whether an OLE file is an encrypted Office document: its directory names the stream in UTF-16."""
    with path.open("rb") as file:
        return "EncryptedPackage".encode("utf-16-le") in file.read(4_000_000)


def _skipped(names: Collection[str], skip: Collection[str] | None) -> frozenset[str]:
    return calculated(names) if skip is None else frozenset(names) & frozenset(skip)


def _look_into_zip(path: Path, skip: Collection[str] | None) -> _Look:
    """Look into a zipped book: .xlsx and .xlsm, .ods; the cells of .xlsb cannot be looked at."""
    try:
        with BookZip(path) as archive:
            check_directory(archive)
            names = set(archive.namelist())
            if "mimetype" in names and b"opendocument" in archive.read("mimetype"):
                if "META-INF/manifest.xml" in names and b"encryption-data" in archive.read("META-INF/manifest.xml"):
                    raise UnreadableBook("protected by a password: save a copy without one and check that")
                check_sizes(archive, {"content.xml"})
                return _Look(endings=(".ods",), errors=scan_opendocument(archive))
            if "xl/workbook.xml" in names:
                return _look_at_sheets(archive, names, skip)
            if "xl/workbook.bin" in names:
                check_sizes(archive, ())
                return _Look(inside=False, endings=(".xlsb",))
            raise UnreadableBook("a zip file, but no workbook inside: save it as .xlsx and check that")
    except zipfile.BadZipFile as error:
        raise UnreadableBook("damaged or cut short: copy it again from its source") from error
    except (OSError, RuntimeError, ElementTree.ParseError, KeyError, EOFError, ValueError, zlib.error) as error:
        raise UnreadableBook(f"damaged ({_one_line(error)}): copy it again from its source") from error


def _look_at_sheets(archive: zipfile.ZipFile, names: set[str], skip: Collection[str] | None) -> _Look:
    parts = dict(sheet_parts(archive))
    own = find_own(archive, parts) if skip is None else None
    look = _Look(skipped=own.calculated(parts) if own else _skipped(parts, skip), own=own)
    shared = SharedTexts(archive, names)
    for sheet, part in parts.items():
        if part not in names:
            raise UnreadableBook(f"damaged: sheet {sheet!r} is missing from the file; copy it again from its source")
        if sheet in look.skipped:
            continue
        data = unpacked(archive, part)
        scan = scan_sheet(data, sheet)
        shared.count_cells(data)
        if own is not None:
            own.look_for_hidden_rows(archive, sheet, part, data)
        if scan.errors:
            look.errors[sheet] = scan.errors
        if scan.dotted:
            look.dotted[sheet] = scan.dotted
    shared.refuse_much()
    check_sizes(archive, {part for sheet, part in parts.items() if sheet not in look.skipped})
    if own is not None:
        read_own(archive, parts, own)
    return look


def _one_line(error: BaseException) -> str:
    return (str(error) or type(error).__name__).splitlines()[0]


# What a reader of a binary book may take: one that asks for more is damaged or hostile.
_CHILD_BYTES = 1_400_000_000
_CHILD_SECONDS = 60


def _read_apart(path: Path, look: _Look, skip: Collection[str] | None) -> RawBook:
    """Read a binary book in a process of its own: a cell far out makes the reader end the whole process."""
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe(duplex=False)
    child = context.Process(target=_read_in_child, args=(path, look, skip, theirs), daemon=True)
    child.start()
    theirs.close()
    try:
        if not ours.poll(_CHILD_SECONDS):
            raise UnreadableBook(f"not read within {_CHILD_SECONDS} seconds: save it as .xlsx and check that")
        result = ours.recv()
    except EOFError:
        raise UnreadableBook("damaged: the reader gave up; save it as .xlsx and check that") from None
    finally:
        child.kill()
        child.join()
    if isinstance(result, str):
        raise UnreadableBook(result)
    book: RawBook = result
    return book


def _read_in_child(path: Path, look: _Look, skip: Collection[str] | None, answer: Connection) -> None:
    try:
        import resource

        resource.setrlimit(resource.RLIMIT_AS, (_CHILD_BYTES, _CHILD_BYTES))
    except (ImportError, ValueError, OSError):
        pass  # no such limit on this system: the process of its own has to do
    try:
        answer.send(_read_cells(path, look, skip))
    except UnreadableBook as error:
        answer.send(str(error))
    except MemoryError:
        answer.send("damaged: its cells do not fit into the memory; save it as .xlsx and check that")


def _opened(path: Path, file: IO[bytes], look: _Look) -> Any:
    """The file as calamine opens it. By its path calamine goes by the ending of the name, so that must be right."""
    from python_calamine import CalamineWorkbook

    if path.suffix.lower() in look.endings:
        return CalamineWorkbook.from_path(str(path))
    return CalamineWorkbook.from_filelike(file)  # goes by what is inside


def _read_cells(path: Path, look: _Look, skip: Collection[str] | None) -> RawBook:
    import python_calamine

    try:
        with path.open("rb") as file, _opened(path, file, look) as book:
            metas = [meta for meta in book.sheets_metadata if meta.typ == python_calamine.SheetTypeEnum.WorkSheet]
            skipped = look.skipped or _skipped([meta.name for meta in metas], skip)
            pages = {meta.name: book.get_sheet_by_name(meta.name) for meta in metas if meta.name not in skipped}
            sheets = {name: page.to_python(skip_empty_area=False) for name, page in pages.items()}
            merged = {name: list(page.merged_cell_ranges or ())[:MOST_MERGED] for name, page in pages.items()}
            hidden = {
                meta.name for meta in book.sheets_metadata if meta.visible != python_calamine.SheetVisibleEnum.Visible
            }
    except python_calamine.PasswordError as error:
        raise UnreadableBook("protected by a password: save a copy without one and check that") from error
    except (python_calamine.CalamineError, OSError) as error:
        raise UnreadableBook(f"damaged ({_one_line(error)}): copy it again from its source") from error
    except BaseException as error:
        if type(error).__name__ != "PanicException":  # what calamine's Rust raises when it gives up
            raise
        raise ReaderGaveUp("damaged: the reader gave up; copy it again from its source") from error
    errors = {sheet: cells for sheet, cells in look.errors.items() if sheet not in skipped}
    own = look.own if look.inside and look.own else not_looked_at(path.suffix) if calculated(skipped) else None
    return RawBook(str(path), sheets, hidden, errors, look.dotted, merged, tuple(sorted(skipped)), own)
