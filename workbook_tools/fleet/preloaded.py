"""Loads on import what a worker needs for its first book: libraries, schemas, rules, lists.

Where the system can make workers from a process that has loaded it, it is loaded once for all of them.
"""

import pandera.pandas
import python_calamine

from workbook_tools import catalogue
from workbook_tools.columns import SHEETS
from workbook_tools.fleet import work
from workbook_tools.reports import parts
from workbook_tools.rules import load_rule_set, rule_set_names
from workbook_tools.schema import schema

__all__ = ["pandera", "parts", "python_calamine", "work"]

for _sheet in SHEETS:
    schema(_sheet.key)
for _name in rule_set_names():
    load_rule_set(_name)
catalogue.item_names()
