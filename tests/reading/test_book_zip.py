"""Parts of a zip file are those that the standard library unpacks, and refused where it refuses them."""

from __future__ import annotations

import struct
import zipfile
from pathlib import Path

import pytest

from tests.workbooks import clean
from workbook_tools.reading.book_zip import BookZip

PART = "xl/worksheets/sheet4.xml"


@pytest.fixture
def book(tmp_path: Path) -> Path:
    return clean().save(tmp_path / "book.xlsx")


def _by_library(path: Path) -> dict[str, bytes | str]:
    with zipfile.ZipFile(path) as archive:
        return {name: _or_error(archive, name) for name in archive.namelist()}


def _by_us(path: Path) -> dict[str, bytes | str]:
    with BookZip(path) as archive:
        return {name: _or_error(archive, name) for name in archive.namelist()}


def _or_error(archive: zipfile.ZipFile, name: str) -> bytes | str:
    try:
        return archive.read(name)
    except Exception as error:
        return f"{type(error).__name__}: {error}"


def test_the_parts_of_a_workbook_are_the_same(book: Path) -> None:
    assert _by_us(book) == _by_library(book)


def test_a_part_is_the_same_when_asked_for_again(book: Path) -> None:
    with BookZip(book) as archive:
        assert archive.read("xl/workbook.xml") == archive.read(archive.getinfo("xl/workbook.xml"))


def test_stored_and_oddly_named_parts_are_the_same(tmp_path: Path) -> None:
    path = tmp_path / "odd.zip"
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("stored.xml", b"<a/>" * 100)
        archive.writestr("gr\u00f6\u00dfe.xml", b"<a/>" * 100, zipfile.ZIP_DEFLATED)
        archive.writestr("empty.xml", b"", zipfile.ZIP_DEFLATED)
        archive.writestr("bz2.xml", b"<a/>" * 100, zipfile.ZIP_BZIP2)
        with archive.open("late.xml", "w", force_zip64=True) as part:
            part.write(b"<a/>" * 100)
    assert _by_us(path) == _by_library(path)


# Offsets in an entry of the directory (APPNOTE.TXT 4.3.12), and what is written there.
LIES = {"flags: encrypted": (8, 1), "checksum": (16, 12345), "packed size": (20, 7), "size": (24, 7), "place": (42, 3)}


@pytest.mark.parametrize("lie", LIES)
def test_a_directory_that_lies_is_refused_in_the_same_words(book: Path, lie: str) -> None:
    offset, value = LIES[lie]
    data = bytearray(book.read_bytes())
    at = data.rindex(PART.encode()) - 46
    assert data[at : at + 4] == b"PK\x01\x02"
    struct.pack_into("<H" if offset == 8 else "<I", data, at + offset, value)
    book.write_bytes(data)
    ours, theirs = _by_us(book), _by_library(book)
    assert ours == theirs
    assert isinstance(ours[PART], str)


@pytest.mark.parametrize("at", [0.2, 0.4, 0.6])
def test_spoilt_bytes_are_refused_in_the_same_words(book: Path, at: float) -> None:
    data = bytearray(book.read_bytes())
    place = int(len(data) * at)
    data[place : place + 40] = b"\xff" * 40
    book.write_bytes(data)
    assert _by_us(book) == _by_library(book)
