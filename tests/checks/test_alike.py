"""What is remembered of ships and craft that are alike is what is worked out for each by itself."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from tests.workbooks import ON
from workbook_tools.checks.alike import ShipRule, craft_rules, ships_like
from workbook_tools.core.quantity import required
from workbook_tools.rules import Condition, load_rule_set
from workbook_tools.rules.in_force import keys_on
from workbook_tools.rules.model import FACTS

SOLAS = load_rule_set("solas")
EVIDENCE = ("inventory", "length", "certificate", "servicing", "craft.")
SUBJECTS = ("lifeboat", "rescue-boat", "liferaft", "craft")

FACT_ITEMS = st.fixed_dictionaries({fact: st.sampled_from((None, *values)) for fact, values in FACTS.items()}).map(
    lambda facts: tuple(facts.items())
)


@given(facts=FACT_ITEMS)
@settings(max_examples=60, deadline=None)
def test_a_craft_s_rules_stand_as_their_conditions_say(facts: tuple[tuple[str, str | None], ...]) -> None:
    entries = craft_rules(SOLAS, ON, EVIDENCE, SUBJECTS, facts)
    wanted = [
        key
        for key, rows in SOLAS.by_key().items()
        if rows[0].subject in SUBJECTS and (rows[0].evidence in EVIDENCE or rows[0].evidence.startswith("craft."))
    ]
    assert [entry.key for entry in entries] == wanted
    for entry in entries:
        if entry.rule is None:
            continue
        applies, fact = entry.rule.condition.holds(dict(facts))
        assert entry.state == ("not_applicable" if applies is False else "")
        assert (entry.why or entry.doubt or "") == fact
        if not entry.state:
            assert entry.asked == required(entry.rule, None)


@given(facts=FACT_ITEMS)
@settings(max_examples=60, deadline=None)
def test_a_ship_s_rules_stand_as_their_conditions_say(facts: tuple[tuple[str, str | None], ...]) -> None:
    for known in ships_like(SOLAS, ON, facts, (), "").rules("stock"):
        if isinstance(known, ShipRule) and known.rule.in_force(ON):
            applies, fact = known.rule.condition.holds(dict(facts))
            told = ("not_applicable", fact, "") if applies is False else ("", "", "" if applies else fact)
            assert (known.state, known.why, known.doubt) == told


def test_a_shut_chapter_shuts_the_rules_whose_row_in_force_stands_in_it() -> None:
    gates = ((("SOLAS IV/",), "no radio chapter"),)
    on_day = keys_on(SOLAS, ON)
    told = [rule for rule in ships_like(SOLAS, ON, (), gates, "").rules("stock") if isinstance(rule, ShipRule)]
    shut = {rule.rule.key for rule in told if rule.why == "no radio chapter"}
    radio = {
        rule.rule.key
        for rule in told
        if (settled := on_day[rule.rule.key].settled) and settled[0] and settled[0].reference.startswith("SOLAS IV/")
    }
    assert shut == radio
    assert shut


def test_a_changed_rule_set_is_not_answered_from_the_one_before() -> None:
    facts = (("kind", "lifeboat"),)
    assert craft_rules(SOLAS, ON, EVIDENCE, SUBJECTS, facts)
    for_rafts = Condition((("kind", ("liferaft",)),))
    own = replace(SOLAS, rules=tuple(replace(rule, condition=for_rafts) for rule in SOLAS.rules))
    entries = craft_rules(own, ON, EVIDENCE, SUBJECTS, facts)
    assert {entry.state for entry in entries if entry.rule is not None} == {"not_applicable"}


def test_another_day_is_not_answered_from_the_one_before() -> None:
    facts = (("kind", "lifeboat"),)
    later = craft_rules(SOLAS, ON, EVIDENCE, SUBJECTS, facts)
    before = craft_rules(SOLAS, date(1975, 1, 1), EVIDENCE, SUBJECTS, facts)
    assert any(entry.rule for entry in later)
    assert not any(entry.rule for entry in before)
