"""The handbook is in step with the code, holds everything, and says what `davitbook rules` says."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tests.handbook.build import HANDBOOK, build
from tests.handbook.examples import Change, shown
from tests.handbook.pages import CODES, anchor, pages
from workbook_tools import compare
from workbook_tools.core.caution import CAUTION
from workbook_tools.handbook import explain, words
from workbook_tools.rules.loader import policies

Pages = dict[str, str]
REMEDY = "run: python -m tests.handbook.build"


@pytest.fixture(scope="module")
def made() -> Pages:
    return pages()


def _plain(text: str) -> str:
    """A text without its layout: Markdown's signs, line ends, and the capital and full stop of a sentence."""
    return re.sub(r"[\s>]+", " ", re.sub(r"[*\\]", "", text)).casefold()


def test_every_page_in_docs_is_in_step_with_the_code(made: Pages) -> None:
    kept = {path.relative_to(HANDBOOK).as_posix(): path.read_text("utf-8") for path in HANDBOOK.rglob("*.md")}
    assert sorted(kept) == sorted(made), REMEDY
    assert [name for name, text in made.items() if kept[name] != text] == [], REMEDY


@pytest.mark.parametrize("code", sorted(CODES))
def test_the_page_of_a_code_holds_what_the_terminal_says(code: str, made: Pages) -> None:
    page, terminal = _plain(made[f"codes/{code}.md"]), _plain(explain(code, compare.CODES) or "")
    entry = CODES[code]
    for text in (entry.what, entry.why, entry.trips, entry.silent, entry.remedy, entry.source, entry.name):
        assert _plain(text) in page
        assert _plain(text) in terminal


@pytest.mark.parametrize("code", sorted(set(CODES) - {"CP06"}))  # CP06 looks at a series of returns
def test_the_example_of_a_code_is_found_and_the_look_alike_is_not(code: str, made: Pages) -> None:
    found, silent = made[f"codes/{code}.md"].split("## Silent")
    grade = re.search(r"^(action|due|query|note), [^\n]* at \*[^\n]+\*:$", found, re.MULTILINE)
    assert grade is not None
    assert grade[1] in CODES[code].grades
    assert f"\nNo {code}.\n" in silent


def test_every_rule_row_stands_on_its_page_with_all_that_the_terminal_says(made: Pages) -> None:
    for key, entry in words.entries().items():
        page, terminal = _plain(made[f"rules/{entry.subject}.md"]), _plain(explain(key) or "")
        assert f"\n## {key}\n" in made[f"rules/{entry.subject}.md"]
        for rule in entry.rows:
            assert str(rule.compared_on) in page
            for label, text in words.rule_words(rule):
                assert _plain(f"{label}: {text}") in page, key
                assert _plain(f"{label}: {text}") in terminal, key
        for substitute in entry.substitutes:
            assert _plain(words.substitute_words(substitute)) in page
            assert _plain(words.substitute_words(substitute)) in terminal


def test_every_assumption_stands_on_its_page_with_its_reason_and_how_sure_it_is(made: Pages) -> None:
    for policy in policies().values():
        for label, text in words.policy_words(policy):
            assert _plain(f"{label}: {text}") in _plain(made["assumptions.md"])
        assert policy.status in (explain(policy.key) or "")


def test_the_index_leads_to_every_page(made: Pages) -> None:
    linked = set(re.findall(r"\]\(([^)#]+\.md)\)", made["README.md"]))
    assert {name for name in made if name != "README.md"} <= linked


def test_every_page_carries_the_caution(made: Pages) -> None:
    assert [name for name, text in made.items() if not text.endswith(f"> {CAUTION}\n")] == []


def test_no_page_holds_a_path_of_a_machine(made: Pages) -> None:
    for name, text in made.items():
        assert not re.search(r"/(tmp|work|opt|home)/", text), name


def test_a_page_of_what_is_no_more_is_taken_away(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tests.handbook.build.pages", lambda: {"codes/EQ01.md": "new\n"})
    old = tmp_path / "codes" / "EQ99.md"
    old.parent.mkdir()
    old.write_text("old")
    build(tmp_path)
    assert [path.name for path in tmp_path.rglob("*.md")] == ["EQ01.md"]


@pytest.mark.parametrize(
    ("heading", "expected"),
    [("lifeboat.fresh-water", "lifeboatfresh-water"), ("EQ equipment", "eq-equipment"), ("What it is?", "what-it-is")],
)
def test_anchors_are_made_as_markdown_viewers_make_them(heading: str, expected: str) -> None:
    assert anchor(heading) == expected


@pytest.mark.parametrize(
    ("value", "numeric", "text"),
    [
        (None, True, ""),
        (2.0, True, "2"),
        (2.5, True, "2.5"),
        ("72", True, "'72' as text"),
        ("72", False, "72"),
        ("Raft P2", True, "Raft P2"),
    ],
)
def test_a_number_typed_as_text_is_told_from_a_number(value: object, numeric: bool, text: str) -> None:
    assert shown(value, numeric) == text


def test_a_change_names_the_columns_that_differ() -> None:
    assert Change("inventory", {"item": "bucket", "quantity": 2}, {"item": "bucket", "quantity": 1}).changed == [
        "quantity"
    ]
