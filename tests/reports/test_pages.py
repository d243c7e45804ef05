"""The page for the relief and the page for the inspector."""

from __future__ import annotations

import re
from datetime import date, timedelta
from html.parser import HTMLParser

import pytest

from tests.checks.cases.followup import BUCKET
from tests.workbooks import ON, Workbook, clean
from workbook_tools.checks import Options
from workbook_tools.checks.audit import audit_in_full
from workbook_tools.core.caution import CAUTION
from workbook_tools.reading import RawBook, read_raw
from workbook_tools.reports.layout import Block, Line, Page, as_html_page, as_text_page
from workbook_tools.reports.pages import arrival, handover

LAST = date(2027, 2, 28)


def faulty() -> Workbook:
    """A book with something for every part of both pages."""
    book = clean()
    for line in book.rows["crew"]:
        line["name"] = f"Ferrant Quill{line['number']}"
    book.lot("bucket")["quantity"] = 1
    book.lot("hatchet")["quantity"] = 1
    book.lot("fresh water")["quantity"] = 119
    book.lot("hand flare", "Lifeboat 2")["expires"] = LAST
    book.lot("rocket parachute flare", "Lifeboat 2")["expires"] = LAST + timedelta(days=1)
    book.find("crew", number="7")["medical_expires"] = ON
    book.add(
        "follow_up",
        finding=BUCKET,
        order="R-112",
        port="Vigo",
        expected=date(2026, 12, 10),
        reported_to="class",
        interim="bucket lent by ferrant  QUILL3",
    )
    book.add("defects", subject="Lifeboat 1", fitting="limit switches", wrong="<b>stuck</b> & worn", since=ON)
    book.add("defects", subject="Lifeboat 2", fitting="davit or crane", wrong="grease", since=ON, closed=ON)
    book.add("certificates", certificate="Load Line Certificate", number="LL 9", until=date(2026, 11, 24), place="Safe")
    book.add("certificates", certificate="Radio Certificate", number="SR 8", until=date(2027, 1, 9))
    book.add(
        "exemptions",
        rule="lifeboat.fishing-tackle",
        authority="Flag",
        reference="MN 12",
        until=date(2027, 1, 15),
        condition="none carried",
    )
    return book


def pages(book: Workbook, on: date = ON, last: date = LAST) -> tuple[Page, Page]:
    audit, result = audit_in_full(read_raw(RawBook("test.xlsx", book.grids())), Options(on))
    return handover(audit, result, last), arrival(audit, result)


def block(page: Page, heading: str) -> Block:
    return next(entry for entry in page.blocks if entry.heading.startswith(heading))


def words(lines: Block) -> str:
    return "\n".join(" | ".join(line.cells) for line in lines.lines)


@pytest.fixture(scope="module")
def both() -> tuple[Page, Page]:
    return pages(faulty())


def test_what_lapses_in_the_relief_s_time_counts_both_ends(both: tuple[Page, Page]) -> None:
    lapses = words(block(both[0], "Lapses"))
    for part in (
        f"{LAST} | 6 x hand flare, batch H6 | Lifeboat 2 | Inventory!",
        f"{ON} | medical certificate | crew number 7",
        "2027-01-09 | Radio Certificate",
        "2027-01-15 | exemption of lifeboat.fishing-tackle",
    ):
        assert part in lapses
    assert "rocket parachute flare" not in lapses
    assert "Load Line" not in lapses


def test_a_raft_s_service_and_contents_are_among_what_lapses() -> None:
    lapses = words(block(pages(clean(), last=date(2028, 4, 30))[0], "Lapses"))
    assert "2027-10-20 | liferaft service | Raft P" in lapses
    assert "2028-04-30 | dated contents of the pack | Raft P" in lapses


def test_a_follow_up_stands_apart_with_what_is_done_meanwhile(both: tuple[Page, Page]) -> None:
    followed = words(block(both[0], "Being followed up"))
    assert "2026-12-10" in followed
    assert "R-112, at Vigo, by 2026-12-10, reported to class" in followed
    assert "bucket" not in words(block(both[0], "Findings"))
    assert both[0].verdict.endswith("1 more being followed up")


def test_the_places_are_told_with_the_number_of_craft() -> None:
    book = clean()
    book.rows["craft"] = [line for line in book.rows["craft"] if line["name"] != "Lifeboat 2"]
    page = pages(book)[1]
    assert page.title == "Arrival page: for the inspector's visit"
    assert dict(page.facts)["Places"] == "20 in 1 lifeboat, 40 in 2 liferafts"


def test_findings_come_worst_first(both: tuple[Page, Page]) -> None:
    order = [line.cells[0] for line in block(both[0], "Findings").lines]
    assert order[0] == "before sailing: action"
    assert order == sorted(order, key=lambda text: text.startswith("at next port"))


def test_only_open_defects_are_handed_over(both: tuple[Page, Page]) -> None:
    defects = words(block(both[0], "Open defects"))
    assert "Lifeboat 1: limit switches" in defects
    assert "davit" not in defects


def test_the_last_day_of_each_drill_counts_and_none_of_the_future() -> None:
    book = clean()
    book.rows["routine"] = []
    for day, result in ((date(2026, 10, 1), ""), (date(2026, 11, 1), ""), (ON, "not held"), (date(2026, 12, 1), "")):
        book.add("routine", day=day, task="fire drill", result=result)
    book.add("routine", day=date(2026, 9, 2), task="lifeboat launched", subject="Lifeboat 1")
    book.add("routine", day=date(2026, 9, 9), task="lifeboat launched", subject="Lifeboat 2")
    book.add("routine", day=date(2026, 9, 9), task="weekly inspection")
    relief, inspector = pages(book)
    assert "fire drill | 2026-11-01" in words(block(relief, "Last drills"))
    assert "Lifeboat 1 2026-09-02, Lifeboat 2 2026-09-09" in words(block(inspector, "Last drills"))
    assert "weekly inspection" in words(block(relief, "Last drills"))
    assert "weekly inspection" not in words(block(inspector, "Last drills"))


def test_services_show_the_last_one_and_its_certificate() -> None:
    book = clean()
    book.rows["servicing"] = []
    for day, number in ((date(2021, 6, 1), "F-1"), (date(2024, 6, 1), "F-2")):
        line = {"appliance": "Lifeboat 1", "service": "falls renewed", "done_by": "competent person"}
        book.add("servicing", **line, done=day, certificate=number)
    book.add("servicing", appliance="EPIRB", service="EPIRB battery changed", done=date(2026, 3, 1), done_by="crew")
    relief, inspector = pages(book)
    assert "Lifeboat 1: falls renewed | 2024-06-01 | 2029-06-01 | F-2" in words(block(relief, "Last services"))
    assert "F-1" not in words(block(relief, "Last services"))
    assert "EPIRB battery changed" in words(block(relief, "Last services"))
    assert "EPIRB battery changed" not in words(block(inspector, "Service certificates"))


def test_the_inspector_sees_certificates_with_their_days(both: tuple[Page, Page]) -> None:
    papers = words(block(both[1], "Certificates to lay on the table"))
    assert "Load Line Certificate | LL 9 | - | EXPIRED 2026-11-24 | Safe" in papers
    assert "Raft P | S-11 | 2026-10-20 | 2027-10-20" in words(block(both[1], "Liferaft service"))
    assert "Flag MN 12 | 2027-01-15" in words(block(both[1], "Exemptions"))


def test_the_inspector_sees_first_what_must_be_put_right_first(both: tuple[Page, Page]) -> None:
    urgent = {line.cells[0].partition(":")[0] for line in block(both[1], "Seen first").lines}
    assert urgent <= {"before sailing", "within 14 days"}
    assert "fresh water" in words(block(both[1], "Seen first"))


def test_a_clean_book_says_that_nothing_is_there() -> None:
    text = " ".join(as_text_page(pages(clean())[0]).split())
    for part in ("No action required", "No finding stands open.", "Nothing is being followed up.", "No defect is open"):
        assert part in text


@pytest.mark.parametrize("number", [0, 1])
def test_text_keeps_to_80_columns_and_says_who_decides(both: tuple[Page, Page], number: int) -> None:
    text = as_text_page(both[number])
    assert max(map(len, text.splitlines())) <= 80
    assert CAUTION in " ".join(text.split())


def test_a_table_of_long_words_still_keeps_to_80_columns() -> None:
    lines = [Line(("w" * 70, "x" * 70, "y" * 70, "z" * 70))]
    page = Page("T", "S", "V", [("Label", "v" * 200)], [Block("H", ("A", "B", "C", "D"), lines, "")])
    assert max(map(len, as_text_page(page).splitlines())) <= 80


@pytest.mark.parametrize("number", [0, 1])
def test_no_name_of_the_crew_list_is_printed(both: tuple[Page, Page], number: int) -> None:
    page = both[number]
    assert "quill" not in as_text_page(page).casefold()
    assert "quill" not in as_html_page(page).casefold()


def test_the_crew_number_stands_for_the_name(both: tuple[Page, Page]) -> None:
    assert "lent by crew number 3" in words(block(both[0], "Being followed up"))


class _Tags(HTMLParser):
    """The tags in order, their attributes, and the tags that are never closed."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append((tag, dict(attrs)))
        if tag != "meta":
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


@pytest.mark.parametrize("number", [0, 1])
def test_the_html_is_one_closed_file_without_scripts_or_links(both: tuple[Page, Page], number: int) -> None:
    text = as_html_page(both[number])
    tags = _Tags()
    tags.feed(text)
    tags.close()
    assert tags.open == []
    assert not {"script", "link", "img", "iframe", "a", "b", "object"} & {tag for tag, _ in tags.seen}
    assert not {"src", "href", "onclick", "style"} & {name for _, attributes in tags.seen for name in attributes}
    assert not re.search(r"url\(|@import|https?:", text)
    assert "size: A4" in text
    assert CAUTION.replace("'", "&#x27;") in text


def test_text_of_the_book_is_escaped(both: tuple[Page, Page]) -> None:
    assert "&lt;b&gt;stuck&lt;/b&gt; &amp; worn" in as_html_page(both[0])


def test_urgent_lines_are_marked_by_words_as_well_as_by_colour(both: tuple[Page, Page]) -> None:
    for page in both:
        for entry in page.blocks:
            for line in entry.lines:
                if line.mark and entry.heading != "Open defects":
                    assert re.search("action|due|EXPIRED|LAPSED|in .* days|NO REFERENCE", " ".join(line.cells))


def test_cautions_come_with_what_they_are_about(both: tuple[Page, Page]) -> None:
    assert any(text.startswith("Pyrotechnics") for text in both[0].cautions)
