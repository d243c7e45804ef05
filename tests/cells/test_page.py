"""The reference page, the named exceptions, and what a cell function loads."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import workbook_tools.cells
from workbook_tools.cells.__main__ import PAGE
from workbook_tools.cells.page import exceptions, page
from workbook_tools.core.caution import CAUTION

SOURCES = sorted(Path(workbook_tools.cells.__file__).parent.glob("*.py"))


def test_the_page_is_what_the_declarations_say() -> None:
    assert PAGE.read_text(encoding="utf-8") == page(), "run: python -m workbook_tools.cells"


def test_the_page_carries_the_caution_of_the_reports() -> None:
    assert CAUTION in page()


def test_the_named_exceptions_of_a_blank_handed_over_as_zero_are_these() -> None:
    assert exceptions() == [
        ("LSA_SHORT", "carried"),
        ("LSA_STATUS", "warn_days"),
        ("LSA_RATION_DAYS", "litres"),
        ("LSA_RATION_DAYS", "dry_days"),
        ("LSA_RATION_PLAN", "litres"),
        ("LSA_RATION_PLAN", "dry_days"),
    ]


def test_no_function_asks_what_day_it_is() -> None:
    for source in SOURCES:
        text = source.read_text(encoding="utf-8")
        assert ".today(" not in text, source.name
        assert ".now(" not in text, source.name


def _loaded(code: str) -> set[str]:
    done = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys; print('\\n'.join(sys.modules))"],
        capture_output=True,
        text=True,
        check=True,
    )
    return set(done.stdout.split())


def test_importing_the_functions_reads_no_rules() -> None:
    loaded = _loaded("import workbook_tools.cells")
    assert not {"csv", "workbook_tools.rules", "workbook_tools.catalogue", "workbook_tools.core"} & loaded


def test_calling_every_function_loads_nothing_outside_the_standard_library() -> None:
    code = (
        "from tests.cells.case_table import cases\n"
        "from workbook_tools.cells import CellError, evaluate\n"
        "for case in cases():\n"
        "    try: evaluate(case.function, case.arguments)\n"
        "    except CellError: pass\n"
    )
    others = {name.partition(".")[0] for name in _loaded(code)} - set(sys.stdlib_module_names)
    others -= {"workbook_tools", "tests", "__main__", "__mp_main__", "sitecustomize"}
    assert {name for name in others if not name.startswith("_")} == set()
