"""Living workbooks of the example fleet, as davitbook writes them, and what is done to a book before it is returned.

What is done is done in the file, as a program or a person's program would leave it, so that nothing recalculates.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import date
from xml.sax.saxutils import escape

from example_books.plan import Plan
from workbook_tools.book import build
from workbook_tools.columns import SHEETS

Edit = Callable[[bytes], bytes]


@dataclass(frozen=True)
class LivingPlan(Plan):
    """A book that calculates sheets of its own: the day for which they were calculated, its room, what was done to it.

    room: rows made ready for each sheet, by its key.
    """

    on: date = date(2026, 11, 25)
    room: Mapping[str, int] = field(default_factory=dict)
    done_to_it: tuple[Edit, ...] = ()


def living_bytes(plan: LivingPlan) -> bytes:
    """The book as the bytes of an .xlsx file."""
    rows = {entry.key: plan.lines(entry.key) for entry in SHEETS if plan.lines(entry.key)}
    book = build(plan.ship["name"], on=plan.on, rows=rows, room=dict(plan.room), printed=False)
    for edit in plan.done_to_it:
        book = edit(book)
    return book


def parts_of(book: bytes) -> dict[str, str]:
    """The part of the file that holds each sheet, by the sheet's name."""
    with zipfile.ZipFile(io.BytesIO(book)) as archive:
        listed = archive.read("xl/workbook.xml").decode()
        relations = archive.read("xl/_rels/workbook.xml.rels").decode()
    targets = dict(re.findall(r'Id="(\w+)"[^>]*Target="([^"]+)"', relations))
    sheets = re.findall(r'<sheet name="([^"]+)"[^>]*r:id="(\w+)"', listed)
    return {name: f"xl/{targets[number]}" for name, number in sheets}


def with_part(book: bytes, part: str, change: Callable[[str], str]) -> bytes:
    """The book with one part of its file changed. Raises ValueError where nothing changes."""
    memory = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(book)) as source, zipfile.ZipFile(memory, "w", zipfile.ZIP_DEFLATED) as target:
        for entry in source.infolist():
            data = source.read(entry)
            if entry.filename == part:
                changed = change(data.decode()).encode()
                if changed == data:
                    raise ValueError(f"{part} stays as it is")
                data = changed
            target.writestr(entry, data, zipfile.ZIP_DEFLATED)
    return memory.getvalue()


def with_sheet(book: bytes, sheet: str, change: Callable[[str], str]) -> bytes:
    """The book with the XML of one sheet changed."""
    return with_part(book, parts_of(book)[sheet], change)


def _cell(cell: str) -> re.Pattern[str]:
    return re.compile(rf'<c r="{cell}"( s="\d+")?[^>]*?(?:/>|>(.*?)</c>)', re.DOTALL)


def put(book: bytes, sheet: str, cell: str, value: float | str) -> bytes:
    """A value in a cell, in the place of whatever stood there, a formula too; '' clears the cell."""
    if value == "":
        inside = "/>"
    elif isinstance(value, str):
        inside = f' t="inlineStr"><is><t>{escape(value)}</t></is></c>'
    else:
        inside = f"><v>{value}</v></c>"
    return with_sheet(
        book, sheet, lambda xml: _cell(cell).sub(lambda match: f'<c r="{cell}"{match[1] or ""}{inside}', xml)
    )


def show(book: bytes, sheet: str, cell: str, value: float | str) -> bytes:
    """Another stored value for a cell whose formula stays."""
    kind = ' t="str"' if isinstance(value, str) else ""

    def stored(match: re.Match[str]) -> str:
        formula = match[2].partition("<v>")[0]
        return f'<c r="{cell}"{match[1] or ""}{kind}>{formula}<v>{escape(str(value))}</v></c>'

    return with_sheet(book, sheet, lambda xml: _cell(cell).sub(stored, xml))


def hide_rows(book: bytes, sheet: str, *rows: int, more: str = 'hidden="1"') -> bytes:
    """Rows, numbered as in the program, marked as hidden (or with other attributes)."""

    def change(xml: str) -> str:
        for row in rows:
            xml = xml.replace(f'<row r="{row}" ', f'<row r="{row}" {more} ')
        return xml

    return with_sheet(book, sheet, change)


def rename(book: bytes, sheet: str, now: str) -> bytes:
    """A sheet renamed as spreadsheet programs do it: the names that point at it follow."""
    old, new = (f"'{name}'" if not name.isalnum() else name for name in (sheet, now))

    def change(xml: str) -> str:
        return xml.replace(f'<sheet name="{sheet}"', f'<sheet name="{now}"').replace(f">{old}!", f">{new}!")

    return with_part(book, "xl/workbook.xml", change)
