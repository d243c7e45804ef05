"""The audit as JSON: a contract, described by audit.schema.json beside this file."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from datetime import date
from functools import lru_cache
from operator import attrgetter
from pathlib import Path
from typing import Any, TypeVar

from workbook_tools.core.caution import CAUTION
from workbook_tools.findings import GRADES, BookResult, Finding, FollowUp
from workbook_tools.rules.company import Company

T = TypeVar("T")

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
_finding_values = attrgetter(*_FINDING_KEYS)


def _follow_up(follow_up: FollowUp | None) -> dict[str, Any] | None:
    if follow_up is None:
        return None
    return {
        "order": follow_up.order,
        "port": follow_up.port,
        "expected": follow_up.expected.isoformat() if follow_up.expected else None,
        "reported_to": follow_up.reported_to,
        "interim": follow_up.interim,
        "past": follow_up.past,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    person = {"person": finding.person} if finding.person else {}
    values = dict(zip(_FINDING_KEYS, _finding_values(finding), strict=True))
    return values | {"follow_up": _follow_up(finding.follow_up)} | person


def _company(company: Company | None) -> dict[str, Any] | None:
    if company is None:
        return None
    return {"name": company.name, "file": company.file, "looser": list(company.looser)}


def _unmet(rule: str, subject: str, state: str, why: str) -> dict[str, str]:
    return {"rule": rule, "subject": subject, "state": state, "why": why}


_one_line = json.JSONEncoder(ensure_ascii=False).encode


def _unmet_in_line(rule: str, subject: str, state: str, why: str) -> str:
    """There are hundreds in a book, most of them as in the book before; the short ones are remembered."""
    write = _remembered if len(subject) + len(why) <= _REMEMBERED_LENGTH else _unmet_anew
    return write(rule, subject, state, why)


def _unmet_anew(rule: str, subject: str, state: str, why: str) -> str:
    return _one_line(_unmet(rule, subject, state, why))


_REMEMBERED_LENGTH = 500
_remembered = lru_cache(maxsize=20_000)(_unmet_anew)


def _each_unmet(result: BookResult, worded: Callable[[str, str, str, str], T]) -> list[T]:
    return [
        worded(state.rule, state.subject, state.state, state.why)
        for state in result.states
        if state.state in ("not_evaluated", "not_applicable")
    ]


def _book(result: BookResult, unmet: list[dict[str, str]]) -> dict[str, Any]:
    return {
        "book": result.book,
        "ship": result.ship,
        "imo_number": result.imo_number,
        "readable": result.readable,
        "reason": result.reason,
        "rules": result.rules,
        "states": result.state_counts(),
        "unmet_evidence": unmet,
        "exempt": [
            {"rule": state.rule, "subject": state.subject, "why": state.why}
            for state in result.states
            if state.state == "exempt"
        ],
        "assumptions": result.assumptions,
        "persons": {
            "on_board": result.persons.on_board,
            "certified": result.persons.certified,
            "places": result.persons.places,
            "losses": [
                {"name": loss.name, "places": loss.places, "left_out": loss.left_out} for loss in result.persons.losses
            ],
        },
        "findings": [_finding(finding) for finding in result.findings],
        "caution": CAUTION,
    }


def _about(on: date, rules: str, company: Company | None) -> dict[str, Any]:
    return {
        "contract": CONTRACT,
        "on": on.isoformat(),
        "rules": rules,
        "company": _company(company),
        "caution": CAUTION,
    }


def indented_book(result: BookResult) -> str:
    """One book's part of the JSON document."""
    return "    " + _further_in(json.dumps(_book(result, _each_unmet(result, _unmet)), indent=2, ensure_ascii=False), 4)


def _further_in(written: str, spaces: int) -> str:
    return written.replace("\n", "\n" + " " * spaces)  # a text within JSON holds no line end: it is written \\n


def document_head(on: date, rules: str, company: Company | None = None) -> str:
    """The JSON document up to its books, which follow with ',\\n' between them."""
    return json.dumps(_about(on, rules, company), indent=2, ensure_ascii=False)[: -len("\n}")] + ',\n  "books": ['


def document_tail(books: int, totals: Mapping[str, int]) -> str:
    """The JSON document after so many books; totals: findings by grade."""
    written = _further_in(json.dumps(dict(totals), indent=2), 2)
    return ("\n  ]" if books else "]") + f',\n  "totals": {written}\n}}\n'


def book_line(result: BookResult) -> str:
    """One book as a line of JSON lines: the same object as among the document's books."""
    parts = {key: _one_line(value) for key, value in _book(result, []).items()}
    parts["unmet_evidence"] = f"[{', '.join(_each_unmet(result, _unmet_in_line))}]"
    return "{" + ", ".join(f"{_one_line(key)}: {part}" for key, part in parts.items()) + "}\n"


def as_json(results: Sequence[BookResult], on: date, rules: str, company: Company | None = None) -> str:
    """The results as one JSON document; rules is the set asked for, or '' where each book chose its own.

    company: the company's own rules, where the audit was asked to keep to them.
    """
    totals = {grade: sum(result.grade_counts()[grade] for result in results) for grade in GRADES}
    books = ",\n".join(map(indented_book, results))
    between = "\n" if results else ""
    return document_head(on, rules, company) + between + books + document_tail(len(results), totals)
