"""Tables become findings: one module per family, each check one function with its code and explanation."""

# The order of these imports is the order in which the checks run and speak.
from workbook_tools.checks import registry

from workbook_tools.checks import coverage, ship_level, ship_unrecorded  # isort: skip
from workbook_tools.checks import servicing, servicing_queries, old_suits, equipment  # isort: skip
from workbook_tools.checks import calls, ship_papers  # isort: skip
from workbook_tools.checks import crew, papers, muster, routine, routine_queries, fittings, fire, form  # isort: skip
from workbook_tools.checks import record, own_sheets, plausibility, followup, exemptions  # isort: skip
from workbook_tools.checks.audit import audit_book, audit_books
from workbook_tools.checks.context import Options
from workbook_tools.checks.registry import CHECKS, CODES, Code

__all__ = [
    "CHECKS",
    "CODES",
    "Code",
    "Options",
    "audit_book",
    "audit_books",
    "calls",
    "coverage",
    "crew",
    "equipment",
    "exemptions",
    "fire",
    "fittings",
    "followup",
    "form",
    "muster",
    "old_suits",
    "own_sheets",
    "papers",
    "plausibility",
    "record",
    "registry",
    "routine",
    "routine_queries",
    "servicing",
    "servicing_queries",
    "ship_level",
    "ship_papers",
    "ship_unrecorded",
]
