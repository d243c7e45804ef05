"""No row of the published figures is without a rule, a check and its cases, or a reason."""

import pytest

from tests.published.coverage_table import TABLE, CoverageRow, case_modules, markdown, rows
from workbook_tools.checks import CODES
from workbook_tools.rules import load_rule_set, rule_set_names

RULES = {rule.key for name in rule_set_names() for rule in load_rule_set(name).rules}
GATES = {gate.key for name in rule_set_names() for gate in load_rule_set(name).applications}


def test_the_table_is_in_step() -> None:
    assert TABLE.read_text(encoding="utf-8") == markdown(), "run: python -m tests.published.coverage_table"


@pytest.mark.parametrize("row", rows(), ids=lambda row: row.origin)
def test_the_row_is_accounted_for(row: CoverageRow) -> None:
    assert row.rules or row.codes or row.left_out
    assert set(row.rules) <= RULES | GATES
    assert set(row.codes) <= set(CODES)
    if row.rules and not row.left_out:
        assert row.codes
    assert set(row.codes) <= set(case_modules())


def test_no_rule_is_without_a_row() -> None:
    named = {rule for row in rows() for rule in row.rules}
    assert RULES - named == set(), "give it a line in tests/published/coverage"
