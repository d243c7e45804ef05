"""The marks of the input sheets: which words each cell shows, in two spreadsheet engines, and that no word is idle."""

from __future__ import annotations

import subprocess
from collections import Counter, defaultdict
from collections.abc import Mapping
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from tests.addins.calc.office import convert
from tests.book.bench import ON, WRONG, Probe, by_ironcalc, filled, in_file, probed
from tests.book.office_profile import recalculating
from workbook_tools.book.marks import DAYS, LEGEND, SYMBOLS, marks, needed_width
from workbook_tools.book.notes import sections
from workbook_tools.catalogue import items
from workbook_tools.columns import SHEETS, Sheet, sheet
from workbook_tools.rules import warning_days

FAR = date(2029, 6, 30)
YESTERDAY, TOMORROW = ON - timedelta(1), ON + timedelta(1)


def _lead(item: str) -> date:
    """The last day on which an item is called due; the lead times stand in policy.csv."""
    return ON + timedelta(warning_days(items()[item].group).value)


SERVICE_LEAD = ON + timedelta(warning_days("servicing").value)
FLARE, HRU, TORCH = "hand flare", "hydrostatic release unit", "waterproof torch"

Line = dict[str, Any]
# Each line as it is filled in, and what its cells must show; every other cell must show nothing but its rule ("_").
# A line "*" holds for every cell. Lines of one sheet stand below each other in this order.
Case = tuple[Line, Mapping[str, str]]
BOAT = {"place": "Lifeboat 1"}
FALLS = {"appliance": "Lifeboat 1", "service": "falls renewed"}
CASES: dict[str, list[Case]] = {
    "ship": [({"name": "Orrin Vale", "record_date": ON}, {})],
    "craft": [
        ({"name": "Lifeboat 1", "kind": "lifeboat", "serviced": YESTERDAY}, {}),
        ({"name": "Lifeboat 2", "kind": "lifeboat", "serviced": ON}, {}),
        ({"name": "Raft P", "kind": "liferaft", "earliest_content": YESTERDAY}, {"earliest_content": "■ expired"}),
        ({"name": "Raft S", "kind": "liferaft", "earliest_content": ON}, {"earliest_content": "▲ due"}),
        ({"name": "Raft Q", "kind": "liferaft", "earliest_content": SERVICE_LEAD}, {"earliest_content": "▲ due"}),
        ({"name": "Raft R", "kind": "liferaft", "earliest_content": SERVICE_LEAD + timedelta(1)}, {}),
        ({"name": "Raft T", "kind": "liferaft", "earliest_content": "03/2028"}, {"earliest_content": "? no date"}),
        ({"name": "Raft U", "kind": "liferaft", "serviced": TOMORROW}, {"serviced": "? to come"}),
        ({"name": "Boat 7", "kind": "lifeboat"}, {"name": "■ twice"}),
        ({"name": " boat 7 ", "kind": "rescue boat"}, {"name": "■ twice"}),
        ({"name": "Boat*", "kind": "rescue boat"}, {"name": "■ no * ? ~"}),
        ({"name": "Boat 8"}, {"name": "▲ fill in", "kind": "□"}),
        ({"kind": "rescue boat"}, {"name": "□", "kind": "▲ fill in"}),
    ],
    "crew": [
        ({"number": "1", "craft": "Lifeboat 1", "medical_expires": YESTERDAY}, {"medical_expires": "■ expired"}),
        ({"number": "2", "craft": "lifeboat-1", "certificate_expires": ON}, {"certificate_expires": "▲ due"}),
        ({"number": "3", "craft": "Lifeboat 9"}, {"craft": "? no such craft"}),
        ({"number": "4", "craft": "Boat"}, {"craft": "? no such craft"}),
        ({"number": "5", "medical_expires": FAR}, {}),
        ({"number": "6"}, {"number": "■ twice"}),
        ({"number": "6"}, {"number": "■ twice"}),
        ({"number": "8", "joined": "next week"}, {"joined": "? no date"}),
    ],
    "inventory": [
        (
            {**BOAT, "item": FLARE, "asked": 7, "quantity": 6, "expires": YESTERDAY},
            {"expires": "■ expired", "quantity": "▲ below asked"},
        ),
        ({**BOAT, "item": FLARE, "quantity": 3, "expires": _lead(FLARE)}, {"expires": "▲ due"}),
        ({**BOAT, "item": FLARE, "quantity": 2, "expires": _lead(FLARE) + timedelta(1)}, {}),
        ({**BOAT, "item": "rocket parachute flare", "asked": 4, "quantity": 3, "expires": FAR}, {}),
        ({**BOAT, "item": "rocket parachute flare", "quantity": 1, "expires": FAR}, {}),
        ({**BOAT, "item": HRU, "quantity": 1, "expires": _lead(HRU)}, {"expires": "▲ due"}),
        ({**BOAT, "item": HRU, "quantity": 1, "expires": _lead(HRU) + timedelta(1)}, {}),
        (
            {**BOAT, "item": "fresh water", "asked": 78, "unit": "L", "quantity": 77.9, "expires": FAR},
            {"quantity": "▲ below asked"},
        ),
        ({**BOAT, "item": "food ration", "asked": 26, "quantity": 26, "expires": ON}, {"expires": "▲ due"}),
        ({**BOAT, "item": "compass", "asked": 1}, {"item": "▲ count", "quantity": "□"}),
        (
            {**BOAT, "item": FLARE, "quantity": 9, "condition": "awaiting landing", "expires": YESTERDAY},
            {"*": "×", "quantity": "× not counted", "expires": "× not counted"},
        ),
        ({**BOAT, "item": TORCH, "quantity": 1, "condition": "Damaged"}, {"*": "×", "quantity": "× not counted"}),
        ({**BOAT, "item": TORCH, "quantity": 1, "condition": "spare"}, {}),
        ({**BOAT, "item": "hand flares", "quantity": 1, "expires": FAR}, {}),
        ({"place": "Bridge", "item": "rocket parachute flare", "quantity": 12, "expires": FAR}, {}),
        ({"place": "Bridge", "item": "hand flair", "quantity": 12}, {"item": "? unknown"}),
        ({"place": "Bridge", "item": "ha*", "quantity": 12}, {"item": "? unknown"}),
        ({"place": "Lifeboat 2", "item": TORCH, "asked": 2, "quantity": "one"}, {"quantity": "? no number"}),
        ({"place": "Lifeboat 2", "item": "compass", "asked": 5, "quantity": 1}, {}),
        ({"place": "Bridge", "item": TORCH, "quantity": 1, "condition": "so so"}, {"condition": "? unknown"}),
        ({"place": "Bridge", "item": FLARE, "quantity": 1, "expires": "soon"}, {"expires": "? no date"}),
        ({"item": "lifebuoy", "quantity": 1}, {"place": "□", "item": "▲ fill in"}),
        ({"place": "Bridge"}, {"place": "▲ fill in", "item": "□", "quantity": "□"}),
    ],
    "servicing": [
        (
            {**FALLS, "done": ON, "next_due": YESTERDAY},
            {"next_due": "■ overdue"},
        ),
        ({**FALLS, "next_due": YESTERDAY, "granted_until": ON}, {}),
        ({**FALLS, "next_due": SERVICE_LEAD}, {"next_due": "▲ due"}),
        ({**FALLS, "next_due": SERVICE_LEAD + timedelta(1)}, {}),
        ({**FALLS, "done": TOMORROW}, {"done": "? to come"}),
        ({"appliance": "Lifeboat 1", "done": ON}, {"appliance": "▲ fill in", "service": "□"}),
        ({"service": "falls renewed"}, {"appliance": "□", "service": "▲ fill in"}),
    ],
    "routine": [
        ({"day": ON, "task": "abandon ship drill"}, {}),
        ({"day": TOMORROW, "task": "abandon ship drill"}, {"day": "? to come"}),
        ({"day": "yesterday", "task": "abandon ship drill"}, {"day": "? no date"}),
        ({"day": ON}, {"day": "▲ fill in", "task": "□"}),
        ({"task": "abandon ship drill"}, {"day": "□", "task": "▲ fill in"}),
    ],
    "fire": [
        ({"number": "FE 1", "kind": "portable extinguisher", "serviced": ON, "condition": "spare"}, {}),
        ({"number": "FE 2", "kind": "portable extinguisher", "serviced": TOMORROW}, {"serviced": "? to come"}),
        (
            {"number": "FE 3", "kind": "portable extinguisher", "condition": "defective"},
            {"*": "×", "condition": "× not counted"},
        ),
        ({"number": "FE 4", "kind": "portable extinguisher"}, {"number": "■ twice"}),
        ({"number": "FE 4", "kind": "portable extinguisher"}, {"number": "■ twice"}),
        ({"number": "FE 6"}, {"number": "▲ fill in", "kind": "□"}),
        ({"kind": "portable extinguisher"}, {}),
    ],
    "defects": [
        ({"subject": "Lifeboat 1", "fitting": "limit switches"}, {}),
        ({"subject": "Lifeboat 1", "fitting": "limit switches", "closed": ON}, {"closed": "√ closed"}),
        ({"subject": "Lifeboat 1"}, {"subject": "▲ fill in", "fitting": "□"}),
    ],
    "follow_up": [
        ({"finding": "EQ01-7lrpes", "expected": YESTERDAY}, {"expected": "■ past"}),
        ({"finding": "EQ01-7lrpes", "expected": ON}, {}),
        ({"finding": "EQ01-7lrpes", "expected": YESTERDAY, "closed": YESTERDAY}, {"closed": "√ closed"}),
        ({"order": "R-1"}, {"finding": "□", "order": "▲ fill in"}),
    ],
    "ports": [
        ({"port": "Port Ellery", "arrival": FAR, "departure": FAR}, {}),
        ({"port": "Port Ellery", "arrival": ON, "departure": YESTERDAY}, {"departure": "? before arrival"}),
        ({"port": "Port Ellery"}, {"port": "▲ fill in", "arrival": "□"}),
    ],
    "certificates": [
        ({"certificate": "Safety Equipment Certificate", "until": YESTERDAY}, {"until": "■ expired"}),
        ({"certificate": "Safety Equipment Certificate", "until": ON}, {"until": "▲ due"}),
        ({"number": "12"}, {"certificate": "□", "number": "▲ fill in"}),
    ],
    "record_of_equipment": [
        ({"entry": "lifejackets", "figure": 30}, {"entry": "■ twice"}),
        ({"entry": "lifejackets", "figure": 31}, {"entry": "■ twice"}),
        ({"entry": "lifebuoys", "figure": 8}, {}),
    ],
    "exemptions": [
        ({"rule": "lifeboat.food-ration", "reference": "A-1", "until": ON}, {"until": "▲ due"}),
        ({"rule": "lifeboat.food-ration", "reference": "A-1", "until": YESTERDAY}, {"until": "■ expired"}),
        ({"rule": "lifeboat.food-ration"}, {"rule": "× no reference", "reference": "□"}),
    ],
}
ROWS = {key: [line for line, _ in cases] for key, cases in CASES.items()}
LINES = max(map(len, ROWS.values())) + 1  # one empty line at least below each table


@pytest.fixture(scope="module")
def book() -> tuple[bytes, list[Probe]]:
    """The cases in one book, and its probes."""
    return probed(ROWS, LINES)


@pytest.fixture(scope="module")
def in_calc(book: tuple[bytes, list[Probe]], tmp_path_factory: pytest.TempPathFactory) -> dict[Probe, Any]:
    """What each probe shows in LibreOffice Calc."""
    folder = tmp_path_factory.mktemp("calc")
    source = folder / "probed.xlsx"
    source.write_bytes(book[0])
    return in_file(convert(recalculating(folder), source, "xlsx", folder / "saved"), book[1])


def _differences(shown: Mapping[Probe, Any]) -> list[str]:
    """Every cell that shows something else than its case says."""
    found: dict[tuple[str, int, str], set[str]] = defaultdict(set)
    for probe, value in shown.items():
        if probe.mark is not None:
            assert value in (True, False, 0, 1), f"{probe}: {value!r}"
            if value:
                found[probe.sheet, probe.line, probe.column].add(probe.mark.words)
    return [
        f"{contract.key} line {line} {column.key}: {sorted(got)}, not {sorted(expected)}"
        for contract in SHEETS
        for line in range(1 if contract.layout == "form" else LINES)
        for column in contract.columns
        if (got := found[contract.key, line, column.key]) != (expected := _expected(contract, line, column.key))
    ]


def _expected(contract: Sheet, line: int, column: str) -> set[str]:
    cases = CASES[contract.key]
    if line >= len(cases):
        return set()
    word = cases[line][1].get(column, cases[line][1].get("*"))
    return {entry for entry in ("_" if contract.layout == "table" else "", word) if entry}


@pytest.mark.office
def test_calc_shows_the_words_of_each_case_and_no_others(in_calc: dict[Probe, Any]) -> None:
    assert WRONG not in in_calc.values()
    assert _differences(in_calc) == []


@pytest.mark.office
def test_ironcalc_shows_the_same_words_as_calc(
    book: tuple[bytes, list[Probe]], in_calc: dict[Probe, Any], tmp_path: Path
) -> None:
    shown = by_ironcalc(book[0], tmp_path, book[1])
    differing = {probe.mark.words for probe in book[1] if probe.mark and bool(shown[probe]) != bool(in_calc[probe])}
    assert differing == {"■ twice"}  # ironcalc trims no range (TRIM of many cells inside SUMPRODUCT)


@pytest.mark.office
def test_of_the_marks_on_one_cell_no_two_but_the_rule_hold_together(in_calc: dict[Probe, Any]) -> None:
    held = Counter(
        (p.sheet, p.line, p.column) for p, value in in_calc.items() if p.mark and p.mark.words != "_" and value
    )
    assert max(held.values()) == 1


def test_every_mark_is_shown_by_some_case() -> None:
    shown = {(key, word) for key, cases in CASES.items() for _, wanted in cases for word in wanted.values()}
    assert {(mark.sheet, mark.words) for mark in marks()} - {(key, "_") for key in CASES} <= shown | _SAME_ELSEWHERE


# Made by the same lines of code for every sheet, and shown on others.
_SAME_ELSEWHERE = {
    ("ship", "□"),
    *((key, "? no date") for key in CASES),
    *((key, word) for key in ("record_of_equipment", "fire", "exemptions") for word in ("□", "▲ fill in")),
}


def test_the_form_asks_for_its_starred_answer_once_it_is_begun(tmp_path: Path) -> None:
    begun, probes = probed({"ship": [{"flag": "Erewhon"}]}, 1, name="")
    assert [p.mark.words for p, value in by_ironcalc(begun, tmp_path, probes).items() if p.mark and value] == ["□"]


def test_an_empty_book_shows_no_mark(tmp_path: Path) -> None:
    empty, probes = probed({}, 2, name="")
    assert not [probe for probe, value in by_ironcalc(empty, tmp_path, probes).items() if probe.mark and value]


def test_every_word_stands_behind_a_symbol_that_the_notes_explain() -> None:
    signs = dict(sections())["What the sheets show"][0][1]
    for mark in marks():
        assert mark.symbol in SYMBOLS
        if len(mark.words) > 1:
            assert mark.symbol in signs
    assert {sign for sign in SYMBOLS if sign in LEGEND} == {"■", "▲", "?", "×"}


def test_a_day_or_number_with_its_words_fits_its_column() -> None:
    for mark in marks():
        column = sheet(mark.sheet).column(mark.column)
        if len(mark.words) > 1 and column.kind in DAYS:
            assert needed_width(sheet(mark.sheet), column) >= len(f"2026-08-31 {mark.words}")


@pytest.mark.parametrize(
    "contract", [entry for entry in SHEETS if entry.layout == "table"], ids=lambda sheet: sheet.key
)
def test_no_word_of_a_heading_is_broken(contract: Sheet) -> None:
    for column in contract.columns:
        longest = max(map(len, column.title.replace("-", "- ").split()))
        assert needed_width(contract, column) > longest + 1, column.title  # bold letters are wider


@pytest.mark.office
def test_paper_from_calc_bears_the_words_beside_the_values(book: tuple[bytes, list[Probe]], tmp_path: Path) -> None:
    """The number formats of conditional formats, as LibreOffice prints them; pdftotext reads the page."""
    source = tmp_path / "book.xlsx"
    source.write_bytes(filled(ROWS))
    page = convert(recalculating(tmp_path), source, "pdf", tmp_path)
    text = subprocess.run(["pdftotext", "-layout", str(page), "-"], capture_output=True, text=True, check=True).stdout
    for words in (
        f"{YESTERDAY} ■ expired",
        f"{_lead(FLARE)} ▲ due",
        f"{YESTERDAY} ■ overdue",
        f"{TOMORROW} ? to come",
        "? unknown: hand flair",
        "▲ count: compass",
        "77.9 ▲ below asked",
        "9 × not counted",
        "■ twice: 6",
        "■ no * ? ~: Boat*",
        "? no date: 03/2028",
        "? no such craft: Lifeboat 9",
        f"{ON} ▲ fill in",
    ):
        assert words in text
    pages = [page for page in text.split("\f") if page.lstrip().startswith(tuple(entry.name for entry in SHEETS))]
    assert len(pages) >= len(SHEETS)
    assert not [page for page in pages if "###" in page]
