"""Cell functions: one answer inside any cell, the same in Excel, in Calc and in Python.

    >>> from workbook_tools.cells import LSA_REQUIRED
    >>> LSA_REQUIRED("hand flare", "lifeboat", 36)
    6.0

Each is a plain callable over scalars and ranges (tuples of row tuples) that raises CellError; FUNCTIONS holds the texts
from which the bindings, the wizard's help and the reference page are made; evaluate(name, args) is what a host calls.
"""

from workbook_tools.cells.days import LSA_DAYS_LEFT, LSA_NEXT_DUE, LSA_STATUS
from workbook_tools.cells.edition import EDITION
from workbook_tools.cells.equipment import (
    LSA_CONDITION,
    LSA_FOOD_KJ,
    LSA_ITEMS,
    LSA_LINE_M,
    LSA_PAINTER_M,
    LSA_REQUIRED,
    LSA_SHORT,
    LSA_SOURCE,
    LSA_SOURCE_STATUS,
    LSA_TPA,
    LSA_UNIT,
    LSA_WATER_L,
)
from workbook_tools.cells.places import LSA_COVER_PCT, LSA_COVER_WORST_PCT
from workbook_tools.cells.rations import LSA_RATION_DAYS, LSA_RATION_PLAN
from workbook_tools.cells.registry import FUNCTIONS, CellError, ErrorCell
from workbook_tools.cells.ship import FFA_SPARE_CHARGES, LSA_IMO_OK, LSA_LIFEBUOYS
from workbook_tools.cells.spread import evaluate

_ORDER = (
    *("LSA_REQUIRED", "LSA_SHORT", "LSA_SOURCE", "LSA_SOURCE_STATUS", "LSA_UNIT", "LSA_CONDITION", "LSA_ITEMS"),
    *("LSA_WATER_L", "LSA_FOOD_KJ", "LSA_TPA", "LSA_PAINTER_M", "LSA_LINE_M", "LSA_LIFEBUOYS"),
    *("LSA_STATUS", "LSA_DAYS_LEFT", "LSA_NEXT_DUE", "LSA_COVER_PCT", "LSA_COVER_WORST_PCT"),
    *("LSA_RATION_DAYS", "LSA_RATION_PLAN", "LSA_IMO_OK", "FFA_SPARE_CHARGES"),
)  # the order of the documentation, whichever module was loaded first
for _name in _ORDER:
    FUNCTIONS[_name] = FUNCTIONS.pop(_name)

__all__ = [
    "EDITION",
    "FFA_SPARE_CHARGES",
    "FUNCTIONS",
    "LSA_CONDITION",
    "LSA_COVER_PCT",
    "LSA_COVER_WORST_PCT",
    "LSA_DAYS_LEFT",
    "LSA_FOOD_KJ",
    "LSA_IMO_OK",
    "LSA_ITEMS",
    "LSA_LIFEBUOYS",
    "LSA_LINE_M",
    "LSA_NEXT_DUE",
    "LSA_PAINTER_M",
    "LSA_RATION_DAYS",
    "LSA_RATION_PLAN",
    "LSA_REQUIRED",
    "LSA_SHORT",
    "LSA_SOURCE",
    "LSA_SOURCE_STATUS",
    "LSA_STATUS",
    "LSA_TPA",
    "LSA_UNIT",
    "LSA_WATER_L",
    "CellError",
    "ErrorCell",
    "evaluate",
]
