"""The VBA module and the texts of the wizard, as xlwings' own generator writes them."""

from __future__ import annotations

import re

import pytest

from workbook_tools.addins.excel.binding import VBA_NAMES
from workbook_tools.addins.excel.standins import ExcelWorkbook
from workbook_tools.addins.excel.vba import LONGEST_LINE, MODULE, generated, module_text
from workbook_tools.cells import FUNCTIONS
from workbook_tools.cells.registry import Function

# Words that VBA keeps for itself, as far as they might name an argument.
VBA_WORDS = set(
    re.findall(
        r"\w+",
        "any as boolean byref byte byval call case const date declare dim do double each else end enum error event "
        "exit false for friend function get global goto if implements in input integer is let lib like line lock "
        "long loop me mod name new next not nothing null object on open option optional or paramarray preserve "
        "print private property public put redim rem resume return select set single static step stop string sub "
        "tab then to true type until variant wend while with write xor",
    )
)
EVERY = pytest.mark.parametrize("function", FUNCTIONS.values(), ids=list(FUNCTIONS))


@pytest.fixture(scope="module")
def workbook() -> ExcelWorkbook:
    """A stand-in workbook after xlwings' import."""
    return generated()


@pytest.fixture(scope="module")
def lines() -> list[str]:
    """The lines of the module to import."""
    text = module_text()
    assert text.count("\n") == text.count("\r\n")
    assert text.isascii()
    return text.split("\r\n")


def _block(lines: list[str], name: str) -> list[str]:
    start = next(number for number, line in enumerate(lines) if line.startswith(f"Function {name}("))
    return lines[start : lines.index("End Function", start) + 1]


@EVERY
def test_a_function_has_its_arguments_the_optional_ones_marked(lines: list[str], function: Function) -> None:
    given = _block(lines, function.name)[0].removeprefix(f"Function {function.name}(").removesuffix(")").split(", ")
    wanted = [
        ("Optional " if argument.optional else "") + VBA_NAMES.get(argument.name, argument.name)
        for argument in function.arguments
    ]
    assert given == wanted


@EVERY
def test_no_argument_is_a_word_of_the_language(lines: list[str], function: Function) -> None:
    names = re.findall(r"\w+", _block(lines, function.name)[0])[2:]
    assert not {name.casefold() for name in names if name != "Optional"} & VBA_WORDS


@EVERY
def test_a_call_goes_to_our_module_and_comes_back_with_real_errors(lines: list[str], function: Function) -> None:
    calls = [line.strip() for line in _block(lines, function.name) if "CallUDF" in line]
    start = f'{function.name} = Shown(XLPy.CallUDF("{MODULE}", "{function.name}", Array('
    assert len(calls) == 2
    assert all(call.startswith(start) and call.endswith("))") for call in calls)


@EVERY
def test_a_function_is_neither_volatile_nor_silent_in_the_wizard(lines: list[str], function: Function) -> None:
    block = "\n".join(_block(lines, function.name))
    assert "Volatile" not in block
    assert "CommandBars" not in block  # the line that shows 0 when a book is opened (xlwings issue 1574)


@EVERY
def test_the_wizard_gets_the_help_of_function_and_arguments(workbook: ExcelWorkbook, function: Function) -> None:
    options = workbook.options[function.name]
    assert options["Description"] == function.help
    assert options["Category"] == function.category
    assert options["ArgumentDescriptions"] == [argument.help for argument in function.arguments]


@EVERY
def test_the_help_also_stands_in_the_module(lines: list[str], function: Function) -> None:
    assert _block(lines, function.name)[1] == f'Attribute {function.name}.VB_Description = "{function.help}"'
    assert f'    Application.MacroOptions Macro:="{function.name}", _' in lines


def test_no_line_is_longer_and_no_statement_more_split_than_vba_allows(lines: list[str]) -> None:
    assert max(map(len, lines)) <= LONGEST_LINE
    runs = re.findall(r"(?:[^\n]* _\n)+", "\n".join(lines))
    assert max(run.count("\n") for run in runs) <= 24


def test_every_block_is_closed(lines: list[str]) -> None:
    text = "\n".join(lines)
    for opened, closed in (("Function", "End Function"), ("Sub", "End Sub"), ("Select Case", "End Select")):
        starts = re.findall(rf"^\s*(?:Private |Public )?{opened} ", text, re.MULTILINE)
        assert len(starts) == len(re.findall(rf"^\s*{closed}$", text, re.MULTILINE))


def test_all_three_errors_become_real(lines: list[str]) -> None:
    text = "\n".join(lines)
    for shown, real in (("#N/A", "xlErrNA"), ("#VALUE!", "xlErrValue"), ("#NUM!", "xlErrNum")):
        assert f'Case "{shown}": RealError = CVErr({real})' in text
