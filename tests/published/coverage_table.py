"""Each row of the published figures, with the rule, the check and the tests that stand for it: docs/coverage.md.

python -m tests.published.coverage_table     writes the table anew
"""

from __future__ import annotations

import csv
import importlib
import pkgutil
from dataclasses import dataclass
from pathlib import Path

from tests.checks import cases

FOLDER = Path(__file__).parent / "coverage"
TABLE = Path(__file__).parents[2] / "docs" / "coverage.md"
COLUMNS = ["standards_file", "para", "item", "rules", "codes", "left_out"]


@dataclass(frozen=True)
class CoverageRow:
    """One row of the published figures and what stands for it."""

    subject: str
    para: str
    item: str
    rules: tuple[str, ...]
    codes: tuple[str, ...]
    left_out: str
    origin: str


def _split(text: str) -> tuple[str, ...]:
    return tuple(filter(None, text.split("|")))


def rows() -> list[CoverageRow]:
    """Every row, in the order of the files."""
    found = []
    for path in sorted(FOLDER.glob("*.csv")):
        with path.open(newline="", encoding="utf-8") as file:
            reader = csv.DictReader(file)
            if reader.fieldnames != COLUMNS:
                raise ValueError(f"{path.name}: headings are {reader.fieldnames}, not {COLUMNS}")
            for number, line in enumerate(reader, start=2):
                subject = line["standards_file"].removesuffix(".csv").replace("_", " ")
                found.append(
                    CoverageRow(
                        subject,
                        line["para"],
                        line["item"],
                        _split(line["rules"]),
                        _split(line["codes"]),
                        line["left_out"],
                        f"{path.name}:{number}",
                    )
                )
    return found


def case_modules() -> dict[str, str]:
    """The file that holds the passing and failing cases of each code."""
    found = {}
    for module in pkgutil.iter_modules(cases.__path__):
        if module.name != "common":
            loaded = importlib.import_module(f"tests.checks.cases.{module.name}")
            found.update(dict.fromkeys(loaded.CASES, f"tests/checks/cases/{module.name}.py"))
    return found


def markdown() -> str:
    """The table as Markdown."""
    files = case_modules()
    lines = [
        "# Published figures, rules, checks and tests",
        "",
        "Each row of the published figures that the project was built from, with the rule that holds it, the code that",
        "finds it unmet, and the file with a passing and a failing case of that code; or why it is left out. Generated",
        "by `python -m tests.published.coverage_table` from `tests/published/coverage`; do not edit.",
    ]
    subject = ""
    for row in rows():
        if row.subject != subject:
            subject = row.subject
            lines += ["", f"## {subject[:1].upper()}{subject[1:]}", ""]
            lines += ["| Paragraph | Row | Rules | Codes | Cases | Left out, or limits |", "|---|---|---|---|---|---|"]
        tests = sorted({files[code] for code in row.codes if code in files})
        cells = (
            row.para,
            row.item,
            ", ".join(f"`{rule}`" for rule in row.rules),
            ", ".join(row.codes),
            ", ".join(tests),
            row.left_out,
        )
        lines.append("| " + " | ".join(cell.replace("|", "\\|").replace("\n", " ") for cell in cells) + " |")
    return "\n".join(lines) + "\n"


if __name__ == "__main__":
    TABLE.write_text(markdown(), encoding="utf-8")
