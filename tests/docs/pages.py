"""The pages of the documentation as the tests read them: fenced blocks, links, headings."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[2]
_FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def pages() -> list[Path]:
    """Every page: those at the root, those of docs, and the example fleet's."""
    own = (ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "example_books" / "README.md")
    return [*own, *sorted((ROOT / "docs").rglob("*.md"))]


def blocks(page: Path, language: str) -> list[str]:
    """The fenced blocks of a language."""
    return [body for name, body in _FENCE.findall(page.read_text("utf-8")) if name == language]


def block(page: Path, language: str) -> str:
    """The one fenced block of a language; raises ValueError where there is not exactly one."""
    (found,) = blocks(page, language)
    return found


def prose(page: Path) -> str:
    """The page without its fenced blocks."""
    return _FENCE.sub("", page.read_text("utf-8"))


def spans(page: Path) -> list[str]:
    """The inline code of a page, each on one line."""
    return [" ".join(text.split()) for text in re.findall(r"(?<!`)`([^`]+)`(?!`)", prose(page))]


def name_of(page: Path) -> str:
    """The page's path inside the project."""
    return page.relative_to(ROOT).as_posix()
