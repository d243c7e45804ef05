"""The Charts sheet: its figures against a count by hand, its charts' ranges, and how it looks in LibreOffice."""

from __future__ import annotations

import io
import re
import subprocess
import zipfile
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from dateutil.relativedelta import relativedelta
from openpyxl.utils import range_boundaries

from tests.addins.calc.office import convert
from tests.book.bench import ON, Line, Opened, filled
from tests.book.office_profile import recalculating
from workbook_tools.book import charts
from workbook_tools.book.charts import MONTHS, MOST_CRAFT, PARTS
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.columns import calculated
from workbook_tools.columns.calculated import CHARTS, COVERAGE, OPEN, REQUIRED

BOAT = {"place": "Lifeboat 1", "item": "hand flare", "quantity": 1}
DAYS = [
    ON - timedelta(400),
    ON - timedelta(1),
    ON,
    date(2026, 11, 30),
    date(2026, 12, 1),
    date(2027, 2, 28),
    date(2027, 2, 28),
    date(2028, 2, 29),
    date(2028, 10, 31),  # the last day shown
    date(2028, 11, 1),  # the first one that is not
    date(2035, 1, 1),
]
ROWS: dict[str, list[Line]] = {
    "ship": [{"name": "Orrin Vale", "ship_type": "general cargo ship", "keel_laid": date(2012, 5, 3)}],
    "craft": [
        {"name": "Lifeboat 1", "kind": "lifeboat", "persons": 26, "side": "port"},
        {"name": "Boat*", "kind": "rescue boat", "persons": 6},
        {"name": "Boat 3", "kind": "rescue boat", "persons": 6},
        {"name": "Raft P", "kind": "liferaft", "persons": 25, "pack": "A"},
    ],
    "inventory": [
        *({**BOAT, "expires": day} for day in DAYS),
        {**BOAT, "expires": date(2027, 5, 1), "condition": "awaiting landing"},  # out of the count
        {**BOAT, "expires": "05/2027"},  # no day that a spreadsheet can count
        {**BOAT, "item": "no such thing", "expires": date(2027, 5, 1)},
        {"place": "Lifeboat 1", "item": "compass", "quantity": 1},  # no date at all
        {"place": "Boat 3", "item": "bucket", "quantity": 1},
        {"place": "Boat*", "item": "bucket", "quantity": 1},
    ],
}


@pytest.fixture(scope="module")
def written() -> bytes:
    return filled(ROWS)


@pytest.fixture(scope="module")
def opened(written: bytes, tmp_path_factory: pytest.TempPathFactory) -> Opened:
    return Opened(written, tmp_path_factory.mktemp("charts"))


def test_lots_are_counted_in_the_month_in_which_they_expire(opened: Opened) -> None:
    first = ON.replace(day=1)
    for line in range(MONTHS + 1):
        row = charts.MONTH_ROW + line
        label, past, lots = (opened.cell(CHARTS, row, column) for column in (1, 2, 3))
        if line == 0:
            assert (label, past, lots) == ("past", sum(day < ON for day in DAYS), 0)
            continue
        start = first + relativedelta(months=line - 1)
        end = start + relativedelta(months=1)
        assert label == f"{start:%Y-%m}"
        assert (past, lots) == (0, sum(max(start, ON) <= day < end for day in DAYS))


def test_the_months_follow_the_day_asked(written: bytes, tmp_path: Path) -> None:
    later = Opened(written, tmp_path, date(2028, 1, 31))
    assert later.cell(CHARTS, charts.MONTH_ROW, 2) == sum(day < date(2028, 1, 31) for day in DAYS)
    assert [later.cell(CHARTS, charts.MONTH_ROW + line, 1) for line in (1, 2, 3)] == ["2028-01", "2028-02", "2028-03"]
    assert later.cell(CHARTS, charts.MONTH_ROW + 2, 3) == 1  # 29 February


def _says(opened: Opened, craft: str) -> list[str]:
    """The first signs of what the Required sheet says of a craft."""
    found, row = [], FIRST_ROW
    headings = [opened.cell(REQUIRED, FIRST_ROW - 1, column) for column in range(12)]
    says = headings.index("Says")
    while opened.cell(REQUIRED, row, says) != "":
        if opened.cell(REQUIRED, row, 0) == craft:
            found.append(str(opened.cell(REQUIRED, row, says))[0])
        row += 1
    return found


def _bars(opened: Opened) -> list[tuple[Any, ...]]:
    return [
        tuple(opened.cell(CHARTS, charts.BAR_ROW + line, column) for column in range(1, 2 + len(PARTS)))
        for line in range(MOST_CRAFT)
    ]


def test_each_bar_counts_what_the_required_sheet_says_of_its_craft(opened: Opened) -> None:
    bars = {str(name): counted for name, *counted in _bars(opened) if name}
    assert set(bars) == {line["name"] for line in ROWS["craft"]}
    for name, counted in bars.items():
        says = _says(opened, name)
        assert counted == [sum(says.count(sign) for sign in charts.SAYS[part.column]) for part in PARTS]
        assert sum(counted) == len(says)
    assert sum(map(sum, bars.values())) > 0


def test_the_craft_with_most_to_put_right_come_first(opened: Opened) -> None:
    order = [counted[:3] for name, *counted in _bars(opened) if name]
    assert order == sorted(order, reverse=True)


def test_each_scenario_shows_the_persons_of_the_coverage_sheet(tmp_path: Path) -> None:
    ship = {**ROWS["ship"][0], "persons_on_board": 30}
    book = Opened(filled({**ROWS, "ship": [ship]}), tmp_path)
    headings = [book.cell(COVERAGE, FIRST_ROW - 1, column) for column in range(6)]
    left_out, says = headings.index("Left out"), headings.index("Says")
    shown = 0
    for line in range(charts.MOST_SCENARIOS):
        name, left, unsure, placed = (book.cell(CHARTS, charts.SCENARIO_ROW + line, column) for column in (1, 2, 3, 4))
        assert name == book.cell(COVERAGE, FIRST_ROW + line, 0)
        if not name:
            assert (left, unsure, placed) == (0, 0, 0)
            continue
        shown += 1
        assert left + unsure + placed == 30
        assert unsure == (30 if book.cell(COVERAGE, FIRST_ROW + line, says)[0] == OPEN[0] else 0)
        assert unsure or left == book.cell(COVERAGE, FIRST_ROW + line, left_out)
    assert shown >= 4


def test_an_empty_book_says_what_to_do_and_counts_nothing(tmp_path: Path) -> None:
    empty = Opened(filled({}, ""), tmp_path)
    assert empty.cell(CHARTS, 2, 0) == "Nothing to show yet: fill in Craft, then Inventory"
    assert not any(value for _, *counted in _bars(empty) for value in counted)


def test_more_craft_than_can_be_drawn_are_told(tmp_path: Path) -> None:
    many = Opened(filled({"craft": [{"name": f"Raft {n}", "kind": "liferaft"} for n in range(20)]}), tmp_path)
    assert many.cell(CHARTS, 2, 0) == f"Only {MOST_CRAFT} of 20 craft are drawn: all stand below."


def test_every_chart_draws_figures_that_stand_on_the_sheet(written: bytes) -> None:
    archive = zipfile.ZipFile(io.BytesIO(written))
    page = openpyxl.load_workbook(io.BytesIO(written))[CHARTS]
    parts = [name for name in archive.namelist() if re.fullmatch(r"xl/charts/chart\d+\.xml", name)]
    drawn = [re.findall(r"<c:f>([^<]*)</c:f>", archive.read(part).decode()) for part in parts]
    own = [areas for areas in drawn if any(area.startswith(f"{CHARTS}!") for area in areas)]
    assert len(own) == charts.NUMBER
    for area in (area for areas in own for area in areas):
        title, _, cells = area.partition("!")
        assert title == CHARTS
        assert all(str(cell.value).startswith("=") for row in page[cells.replace("$", "")] for cell in row)


def test_what_only_formulas_need_is_hidden_and_not_printed(written: bytes) -> None:
    page = openpyxl.load_workbook(io.BytesIO(written))[CHARTS]
    headings = {cell.value: cell for row in page.iter_rows() for cell in row if isinstance(cell.value, str)}
    for heading in ("Months ahead", "Line", "Place", "Order"):
        column = headings[heading].column
        groups = [entry for entry in page.column_dimensions.values() if entry.min <= column <= entry.max]
        assert [entry.hidden for entry in groups] == [True]
        assert column > range_boundaries(page.print_area.rpartition("!")[2].replace("$", ""))[2]


def test_no_two_parts_of_a_bar_are_told_apart_by_colour_alone() -> None:
    assert len({(part.pattern, _grey(part.colour) // 40) for part in PARTS}) == len(PARTS)


def _grey(colour: str) -> int:
    """Lightness in a grey print, 0 to 255 (Rec. ITU-R BT.601)."""
    red, green, blue = (int(colour[place : place + 2], 16) for place in (1, 3, 5))
    return round(0.299 * red + 0.587 * green + 0.114 * blue)


def test_the_charts_sheet_is_never_read_as_a_record() -> None:
    assert CHARTS in calculated([CHARTS, "calc lines"])


@pytest.mark.office
def test_calc_draws_every_chart_with_their_titles_and_figures(written: bytes, tmp_path: Path) -> None:
    source = tmp_path / "book.xlsx"
    source.write_bytes(written)
    pdf = convert(recalculating(tmp_path), source, "pdf", tmp_path)
    text = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    page = next(page for page in text.split("\f") if page.startswith(CHARTS))
    for words in (
        "Lots that expire",
        "2028-10",
        "Required against carried",
        "Lifeboat 1",
        "Boat*",
        "short or expired",
        "all craft usable",
    ):
        assert words in page
    assert "#" not in page
