"""The LAMBDA names, evaluated by ironcalc from the file itself, over the table of cases.

ironcalc reads the workbook as Excel would: the prefixes of the storage form are part of what is tested. It is not
Excel.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections import Counter
from pathlib import Path
from typing import Any

import ironcalc
import pytest

from tests.cells.case_table import Case, agrees, cases
from workbook_tools.addins import lambda_names
from workbook_tools.addins.lambda_names import DATA_SHEET, NOT_EXPRESSED, bodies, build, columns, formulas, stored
from workbook_tools.book import build as new_book
from workbook_tools.catalogue import normalise
from workbook_tools.cells import FUNCTIONS

SHOWN, DATA = range(2)
LONGEST_FORMULA = 8192


class Book:
    """A workbook with the names in ironcalc, with a sheet of arguments and a sheet of calls."""

    def __init__(self, file: Path) -> None:
        self.model = ironcalc.load_from_xlsx(str(file), "en", "UTC", "en")
        self.arguments = len(self.model.get_worksheets_properties())
        self.calls = self.arguments + 1
        self.model.add_sheet("Arguments")
        self.model.add_sheet("Calls")
        self._row = 1
        self._placed: list[tuple[Case, int]] = []

    def place(self, case: Case) -> None:
        """Write the arguments of a case into cells, and its call beside them."""
        references, column, height = [], 1, 1
        for argument in case.arguments:
            grid = _grid(argument)
            for line, row in enumerate(grid):
                for number, value in enumerate(row):
                    self._write(self._row + line, column + number, value)
            first, last = (ironcalc.column_name_from_number(n) for n in (column, column + len(grid[0]) - 1))
            end = f":{last}{self._row + len(grid) - 1}" if len(grid) * len(grid[0]) > 1 else ""
            references.append(f"Arguments!{first}{self._row}{end}")
            column, height = column + len(grid[0]), max(height, len(grid))
        self.model.set_user_input(self.calls, self._row, 1, f"={case.function}({','.join(references)})")
        self._placed.append((case, self._row))
        self._row += max(height, len(_grid(case.expected))) + 1

    def _write(self, row: int, column: int, value: Any) -> None:
        if isinstance(value, float):
            self.model.update_cell_with_number(self.arguments, row, column, value)
        elif value in ("#N/A", "#REF!"):
            self.model.set_user_input(self.arguments, row, column, f"={value}")
        elif value is not None:
            self.model.update_cell_with_text(self.arguments, row, column, value)

    def results(self) -> list[tuple[Case, Any]]:
        """Every case placed, and what its call shows."""
        self.model.evaluate()
        return [(case, self._shown(row, case.expected)) for case, row in self._placed]

    def _shown(self, row: int, expected: Any) -> Any:
        if not isinstance(expected, tuple):
            return self._cell(row, 1)
        width = len(expected[0])
        return tuple(tuple(self._cell(row + line, 1 + part) for part in range(width)) for line in range(len(expected)))

    def _cell(self, row: int, column: int) -> Any:
        value = self.model.get_cell_value(self.calls, row, column)
        return "" if value is None else value


def _grid(value: Any) -> tuple[tuple[Any, ...], ...]:
    if not isinstance(value, tuple):
        return ((value,),)
    return value if isinstance(value[0], tuple) else (value,)


def _right(case: Case, got: Any) -> bool:
    return got == case.error if case.error else agrees(got, case.expected)


def _differs(case: Case) -> bool:
    """Whether a case falls under one of the named differences."""
    for value, argument in zip(case.arguments, FUNCTIONS[case.function].arguments, strict=False):
        for cell in (cell for row in _grid(value) for cell in row):
            text = cell.strip() if isinstance(cell, str) else ""
            if (
                cell == "#REF!"
                or (argument.name == "option" and text)
                or (argument.kind in ("number", "whole", "date") and text and not text.startswith("#"))
                or (argument.name == "craft_type" and normalise(text) in ("partially enclosed lifeboat",))
                or (argument.name == "craft_type" and re.match(r"rigid rescue|inflatable life", normalise(text)))
            ):
                return True
    return False


def results_in(file: Path) -> list[tuple[Case, Any]]:
    """What every call of the table shows in a workbook with the names."""
    book = Book(file)
    for case in cases():
        if case.function not in NOT_EXPRESSED:
            book.place(case)
    return book.results()


def wrong(results: list[tuple[Case, Any]]) -> list[str]:
    """The cases that show another value or error than they must, but for the named differences."""
    return [f"{case.name}: {got!r}" for case, got in results if not _differs(case) and not _right(case, got)]


def _is_error(got: Any) -> bool:
    first = got[0][0] if isinstance(got, tuple) else got
    return isinstance(first, str) and first.startswith("#")


@pytest.fixture(scope="module")
def file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The workbook, freshly built."""
    return build(tmp_path_factory.mktemp("lambda") / "new")


@pytest.fixture(scope="module")
def results(file: Path) -> list[tuple[Case, Any]]:
    """What every call of the table shows."""
    return results_in(file)


def test_every_function_is_a_name_or_named_as_left_out() -> None:
    assert sorted([*bodies(), *NOT_EXPRESSED]) == sorted(FUNCTIONS)


def test_every_case_gives_its_value_or_error(results: list[tuple[Case, Any]]) -> None:
    assert not wrong(results)
    right = Counter(case.function for case, got in results if _right(case, got))
    assert sum(right.values()) > 3000
    assert min(right[name] for name in bodies()) >= 5


def test_a_named_difference_is_an_error_or_the_same_value_never_another(results: list[tuple[Case, Any]]) -> None:
    for case, got in results:
        assert _right(case, got) or _is_error(got), f"{case.name}: {got!r}"


def test_a_ships_book_with_the_names_gives_the_same(results: list[tuple[Case, Any]], tmp_path: Path) -> None:
    path = tmp_path / "book.xlsx"
    path.write_bytes(new_book("Orrin Vale", more_names=lambda_names.write_names))
    assert results_in(path) == results


def test_a_changed_figure_makes_cases_fail(file: Path) -> None:
    book = Book(file)
    keys = next(column for column in columns() if column.name == "LSA_DATA_KEY")
    number = [column.name for column in columns()].index("LSA_DATA_PERCENT")
    line = keys.cells.index("lifeboat||thermal protective aid") + 2
    assert book.model.get_cell_value(DATA, line, number + 1) == 10.0
    book.model.update_cell_with_number(DATA, line, number + 1, 20.0)
    for case in cases():
        if case.function == "LSA_TPA" and not _differs(case):
            book.place(case)
    assert sum(not _right(case, got) for case, got in book.results()) > 100


def test_a_changed_formula_makes_cases_fail(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    changed = {name: formula.replace("ends-today<=", "ends-today<") for name, formula in formulas().items()}
    monkeypatch.setattr(lambda_names, "formulas", lambda: changed)
    book = Book(build(tmp_path))
    for case in cases():
        if case.function == "LSA_STATUS" and not _differs(case):
            book.place(case)
    found = [case for case, got in book.results() if not _right(case, got)]
    assert found
    assert all(case.expected == "due" for case in found)


def test_the_examples_on_the_sheet_give_what_they_must(file: Path) -> None:
    model = ironcalc.load_from_xlsx(str(file), "en", "UTC", "en")
    lines = [row for sheet, row, column in model.get_all_cells() if sheet == SHOWN and column == 3]
    shown = [[model.get_cell_value(SHOWN, row, column) for column in (1, 3)] for row in lines]
    model.add_sheet("Again")
    for row, (formula, _) in enumerate(shown[1:], start=1):
        model.set_user_input(2, row, 1, str(formula))
    model.evaluate()
    for row, (formula, expected) in enumerate(shown[1:], start=1):
        assert model.get_cell_value(2, row, 1) == expected, formula
    assert len(shown) > 25


def test_the_storage_form_has_the_prefixes_of_the_file_format() -> None:
    typed = '=LAMBDA(persons,[pack],LET(plain,IF(ISOMITTED(pack),"LET(x) [pack]",pack),FILTER(LSA_DATA_KEY,plain)))'
    assert stored(typed) == (
        "=_xlfn.LAMBDA(_xlpm.persons,_xlop.pack,_xlfn.LET(_xlpm.plain,IF(_xlfn.ISOMITTED(_xlpm.pack),"
        '"LET(x) [pack]",_xlpm.pack),_xlfn._xlws.FILTER(LSA_DATA_KEY,_xlpm.plain)))'
    )
    assert stored("=IF(number<0,#VALUE!,rest(day-1)&#NUM!)") == (
        "=IF(_xlpm.number<0,#VALUE!,_xlpm.rest(_xlpm.day-1)&#NUM!)"
    )


def test_the_file_holds_every_name_in_its_storage_form(file: Path) -> None:
    with zipfile.ZipFile(io.BytesIO(file.read_bytes())) as archive:
        text = archive.read("xl/workbook.xml").decode()
    for name in formulas():
        (held,) = re.findall(rf'<definedName name="{name}">(.*?)</definedName>', text)
        assert held.startswith("_xlfn.LAMBDA(")
        assert not re.search(r"(?<![.\w])(LAMBDA|LET|MAP|MAKEARRAY|REDUCE|TEXTSPLIT|HSTACK|ISOMITTED)\(", held)


@pytest.mark.parametrize("name", list(formulas()))
def test_a_formula_is_one_that_excel_can_hold(name: str) -> None:
    formula = formulas()[name]
    assert len(stored(formula)) <= LONGEST_FORMULA
    bare = re.sub(r'"(?:[^"]|"")*"', '""', formula)
    assert bare.count("(") == bare.count(")")
    parameters = set(re.findall(r"(?<![A-Za-z_.])[a-z][a-z_]*", bare))
    assert not parameters & {"r", "c"}  # these mean row and column


@pytest.mark.parametrize("name", sorted(bodies()))
def test_a_name_takes_the_arguments_of_its_function(name: str) -> None:
    declared = [f"[{one.name}]" if one.optional else one.name for one in FUNCTIONS[name].arguments]
    assert formulas()[name].startswith(f"=LAMBDA({','.join(declared)},LET(")


def test_the_data_stand_on_one_sheet_that_the_page_names(file: Path) -> None:
    model = ironcalc.load_from_xlsx(str(file), "en", "UTC", "en")
    assert [sheet["name"] for sheet in model.get_worksheets_properties()] == ["Functions", DATA_SHEET]
    notes = " ".join(str(model.get_cell_value(SHOWN, row, 1)) for row in range(1, 12))
    assert DATA_SHEET in notes
    assert "Not here: LSA_LINE_M" in notes


def test_the_same_bytes_come_out_twice(file: Path, tmp_path: Path) -> None:
    assert build(tmp_path).read_bytes() == file.read_bytes()


def test_the_template_for_excel_365_is_in_step() -> None:
    from workbook_tools.addins.__main__ import TEMPLATE, excel365_template

    assert TEMPLATE.read_bytes() == excel365_template(), "run: python -m workbook_tools.addins"
