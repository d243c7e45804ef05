"""A comparison as JSON: a contract, described by compare.schema.json beside this file."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

from workbook_tools.compare.changes import Change
from workbook_tools.compare.report import grades
from workbook_tools.compare.returns import Fleet, Found
from workbook_tools.compare.run import ShipComparison, StepResult
from workbook_tools.core.caution import CAUTION
from workbook_tools.findings import Finding

# The number of this shape. Keys may be added to a shape; none is taken away or given another meaning.
CONTRACT = 1
SCHEMA = Path(__file__).parent / "compare.schema.json"

_FINDING_KEYS = ("id", "code", "rule", "grade", "priority", "sheet", "cell", "subject", "message", "source", "remedy")


def as_json(fleet: Fleet, ships: Sequence[ShipComparison], on: date, open_for: int) -> str:
    """The comparison as one JSON document; on: the day of returns without a record date."""
    unreadable = [*fleet.unreadable, *(found for ship in ships for found in ship.unreadable)]
    counted = grades(ships)
    document = {
        "contract": CONTRACT,
        "on": on.isoformat(),
        "open_for": open_for,
        "caution": CAUTION,
        "places": fleet.places,
        "ships": [_ship(ship) for ship in ships],
        "alone": [{"place": fleet.places[number], **_found(found), "why": why} for number, found, why in fleet.alone],
        "unreadable": [{"book": str(found.path), "reason": found.problem} for found in unreadable],
        "totals": {
            "ships": len(ships),
            "query": counted["query"],
            "note": counted["note"],
            "changes": sum(len(step.changes) for ship in ships for step in ship.steps),
        },
    }
    return json.dumps(document, indent=2, ensure_ascii=False) + "\n"


def _found(found: Found) -> dict[str, Any]:
    return {
        "book": str(found.path),
        "ship": found.name,
        "imo_number": found.imo,
        "record_date": found.recorded.isoformat() if found.recorded else None,
    }


def _ship(ship: ShipComparison) -> dict[str, Any]:
    newest = ship.series.newest
    return {
        "ship": newest.name,
        "imo_number": newest.imo,
        "matched_by": ship.series.matched_by,
        "returns": [_found(found) if found is not None else None for found in ship.series.returns],
        "passed_over": ship.series.left_out,
        "findings": [_finding(finding) for finding in ship.findings],
        "not_compared": dict(sorted(ship.left_out.items())),
        "steps": [_step(step) for step in ship.steps],
    }


def _step(step: StepResult) -> dict[str, Any]:
    return {
        "old": _found(step.old),
        "new": _found(step.new),
        "sent_again": step.sent_again,
        "findings": [_finding(finding) for finding in step.findings],
        "changes": [_change(change) for change in step.changes],
        "new_log_lines": step.log_lines,
        "not_compared": dict(sorted(step.left_out.items())),
    }


def _finding(finding: Finding) -> dict[str, Any]:
    return {key: getattr(finding, key) for key in _FINDING_KEYS}


def _change(change: Change) -> dict[str, Any]:
    return {
        "sheet": change.sheet,
        "change": change.kind,
        "subject": change.subject,
        "cell": change.cell,
        "old_cell": change.old_cell,
        "differences": [
            {"column": entry.column, "before": entry.before, "after": entry.after} for entry in change.differences
        ],
    }
