"""Finds the rows of a sheet that somebody has hidden by hand.

A row that a filter leaves out is none, nor is one of a folded group: its plus sign stands in the margin.
"""

from __future__ import annotations

import posixpath
import re
import zipfile
from xml.etree import ElementTree

from workbook_tools.reading.address import split
from workbook_tools.reading.limits import MOST_INDEX_BYTES
from workbook_tools.reading.zipped import unpacked

_MARKED = re.compile(rb"""\bhidden\s*=\s*["'](?:1|true)["']|\sht\s*=\s*["']0(?:\.0+)?["']""")
_SIGNS = (b'hidden="1"', b'hidden="true"', b"hidden='", b'ht="0', b"ht='0")  # one of them stands where a row is hidden
_ROW = re.compile(rb"<(?:\w+:)?row\b([^>]*)>")
_NUMBER = re.compile(rb"""(?<![\w:])r\s*=\s*["'](\d+)["']""")
_GROUPED = re.compile(rb"""\boutlineLevel\s*=\s*["'][1-9]""")
_FILTER = re.compile(rb"<(?:\w+:)?autoFilter\b([^>]*)(?<!/)>(.*?)</(?:\w+:)?autoFilter>", re.DOTALL)
_ACTIVE = re.compile(rb"<(?:\w+:)?filterColumn\b")
_AREA = re.compile(rb"""\bref\s*=\s*["']([A-Z]+\d+)(?::([A-Z]+\d+))?["']""")


def hidden_rows(archive: zipfile.ZipFile, part: str, data: bytes) -> list[int]:
    """Rows hidden by hand, counted from 0. data: the XML of the sheet that `part` holds."""
    rows = _hidden(data)
    if not rows:
        return []
    filtered = _filtered(data)
    for table in _tables(archive, part):
        filtered += _filtered(unpacked(archive, table, MOST_INDEX_BYTES))
    return [row for row in rows if not any(first <= row <= last for first, last in filtered)]


def _hidden(data: bytes) -> list[int]:
    if not any(sign in data for sign in _SIGNS):
        return []
    found, number = [], -1
    for match in _ROW.finditer(data):
        written = _NUMBER.search(match[1])
        number = int(written[1]) - 1 if written else number + 1
        if _MARKED.search(match[1]) and not _GROUPED.search(match[1]):
            found.append(number)
    return found


def _filtered(data: bytes) -> list[tuple[int, int]]:
    """First and last row of each list whose filter leaves something out."""
    found = []
    for attributes, inside in _FILTER.findall(data):
        area = _AREA.search(attributes)
        if area and _ACTIVE.search(inside):
            first, last = split(area[1].decode()), split((area[2] or area[1]).decode())
            if first and last:
                found.append((first[0], last[0]))
    return found


def _tables(archive: zipfile.ZipFile, part: str) -> list[str]:
    """The parts that hold the tables of a sheet."""
    folder, name = posixpath.split(part)
    relations = f"{folder}/_rels/{name}.rels"
    if relations not in archive.namelist():
        return []
    entries = ElementTree.fromstring(unpacked(archive, relations, MOST_INDEX_BYTES))
    targets = [entry.get("Target", "") for entry in entries if entry.get("Type", "").endswith("/table")]
    paths = [
        target.lstrip("/") if target.startswith("/") else posixpath.normpath(f"{folder}/{target}") for target in targets
    ]
    return [path for path in paths if path in archive.namelist()]
