"""Builds files that no reader should meet: bombs, lies, damage, and what odd programs and odd people write.

Each maker takes a folder, writes one file there and returns its path. `CORPUS` names each with words that its outcome
must hold: of the reason where it is not read, or READ where it is audited like any other.
"""

from __future__ import annotations

import os
import re
import shutil
import struct
import zipfile
import zlib
from collections.abc import Callable, Iterable
from datetime import date
from pathlib import Path
from typing import Any

import xlsxwriter

from tests.workbooks import clean

READ = ""
Maker = Callable[[Path], Path]
CORPUS: dict[str, tuple[Maker, str]] = {}

SHEET = "xl/worksheets/sheet4.xml"  # the Inventory of the clean book


def hostile(words: str) -> Callable[[Maker], Maker]:
    """Enter a maker in the corpus with the words that its outcome must hold."""

    def enter(maker: Maker) -> Maker:
        CORPUS[maker.__name__.strip("_")] = (maker, words)
        return maker

    return enter


def build(folder: Path) -> dict[str, Path]:
    """Write the whole corpus, each file in a folder of its own name."""
    found = {}
    for name, (maker, _) in CORPUS.items():
        own = folder / name
        own.mkdir(parents=True)
        found[name] = maker(own)
    return found


def _clean(folder: Path, name: str = "book.xlsx") -> Path:
    return clean().save(folder / name)


def _with(folder: Path, parts: dict[str, Any], name: str = "book.xlsx") -> Path:
    """The clean book with parts replaced, added (bytes), changed (a function of the bytes) or left out (None)."""
    source, target = _clean(folder, "source.tmp"), folder / name
    with zipfile.ZipFile(source) as old, zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for part in old.namelist():
            change = parts.get(part, old.read(part))
            if change is not None:
                new.writestr(part, change(old.read(part)) if callable(change) else change)
        for part in parts.keys() - set(old.namelist()):
            new.writestr(part, parts[part])
    source.unlink()
    return target


def _in_sheet(folder: Path, cells: bytes, name: str = "book.xlsx") -> Path:
    return _with(folder, {SHEET: lambda data: data.replace(b"</sheetData>", cells + b"</sheetData>")}, name)


# Bombs


@hostile("unpacks to")
def bomb_of_one_part(folder: Path) -> Path:
    return _with(folder, {"xl/media/image1.bin": bytes(250_000_000)})


@hostile("unpacks to more than")
def bomb_of_many_parts(folder: Path) -> Path:
    block = bytes(150_000_000)
    return _with(folder, {f"xl/media/image{number}.bin": block for number in range(4)})


@hostile("damaged")
def bomb_that_says_it_is_small(folder: Path) -> Path:
    """The directory says of the shared strings that they unpack to 1,000 bytes; they unpack to 300 million."""
    path = _with(folder, {"xl/sharedStrings.xml": b"<sst>" + bytes(300_000_000)})
    return _lying(path, "xl/sharedStrings.xml", size=1000)


@hostile(READ)
def bomb_inside_a_zip_inside(folder: Path) -> Path:
    """Nobody unpacks what lies inside a part."""
    inner = folder / "inner.tmp"
    with zipfile.ZipFile(inner, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("zeros", bytes(100_000_000))
    data = inner.read_bytes()
    inner.unlink()
    return _with(folder, {"xl/embeddings/inner.zip": data})


@hostile("defines entities")
def entity_bomb_in_the_workbook(folder: Path) -> Path:
    lines = "".join(f'<!ENTITY a{n} "{f"&a{n - 1};" * 10}">' for n in range(1, 10))
    bomb = f'<!DOCTYPE x [<!ENTITY a0 "aaaaaaaaaa">{lines}]><workbook '.encode()
    return _with(folder, {"xl/workbook.xml": lambda data: data.replace(b"<workbook ", bomb)})


@hostile("defines entities")
def entity_bomb_in_a_sheet(folder: Path) -> Path:
    bomb = b'<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]><worksheet '
    return _with(folder, {SHEET: lambda data: data.replace(b"<worksheet ", bomb)})


@hostile("not in UTF-8")
def entity_bomb_in_other_letters(folder: Path) -> Path:
    def other(data: bytes) -> bytes:
        text = data.decode().replace('encoding="UTF-8"', 'encoding="UTF-16"')
        return text.replace("<workbook ", '<!DOCTYPE x [<!ENTITY a "aa">]><workbook ').encode("utf-16")

    return _with(folder, {"xl/workbook.xml": other})


@hostile("")
def deep_nesting_in_the_workbook(folder: Path) -> Path:
    deep = b"<x>" * 100_000 + b"</x>" * 100_000
    return _with(folder, {"xl/workbook.xml": lambda data: data.replace(b"</workbook>", deep + b"</workbook>")})


# Sheets without end


@hostile("reaches to row 1,048,576")
def cell_at_the_far_end(folder: Path) -> Path:
    return _in_sheet(folder, b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>')


@hostile("reaches to row 1,048,576")
def cell_at_the_far_end_behind_a_comment(folder: Path) -> Path:
    return _in_sheet(folder, b'<row r="1048576"><c r="XFD1048576"><!-- --><v>1</v></c></row>')


@hostile("reaches to row")
def cells_far_out_without_addresses(folder: Path) -> Path:
    wide = b"<row>" + b"<c><v>1</v></c>" * 16_000 + b"</row>"
    return _in_sheet(folder, wide + b"<row><c><v>1</v></c></row>" * 199_000)


@hostile(READ)
def a_million_styled_blanks(folder: Path) -> Path:
    return _in_sheet(folder, b"".join(b'<row r="%d"><c r="A%d" s="1"/></row>' % (n, n) for n in range(200, 1_000_200)))


@hostile(READ)
def styled_blanks_at_the_far_end(folder: Path) -> Path:
    return _in_sheet(folder, b'<row r="1048576" ht="12.8"><c r="XFD1048576" s="1"/></row>')


@hostile(READ)
def three_hundred_sheets(folder: Path) -> Path:
    path = folder / "book.xlsx"
    with xlsxwriter.Workbook(path) as book:
        for name, grid in clean().grids().items():
            _write(book.add_worksheet(name), grid, book.add_format({"num_format": "yyyy-mm-dd"}))
        for number in range(290):
            book.add_worksheet(f"Trip {number}").write_row(0, 0, ["Port", "Berth", "Pilot"])
    return path


def _write(page: Any, grid: list[list[Any]], day: Any) -> None:
    for row, cells in enumerate(grid):
        for column, value in enumerate(cells):
            if isinstance(value, date):
                page.write_datetime(row, column, value, day)
            elif value != "":
                page.write(row, column, value)


@hostile(READ)
def sixteen_thousand_columns(folder: Path) -> Path:
    letters = [_letters(number) for number in range(40, 16_384)]
    return _in_sheet(
        folder, b'<row r="300">' + b"".join(b'<c r="%s300"><v>1</v></c>' % name for name in letters) + b"</row>"
    )


def _letters(index: int) -> bytes:
    from workbook_tools.reading.address import column_letters

    return column_letters(index).encode()


@hostile(READ)
def sixteen_thousand_headings(folder: Path) -> Path:
    headings = [f"Own column {number}" for number in range(16_000)]
    return _with_more_inventory(folder, lambda page: page.write_row(0, 60, headings))


def _with_more_inventory(folder: Path, more: Callable[[Any], object]) -> Path:
    """The clean book with what more writes on its sheet Inventory."""
    path = folder / "book.xlsx"
    with xlsxwriter.Workbook(path) as book:
        for name, grid in clean().grids().items():
            page = book.add_worksheet(name)
            _write(page, grid, book.add_format({"num_format": "yyyy-mm-dd"}))
            if name == "Inventory":
                more(page)
    return path


@hostile(READ)
def cells_of_32767_characters(folder: Path) -> Path:
    book = clean()
    for lot in book.rows["inventory"]:
        lot["remarks"] = "x" * 32_767
    for key in ("item", "place", "unit", "expires", "quantity"):
        book.rows["inventory"].append({"place": "Bridge", "item": "bucket", key: "9" * 32_767})
    book.rows["craft"][0]["name"] = "L" * 32_767
    return book.save(folder / "book.xlsx")


@hostile("texts come to")
def long_text_in_very_many_cells(folder: Path) -> Path:
    """Every cell shares one text: 60 KB packed, 9 GB as cells."""

    def more(page: Any) -> None:
        for row in range(1000, 11_000):
            page.write_row(row, 0, ["x" * 32_767] * 28)

    return _with_more_inventory(folder, more)


@hostile(READ)
def a_hundred_thousand_merged_ranges(folder: Path) -> Path:
    ranges = b"".join(b'<mergeCell ref="A%d:B%d"/>' % (n, n + 1) for n in range(1000, 201_000, 2))
    merged = b"</sheetData><mergeCells>" + ranges + b"</mergeCells>"
    return _with(folder, {SHEET: lambda data: data.replace(b"</sheetData>", merged)})


@hostile("reaches to row")
def opendocument_repeated_without_end(folder: Path) -> Path:
    cell = '<table:table-cell table:number-columns-repeated="16384" office:value-type="float" office:value="1"/>'
    return _opendocument(folder, f'<table:table-row table:number-rows-repeated="1048576">{cell}</table:table-row>')


@hostile("texts come to")
def opendocument_of_a_long_text_repeated(folder: Path) -> Path:
    text = "x" * 30_000
    cell = f'<table:table-cell table:number-columns-repeated="25" office:value-type="string"><text:p>{text}</text:p>'
    row = f'<table:table-row table:number-rows-repeated="199000">{cell}</table:table-cell></table:table-row>'
    return _opendocument(folder, row)


@hostile("texts come to")
def opendocument_of_spaces_without_end(folder: Path) -> Path:
    spaces = '<text:p><text:s text:c="2000000000"/></text:p>'
    cell = f'<table:table-cell office:value-type="string">{spaces}</table:table-cell>'
    return _opendocument(folder, f"<table:table-row>{cell}</table:table-row>")


@hostile("sheets come to")
def opendocument_of_many_sheets_each_at_the_limit(folder: Path) -> Path:
    cell = '<table:table-cell table:number-columns-repeated="25" office:value-type="float" office:value="1"/>'
    row = f'<table:table-row table:number-rows-repeated="199000">{cell}</table:table-row>'
    return _opendocument(folder, '</table:table><table:table table:name="More">'.join([row] * 30))


@hostile("damaged")
def opendocument_repeated_a_word_of_times(folder: Path) -> Path:
    return _opendocument(folder, '<table:table-row table:number-rows-repeated="many"></table:table-row>')


def _opendocument(folder: Path, rows: str) -> Path:
    spaces = "".join(
        f' xmlns:{short}="urn:oasis:names:tc:opendocument:xmlns:{long}:1.0"'
        for short, long in (("office", "office"), ("table", "table"), ("text", "text"))
    )
    body = f'<office:body><office:spreadsheet><table:table table:name="Craft">{rows}</table:table></office:spreadsheet>'
    path = folder / "book.ods"
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        archive.writestr(
            "content.xml", f"<office:document-content{spaces}>{body}</office:body></office:document-content>"
        )
        archive.writestr("META-INF/manifest.xml", "<manifest/>")
    return path


# Zips that lie


def _lying(path: Path, part: str, size: int | None = None, offset: int | None = None) -> Path:
    """Let the zip's directory (and the header before the data) tell another size, or another place."""
    data = bytearray(path.read_bytes())
    for match in re.finditer(re.escape(part.encode()), bytes(data)):
        entry = match.start() - 46
        if data[entry : entry + 4] == b"PK\x01\x02":
            if size is not None:
                struct.pack_into("<I", data, entry + 24, size)
            if offset is not None:
                struct.pack_into("<I", data, entry + 42, offset)
        elif size is not None and data[match.start() - 30 : match.start() - 26] == b"PK\x03\x04":
            struct.pack_into("<I", data, match.start() - 30 + 22, size)
    path.write_bytes(data)
    return path


@hostile("damaged")
def directory_with_a_wrong_place(folder: Path) -> Path:
    return _lying(_clean(folder), SHEET, offset=17)


@hostile("damaged")
def directory_with_a_wrong_size(folder: Path) -> Path:
    return _lying(_clean(folder), SHEET, size=100)


@hostile("in the file twice")
def part_that_is_there_twice(folder: Path) -> Path:
    path = _clean(folder)
    with zipfile.ZipFile(path, "a") as archive:
        archive.writestr(SHEET.replace("sheet4", "SHEET4"), b"<worksheet><sheetData/></worksheet>")
    return path


@hostile(READ)
def names_that_lead_elsewhere(folder: Path) -> Path:
    return _with(folder, {"../../../outside.txt": b"x", "/etc/outside": b"x", "C:\\outside": b"x"})


@hostile("damaged: sheet 'Inventory' is missing")
def sheet_whose_part_leads_elsewhere(folder: Path) -> Path:
    path = "xl/_rels/workbook.xml.rels"
    return _with(folder, {path: lambda data: data.replace(b"worksheets/sheet4.xml", b"../../../../etc/passwd")})


@hostile("damaged")
def checksum_that_is_wrong(folder: Path) -> Path:
    path = _clean(folder)
    data = bytearray(path.read_bytes())
    at = data.find(SHEET.encode()) + len(SHEET) + 200
    data[at] ^= 0xFF
    path.write_bytes(data)
    return path


@hostile("parts in the file")
def twenty_thousand_parts(folder: Path) -> Path:
    return _with(folder, {f"xl/media/{number}": b"" for number in range(20_000)})


def _cut(tenth: int) -> Maker:
    def maker(folder: Path) -> Path:
        path = _clean(folder)
        data = path.read_bytes()
        path.write_bytes(data[: len(data) * tenth // 10])
        return path

    maker.__name__ = f"cut_short_at_{tenth}_tenths"
    return maker


hostile("the file is empty")(_cut(0))
for _tenth in range(1, 10):
    hostile("damaged")(_cut(_tenth))


# Files that are something else


@hostile("protected by a password")
def encrypted(folder: Path) -> Path:
    path = folder / "book.xlsx"
    path.write_bytes(
        b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(504) + "EncryptedPackage".encode("utf-16-le") + bytes(600)
    )
    return path


def _bytes(name: str, words: str, file: str, data: bytes) -> None:
    def maker(folder: Path) -> Path:
        (folder / file).write_bytes(data)
        return folder / file

    maker.__name__ = name
    hostile(words)(maker)


_bytes("text_with_a_wrong_ending", "not a workbook", "book.xlsx", b"Stowed at,Item,Quantity\nBridge,bucket,2\n")
_bytes("page_with_a_wrong_ending", "not a workbook", "book.xls", b"<html><table><tr><td>1</td></tr></table></html>")
_bytes("nothing_but_zero_bytes", "not a workbook", "book.xlsx", bytes(10_000))
_bytes("old_binary_of_zero_bytes", "damaged", "book.xls", b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(4000))
_bytes(
    "old_binary_of_noise",
    "damaged",
    "book.xls",
    b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + zlib.compress(bytes(range(256)) * 90),
)
_bytes("end_of_a_zip_alone", "no workbook inside", "book.xlsx", b"PK\x05\x06" + bytes(18))


@hostile("no workbook inside")
def letter_in_a_zip(folder: Path) -> Path:
    with zipfile.ZipFile(folder / "book.xlsx", "w") as archive:
        archive.writestr("word/document.xml", "<document/>")
    return folder / "book.xlsx"


@hostile("damaged")
def binary_book_of_noise(folder: Path) -> Path:
    with zipfile.ZipFile(folder / "book.xlsb", "w") as archive:
        archive.writestr("xl/workbook.bin", bytes(range(256)) * 20)
        archive.writestr("xl/_rels/workbook.bin.rels", "<Relationships/>")
    return folder / "book.xlsb"


@hostile(READ)
def new_book_with_an_old_ending(folder: Path) -> Path:
    return _clean(folder, "book.xls")


@hostile("a folder")
def folder_named_like_a_book(folder: Path) -> Path:
    (folder / "book.xlsx").mkdir()
    return folder / "book.xlsx"


@hostile("cannot be opened")
def link_to_nothing(folder: Path) -> Path:
    """As a file that disappears between the listing of a folder and its reading."""
    (folder / "book.xlsx").symlink_to(folder / "gone.xlsx")
    return folder / "book.xlsx"


@hostile("a pipe or a device")
def link_to_a_pipe(folder: Path) -> Path:
    """To open it would never end."""
    os.mkfifo(folder / "pipe")
    (folder / "book.xlsx").symlink_to(folder / "pipe")
    return folder / "book.xlsx"


@hostile("cannot be opened")
def without_permission(folder: Path) -> Path:
    """The run is that of somebody who may not read it: see as_anybody in run.py."""
    path = _clean(folder)
    path.chmod(0)
    return path


# What odd programs and people write into a book that is sound


@hostile(READ)
def external_links(folder: Path) -> Path:
    relation = (
        b'<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" '
        b'Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/externalLinkPath" '
        b'Target="http://192.0.2.1/never" TargetMode="External"/></Relationships>'
    )
    return _with(
        folder,
        {
            "xl/externalLinks/externalLink1.xml": b"<externalLink/>",
            "xl/externalLinks/_rels/externalLink1.xml.rels": relation,
        },
    )


@hostile(READ)
def macros(folder: Path) -> Path:
    return _with(folder, {"xl/vbaProject.bin": b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(2000)}, "book.xlsm")


@hostile(READ)
def formulas_that_return_errors(folder: Path) -> Path:
    cells = b"".join(
        b'<c r="%s300" t="e"><f>1/0</f><v>%s</v></c>' % (letter, error)
        for letter, error in zip(b"A B C D E F".split(), b"#DIV/0! #N/A #NAME? #NULL! #NUM! #REF!".split(), strict=True)
    )
    return _in_sheet(folder, b'<row r="300">' + cells + b"</row>")


@hostile(READ)
def dates_counted_from_1904(folder: Path) -> Path:
    return _with(folder, {"xl/workbook.xml": lambda data: re.sub(rb"<workbookPr", b'<workbookPr date1904="1"', data)})


@hostile(READ)
def merged_headings(folder: Path) -> Path:
    path = folder / "book.xlsx"
    with xlsxwriter.Workbook(path) as book:
        day = book.add_format({"num_format": "yyyy-mm-dd"})
        for name, grid in clean().grids().items():
            page = book.add_worksheet(name)
            _write(page, [["Kept by the third officer"], [], *grid] if name == "Inventory" else grid, day)
            if name == "Inventory":
                page.merge_range(0, 0, 1, 9, "Kept by the third officer")
    return path


@hostile(READ)
def hidden_sheets(folder: Path) -> Path:
    def hidden(data: bytes) -> bytes:
        return re.sub(rb'(<sheet name="(?:Crew|Inventory)")', rb'\1 state="veryHidden"', data)

    return _with(folder, {"xl/workbook.xml": hidden})


@hostile(READ)
def right_to_left_and_combining_text(folder: Path) -> Path:
    book = clean()
    book.ship["name"] = "\u202e\u0627\u0644\u0633\u0641\u064a\u0646\u0629 e\u0301\u0323\u200f\U0001f6a2"
    book.rows["craft"][2]["name"] = "Ra\u0308ft " + "\u0301" * 500
    book.lot("bucket")["remarks"] = "\u2028\u2029\x85\ufeff"
    return book.save(folder / "book.xlsx")


@hostile(READ)
def text_that_would_be_a_formula_or_a_script(folder: Path) -> Path:
    book = clean()
    book.ship["name"] = "=cmd|' /C calc'!A0"
    book.rows["craft"][0]["remarks"] = "<script>alert(1)</script>"
    book.rows["inventory"][0].update(item="@SUM(1+1)*cmd", place="\t=1+1", remarks="]]>&lt;![CDATA[")
    return book.save(folder / "book.xlsx")


@hostile("")
def zero_bytes_in_a_sheet(folder: Path) -> Path:
    return _with(folder, {SHEET: lambda data: data.replace(b"<v>", b"<v>\0", 5)})


@hostile("")
def strings_that_are_not_there(folder: Path) -> Path:
    return _with(folder, {SHEET: lambda data: re.sub(rb't="s"><v>\d+</v>', b't="s"><v>99999999</v>', data, count=3)})


@hostile("")
def numbers_that_are_none(folder: Path) -> Path:
    values: Iterable[bytes] = (b"1e999", b"-1e999", b"NaN", b"0x10", b"1e-400", b"99999999999999999999")
    cells = b"".join(b'<c r="%s300"><v>%s</v></c>' % (b"ABCDEF"[n : n + 1], value) for n, value in enumerate(values))
    return _in_sheet(folder, b'<row r="300">' + cells + b"</row>")


@hostile(READ)
def days_before_all_calendars(folder: Path) -> Path:
    def early(data: bytes) -> bytes:
        return re.sub(rb'(<c r="[A-Z]+2" s="1"><v>)\d+', rb"\g<1>-99999999", data)

    return _with(folder, {SHEET: early, "xl/worksheets/sheet2.xml": early})


@hostile("")
def sheets_of_one_name(folder: Path) -> Path:
    return _with(folder, {"xl/workbook.xml": lambda data: data.replace(b'name="Fire"', b'name="Inventory"')})


def copy_clean(folder: Path, names: Iterable[str]) -> None:
    """Write clean books among the hostile ones."""
    folder.mkdir(parents=True, exist_ok=True)
    first = _clean(folder, "first.tmp")
    for name in names:
        shutil.copy(first, folder / name)
    first.unlink()
