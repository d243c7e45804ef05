"""The JSON report keeps to its published schema."""

from __future__ import annotations

import json
from typing import Any

import jsonschema
import pytest

from tests.workbooks import ON, clean
from workbook_tools.findings import BookResult
from workbook_tools.reports import as_json
from workbook_tools.reports.json import SCHEMA

SCHEMA_DOCUMENT: dict[str, Any] = json.loads(SCHEMA.read_text(encoding="utf-8"))


def _report(*results: BookResult) -> dict[str, Any]:
    document: dict[str, Any] = json.loads(as_json(results, ON, ""))
    return document


@pytest.fixture
def faulty() -> BookResult:
    book = clean()
    book.lot("bucket")["quantity"] = 1
    book.lot("hand flare")["expires"] = "12/03/2029"
    return book.audit()


def test_the_schema_is_a_schema() -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA_DOCUMENT)


def test_reports_keep_to_the_schema(faulty: BookResult) -> None:
    unread = BookResult("broken.xlsx", readable=False, reason="the file is empty")
    validator = jsonschema.Draft202012Validator(SCHEMA_DOCUMENT, format_checker=jsonschema.FormatChecker())
    assert list(validator.iter_errors(_report(clean().audit(), faulty, unread))) == []


@pytest.mark.parametrize("key", ["contract", "on", "rules", "books", "totals"])
def test_the_schema_notices_a_key_that_is_missing(faulty: BookResult, key: str) -> None:
    report = _report(faulty)
    del report[key]
    assert not jsonschema.Draft202012Validator(SCHEMA_DOCUMENT).is_valid(report)


def test_every_finding_has_the_keys_of_the_contract(faulty: BookResult) -> None:
    keys = SCHEMA_DOCUMENT["$defs"]["finding"]["required"]
    findings = _report(faulty)["books"][0]["findings"]
    assert len(findings) == 2
    assert all(list(finding)[: len(keys)] == keys for finding in findings)


def test_states_count_every_pair_of_rule_and_subject(faulty: BookResult) -> None:
    book = _report(faulty)["books"][0]
    assert sum(book["states"].values()) == len(faulty.states)
    explained = [entry for entry in book["unmet_evidence"] if entry["state"] == "not_evaluated"]
    assert len(explained) == book["states"]["not_evaluated"] == 1


def test_totals_add_up_over_the_books(faulty: BookResult) -> None:
    totals = _report(faulty, faulty)["totals"]
    assert totals == {"action": 2, "due": 0, "query": 2, "note": 0}


def test_the_report_says_who_decides(faulty: BookResult) -> None:
    assert "flag Administration" in _report(faulty)["caution"]
