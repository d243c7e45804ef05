"""The texts that the cells of an .xlsx file share: one that is long, shown in very many cells, fills the memory."""

from __future__ import annotations

import re
import zipfile
from collections import Counter
from collections.abc import Collection

from workbook_tools.reading.limits import MOST_CHARACTERS, refuse_much_text
from workbook_tools.reading.zipped import unpacked

_PART = "xl/sharedStrings.xml"
_SHOWN = re.compile(rb"""<(?:\w+:)?c\s[^>]*\bt\s*=\s*["']s["'][^>]*>\s*<(?:\w+:)?v[^>]*>\s*(\d{1,9})""")


class SharedTexts:
    """Counts the cells that show a shared text; what these are is looked up only where it may come to much."""

    def __init__(self, archive: zipfile.ZipFile, names: Collection[str]) -> None:
        self._archive = archive
        self._bytes = archive.getinfo(_PART).file_size if _PART in names else 0
        self._sheets: list[bytes] = []

    def count_cells(self, data: bytes) -> None:
        """Take a sheet's XML into account. A cell that shows a text takes 20 bytes of it at least."""
        if self._bytes * (len(data) // 20) > MOST_CHARACTERS:
            self._sheets.append(data)

    def refuse_much(self) -> None:
        """Raise UnreadableBook where the texts of all cells together are too long."""
        if not self._sheets:
            return
        texts = [len(text) for text in re.split(rb"<(?:\w+:)?si[\s/>]", unpacked(self._archive, _PART))[1:]]
        characters = 0
        for data in self._sheets:
            for number, cells in Counter(_SHOWN.findall(data)).items():
                characters += cells * (texts[int(number)] if int(number) < len(texts) else 0)
        refuse_much_text(characters)
