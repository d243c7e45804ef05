"""The ration plan of a book: who is in each craft, what counts, what is gained, and the page made of it."""

from __future__ import annotations

import itertools
import re
from datetime import date, timedelta
from html.parser import HTMLParser
from pathlib import Path
from xml.etree import ElementTree

import openpyxl
import pytest
from click.testing import CliRunner, Result

from tests.planning.books import audited, example
from tests.workbooks import ON, Workbook, clean
from workbook_tools.cli import main
from workbook_tools.core.caution import CAUTION
from workbook_tools.planning.line_chart import Curve, line_chart
from workbook_tools.planning.ration_page import ration_page
from workbook_tools.planning.rations import AS_ASSIGNED, FULL, Ask, Case, CraftRations, ration_plan
from workbook_tools.reports.layout import as_html_page, as_text_page

PORT, STARBOARD = "port side lost", "starboard side lost"


def craft_of(book: Workbook, name: str = "Lifeboat 1", ask: Ask | None = None) -> CraftRations:
    plan = ration_plan(audited(book), ask or Ask())
    return next(entry for entry in plan.crafts if entry.craft.name == name)


def case(entry: CraftRations, scenario: str) -> Case:
    return next(found for found in entry.cases if found.scenario == scenario)


def test_who_is_in_each_craft_by_scenario() -> None:
    plan = ration_plan(audited(clean()), Ask())
    found = {entry.craft.name: {c.scenario: c.persons or c.absent for c in entry.cases} for entry in plan.crafts}
    assert found == {
        "Lifeboat 1": {AS_ASSIGNED: 6, FULL: 20, PORT: "lost", STARBOARD: 12},
        "Lifeboat 2": {AS_ASSIGNED: 6, FULL: 20, PORT: 12, STARBOARD: "lost"},
        "Raft P": {AS_ASSIGNED: "none", FULL: 20, PORT: "none", STARBOARD: "none"},
        "Raft S": {AS_ASSIGNED: "none", FULL: 20, PORT: "none", STARBOARD: "none"},
    }


def test_who_does_not_find_room_when_a_side_is_lost_is_counted() -> None:
    book = clean()
    book.ship["persons_on_board"] = 65
    plan = ration_plan(audited(book), Ask())
    assert plan.left_out == {PORT: 5, STARBOARD: 5}  # 20 in the boat and 40 in the two rafts that can be moved


@pytest.mark.parametrize(
    ("change", "sure", "perhaps"),
    [
        ({}, 60, 0),
        ({"expires": ON - timedelta(days=1)}, 0, 0),
        ({"expires": ON}, 60, 0),
        ({"condition": "defective"}, 0, 0),
        ({"expires": "12/03/2027"}, 0, 60),
        ({"quantity": 30}, 15, 0),
    ],
)
def test_only_what_is_in_date_fit_and_clear_counts_for_sure(
    change: dict[str, object], sure: float, perhaps: float
) -> None:
    book = clean()
    book.lot("fresh water").update(change)
    water = craft_of(book).water
    assert (water.sure, water.perhaps) == (sure, perhaps)


def test_possible_water_is_told_and_lengthens_nothing() -> None:
    book = clean()
    book.lot("fresh water")["expires"] = "12/03/2027"
    audit = audited(book)
    page = as_text_page(ration_page(audit, example("marrowick-fell")[1], ration_plan(audit, Ask())))
    assert "perhaps 60\u00a0L more" in page
    assert case(craft_of(book), FULL).lasting == 1  # the dry day


def test_a_boat_nobody_went_through_is_not_evaluated() -> None:
    book = clean()
    book.rows["inventory"] = [line for line in book.rows["inventory"] if line["place"] != "Lifeboat 1"]
    entry = craft_of(book)
    assert not entry.water.known
    assert case(entry, FULL).why == "no inventory is recorded for this craft"


@pytest.mark.parametrize(
    ("change", "known", "sure"),
    [
        ({}, True, 30),
        ({"pack": "B"}, True, 0),
        ({"pack": ""}, False, 0),
        ({"certificate": ""}, False, 0),
        ({"serviced": date(2025, 10, 1)}, False, 0),
        ({"earliest_content": ON - timedelta(days=1)}, False, 0),
    ],
)
def test_a_sealed_raft_counts_by_its_certificate(change: dict[str, object], known: bool, sure: float) -> None:
    book = clean()
    book.find("craft", name="Raft P").update(change)
    water = craft_of(book, "Raft P").water
    assert (water.known, water.sure) == (known, sure)


def test_a_desalinator_gives_half_its_content_each_day_and_a_kit_its_content_once() -> None:
    """Both are recorded by what they make in two days (LSA Code 4.4.8.9)."""
    book = clean()
    pump = {"item": "manual reverse-osmosis desalinator", "content": 12, "content_unit": "L"}
    book.add("inventory", place="Lifeboat 1", quantity=1, **pump)
    kit = {"item": "desalting apparatus", "content": 4, "content_unit": "L", "expires": date(2029, 1, 31)}
    book.add("inventory", place="Lifeboat 1", quantity=2, **kit)
    entry = craft_of(book)
    assert [entry.makers.on(day) for day in (1, 2, 3, 40)] == [10, 10, 6, 6]
    # 60 L and 10 + 10 + 6 + 6 ... for 20 persons at 10 L a day from day 2 on: 80 - 4 (n - 2) on the evening of day n
    found = case(entry, FULL)
    assert [day.left for day in found.days_with_gains[:4]] == [70, 70, 66, 62]
    assert found.lasting == 7
    assert found.with_gains is not None
    assert found.with_gains > 17


def test_a_desalinator_whose_output_is_not_recorded_adds_nothing_and_is_told() -> None:
    book = clean()
    book.add("inventory", place="Lifeboat 1", item="manual reverse-osmosis desalinator", quantity=1)
    entry = craft_of(book)
    assert entry.makers.each_day == 0
    assert "is not clear" in entry.makers.doubt


def test_rain_of_one_day_and_of_every_day() -> None:
    ask = Ask(rain={3: 10}, every_day=1)
    found = case(craft_of(clean(), ask=ask), FULL)
    assert [day.gained for day in found.days_with_gains[:4]] == [1, 1, 11, 1]
    assert [day.gained for day in found.days[:4]] == [0, 0, 0, 0]


def test_food_ends_with_the_water_and_is_whole_on_the_dry_day() -> None:
    found = case(craft_of(clean()), FULL)
    assert found.food_left[0] == 200_000
    assert found.food_left[6] == 0
    assert found.food_a_day == pytest.approx(10_000 / 6)


@pytest.mark.parametrize(("day", "litres"), [(10, 60 / 180), (15, 60 / 280), (30, 60 / 580), (1, None)])
def test_the_issue_that_reaches_a_day(day: int, litres: float | None) -> None:
    reach = case(craft_of(clean(), ask=Ask(reach=(day,))), FULL).reach[day]
    assert reach == (litres if litres is None else pytest.approx(litres))


def test_water_for_more_than_a_year_says_so_and_no_name_of_a_person_is_printed() -> None:
    book = clean()
    book.lot("fresh water").update(quantity=1_000_000)
    book.find("crew", number="7")["name"] = "Ferrant Quillmoor"
    book.find("crew", number="7")["craft"] = "Lifeboat 2"
    book.lot("food ration")["quantity"] = "about 6, says Ferrant Quillmoor"
    audit = audited(book)
    page = as_html_page(ration_page(audit, example("marrowick-fell")[1], ration_plan(audit, Ask(injured=1))))
    assert "over 366 days" in page
    assert "says crew number 7" in page
    assert "Quillmoor" not in page


# ---- the page and the command ------------------------------------------------------------------------------------


def run(*arguments: str) -> Result:
    return CliRunner().invoke(main, ["ration", *arguments])


@pytest.fixture
def book(tmp_path: Path) -> str:
    return str(clean().save(tmp_path / "book.xlsx"))


def test_the_page_says_what_it_rests_on(book: str) -> None:
    text = " ".join(run(book, "--on", "2026-11-25", "--injured", "1").output.split())
    for part in (
        CAUTION,
        "no medical advice",
        "common practice",
        "1 person injured",
        "3 x 167 mL",
        "Never drink sea water",
    ):
        assert part in text


def test_no_line_of_the_text_is_wider_than_80_columns(book: str) -> None:
    assert max(map(len, run(book, "--rain", "2").output.splitlines())) <= 80


class _Tags(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append(tag)


def test_hostile_names_stay_text_in_page_and_chart(tmp_path: Path) -> None:
    book = clean()
    name = "<script>alert(1)</script>"
    for key, column in (("craft", "name"), ("crew", "craft"), ("inventory", "place")):
        for line in book.rows[key]:
            if line.get(column) == "Lifeboat 1":
                line[column] = name
    path = str(book.save(tmp_path / "book.xlsx"))
    page = run(path, "--format", "html").output
    tags = _Tags()
    tags.feed(page)
    assert "script" not in tags.seen
    assert "svg" in tags.seen
    assert "&lt;script&gt;" in page


def test_the_figures_sheet_holds_the_litres_and_a_chart(book: str, tmp_path: Path) -> None:
    out = tmp_path / "ration.xlsx"
    assert run(book, "--on", "2026-11-25", "--format", "xlsx", "--out", str(out)).exit_code == 0
    sheet = openpyxl.load_workbook(out)["Litres by day"]
    heading, *rows = sheet.iter_rows(min_row=2, max_row=9, max_col=4, values_only=True)
    assert heading == ("Day", "6 persons", "20 persons", "12 persons")
    assert [row[2] for row in rows] == [60, 60, 50, 40, 30, 20, 10]
    assert (
        len(openpyxl.load_workbook(out)["Litres by day"]._charts) == 3
    )  # Raft P and Raft S are alike but for the name


@pytest.mark.parametrize("arguments", [["--rain", "x"], ["--rain", "0=3"], ["--issue", "0"], ["--format", "xlsx"]])
def test_wrong_usage_is_told(book: str, arguments: list[str]) -> None:
    done = run(book, *arguments)
    assert done.exit_code == 2
    assert "Traceback" not in done.output


def test_a_book_that_cannot_be_read_ends_with_status_3(tmp_path: Path) -> None:
    bad = tmp_path / "bad.xlsx"
    bad.write_bytes(b"no workbook")
    assert run(str(bad)).exit_code == 3


def test_curves_that_are_alike_share_a_line_and_labels_do_not_overlap() -> None:
    curves = [Curve("a", [4, 2, 0]), Curve("b", [4, 2, 0]), Curve("c", [4, 3, 0]), Curve("d & e", [4, 4, 0])]
    root = ElementTree.fromstring(line_chart("t", "day", "litres", curves))
    spaces = "{http://www.w3.org/2000/svg}"
    assert len(root.findall(f"{spaces}polyline")) == 3
    labels = [text for text in root.findall(f"{spaces}text") if text.text in ("a, b", "c", "d & e")]
    heights = sorted(float(text.attrib["y"]) for text in labels)
    assert len(heights) == 3
    assert all(high - low >= 12 for low, high in itertools.pairwise(heights))
    assert len(set(re.findall(r'stroke-dasharray="([^"]*)"', ElementTree.tostring(root).decode()))) == 2
