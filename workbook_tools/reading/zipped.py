"""Looks into a zipped workbook before calamine opens it: what it unpacks to, and what only its directory shows."""

import zipfile
from collections import Counter
from collections.abc import Collection, Iterator
from xml.etree import ElementTree

from workbook_tools.reading.limits import MOST_INDEX_BYTES, MOST_PART_BYTES, MOST_PARTS, MOST_RATIO, UnreadableBook

_MAIN = "{http://schemas.openxmlformats.org/spreadsheetml/2006/main}"
_STRICT = "{http://purl.oclc.org/ooxml/spreadsheetml/main}"
_RELATIONS = (
    "{http://schemas.openxmlformats.org/officeDocument/2006/relationships}id",
    "{http://purl.oclc.org/ooxml/officeDocument/relationships}id",
)


def check_directory(archive: zipfile.ZipFile) -> None:
    """Refuse a zip whose directory names a part twice, a part too large, or more parts than a workbook has."""
    parts = archive.infolist()
    if len(parts) > MOST_PARTS:
        raise UnreadableBook(f"{len(parts):,} parts in the file; {MOST_PARTS:,} at most are read")
    for part in parts:
        if part.file_size > MOST_PART_BYTES:
            raise UnreadableBook(
                f"part {part.filename!r} unpacks to {part.file_size:,} bytes; {MOST_PART_BYTES:,} at most"
            )
    if sum(part.file_size for part in parts) > 2 * MOST_PART_BYTES:
        raise UnreadableBook(f"the file unpacks to more than {2 * MOST_PART_BYTES:,} bytes: not read")
    names = Counter(part.filename.casefold() for part in parts)
    if len(names) < len(parts):
        twice = next(name for name, count in names.items() if count > 1)
        raise UnreadableBook(f"damaged: part {twice!r} is in the file twice; save it anew in the spreadsheet program")


def check_sizes(archive: zipfile.ZipFile, seen: Collection[str]) -> None:
    """Refuse a zip whose directory is wrong about a part that is not among those unpacked already.

    A part too small to unpack to much whatever the directory says need not be tried.
    """
    for part in archive.infolist():
        if part.filename not in seen and part.compress_size * MOST_RATIO > MOST_PART_BYTES:
            with archive.open(part) as file:  # raises BadZipFile where size or checksum are not as the directory says
                while file.read(1 << 20):
                    pass


def unpacked(archive: zipfile.ZipFile, name: str, most: int = MOST_PART_BYTES) -> bytes:
    """A part's bytes. Refused where it holds what no spreadsheet program writes: entities, or text not in UTF-8."""
    if archive.getinfo(name).file_size > most:
        raise UnreadableBook(f"part {name!r} unpacks to {archive.getinfo(name).file_size:,} bytes; {most:,} at most")
    data = archive.read(name)
    if data.startswith((b"\xfe\xff", b"\xff\xfe")) or b"\0" in data[:200]:
        raise UnreadableBook(f"part {name} is not in UTF-8, as every spreadsheet program writes it: save it anew")
    if b"<!ENTITY" in data:
        raise UnreadableBook(f"part {name} defines entities, which no spreadsheet program writes: not read")
    return data


def sheet_parts(archive: zipfile.ZipFile) -> Iterator[tuple[str, str]]:
    """Sheet names of an .xlsx or .xlsm file and the zip parts that hold them."""
    relations = ElementTree.fromstring(unpacked(archive, "xl/_rels/workbook.xml.rels", MOST_INDEX_BYTES))
    targets = {entry.get("Id"): entry.get("Target", "") for entry in relations}
    book = ElementTree.fromstring(unpacked(archive, "xl/workbook.xml", MOST_INDEX_BYTES))
    for space in (_MAIN, _STRICT):
        for entry in book.iter(f"{space}sheet"):
            relation = next((entry.get(name) for name in _RELATIONS if entry.get(name)), "")
            target = targets.get(relation, "")
            yield entry.get("name", ""), target.lstrip("/") if target.startswith("/") else f"xl/{target}"
