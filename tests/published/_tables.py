"""Reads the published tables that lie in data/: copies of what the sources print, never made from our rules."""

import csv
from pathlib import Path

DATA = Path(__file__).parent / "data"

Line = dict[str, str]


def read_table(name: str) -> list[Line]:
    """The lines of a table in data/, each cell by its heading."""
    with (DATA / name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file, strict=True))
