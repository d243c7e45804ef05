"""Finds the workbooks under files, folders, patterns and lists."""

from __future__ import annotations

import difflib
import glob
import os
from collections.abc import Iterator, Sequence
from pathlib import Path

from workbook_tools.reading.load import EXTENSIONS


class NoBooks(Exception):
    """The paths given hold no workbook; the text says which."""


def find_books(paths: Sequence[str]) -> list[Path]:
    """The workbooks under files, folders and patterns, in a stable order and each once.

    A file is taken whatever its name; a folder gives the files below it that a spreadsheet program writes, lock and
    temporary files left out. Raises NoBooks for a path that is not there or holds no workbook.
    """
    found: dict[str, Path] = {}  # by the file itself, whichever way it is named
    for text in paths:
        for book in _under(text):
            found.setdefault(os.path.realpath(book), book)
    return list(found.values())


def _under(text: str) -> list[Path]:
    path = Path(text)
    if path.is_dir():
        inside = sorted(_below(path))
        if not inside and path.suffix.lower() in EXTENSIONS:
            return [path]  # a folder named like a book is named as no book, and the others go on
        if not inside:
            raise NoBooks(f"no workbook ({', '.join(EXTENSIONS)}) in folder {text}")
        return inside
    if path.exists():
        return [path]
    inside = sorted(Path(match) for match in glob.glob(text, recursive=True) if Path(match).is_file())
    if not inside:
        raise NoBooks(f"there is no file or folder {text}{_nearest(path)}")
    return inside


def _nearest(path: Path) -> str:
    """What lies beside under a name much like it, as a question; '' where nothing does."""
    try:
        names = [name for name in os.listdir(path.parent) if name.lower().endswith(EXTENSIONS)]
    except OSError:
        return ""
    close = difflib.get_close_matches(path.name, names, n=1, cutoff=0.6)
    return f"; did you mean {path.parent / close[0]}?" if close else ""


def _below(folder: Path) -> Iterator[Path]:
    for path in folder.rglob("*"):
        named = path.suffix.lower() in EXTENSIONS and not path.name.startswith(("~$", ".~lock", "."))
        # A dangling link and a folder named like a book are taken: each is named as not opened, and not passed over.
        if named and (path.is_file() or path.is_symlink() or path.is_dir()):
            yield path


def read_list(text: str, name: str) -> list[str]:
    """The paths of a list, one a line; empty lines and lines that begin with # are none. Raises NoBooks."""
    lines = [line.strip() for line in text.lstrip("\ufeff").splitlines()]
    paths = [line for line in lines if line and not line.startswith("#")]
    if not paths:
        raise NoBooks(f"the list {name} names no workbook")
    return paths
