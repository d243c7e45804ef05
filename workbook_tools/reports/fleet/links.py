"""Links from a report to the cell of a ship's workbook, that work where the report and the books lie side by side."""

from __future__ import annotations

import os
from pathlib import Path
from urllib.parse import quote

LONGEST_LINK = 2079  # characters that Excel takes; a longer one is left out, the words of the cell stay


def relative(book: str, folder: Path) -> str:
    """The way from a folder to a book, with forward slashes; the whole path where no relative way leads there."""
    target = os.path.abspath(book)
    try:
        way = os.path.relpath(target, os.path.abspath(folder))
    except ValueError:  # another drive of a Windows machine
        way = target
    return way.replace(os.sep, "/")


# What a workbook escapes in the name of a file. Letters of every script stay as they are, as Excel writes them.
_ESCAPED = {ord(letter): f"%{ord(letter):02x}" for letter in '%"#<>[]^`{} '}


def cell_target(sheet: str, cell: str) -> str:
    """The place within a workbook: 'Follow-up'!B4."""
    return f"'{sheet.replace(chr(39), chr(39) * 2)}'!{cell}"


def workbook_link(way: str, sheet: str = "", cell: str = "") -> str:
    """A link for a cell of a workbook to a book, and there to a cell; '' when Excel cannot take it.

    way: as from `relative`.
    """
    escaped = way.translate(_ESCAPED)
    place = f"#{cell_target(sheet, cell)}" if cell else ""
    link = f"external:{escaped}{place}"
    try:
        return link if len(link.encode("utf-16-le")) // 2 <= LONGEST_LINK else ""
    except UnicodeEncodeError:  # the file's name is no text in any alphabet
        return ""


def page_link(way: str) -> str:
    """A link for a page to a book. A browser opens the file; which cell to look at stands in words beside it."""
    if way.startswith("//"):  # a share of a server
        return "file:" + quote(os.fsencode(way), safe="/")
    if way.startswith("/") or way[1:2] == ":":
        return "file:///" + quote(os.fsencode(way.lstrip("/")), safe="/:")
    return quote(os.fsencode(way), safe="/")
