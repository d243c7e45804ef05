"""The audit as JSON: a contract, described by audit.schema.json beside this file."""

from __future__ import annotations

import json
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import Any

from workbook_tools.findings import CAUTION, GRADES, BookResult, Finding

# The number of this shape. Keys may be added to a shape; none is taken away or given another meaning.
CONTRACT = 1
SCHEMA = Path(__file__).parent / "audit.schema.json"

_FINDING_KEYS = (
    "id",
    "code",
    "rule",
    "grade",
    "priority",
    "sheet",
    "cell",
    "subject",
    "message",
    "required",
    "carried",
    "unit",
    "source",
    "remedy",
)


def _finding(finding: Finding) -> dict[str, Any]:
    return {key: getattr(finding, key) for key in _FINDING_KEYS}


def _book(result: BookResult) -> dict[str, Any]:
    return {
        "book": result.book,
        "ship": result.ship,
        "imo_number": result.imo_number,
        "readable": result.readable,
        "reason": result.reason,
        "rules": result.rules,
        "states": result.state_counts(),
        "unmet_evidence": [
            {"rule": state.rule, "subject": state.subject, "state": state.state, "why": state.why}
            for state in result.states
            if state.state in ("not_evaluated", "not_applicable", "exempt")
        ],
        "assumptions": result.assumptions,
        "findings": [_finding(finding) for finding in result.findings],
    }


def as_json(results: Sequence[BookResult], on: date, rules: str) -> str:
    """The results as one JSON document; rules is the set asked for, or '' where each book chose its own."""
    totals = {grade: sum(result.grade_counts()[grade] for result in results) for grade in GRADES}
    document = {
        "contract": CONTRACT,
        "on": on.isoformat(),
        "rules": rules,
        "caution": CAUTION,
        "books": [_book(result) for result in results],
        "totals": totals,
    }
    return json.dumps(document, indent=2, ensure_ascii=False) + "\n"
