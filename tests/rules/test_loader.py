"""The rules loader refuses what it cannot vouch for, with file and line."""

from __future__ import annotations

import csv
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from workbook_tools.rules import load_rule_set, rule_set_names
from workbook_tools.rules.loader import RULES_FOLDER, read_rule_set
from workbook_tools.strictcsv import TableError

Row = dict[str, str]


def _edited(folder: Path, edit: Callable[[list[Row]], None], table: str = "solas/lifeboat.csv") -> Path:
    copy = folder / "rules"
    shutil.copytree(RULES_FOLDER, copy, ignore=shutil.ignore_patterns("*.py", "__pycache__"))
    path = copy / table
    with path.open(newline="") as file:
        rows = list(csv.DictReader(file))
    headings = list(rows[0])
    edit(rows)
    with path.open("w", newline="") as file:
        writer = csv.DictWriter(file, headings, lineterminator="\n")
        writer.writeheader()
        writer.writerows(rows)
    return copy


def _set(column: str, value: str) -> Callable[[list[Row]], None]:
    return lambda rows: rows[0].update({column: value})


@pytest.mark.parametrize("name", rule_set_names())
def test_every_rule_set_loads(name: str) -> None:
    assert len(load_rule_set(name).rules) > 100


@pytest.mark.parametrize(
    ("column", "value", "says"),
    [
        ("fixed", "two", "not a number"),
        ("fixed", "nan", "not a number"),
        ("fixed", "1_0", "not a number"),
        ("unit", "kJ", "does not measure"),
        ("in_force_from", "19980701", "not a date"),
        ("compared_on", "2999-01-01", "the day on which"),
        ("extended_to", "-7", "above zero"),
        ("waivable", "nope", "must be no"),
        ("applies_to", "pack=A; pack=B", "stands there twice"),
        ("applies_to", "pack=A;;", "not fact=value"),
        ("band_from", "7", "go together"),
        ("band_by", "persons", "go together"),
        ("fixed", "", "no quantity"),
        ("fixed", "-1", "below zero"),
        ("in_force_from", "1998-13-01", "not a date"),
        ("in_force_from", "", "must be given"),
        ("in_force_until", "1990-01-01", "before in_force_from"),
        ("item", "bouyant oars", "not in the catalogue"),
        ("done_by", "the cook", "cannot be 'the cook'"),
        ("unit", "pieces", "must be one of"),
        ("evidence", "hearsay", "must be one of"),
        ("priority", "soon", "must be one of"),
        ("status", "sure", "must be one of"),
        ("reference", "", "is empty"),
        ("applies_to", "kind=lifebaot", "cannot be 'lifebaot'"),
        ("applies_to", "persons>12", "not fact=value"),
        ("threshold", "13", "go together"),
        ("band_by", "colour", "must be one of"),
        ("note", " a space before", "begins or ends with a space"),
    ],
)
def test_a_slip_in_a_row_is_named_with_file_and_line(tmp_path: Path, column: str, value: str, says: str) -> None:
    copy = _edited(tmp_path, _set(column, value))
    with pytest.raises(TableError, match=says) as error:
        read_rule_set("solas", copy)
    assert str(error.value).startswith("lifeboat.csv:2: ")


def test_an_unknown_heading_is_refused(tmp_path: Path) -> None:
    copy = _edited(tmp_path, lambda rows: None)
    path = copy / "solas" / "lifeboat.csv"
    path.write_text(path.read_text().replace("per_person", "per_persons", 1))
    with pytest.raises(TableError, match=r"lifeboat\.csv:1: headings"):
        read_rule_set("solas", copy)


def test_a_line_with_a_cell_too_few_is_refused(tmp_path: Path) -> None:
    copy = _edited(tmp_path, lambda rows: None)
    path = copy / "solas" / "lifeboat.csv"
    lines = path.read_text().splitlines()
    lines[4] = lines[4].rpartition(",")[0]
    path.write_text("\n".join(lines) + "\n")
    with pytest.raises(TableError, match=r"lifeboat\.csv:5: "):
        read_rule_set("solas", copy)


def test_a_key_used_again_in_the_same_period_is_refused(tmp_path: Path) -> None:
    copy = _edited(tmp_path, lambda rows: rows.append(dict(rows[0])))
    with pytest.raises(TableError, match="overlaps"):
        read_rule_set("solas", copy)


def test_an_amendment_is_a_new_row_with_the_same_key_and_a_later_period(tmp_path: Path) -> None:
    def amend(rows: list[Row]) -> None:
        later = {**rows[1], "fixed": "3", "in_force_from": "2030-01-01"}
        rows[1]["in_force_until"] = "2029-12-31"
        rows.append(later)

    rules = read_rule_set("solas", _edited(tmp_path, amend)).by_key()["lifeboat.boat-hooks"]
    assert [rule.fixed for rule in rules] == [2, 3]


def test_a_key_never_changes_its_meaning(tmp_path: Path) -> None:
    def other_item(rows: list[Row]) -> None:
        rows.append({**rows[1], "item": "bucket", "in_force_from": "2030-01-01"})
        rows[1]["in_force_until"] = "2029-12-31"

    with pytest.raises(TableError, match="means something else"):
        read_rule_set("solas", _edited(tmp_path, other_item))


@pytest.mark.parametrize(
    ("column", "value", "says"),
    [
        ("rule", "lifeboat.fresh-watr", "there is no rule"),
        ("by_item", "desalting aparatus", "not in the catalogue"),
        ("per_person", "-1", "above zero"),
        ("at_most", "2", "belongs to"),
        ("in_force_until", "1990-01-01", "in_force_until lies before"),
        ("form", "somehow", "must be one of"),
    ],
)
def test_a_slip_in_a_substitute_is_named(tmp_path: Path, column: str, value: str, says: str) -> None:
    copy = _edited(tmp_path, _set(column, value), "solas/substitutes.csv")
    with pytest.raises(TableError, match=says) as error:
        read_rule_set("solas", copy)
    assert str(error.value).startswith("substitutes.csv:2: ")


@pytest.mark.parametrize(
    ("column", "value", "says"),
    [
        ("voyages", "short internatonal", "is none of"),
        ("gross_tonnage_from", "-500", "below zero"),
        ("compared_on", "soon", "not a date"),
        ("ship_family", "fishing", "must be one of"),
    ],
)
def test_a_slip_in_where_a_chapter_applies_is_named(tmp_path: Path, column: str, value: str, says: str) -> None:
    copy = _edited(tmp_path, _set(column, value), "solas/application.csv")
    with pytest.raises(TableError, match=says):
        read_rule_set("solas", copy)


def test_a_table_of_headings_alone_is_refused(tmp_path: Path) -> None:
    with pytest.raises(TableError, match="no line"):
        read_rule_set("solas", _edited(tmp_path, lambda rows: rows.clear()))


def test_no_key_stands_in_two_rule_sets() -> None:
    sets = [{rule.key for rule in load_rule_set(name).rules} for name in rule_set_names()]
    assert not sets[0] & sets[1]


def test_what_a_condition_can_ask_is_what_the_sheets_offer() -> None:
    from workbook_tools import catalogue
    from workbook_tools.columns import sheet
    from workbook_tools.rules.model import FACTS

    craft = {column.key: column.choices for column in sheet("craft").columns if column.key in FACTS}
    assert craft == {key: FACTS[key] for key in craft}
    assert set(FACTS["kind"]) == set(catalogue.craft_kinds())
    assert FACTS["voyage"] == sheet("ship").column("voyage").choices
    assert FACTS["ship_type"] == tuple(catalogue.ship_types())
    assert {kind.family for kind in catalogue.ship_types().values()} == set(FACTS["ship_family"])
