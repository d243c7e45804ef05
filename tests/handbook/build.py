"""Writes docs/handbook anew: python -m tests.handbook.build. Pages of what is no more are taken away."""

from __future__ import annotations

from pathlib import Path

from tests.handbook.pages import pages

HANDBOOK = Path(__file__).parents[2] / "docs" / "handbook"


def build(folder: Path = HANDBOOK) -> None:
    """Write every page into a folder, and delete Markdown there that is none of them."""
    made = pages()
    for name, text in made.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    for path in folder.rglob("*.md"):
        if path.relative_to(folder).as_posix() not in made:
            path.unlink()


if __name__ == "__main__":
    build()
