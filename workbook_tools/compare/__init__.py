"""A ship's return against the one before it: what changed, and what looks wrong."""

from workbook_tools.compare import lots, services, whole  # the order in which suspicions are looked for
from workbook_tools.compare.open_findings import FEWEST_RETURNS
from workbook_tools.compare.registry import CODES
from workbook_tools.compare.returns import NothingToCompare, gather
from workbook_tools.compare.run import ShipComparison, compare_fleet, compare_ship

__all__ = [
    "CODES",
    "FEWEST_RETURNS",
    "NothingToCompare",
    "ShipComparison",
    "compare_fleet",
    "compare_ship",
    "gather",
    "lots",
    "services",
    "whole",
]
