"""The texts that the cells of an .xlsx file share: one that is long, shown in very many cells, fills the memory."""

from __future__ import annotations

import re
import zipfile
from collections import Counter
from collections.abc import Collection

from workbook_tools.reading.limits import MOST_CHARACTERS, refuse_much_text
from workbook_tools.reading.zipped import unpacked

_PART = "xl/sharedStrings.xml"
_TEXT = re.compile(rb"<(?:\w+:)?si[\s/>]")
_SHOWN = re.compile(rb"""<(?:\w+:)?c\s[^>]*\bt\s*=\s*["']s["'][^>]*>\s*<(?:\w+:)?v[^>]*>\s*(\d{1,9})""")


class SharedTexts:
    """Sums up the texts of the cells that share them; how long these are is looked up only where it may be much."""

    def __init__(self, archive: zipfile.ZipFile, names: Collection[str]) -> None:
        self._archive = archive
        self._bytes = archive.getinfo(_PART).file_size if _PART in names else 0
        self._sheets: list[bytes] = []
        self._cells = 0  # at most: one that shows a text takes 20 bytes at least

    def count_cells(self, data: bytes) -> None:
        """Take a sheet's XML into account."""
        self._sheets.append(data)
        self._cells += len(data) // 20

    def refuse_much(self) -> None:
        """Raise UnreadableBook where the texts of all cells together are too long."""
        if self._bytes * self._cells <= MOST_CHARACTERS:
            return
        lengths = list(map(len, _TEXT.split(unpacked(self._archive, _PART))[1:]))
        if max(lengths, default=0) * self._cells <= MOST_CHARACTERS:
            return
        characters = 0
        for data in self._sheets:
            for number, cells in Counter(_SHOWN.findall(data)).items():
                characters += cells * (lengths[int(number)] if int(number) < len(lengths) else 0)
        refuse_much_text(characters)
