"""The workbook of a fleet: figures of the audit, tables that filter, links to the cells, and nothing that runs."""

from __future__ import annotations

import io
import re
import zipfile
from collections import Counter
from datetime import date
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
import python_calamine

from tests.reports.fleet.fleets import (
    HOSTILE,
    OPTIONS,
    UNREAD,
    example_results,
    finding,
    hostile_results,
    record_of,
    result,
)
from workbook_tools.checks import Options
from workbook_tools.core.caution import CAUTION
from workbook_tools.findings import GRADES, LAPSE_KINDS, BookResult, FollowUp
from workbook_tools.reports.fleet import workbook
from workbook_tools.reports.fleet.record import CHECKED
from workbook_tools.reports.fleet.tables import HEADING_ROW, LONGEST_TEXT, plain
from workbook_tools.reports.fleet.workbook import fleet_workbook

SHEETS = ["Summary", "Findings", "Due", "Due list", "Repeated", "Not read", "Assumptions and sources"]
Line = dict[str, Any]


def written(*results: BookResult, options: Options = OPTIONS, **more: Any) -> bytes:
    with record_of(*results, options=options) as record:
        return fleet_workbook(record, Path("."), **more)


def lines(data: bytes, sheet: str) -> list[Line]:
    """The lines of a sheet under its headings."""
    with python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(data)) as book:
        grid = book.get_sheet_by_name(sheet).to_python(skip_empty_area=False)
    heading, *rest = grid[HEADING_ROW:]
    return [dict(zip(map(str, heading), line, strict=True)) for line in rest]


def words_above(data: bytes, sheet: str) -> str:
    """The title and the lines under it."""
    with python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(data)) as book:
        grid = book.get_sheet_by_name(sheet).to_python(skip_empty_area=False)
    return "\n".join(str(line[0]) for line in grid[:HEADING_ROW])


def parts(data: bytes, pattern: str) -> dict[str, str]:
    """The parts of the file whose names match."""
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        return {name: archive.read(name).decode() for name in archive.namelist() if re.search(pattern, name)}


@pytest.fixture(scope="module")
def example() -> bytes:
    return written(*example_results())


# ---- figures -----------------------------------------------------------------------------------------------------


def test_the_sheets_are_those_that_the_office_asks_for(example: bytes) -> None:
    with python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(example)) as book:
        assert book.sheet_names == SHEETS


def test_the_summary_holds_the_counts_of_each_audit(example: bytes) -> None:
    audits = {Path(one.book).name: one for one in example_results()}
    found = lines(example, "Summary")
    assert [line["Place"] for line in found] == list(range(1, len(audits) + 1))
    assert {line["Workbook"] for line in found} == set(audits)
    for line in found:
        audit = audits[line["Workbook"]]
        if not audit.readable:
            assert (line["Verdict"], line["action"]) == ("NOT READ", "")
            continue
        assert {grade: line[grade] for grade in GRADES} == audit.grade_counts()
        families = Counter(entry.code[:2] for entry in audit.findings)
        assert {key: line[f"{key}  {words}"] for key, words in CHECKED.items()} == {
            key: families[key] for key in CHECKED
        }
        assert line["rules not evaluated"] == audit.state_counts()["not_evaluated"]
        assert line["of these being followed up"] == len(audit.followed_up())


def test_findings_are_all_there_worst_first(example: bytes) -> None:
    found = lines(example, "Findings")
    wanted = Counter(
        (Path(one.book).name, entry.id, f"{entry.sheet}!{entry.cell}", entry.message, entry.remedy, entry.source)
        for one in example_results()
        for entry in one.findings
    )
    keys = ("Workbook", "Finding", "Cell", "What is wrong", "What to do", "Paragraph")
    assert Counter(tuple(line[key] for key in keys) for line in found) == wanted
    assert found[0]["Finding"].startswith("CV03")  # more persons than certified: before everything else
    assert found[-1]["Being followed up"]


def test_months_add_up_to_the_list_of_what_lapses(example: bytes) -> None:
    months, listed = lines(example, "Due"), lines(example, "Due list")
    assert sum(line["in all"] for line in months) == len(listed) > 0
    assert [line["Last day"] for line in listed] == sorted(line["Last day"] for line in listed)
    for line in listed:
        assert isinstance(line["Last day"], date)
        assert (line["Last day"] - OPTIONS.on).days == line["Days left"]
    for key, words in LAPSE_KINDS.items():
        wanted = sum(lapse.kind == key for one in example_results() for lapse in one.lapses if lapse.day >= OPTIONS.on)
        counted = sum(line[words] for line in months)
        assert counted == sum(line["Kind"] == words for line in listed)
        assert counted <= wanted


def test_the_chart_shows_the_figures_of_the_months(example: bytes) -> None:
    (chart,) = parts(example, r"xl/charts/chart\d+\.xml").values()
    first, last = HEADING_ROW + 2, HEADING_ROW + 1 + len(lines(example, "Due"))
    assert chart.count("<c:ser>") == len(LAPSE_KINDS)
    for column in "BCDEFG"[: len(LAPSE_KINDS)]:
        assert f"<c:f>Due!${column}${first}:${column}${last}</c:f>" in chart


def test_repeated_and_unreadable_say_whom_they_are_about(example: bytes) -> None:
    repeated = lines(example, "Repeated")
    assert repeated
    for line in repeated:
        ships = [
            one.ship
            for one in example_results()
            if any(entry.code == line["Code"] and entry.rule == line["Rule"] for entry in one.findings)
        ]
        assert line["Ships"] == len(ships) >= 2
        assert set(line["Ships, worst first"].split(", ")) == set(ships)
    (unread,) = lines(example, "Not read")
    assert (unread["Workbook"], unread["Why, and what to do"]) == ("broken.xlsx", UNREAD.reason)


def test_every_cited_paragraph_says_how_sure_its_figure_is(example: bytes) -> None:
    with python_calamine.CalamineWorkbook.from_filelike(io.BytesIO(example)) as book:
        grid = book.get_sheet_by_name(SHEETS[-1]).to_python(skip_empty_area=False)
    start = next(number for number, line in enumerate(grid) if line[0] == "Rule set" and line[1] == "Rule")
    cited = {(line[1], line[2]): line for line in grid[start + 1 :]}
    wanted = {(entry.rule, entry.source) for one in example_results() for entry in one.findings}
    assert set(cited) == wanted
    assert all(line[3] not in ("", "-") for line in cited.values()), [k for k, v in cited.items() if v[3] in ("", "-")]
    assert sum(int(str(line[5]).partition(".")[0]) for line in cited.values()) == sum(
        len(one.findings) for one in example_results()
    )
    said = {(line[0], line[1]) for line in grid[:start]}
    assert ("Day asked", "2026-11-25") in said


def test_an_empty_fleet_of_clean_books_is_a_report_too() -> None:
    data = written(result())
    assert [line["Ship"] for line in lines(data, "Summary")] == ["Orrin Vale"]
    assert lines(data, "Findings")[0]["No"] == "No finding in any book that could be read."


# ---- use ---------------------------------------------------------------------------------------------------------


def test_each_sheet_prints_on_a4_with_the_caution_and_keeps_its_headings(example: bytes) -> None:
    for name, sheet in parts(example, r"xl/worksheets/sheet\d+\.xml").items():
        assert 'paperSize="9"' in sheet, name
        assert 'fitToHeight="0"' in sheet or 'fitToPage="1"' in sheet, name
        assert f"{CAUTION}</oddFooter>" in sheet.replace("&amp;", "&").replace("&R", "</oddFooter>"), name
    for sheet in SHEETS[:-1]:
        assert CAUTION in words_above(example, sheet)
    frozen = [
        name for name, sheet in parts(example, r"xl/worksheets/sheet\d+\.xml").items() if 'state="frozen"' in sheet
    ]
    assert len(frozen) == len(SHEETS) - 1


def test_the_lists_are_tables_with_a_filter_over_every_line(example: bytes) -> None:
    found = {}
    for table in parts(example, r"xl/tables/table\d+\.xml").values():
        root = ElementTree.fromstring(table)
        (filtered,) = (child for child in root if child.tag.endswith("autoFilter"))
        assert filtered.get("ref") == root.get("ref")
        found[root.get("displayName")] = root.get("ref")
    assert set(found) == {"Ships", "Findings", "Months", "DueList", "Repeated", "NotRead"}
    last = HEADING_ROW + 1 + sum(len(one.findings) for one in example_results())
    assert str(found["Findings"]).endswith(str(last))


def test_a_finding_links_to_the_cell_of_the_ships_workbook() -> None:
    data = written(result("returns/Mate's #1.xlsx", finding(sheet="Mate's list", cell="C5")))
    (links,) = (text for name, text in parts(data, "worksheets/_rels").items() if "sheet2" in name)
    targets = [entry.get("Target") for entry in ElementTree.fromstring(links) if entry.get("TargetMode") == "External"]
    assert targets == [r"returns\Mate's%20%231.xlsx"]
    sheet = ElementTree.fromstring(parts(data, "worksheets/sheet2.xml")["xl/worksheets/sheet2.xml"])
    places = [entry.get("location") for entry in sheet.iter() if entry.tag.endswith("}hyperlink")]
    assert places == ["'Mate''s list'!C5"]


# ---- big fleets --------------------------------------------------------------------------------------------------


def test_written_row_by_row_a_report_says_the_same(example: bytes, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workbook, "LARGEST_TABLES", 0)
    flat = written(*example_results())
    for sheet in SHEETS[:-1]:
        assert lines(flat, sheet) == lines(example, sheet)
        assert words_above(flat, sheet) == words_above(example, sheet)
    assert parts(flat, "xl/tables") == {}
    filtered = [text for text in parts(flat, r"xl/worksheets/sheet\d+\.xml").values() if "<autoFilter " in text]
    assert len(filtered) == 6


def test_lines_past_the_end_of_a_sheet_are_counted_out_loud() -> None:
    data = written(result("a.xlsx", *[finding()] * 20), most_rows=HEADING_ROW + 1 + 8)
    assert len(lines(data, "Findings")) == 8
    assert "the last 12 of 20 lines are left out" in words_above(data, "Findings")


def test_links_past_what_excel_opens_are_left_out_and_it_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workbook, "MOST_LINKS", 3)
    data = written(result("a.xlsx", *[finding()] * 5))
    assert parts(data, "worksheets/sheet2.xml")["xl/worksheets/sheet2.xml"].count("<hyperlink ") == 3
    assert "first 3 lines carry links" in words_above(data, "Findings")
    assert [line["Cell"] for line in lines(data, "Findings")] == ["Inventory!C5"] * 5


# ---- nothing runs ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("most_in_memory", [0, 50_000], ids=["row by row", "tables"])
def test_no_text_of_a_book_becomes_a_formula_or_a_link(monkeypatch: pytest.MonkeyPatch, most_in_memory: int) -> None:
    monkeypatch.setattr(workbook, "LARGEST_TABLES", most_in_memory)
    data = written(*hostile_results(), options=Options(OPTIONS.on, names=True, lapses=True))
    for name, sheet in parts(data, r"xl/worksheets/sheet\d+\.xml").items():
        root = ElementTree.fromstring(sheet)
        cells = [cell for cell in root.iter() if cell.tag.endswith("}c")]
        assert cells
        assert not [cell for cell in root.iter() if cell.tag.endswith(("}f", "}drawingHF"))], name
        assert {cell.get("t") for cell in cells} <= {"s", "inlineStr", None, "n"}, name
    targets = re.findall(r'Target="([^"]*)" TargetMode="External"', "".join(parts(data, "_rels/sheet").values()))
    assert targets
    assert all(re.fullmatch(r"returns\\\d+(-unread)?\.xlsx", target) for target in targets)
    found = lines(data, "Findings")
    for key in ("Ship", "Subject", "What is wrong", "What to do", "Paragraph", "Rule", "Person on that line"):
        assert {line[key] for line in found} == {plain(text) for text in HOSTILE}, key
    assert {line["What"] for line in lines(data, "Due list")} == {plain(text) for text in HOSTILE}
    assert {line["Why, and what to do"] for line in lines(data, "Not read")} == {plain(text) for text in HOSTILE}


def test_no_macro_and_no_outside_data_is_in_the_file(example: bytes) -> None:
    assert not parts(example, r"vba|externalLink|connections|queryTable|customXml")


def test_a_text_longer_than_a_cell_says_that_it_is_cut() -> None:
    data = written(result("a.xlsx", finding(message="x" * 40_000)))
    (line,) = lines(data, "Findings")
    assert line["What is wrong"].endswith("[... cut here]")
    assert len(plain("\N{GRINNING FACE}" * 20_000).encode("utf-16-le")) // 2 <= LONGEST_TEXT


# ---- names -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("names", [False, True])
def test_persons_are_named_only_where_that_is_asked(names: bool) -> None:
    said = {"person": "Ferrant Quill"} if names else {}
    data = written(result("a.xlsx", finding(**said)), options=Options(OPTIONS.on, names=names, lapses=True))
    assert ("Person on that line" in lines(data, "Findings")[0]) is names
    assert ("Ferrant Quill" in "".join(parts(data, "sharedStrings").values())) is names


def test_what_is_being_followed_up_says_by_what() -> None:
    follow_up = FollowUp(order="R-112", port="Vigo", expected=date(2026, 12, 10))
    (line,) = lines(written(result("a.xlsx", finding(follow_up=follow_up))), "Findings")
    assert line["Being followed up"] == "R-112, at Vigo, by 2026-12-10"
