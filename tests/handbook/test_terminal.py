"""What `davitbook rules` answers to each kind of question."""

from __future__ import annotations

from dataclasses import replace

import pytest
from click.testing import CliRunner

from workbook_tools.cells import FUNCTIONS
from workbook_tools.cli import main
from workbook_tools.columns import SHEETS, sheet
from workbook_tools.handbook import explain, names, nearest, quantity_words, words
from workbook_tools.handbook.dictionary import holds
from workbook_tools.rules import rule_set_names
from workbook_tools.rules.loader import policies


def test_everything_that_has_a_name_is_explained_by_it() -> None:
    assert [name for name in names() if not explain(name)] == []


@pytest.mark.parametrize("name", [sheet.name for sheet in SHEETS])
def test_a_sheet_is_explained_with_each_of_its_columns(name: str) -> None:
    text = explain(name) or ""
    assert all(column.title in text for column in next(sheet for sheet in SHEETS if sheet.name == name).columns)


def test_a_name_that_a_sheet_and_rules_share_is_the_sheet_with_a_capital_and_the_rules_without() -> None:
    assert (explain("Crew") or "").startswith("Crew: ")
    assert (explain("crew") or "").startswith("crew.")


@pytest.mark.parametrize("name", sorted(FUNCTIONS))
def test_a_cell_function_is_explained_with_its_arguments_and_source(name: str) -> None:
    text = " ".join((explain(name.lower()) or "").split())
    assert all(f"{argument.name}: {argument.help}" in text for argument in FUNCTIONS[name].arguments)
    assert FUNCTIONS[name].source in text


def test_the_assumptions_are_listed_whole() -> None:
    text = explain("assumptions") or ""
    assert all(key in text for key in policies())


def test_where_the_chapters_apply_is_told_for_every_rule_set() -> None:
    text = explain("applies") or ""
    assert "application.cargo" in text
    assert "application.us-cargo" in text
    assert len(rule_set_names()) == 2


def test_a_paragraph_finds_its_rules() -> None:
    assert "lifeboat.fresh-water" in (explain("4.4.8.9") or "")


def test_another_name_of_an_item_finds_its_rules() -> None:
    assert explain("handflares") == explain("hand flare")


def test_what_nobody_knows_is_none() -> None:
    assert explain("gangway") is None


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("EQ1", "EQ01"),
        ("lifeboat.fresh-watr", "lifeboat.fresh-water"),
        ("asumptions", "assumptions"),
        ("inventry", "Inventory"),
        ("lsa_watr_l", "LSA_WATER_L"),
    ],
)
def test_the_nearest_name_is_proposed(typed: str, meant: str) -> None:
    assert nearest(typed) == meant


def test_what_may_stand_in_place_is_told_with_the_rule() -> None:
    text = " ".join((explain("lifeboat.fresh-water") or "").split())
    assert "In its place may stand:" in text
    assert "manual reverse-osmosis desalinator" in text


def test_who_may_do_a_service_is_told() -> None:
    entries = words.entries()
    key = next(key for key, entry in entries.items() if entry.rows[0].done_by)
    assert "Done by: " + " or ".join(entries[key].rows[0].done_by) in " ".join((explain(key) or "").split())


def test_the_period_of_the_keel_is_told() -> None:
    entries = words.entries()
    kept = [(key, rule) for key, entry in entries.items() for rule in entry.rows if rule.keel_laid_from]
    assert kept
    assert f"Keel laid: from {kept[0][1].keel_laid_from}" in (explain(kept[0][0]) or "")


def test_one_day_of_practice_is_one_day() -> None:
    said = " ".join((explain("assumptions") or "").split())
    assert "Taken: 1 day " in said
    assert "Taken: 1 blast " in said


def test_a_year_has_no_thousands() -> None:
    assert holds(sheet("fire").column("made")) == "year, 1950 or more, 2100 at most"


def test_no_line_is_wider_than_a_terminal() -> None:
    for name in names():
        assert max(map(len, (explain(name) or "").splitlines())) <= 80, name


def test_the_command_closes_with_the_cautions_of_what_it_speaks_of() -> None:
    output = " ".join(CliRunner().invoke(main, ["rules", "lifeboat.hand-flares"]).output.split())
    assert "Pyrotechnics: expired ones are not for testing or drills" in output
    assert output.endswith("and the master decide.")


@pytest.mark.parametrize(
    ("figure", "text"),
    [
        ({"per_person": 3.0, "unit": "L"}, "3 L for each person permitted"),
        ({"percent": 10.0, "minimum": 2.0}, "10 % of the persons permitted, rounded up, 2 at least"),
        ({"fixed": 12.0, "unit": "months", "at_most": True}, "at most 12 months"),
        ({"fixed": 1.0, "unit": "months"}, "1 month"),
        ({"fixed": 1.0, "minimum": 1.0, "unit": "persons"}, "1 person, 1 person at least"),
    ],
)
def test_a_quantity_is_put_into_words(figure: dict[str, object], text: str) -> None:
    blank: dict[str, object] = {
        "fixed": 0.0,
        "per_person": 0.0,
        "percent": 0.0,
        "minimum": 0.0,
        "threshold": None,
        "extra": 0.0,
    }
    blank |= {"per_height": 0.0, "unit": "each", "at_most": False}
    rule = next(iter(words.entries().values())).rows[0]
    assert quantity_words(replace(rule, **(blank | figure))) == text  # type: ignore[arg-type]
