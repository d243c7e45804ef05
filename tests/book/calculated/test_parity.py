"""The workbook's formulas and the core give the same answers, cell by cell: Required, Coverage and Due.

Engines: ironcalc (PyPI) and LibreOffice Calc 7.4 itself. Every run begins with a book in which each stored value is
wrong, so that nothing can pass that was not recalculated.
"""

from __future__ import annotations

import csv
import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

import workbook_tools
from tests.addins.calc.office import running
from tests.book.calculated.compare import (
    all_differences,
    audit_of,
    coverage_differences,
    differences,
    due_differences,
    order_differences,
    shown_lines,
)
from tests.book.calculated.desk import WRONG, CalcDesk, Desk, Rows, corrupted
from tests.book.calculated.generate import ON, ROOM, generate
from tests.workbooks import clean
from workbook_tools.book import build
from workbook_tools.book.calculated.rule_rows import rule_rows
from workbook_tools.book.calculated.status import FIRST_WORST, VERDICT
from workbook_tools.book.charts import BAR_ROW
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.columns.calculated import RULES, STATUS
from workbook_tools.reading import read_book

ROOT = Path(__file__).parents[3]
EXAMPLES = sorted((ROOT / "example_books").glob("*.xlsx"))
EXAMPLE_ROOM = {
    "craft": 8,
    "inventory": 400,
    "crew": 60,
    "servicing": 80,
    "routine": 10,
    "ports": 40,
    "certificates": 40,
    "exemptions": 20,
    "follow_up": 40,
}
CHUNK, CHUNKS = 250, 8
IN_CALC, CALC_CHUNKS = 500, 2  # cases of the office's run


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small empty book whose stored values are all wrong."""
    path = tmp_path_factory.mktemp("parity") / "small.xlsx"
    path.write_bytes(corrupted(build("", on=ON, room=ROOM, printed=False)))
    return path


def test_the_stored_values_are_wrong_before_the_recalculation(file: Path) -> None:
    assert Desk(file).value("Required", FIRST_ROW, 0) == WRONG


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_generated_books_agree_with_the_core(file: Path, chunk: int) -> None:
    desk = Desk(file)
    found: dict[int, list[str]] = {}
    for seed in range(chunk * CHUNK, (chunk + 1) * CHUNK):
        case = generate(seed)
        desk.fill(case.rows, case.on)
        if wrong := all_differences(case.rows, case.on, desk.value, case.unread):
            found[seed] = wrong
    assert found == {}


def _rows_of(path: Path) -> Rows:
    """The lines of an example book as they were typed: what could not be read stands as its text."""
    book = read_book(path)
    keys = ("ship", "craft", "inventory", "crew", "servicing", "certificates", "exemptions", "follow_up", "ports")
    return {key: [{**row.values, **row.unclear} for row in book.rows(key)] for key in keys if book.rows(key)}


def _unread(desk: Desk | CalcDesk) -> set[str]:
    """Whether the book itself says that cells cannot be read."""
    return {"*"} if desk.value("Status", 14, 1) else set()


@pytest.fixture(scope="module")
def larger(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The same with room for the example ships."""
    path = tmp_path_factory.mktemp("parity") / "larger.xlsx"
    path.write_bytes(corrupted(build("", on=ON, room=EXAMPLE_ROOM, printed=False)))
    return path


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_example_books_agree_with_the_core(path: Path, larger: Path) -> None:
    desk, rows = Desk(larger), _rows_of(path)
    desk.fill(rows, ON)
    audit, unread = audit_of(rows, ON), _unread(desk)
    assert list(differences(audit, shown_lines(desk.value), unread)) == []
    assert list(coverage_differences(audit, desk.value, unread)) == []
    assert list(due_differences(audit, desk.value, unread)) == []
    assert list(order_differences(audit, desk.value, unread)) == []


def test_the_complete_book_meets_every_rule(larger: Path) -> None:
    ship = clean()
    rows: Rows = {"ship": [ship.ship], **{key: lines for key, lines in ship.rows.items() if key != "routine"}}
    desk = Desk(larger)
    desk.fill(rows, ON)
    says = {line["says"] for line in shown_lines(desk.value).values()}
    assert says == {"● enough", "● by certificate"}
    assert all_differences(rows, ON, desk.value, set()) == []


_PAST = {"certificate": "Safety Equipment", "until": date(2026, 11, 24)}
_SOON = {"certificate": "Load Line", "until": date(2026, 12, 1)}


@pytest.mark.parametrize(
    ("persons", "lots", "certificates", "verdict"),
    [
        (12, {}, [_SOON], "● Nothing short in what this book can see."),
        (12, {}, [_PAST], "▲ LOOK: 1 date has passed (see Due)."),
        (12, {}, [_PAST, _PAST], "▲ LOOK: 2 dates have passed (see Due)."),
        (70, {}, [_PAST], "■ LOOK: 7 losses leave persons without a place; 1 date has passed (see Due)."),
        (12, {"expires": date(2026, 12, 3)}, [], "▲ DUE: 1 rule will not be met within the warning days."),
        (12, {"expires": "soon"}, [], "● Nothing short in what this book can see; 1 cell cannot be read here."),
        (
            70,
            {"quantity": 1},
            [_PAST],
            "■ ACTION REQUIRED: 1 rule is not met; 7 losses leave persons without a place; 1 date has passed "
            "(see Due).",
        ),
    ],
)
def test_the_verdict_takes_its_sign_from_the_worst_that_is_counted(
    larger: Path, persons: int, lots: dict[str, Any], certificates: list[dict[str, Any]], verdict: str
) -> None:
    ship = clean()
    ship.lot("hand flare").update(lots)
    rows: Rows = {
        **{key: lines for key, lines in ship.rows.items() if key not in ("routine", "servicing", "crew")},
        "ship": [{**ship.ship, "persons_on_board": persons}],
        "certificates": certificates,
    }
    desk = Desk(larger)
    desk.fill(rows, ON)
    assert desk.value(*VERDICT) == verdict


def test_craft_are_shown_as_they_were_named_and_found_in_every_spelling(file: Path) -> None:
    rows: Rows = {
        "ship": [{"name": "Orrin Vale", "ship_type": "general cargo ship", "persons_on_board": 20}],
        "craft": [{"name": " Free-fall  boat ", "kind": "lifeboat", "persons": 20}],
        "inventory": [{"place": "free fall boat", "item": "whistle", "quantity": 2}],
    }
    desk = Desk(file)
    desk.fill(rows, ON)
    shown = {desk.value("Required", row, 0) for row in range(FIRST_ROW, FIRST_ROW + 30)}
    assert shown - {""} == {"Free-fall boat"}
    assert shown_lines(desk.value)[("free fall boat", "lifeboat.whistle")]["carried"] == 2
    assert desk.value("Coverage", FIRST_ROW + 4, 0) == "Free-fall boat lost"
    assert desk.value("Charts", BAR_ROW, 1) == "Free-fall boat"
    assert desk.value("Status", FIRST_WORST, 0) == "Free-fall boat"
    assert all_differences(rows, ON, desk.value, set()) == []


@pytest.mark.parametrize("column", ["fixed", "per_person", "minimum"])
def test_a_wrong_figure_planted_in_the_rules_sheet_is_noticed(file: Path, column: str) -> None:
    desk, noticed = Desk(file), 0
    index = {"fixed": 5, "per_person": 6, "minimum": 8}[column]
    for number, (_, rule) in enumerate(rule_rows()):
        figure = getattr(rule, column)
        if figure and rule.evidence in ("inventory", "length"):
            desk.model.update_cell_with_number(desk.sheets[RULES], FIRST_ROW + number + 1, index + 1, figure * 3 + 1)
    for seed in range(20):
        case = generate(seed)
        desk.fill(case.rows, case.on)
        noticed += bool(all_differences(case.rows, case.on, desk.value, case.unread))
    assert noticed


_ASKED = """
import sys
from datetime import date, timedelta
from pathlib import Path
from tests.book.calculated.compare import all_differences, shown_lines
from tests.book.calculated.desk import Desk
from tests.book.calculated.test_parity import ON, ROOM
from workbook_tools.book import build
from workbook_tools.cells import evaluate

rows = {
    "ship": [{"name": "Orrin Vale", "ship_type": "general cargo ship", "voyage": "international"}],
    "craft": [{"name": "Lifeboat 1", "kind": "lifeboat", "persons": 20}],
    "inventory": [{"place": "Lifeboat 1", "item": "hand flare", "quantity": 6, "expires": date(2028, 1, 1)}],
}
book = Path(sys.argv[1])
book.write_bytes(build("", on=ON, room=ROOM, printed=False))
desk = Desk(book)
desk.fill(rows, ON)
line = shown_lines(desk.value)[("lifeboat 1", "lifeboat.hand-flares")]
assert all_differences(rows, ON, desk.value, set()) == []
print(line["asked"], line["says"], evaluate("LSA_REQUIRED", ["hand flare", "lifeboat", 20]), sep="; ")
"""


def test_one_number_changed_in_the_tables_changes_every_route(tmp_path: Path) -> None:
    """Core, native formulas and cell functions all read the rule row: in a copy of the package with another figure."""
    package = Path(workbook_tools.__file__).parent
    shutil.copytree(package, tmp_path / package.name, ignore=shutil.ignore_patterns("__pycache__"))
    table = tmp_path / package.name / "rules" / "solas" / "lifeboat.csv"

    def asked() -> str:
        run = subprocess.run(
            [sys.executable, "-c", _ASKED, str(tmp_path / "book.xlsx")],
            cwd=tmp_path,
            env={**os.environ, "PYTHONPATH": os.pathsep.join((str(tmp_path), str(package.parent)))},
            capture_output=True,
            text=True,
            check=False,
        )
        assert run.returncode == 0, run.stderr
        return run.stdout.strip()

    assert asked() == "6.0; ● enough; 6.0"
    _change(table, "lifeboat.hand-flares", "fixed", "11")
    assert asked() == "11.0; ■ SHORT; 11.0"


def _change(table: Path, key: str, column: str, value: str) -> None:
    with table.open(encoding="utf-8", newline="") as file:
        lines = list(csv.DictReader(file))
    changed = [line for line in lines if line["key"] == key]
    assert changed
    for line in changed:
        line[column] = value
    with table.open("w", encoding="utf-8", newline="") as file:
        writer = csv.DictWriter(file, lines[0])
        writer.writeheader()
        writer.writerows(lines)


@pytest.mark.parametrize(
    ("lots", "begins"),
    [
        ({"expires": ON + timedelta(days=14)}, "within 14 days: order"),
        ({"expires": ON + timedelta(days=15)}, "at next port: order"),
        ({"quantity": 1}, "before sailing: put"),
    ],
)
def test_what_lapses_is_urgent_by_its_day_and_what_is_not_met_by_its_rule(
    larger: Path, lots: dict[str, Any], begins: str
) -> None:
    """As the priorities of the findings EX03 and EQ01."""
    ship = clean()
    ship.lot("hand flare").update(lots)
    rows: Rows = {"ship": [ship.ship], "craft": ship.rows["craft"], "inventory": ship.rows["inventory"]}
    desk = Desk(larger)
    desk.fill(rows, ON)
    assert desk.value(STATUS, FIRST_WORST, 3).startswith(begins)


def _full(craft: int, lots: int) -> Rows:
    kinds = ("lifeboat and rescue boat", "lifeboat", "liferaft", "rescue boat")
    boats = [
        {"name": f"Craft {number}", "kind": kinds[number % 4], "persons": 20, "pack": "A", "stowage_height_m": 10}
        for number in range(1, craft + 1)
    ]
    items = ("hand flare", "compass", "whistle", "bucket", "boat-hook")
    return {
        "ship": [{"name": "Orrin Vale", "ship_type": "passenger ship", "voyage": "international"}],
        "craft": boats,
        "inventory": [
            {
                "place": f"Craft {number % craft + 1}",
                "item": items[number % len(items)],
                "quantity": 1 + number % 3,
                "expires": date(2026, 12, 1 + number % 28),
            }
            for number in range(lots)
        ],
    }


def test_a_full_book_misses_no_line(tmp_path: Path) -> None:
    book, rows = tmp_path / "full.xlsx", _full(30, 2000)
    book.write_bytes(corrupted(build("", on=ON, printed=False)))
    desk = Desk(book)
    desk.fill(rows, ON)
    assert list(differences(audit_of(rows, ON), shown_lines(desk.value), set())) == []
    assert desk.value("Status", 20, 1) == 0  # no line below the room


def test_names_with_wildcards_are_told_apart(file: Path) -> None:
    """'Boat*' must not take what lies in 'Boat 2'; the audit refuses such a name, the formulas count all the same."""
    rows: Rows = {
        "ship": [{"name": "Orrin Vale", "ship_type": "general cargo ship", "voyage": "international"}],
        "craft": [{"name": name, "kind": "lifeboat", "persons": 20} for name in ("Boat*", "Boat 2", "Boat~?")],
        "inventory": [
            {"place": place, "item": "whistle", "quantity": quantity}
            for place, quantity in (("Boat 2", 2), ("Boat*", 3), ("Boat~?", 4))
        ],
    }
    desk = Desk(file)
    desk.fill(rows, ON)
    lines = shown_lines(desk.value)
    carried = {craft: lines[(craft, "lifeboat.whistle")]["carried"] for craft in ("boat*", "boat 2", "boat~?")}
    assert carried == {"boat*": 3, "boat 2": 2, "boat~?": 4}


# ---- in LibreOffice Calc -----------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def calc(file: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[CalcDesk]:
    with running(tmp_path_factory.mktemp("profile")) as office:
        yield CalcDesk(office, file, ROOM)


@pytest.mark.office
@pytest.mark.parametrize("chunk", range(CALC_CHUNKS))
def test_generated_books_agree_in_calc(calc: CalcDesk, chunk: int) -> None:
    found: dict[int, list[str]] = {}
    for seed in range(50_000 + chunk * IN_CALC, 50_000 + (chunk + 1) * IN_CALC):
        case = generate(seed)
        calc.fill(case.rows, case.on)
        if wrong := all_differences(case.rows, case.on, calc.value, case.unread):
            found[seed] = wrong
    assert found == {}


@pytest.mark.office
def test_example_books_agree_in_calc(larger: Path, tmp_path: Path) -> None:
    found: dict[str, list[str]] = {}
    with running(tmp_path / "profile") as office:
        desk = CalcDesk(office, larger, {**ROOM, **EXAMPLE_ROOM})
        for path in EXAMPLES:
            rows = _rows_of(path)
            desk.fill(rows, ON)
            audit, unread = audit_of(rows, ON), _unread(desk)
            wrong = [
                *differences(audit, shown_lines(desk.value), unread),
                *coverage_differences(audit, desk.value, unread),
                *due_differences(audit, desk.value, unread),
                *order_differences(audit, desk.value, unread),
            ]
            if wrong:
                found[path.stem] = wrong
    assert found == {}


@pytest.mark.office
def test_lines_inserted_above_others_are_counted_in_calc(calc: CalcDesk) -> None:
    case = generate(50_003)
    calc.fill(case.rows, case.on)
    before = shown_lines(calc.value)
    calc.office.ask("insert_rows", calc.number, "Inventory", FIRST_ROW + 1, 3)
    calc.forget()
    try:
        assert shown_lines(calc.value) == before
    finally:
        calc.office.ask("delete_rows", calc.number, "Inventory", FIRST_ROW + 1, 3)
        calc.forget()


@pytest.mark.office
@pytest.mark.parametrize("suffix", [".xlsx", ".ods"])
def test_a_book_that_calc_saved_anew_still_calculates(calc: CalcDesk, tmp_path: Path, suffix: str) -> None:
    first, second = generate(50_001), generate(50_002)
    calc.fill(first.rows, first.on)
    saved = tmp_path / f"saved{suffix}"
    calc.office.ask("save", calc.number, str(saved))
    again = CalcDesk(calc.office, saved, ROOM)
    assert all_differences(first.rows, first.on, again.value, first.unread) == []
    again.fill(second.rows, second.on)
    assert all_differences(second.rows, second.on, again.value, second.unread) == []
    calc.office.ask("close", again.number)


def test_more_room_than_formulas_can_tell_apart_is_refused() -> None:
    with pytest.raises(ValueError, match="rows; formulas have 10000 at most"):
        build("", on=ON, room={**ROOM, "inventory": 11_000}, printed=False)
