"""Every link in the documentation leads somewhere: a page, a heading on it, a picture."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from tests.docs.pages import ROOT, name_of, pages, prose
from tests.handbook.pages import anchor

_LINK = re.compile(r"!?\[((?:[^\[\]]|\[[^\]]*\])*)\]\(([^)\s]+)\)", re.DOTALL)
_HEADING = re.compile(r"^#+ (.+)$", re.MULTILINE)


@cache
def _anchors(page: Path) -> set[str]:
    """The anchors of a page's headings; one that comes again is numbered, as viewers do."""
    seen: Counter[str] = Counter()
    found = set()
    for heading in _HEADING.findall(prose(page)):
        name = anchor(heading)
        found.add(f"{name}-{seen[name]}" if seen[name] else name)
        seen[name] += 1
    return found


def _broken(page: Path) -> list[str]:
    broken = []
    for _, target in _LINK.findall(prose(page)):
        if re.match(r"[a-z]+:", target):
            continue
        path, _, heading = target.partition("#")
        file = (page.parent / path).resolve() if path else page
        if not file.exists() or (heading and heading not in _anchors(file)):
            broken.append(target)
    return broken


@pytest.mark.parametrize("page", pages(), ids=name_of)
def test_every_link_of_a_page_leads_somewhere(page: Path) -> None:
    assert _broken(page) == []


def test_a_broken_link_is_seen(tmp_path: Path) -> None:
    page = tmp_path / "page.md"
    page.write_text("# One\n[a](#one) [b](#two) [c](none.md) [d](page.md#one) [e](page.md#three)\n")
    assert _broken(page) == ["#two", "none.md", "page.md#three"]


def test_every_picture_of_the_guide_is_shown_on_a_page() -> None:
    shown = {(page.parent / target).resolve() for page in pages() for _, target in _LINK.findall(prose(page))}
    pictures = set((ROOT / "docs" / "images").glob("guide-*"))
    assert {path.name for path in pictures - shown} == set()


def test_every_page_of_docs_is_linked_from_another() -> None:
    linked = {
        (page.parent / target.partition("#")[0]).resolve()
        for page in pages()
        for _, target in _LINK.findall(prose(page))
    }
    assert {name_of(page) for page in pages() if page.resolve() not in linked} <= {"README.md"}


def test_every_picture_of_a_page_says_what_it_shows() -> None:
    for page in pages():
        for words in re.findall(r"!\[([^\]]*)\]\(", prose(page)):
            assert len(words) > 10, name_of(page)
