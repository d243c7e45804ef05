"""The page of a fleet in headless Chromium: its figures, its controls, its prints, and that it keeps to itself."""

from __future__ import annotations

import json
import re
import subprocess
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser

from tests.checks.cases.followup import BUCKET
from tests.reports.fleet import browser as chromium
from tests.reports.fleet.browser import NARROW, WIDE, Shown
from tests.reports.fleet.fleets import (
    HOSTILE,
    OPTIONS,
    example_results,
    finding,
    hostile_results,
    record_of,
    result,
)
from tests.workbooks import ON, clean
from workbook_tools.checks import Options
from workbook_tools.findings import GRADES, LAPSE_KINDS, BookResult
from workbook_tools.reports import as_json
from workbook_tools.reports.fleet.page import fleet_page
from workbook_tools.reports.fleet.record import CHECKED
from workbook_tools.rules.model import PRIORITIES

pytestmark = pytest.mark.browser

SHIPS, FINDINGS = 300, 10_000
Json = dict[str, Any]


def write(folder: Path, *results: BookResult, options: Options = OPTIONS, **more: int) -> Path:
    file = folder / "fleet.html"
    with record_of(*results, options=options) as record:
        file.write_text(fleet_page(record, folder, **more), encoding="utf-8")
    return file


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with chromium.running() as running:
        yield running


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write(tmp_path_factory.mktemp("page"), *example_results())


@pytest.fixture
def page(browser: Browser, file: Path) -> Iterator[Shown]:
    with chromium.shown(browser, file) as opened:
        yield opened


@pytest.fixture(scope="module")
def audit() -> Json:
    document: Json = json.loads(as_json(example_results(), ON, ""))
    return document


def findings_of(audit: Json) -> list[Json]:
    return [entry | {"book": book} for book in audit["books"] for entry in book["findings"]]


# ---- figures equal the JSON --------------------------------------------------------------------------------------


def test_the_figures_on_top_are_those_of_the_json(page: Shown, audit: Json) -> None:
    figures = {
        entry.get_attribute("data-figure"): int(entry.inner_text().replace(",", ""))
        for entry in page.page.locator("[data-figure]").all()
    }
    read = [book for book in audit["books"] if book["readable"]]
    assert figures == {
        "books": len(audit["books"]),
        "not read": len(audit["books"]) - len(read),
        "with action required": sum(any(one["grade"] == "action" for one in book["findings"]) for book in read),
        **audit["totals"],
    }


def test_each_ship_has_the_counts_of_the_json(page: Shown, audit: Json) -> None:
    books = {Path(book["book"]).name: book for book in audit["books"]}
    labels = [*GRADES, *(f"{key} {words}" for key, words in CHECKED.items()), "not evaluated"]
    columns = {label: page.column("ships", label) for label in labels}
    names = page.column("ships", "Workbook")
    assert set(names) == set(books)
    for number, name in enumerate(names):
        book = books[name]
        shown = {label: columns[label][number].removeprefix("!! ") for label in labels}
        if not book["readable"]:
            assert set(shown.values()) == {""}
            continue
        families = Counter(one["code"][:2] for one in book["findings"])
        grades = Counter(one["grade"] for one in book["findings"])
        assert shown == {
            **{grade: str(grades[grade]) for grade in GRADES},
            **{f"{key} {words}": str(families[key]) for key, words in CHECKED.items()},
            "not evaluated": str(book["states"]["not_evaluated"]),
        }


def test_every_finding_of_the_json_is_listed_once(page: Shown, audit: Json) -> None:
    seen: list[tuple[str, str, str]] = []
    while True:
        ids, ships = page.column("findings", "Finding"), page.column("findings", "Ship")
        wrong = [text.split("\n")[0] for text in page.column("findings", "What is wrong")]
        seen += zip(ids, ships, wrong, strict=True)
        onward = page.page.locator("#findings [data-do=next]")
        if onward.is_disabled():
            break
        onward.click()
    wanted = [(one["id"], one["book"]["ship"], " ".join(one["message"].split())) for one in findings_of(audit)]
    assert Counter(seen) == Counter(wanted)


def test_the_bars_of_the_charts_add_up_to_the_totals(page: Shown, audit: Json) -> None:
    titles = page.page.eval_on_selector_all(
        "svg:has(#families-title) rect > title", "titles => titles.map(title => title.textContent)"
    )
    counted: Counter[str] = Counter()
    for title in titles:
        match = re.fullmatch(r".*: (\d+) (\w+)", title)
        if match:
            counted[match[2]] += int(match[1])
    assert counted == {grade: audit["totals"][grade] for grade in ("action", "due", "query")}


def test_what_lapses_is_listed_and_charted(page: Shown) -> None:
    listed = sum(
        OPTIONS.on <= lapse.day and lapse.day.isoformat() <= "2027-11-30"
        for one in example_results()
        for lapse in one.lapses
    )
    assert page.status("due").endswith(f"of {listed}")
    days = page.column("due", "Last day")
    assert days == sorted(days)
    sums = page.page.eval_on_selector_all(
        "svg:has(#months-title) text[text-anchor=middle]", "texts => texts.map(text => text.textContent)"
    )
    assert sum(int(text) for text in sums if text != "–") == listed


# ---- the page keeps to itself ------------------------------------------------------------------------------------


def test_nothing_is_asked_of_any_other_file_or_machine_and_nothing_complains(page: Shown, file: Path) -> None:
    page.page.select_option("#findings [name=grade]", "0")
    page.page.locator("#ships tbody .plainlink").first.click()
    page.page.evaluate("dispatchEvent(new Event('beforeprint'))")
    page.page.wait_for_timeout(200)
    assert page.requests == [file.as_uri()]
    assert page.complaints == []


def test_its_own_policy_forbids_requests_and_other_scripts(page: Shown) -> None:
    told = page.page.evaluate(
        """async () => {
            const refused = [];
            document.addEventListener("securitypolicyviolation", event => refused.push(event.effectiveDirective));
            await fetch("data:text/plain,x").catch(() => 0);
            const script = document.createElement("script");
            script.textContent = "window.hacked = 6";
            document.body.append(script);
            const image = document.createElement("img");
            image.src = "data:image/gif;base64,R0lGODlhAQABAAAAACw=";
            document.body.append(image);
            await new Promise(done => setTimeout(done, 200));
            return {refused, hacked: window.hacked};
        }"""
    )
    assert "hacked" not in told or told["hacked"] is None
    assert {"connect-src", "img-src", "script-src-elem"} <= set(told["refused"])


def test_no_text_of_a_book_becomes_markup_or_script(browser: Browser, tmp_path: Path) -> None:
    options = Options(ON, names=True, lapses=True)
    with chromium.shown(browser, write(tmp_path, *hostile_results(), options=options)) as opened:
        assert opened.page.evaluate("window.hacked") is None
        assert opened.page.locator("script").count() == 2
        assert opened.page.locator("img, iframe, object, embed, base, link").count() == 0
        handlers = opened.page.evaluate(
            """[...document.querySelectorAll("*")].flatMap(one => one.getAttributeNames())
                .filter(name => name.startsWith("on"))"""
        )
        assert handlers == []
        wrong = opened.page.eval_on_selector_all(
            "#findings td[data-label='What is wrong'] p:first-child", "all => all.map(one => one.textContent)"
        )
        assert sorted(wrong) == sorted(HOSTILE)
        names = opened.page.eval_on_selector_all(
            "#findings td[data-label=Ship]", "all => all.map(one => one.textContent)"
        )
        assert sorted(names) == sorted(HOSTILE)
        links = opened.page.eval_on_selector_all("a", "all => all.map(one => one.getAttribute('href'))")
        assert all(re.fullmatch(r"#[a-z]+|returns/[\w-]+\.xlsx|\.\./.*", link) for link in links), links
        assert opened.complaints == []


# ---- search, filter, sort ----------------------------------------------------------------------------------------


# The choices of each filter, with what a finding of the JSON must say to be kept: its key, and how its value begins.
CHOICES: dict[str, list[tuple[str, str, str]]] = {
    "grade": [(str(number), "grade", grade) for number, grade in enumerate(GRADES)],
    "priority": [(str(number), "priority", words) for number, words in enumerate(PRIORITIES)],
    "family": [(key, "code", key) for key in CHECKED],
}


@pytest.mark.parametrize("field", CHOICES)
def test_a_filter_keeps_what_it_says(page: Shown, audit: Json, field: str) -> None:
    total = len(findings_of(audit))
    for value, key, begins in CHOICES[field]:
        page.page.select_option(f"#findings [name={field}]", value)
        wanted = sum(one[key].startswith(begins) for one in findings_of(audit))
        shown = f"1 to {min(100, wanted)} of {wanted} (of {total})" if wanted else f"None (of {total})"
        assert page.status("findings") == shown, value


def test_filters_work_together_and_one_button_ends_them(page: Shown, audit: Json) -> None:
    page.page.select_option("#findings [name=grade]", "0")
    page.page.select_option("#findings [name=ship]", label="Veshmoor (IMO 3401920)")
    page.page.check("#findings [name=open]")
    wanted = [
        one
        for one in findings_of(audit)
        if one["grade"] == "action" and one["book"]["ship"] == "Veshmoor" and not one["follow_up"]
    ]
    assert page.status("findings").startswith(f"1 to {len(wanted)} of {len(wanted)} ")
    assert Counter(page.column("findings", "Finding")) == Counter(one["id"] for one in wanted)
    page.page.click("#findings [data-do=clear]")
    assert page.status("findings") == f"1 to 100 of {len(findings_of(audit))}"


@pytest.mark.parametrize("words", ["hand flare", "FLARE  hand", "LSA Code 4.4.8.14", "raft p service", "zzz"])
def test_search_finds_lines_that_hold_every_word(page: Shown, audit: Json, words: str) -> None:
    page.page.fill("#findings [name=search]", words)
    page.page.keyboard.press("Enter")

    def text(one: Json) -> str:
        said = ("grade", "priority", "subject", "message", "source", "remedy", "id", "rule")
        place = f"{one['sheet']}!{one['cell']}"
        return " ".join([*(one[key] for key in said), place, one["book"]["ship"]]).casefold()

    wanted = [one["id"] for one in findings_of(audit) if all(word in text(one) for word in words.casefold().split())]
    assert Counter(page.column("findings", "Finding")) == Counter(wanted)


def test_search_does_not_mind_accents(browser: Browser, tmp_path: Path) -> None:
    books = (result("a.xlsx", finding(), ship="Ångström"), result("b.xlsx", finding(), ship="Other"))
    with chromium.shown(browser, write(tmp_path, *books)) as opened:
        opened.page.fill("#ships [name=search]", "angstrom")
        opened.page.keyboard.press("Enter")
        assert opened.column("ships", "Ship") == ["Ångström\nIMO 3100019"]


@pytest.mark.parametrize(
    ("section", "label"),
    [("ships", "query"), ("ships", "Ship"), ("findings", "Ship"), ("due", "Days left"), ("due", "Kind")],
)
def test_a_heading_sorts_one_way_then_the_other_then_back(page: Shown, section: str, label: str) -> None:
    index = {
        "ships": ["Place", "Ship", "Verdict", *GRADES],
        "findings": ["Grade", "Ship"],
        "due": ["Last day", "Days left", "Ship", "Kind"],
    }
    head = page.page.locator(f"#{section} thead th").nth(index[section].index(label))
    before = page.column(section, label)

    def key(text: str) -> Any:
        shown = text.removeprefix("!! ")
        return int(shown or -1) if shown.isdigit() or not shown else shown.split("\n")[0].casefold()

    states = [head.get_attribute("aria-sort")]
    orders = []
    for _ in range(3):
        head.locator("button").click()
        states.append(head.get_attribute("aria-sort"))
        orders.append(page.column(section, label))
    ways = ["ascending", "descending"]
    if (section, label) == ("ships", "query"):  # of counts the most first
        ways.reverse()
    assert states == ["none", *ways, "none"]
    up, down = [[key(text) for text in orders[ways.index(way)]] for way in ("ascending", "descending")]
    if section != "findings":  # the first hundred of more lines: other lines are shown
        assert Counter(up) == Counter(down)
    assert up == sorted(up)
    assert down == sorted(down, reverse=True)
    assert orders[2] == before


# ---- keyboard, labels, contrast, widths --------------------------------------------------------------------------


def test_everything_can_be_done_from_the_keyboard(page: Shown) -> None:
    keys = page.page.keyboard
    keys.press("Tab")
    assert page.page.evaluate("document.activeElement.className") == "skip"
    keys.press("Enter")
    for _ in range(40):  # onward to the name of the worst ship that could be read
        keys.press("Tab")
        if page.page.evaluate("document.activeElement.textContent") == "Veshmoor":
            break
    outline = page.page.evaluate("getComputedStyle(document.activeElement).outlineStyle")
    assert outline == "solid"
    keys.press("Enter")
    assert page.page.evaluate("document.activeElement.name") == "search"
    assert set(page.column("findings", "Ship")) == {"Veshmoor"}
    keys.type("raft")
    keys.press("Enter")
    assert page.column("findings", "Finding")
    heading = page.page.locator("#findings thead button").nth(5)
    for _ in range(20):
        keys.press("Tab")
        if heading.evaluate("one => one === document.activeElement"):
            break
    keys.press("Space")
    ids = page.column("findings", "Finding")
    assert ids == sorted(ids)


def test_turning_a_page_keeps_the_focus_in_the_list(page: Shown) -> None:
    page.page.locator("#findings [data-do=next]").focus()
    page.page.keyboard.press("Enter")
    assert page.status("findings").startswith("101 to ")
    assert page.page.evaluate("document.activeElement.closest('section').id") == "findings"


@pytest.mark.parametrize("size", [WIDE, NARROW], ids=["wide", "narrow"])
def test_a_checker_of_accessibility_finds_nothing(browser: Browser, file: Path, size: tuple[int, int]) -> None:
    # axe-core: contrast, labels, headings, roles, names; https://github.com/dequelabs/axe-core
    with chromium.shown(browser, file, size) as opened:
        results = Axe().run(opened.page)
        assert results.violations_count == 0, results.generate_report()
        assert len(results.response["passes"]) > 20


def test_headings_of_tables_have_a_scope_and_the_page_a_language(page: Shown) -> None:
    assert page.page.locator("html").get_attribute("lang") == "en"
    heads = page.page.locator("thead th")
    assert heads.count() > 30
    assert {head.get_attribute("scope") for head in heads.all()} == {"col"}


_CLIPPED = """() => [...document.querySelectorAll("td, th, p, li, label, button, h1, h2, figcaption, input, select")]
    .filter(one => one.getClientRects().length && one.scrollWidth > one.clientWidth + 1 && one.clientWidth)
    .map(one => one.tagName + " " + one.textContent.slice(0, 60))"""


@pytest.mark.parametrize("size", [WIDE, NARROW, (800, 600)], ids=["wide", "narrow", "between"])
def test_nothing_is_clipped_and_the_page_does_not_scroll_sideways(
    browser: Browser, file: Path, size: tuple[int, int]
) -> None:
    with chromium.shown(browser, file, size) as opened:
        assert opened.page.evaluate("document.documentElement.scrollWidth") <= size[0]
        assert opened.page.evaluate(_CLIPPED) == []
        drawn = opened.page.eval_on_selector_all(
            "svg.chart",
            """all => all.flatMap(svg => { const frame = svg.getBoundingClientRect();
                return [...svg.querySelectorAll("text")].filter(text => { const box = text.getBoundingClientRect();
                    return box.left < frame.left - 1 || box.right > frame.right + 1 || box.bottom > frame.bottom + 1 })
                .map(text => text.textContent) })""",
        )
        assert drawn == []


def test_a_word_of_a_thousand_letters_pushes_nothing_off_the_page(browser: Browser, tmp_path: Path) -> None:
    long = "W" * 1000
    book = result("a.xlsx", finding(message=long, subject=long, remedy=long, sheet=long), ship=long)
    for size in (WIDE, NARROW):
        with chromium.shown(browser, write(tmp_path, book), size) as opened:
            assert opened.page.evaluate("document.documentElement.scrollWidth") <= size[0]


# ---- print -------------------------------------------------------------------------------------------------------


def test_a_print_holds_every_finding_and_no_controls(page: Shown, audit: Json, tmp_path: Path) -> None:
    pdf = tmp_path / "page.pdf"
    page.page.pdf(path=str(pdf), prefer_css_page_size=True)
    text = subprocess.run(["pdftotext", "-layout", str(pdf), "-"], capture_output=True, text=True, check=True).stdout
    assert Counter(re.findall(r"\b[A-Z]{2}\d\d-[a-z2-7]{6}\b", text)) >= Counter(
        one["id"] for one in findings_of(audit)
    )
    assert "every grade" not in text
    assert "Next 100" not in text
    of_findings = [sheet for sheet in text.split("\f") if len(re.findall(r"\b[A-Z]{2}\d\d-[a-z2-7]{6}\b", sheet)) > 1]
    assert len(of_findings) > 3
    assert all("What is wrong" in sheet and "What to do" in sheet for sheet in of_findings)
    size = subprocess.run(["pdfinfo", str(pdf)], capture_output=True, text=True, check=True).stdout
    width, height = map(float, re.search(r"Page size:\s+([\d.]+) x ([\d.]+)", size).groups())  # type: ignore[union-attr]
    assert (round(width), round(height)) == (842, 595)  # A4 on its side, in points
    assert page.status("findings").startswith("1 to 100 ")  # after the print the page is as before


def test_a_print_that_leaves_lines_out_says_so(browser: Browser, tmp_path: Path) -> None:
    book = result("a.xlsx", *[finding()] * 2100)
    with chromium.shown(browser, write(tmp_path, book)) as opened:
        opened.page.evaluate("dispatchEvent(new Event('beforeprint'))")
        assert "100 more lines are not printed" in opened.status("findings")
        assert opened.page.locator("#findings tbody tr").count() == 2000
        opened.page.evaluate("dispatchEvent(new Event('afterprint'))")
        assert opened.page.locator("#findings tbody tr").count() == 100


# ---- big fleets --------------------------------------------------------------------------------------------------


def big_fleet(ships: int, findings: int) -> Iterator[BookResult]:
    """Ships with findings of every grade, evenly spread."""
    for number in range(ships):
        own = [
            finding(
                grade=GRADES[place % 4],
                priority=PRIORITIES[place % 4],
                message=f"hand flare: 6 asked, {place} carried",
                id=f"EQ01-{'abcdefghijklmnopqrstuvwxyz'[place % 26] * 6}",
                cell=f"C{place + 2}",
            )
            for place in range(number, findings, ships)
        ]
        yield result(f"returns/{number}.xlsx", *own, ship=f"Ship {number}", imo_number=f"{3000000 + number}")


def test_three_hundred_ships_with_ten_thousand_findings_draw_a_hundred_lines_at_a_time(
    browser: Browser, tmp_path: Path
) -> None:
    with chromium.shown(browser, write(tmp_path, *big_fleet(SHIPS, FINDINGS))) as opened:
        assert opened.status("findings") == "1 to 100 of 10,000"
        assert opened.page.locator("#findings tbody tr").count() == 100
        opened.page.select_option("#findings [name=ship]", label="Ship 7 (IMO 3000007)")
        wanted = len(range(7, FINDINGS, SHIPS))
        assert opened.status("findings") == f"1 to {wanted} of {wanted} (of 10,000)"
        opened.page.fill("#findings [name=search]", "6 asked, 9907 carried")
        opened.page.keyboard.press("Enter")
        assert opened.status("findings") == "1 to 1 of 1 (of 10,000)"
        assert opened.complaints == []


def test_findings_that_do_not_fit_are_counted_out_loud(browser: Browser, tmp_path: Path) -> None:
    file = write(tmp_path, *big_fleet(3, 50), most_findings=20)
    with chromium.shown(browser, file) as opened:
        assert "30 of 50 findings are left out of this page, the least urgent" in opened.page.inner_text("main")
        assert opened.status("findings") == "1 to 20 of 20"


def test_what_is_followed_up_stands_last_with_what_is_being_done(browser: Browser, tmp_path: Path) -> None:
    book = clean()
    book.lot("bucket")["quantity"] = 1
    book.add("follow_up", finding=BUCKET, order="R-112", expected=ON.replace(month=12))
    with chromium.shown(browser, write(tmp_path, book.audit(lapses=True))) as opened:
        assert "Being followed up: R-112" in opened.column("findings", "What is wrong")[-1]
        opened.page.check("#findings [name=open]")
        assert opened.status("findings") == "None (of 1)"


def test_kinds_of_lapses_can_be_chosen(page: Shown) -> None:
    for key, words in LAPSE_KINDS.items():
        page.page.select_option("#due [name=kind]", key)
        assert set(page.column("due", "Kind")) <= {words}
