"""What is settled for every ship on a day is what the rows say, whichever day is asked."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from workbook_tools.rules import load_rule_set, rule_set_names
from workbook_tools.rules.in_force import keys_on

DAY = date(2026, 11, 25)


@pytest.mark.parametrize("name", rule_set_names())
@given(day=st.dates(date(1975, 1, 1), date(2045, 1, 1)))
@settings(max_examples=40, deadline=None)
def test_a_settled_row_is_the_only_one_in_force_and_asks_no_size(name: str, day: date) -> None:
    rule_set = load_rule_set(name)
    on_day = keys_on(rule_set, day)
    assert list(on_day) == list(rule_set.by_key())
    for key, rows in rule_set.by_key().items():
        in_force = [rule for rule in rows if rule.in_force(day)]
        sized = any(rule.band_by or rule.keel_laid_from or rule.keel_laid_until for rule in in_force)
        settled = on_day[key].settled
        assert (settled is None) == sized, key
        if settled is not None:
            assert settled[0] is (in_force[0] if len(in_force) == 1 else None), key


def test_a_row_holds_on_its_first_and_its_last_day_and_not_beside_them() -> None:
    rule_set = load_rule_set("solas")
    rule = replace(rule_set.rules[0], in_force_from=DAY, in_force_until=DAY + timedelta(days=10))
    own = replace(rule_set, rules=(rule,))
    held = {days: keys_on(own, DAY + timedelta(days=days))[rule.key].settled for days in (-1, 0, 10, 11)}
    assert held[0] == held[10] == (rule, "", "")
    assert held[-1] == held[11] == (None, "not_applicable", "in force from 2026-11-25 until 2026-12-05")


def test_a_rule_set_that_is_changed_is_not_answered_from_the_one_before() -> None:
    rule_set = load_rule_set("solas")
    assert keys_on(rule_set, DAY)
    assert keys_on(replace(rule_set, rules=()), DAY) == {}
