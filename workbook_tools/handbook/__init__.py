"""The handbook: codes, rules, lists and assumptions explained, on the terminal and as pages, from one text.

`explain` answers `davitbook rules`; `pages` makes docs/handbook; both read `words`, so that they cannot differ.
"""

from workbook_tools.handbook.dictionary import data_dictionary
from workbook_tools.handbook.terminal import explain, names, nearest
from workbook_tools.handbook.words import quantity_words

__all__ = ["data_dictionary", "explain", "names", "nearest", "quantity_words"]
