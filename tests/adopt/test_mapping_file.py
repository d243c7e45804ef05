"""The mapping file: what is written is read again, and a slip in it is named."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.adopt.test_accounting import sources
from workbook_tools.adopt import Mapping, MappingError, Source, mapping_text, propose, read_mapping
from workbook_tools.core.caution import CAUTION


@settings(max_examples=60, deadline=None)
@given(source=sources())
def test_a_mapping_read_again_is_the_same(source: Source, tmp_path_factory: pytest.TempPathFactory) -> None:
    mapping = propose(source)
    path = tmp_path_factory.getbasetemp() / "again.toml"
    path.write_text(mapping_text(mapping), encoding="utf-8")
    assert read_mapping(path) == mapping


@given(st.text())
def test_any_text_survives_the_file(text: str) -> None:
    assert tomllib.loads(mapping_text(Mapping(text)))["made_from"] == text


def test_it_carries_the_caution() -> None:
    assert CAUTION in " ".join(mapping_text(Mapping("x")).replace("#", " ").split())


@pytest.fixture
def text(sources_of_layouts: dict[str, Source]) -> str:
    return mapping_text(propose(sources_of_layouts["long_list"]))


@pytest.mark.parametrize(
    ("old", "new", "said"),
    [
        ('to = "quantity"', 'to = "quantitty"', "[[table]] number 1, [[table.column]] number 5: to = 'quantitty'"),
        ('to = "inventory"', 'to = "stuff"', "[[table]] number 1: to = 'stuff' must be one of"),
        ('at = "C"', 'at = "3"', "'3' is no column; write its letters"),
        ("heading_rows = [7]", "heading_rows = [0]", "heading_rows must hold the numbers"),
        ('to = "asked"', 'to = "quantity"', "two columns have to = 'quantity'"),
        ("format = 1", "format = 9", "this davitbook reads format = 1"),
        ('month_expiry = "last"', 'month_expiry = "late"', "'late' must be 'last' or 'first'"),
        ('to = "bucket"', 'to = "pail"', "to = 'pail' is none of our words for inventory.item"),
        ("confidence = 1.00", "confidence = 7", "confidence = 7 must be a number from 0 to 1"),
        ('at = "C"', 'when = "C"', "'when' is none of its entries"),
        ("[[word]]", "[[word", "not valid TOML"),
        ('sheet = "LSA Inventory"', "sheet = 4", "sheet = 4 must be a text in quotes"),
    ],
)
def test_a_slip_in_the_file_is_named_with_its_entry(text: str, old: str, new: str, said: str, tmp_path: Path) -> None:
    assert old in text
    path = tmp_path / "map.toml"
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    with pytest.raises(MappingError) as raised:
        read_mapping(path)
    assert said in str(raised.value)
    assert str(path) in str(raised.value)
