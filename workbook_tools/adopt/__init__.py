"""Brings a foreign workbook into ours: finds its tables, proposes a mapping, carries every cell or says why not."""

from workbook_tools.adopt.carry import Carried, Fate, LayoutChanged, Undecided, carry
from workbook_tools.adopt.mapped import TheirTable, book_from_map
from workbook_tools.adopt.mapping import APPLIED, KEEP, NONE, UNDECIDED, Mapping
from workbook_tools.adopt.mapping_file import MappingError, mapping_text, read_mapping
from workbook_tools.adopt.propose import propose
from workbook_tools.adopt.source import Source, open_source
from workbook_tools.adopt.writing import build_book

__all__ = [
    "APPLIED",
    "KEEP",
    "NONE",
    "UNDECIDED",
    "Carried",
    "Fate",
    "LayoutChanged",
    "Mapping",
    "MappingError",
    "Source",
    "TheirTable",
    "Undecided",
    "book_from_map",
    "build_book",
    "carry",
    "mapping_text",
    "open_source",
    "propose",
    "read_mapping",
]
