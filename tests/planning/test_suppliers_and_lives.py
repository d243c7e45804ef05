"""The tables of planning cover what the catalogue and the rules know."""

from __future__ import annotations

from workbook_tools import catalogue
from workbook_tools.columns.ports import OFFERS
from workbook_tools.columns.suppliers import SUPPLIER_WORDS, service_suppliers, supplier_of
from workbook_tools.planning.lives import lives
from workbook_tools.rules import load_rule_set, rule_set_names


def test_every_dated_item_has_a_life_and_no_other() -> None:
    assert set(lives()) == {item.name for item in catalogue.items().values() if item.dated}


def test_every_service_of_every_rule_set_has_somebody_who_does_it() -> None:
    asked = {
        rule.item
        for key in rule_set_names()
        for rule in load_rule_set(key).rules
        if rule.evidence in ("service", "servicing", "contents")
    }
    assert asked <= set(service_suppliers())


def test_every_item_has_a_supplier_that_has_a_column() -> None:
    assert {supplier_of(item) for item in catalogue.items()} <= set(OFFERS)
    assert supplier_of("hand flare") == "pyrotechnics"
    assert set(SUPPLIER_WORDS) == set(OFFERS)
