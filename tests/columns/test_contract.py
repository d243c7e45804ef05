"""The contract is declared once, and the data dictionary is in step with it."""

from pathlib import Path

import pytest

from workbook_tools.columns import SHEETS, Column, sheet
from workbook_tools.columns.model import KINDS
from workbook_tools.handbook import data_dictionary
from workbook_tools.schema import schema

DICTIONARY = Path(__file__).parents[2] / "docs" / "data-dictionary.md"
COLUMNS = [(entry.key, column) for entry in SHEETS for column in entry.columns]


def test_the_data_dictionary_is_in_step_with_the_code() -> None:
    assert DICTIONARY.read_text(encoding="utf-8") == data_dictionary(), "run: python -m workbook_tools.book"


@pytest.mark.parametrize(("key", "column"), COLUMNS, ids=lambda value: getattr(value, "key", value))
def test_every_column_has_a_known_kind_and_help(key: str, column: Column) -> None:
    assert column.kind in KINDS
    assert column.help.endswith((".", ")"))
    assert (column.kind in ("choice", "unit")) == bool(column.choices)


def test_only_what_a_verdict_needs_is_mandatory() -> None:
    required = {f"{entry.key}.{column.key}" for entry in SHEETS for column in entry.columns if column.required}
    assert required == {
        "ship.name",
        "craft.name",
        "craft.kind",
        "inventory.place",
        "inventory.item",
        "inventory.quantity",
        "servicing.appliance",
        "servicing.service",
        "routine.day",
        "routine.task",
        "fire.kind",
        "defects.subject",
        "defects.fitting",
        "follow_up.finding",
        "ports.port",
        "ports.arrival",
        "certificates.certificate",
        "record_of_equipment.entry",
        "exemptions.rule",
    }


@pytest.mark.parametrize("key", [entry.key for entry in SHEETS])
def test_the_schema_comes_from_the_declarations(key: str) -> None:
    built = schema(key)
    for name, column in built.columns.items():
        declared = sheet(key).column(name)
        assert column.title == declared.heading
        assert column.description == declared.help
        assert column.nullable is not declared.required
        assert column.coerce is False
