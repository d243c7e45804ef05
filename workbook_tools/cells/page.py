"""The reference page docs/functions.md, made from the declarations: python -m workbook_tools.cells writes it."""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.cells import EDITION, FUNCTIONS
from workbook_tools.cells.option import known_facts
from workbook_tools.cells.registry import Argument, Function
from workbook_tools.cells.spread import TAKEN_WHOLE
from workbook_tools.core.caution import CAUTION

_INTRODUCTION = f"""# Cell functions

Made from the declarations in `workbook_tools/cells`; do not edit: `python -m workbook_tools.cells` writes it anew.

{CAUTION}

One answer inside any cell, the same in Excel, in LibreOffice Calc and in Python
(`from workbook_tools.cells import LSA_REQUIRED`).

| Where | How to get them | How they were tried |
|---|---|---|
| Python | `from workbook_tools.cells import LSA_REQUIRED` | the table of cases in `tests/cells` |
| LibreOffice Calc | `davitbook addin calc --out DIR` | the same table in a real Calc ([more](calc.md)) |
| Excel with Python | `davitbook addin excel --out DIR` | the same table through xlwings' own call path over stand-ins \
for the COM modules of Windows, not inside Excel |
| Excel 365 without macros | `davitbook addin lambda --out DIR` | the same table, evaluated by ironcalc from the file; \
not inside Excel. Its first sheet lists what is different |

![Each function once on a sheet printed by LibreOffice Calc, with the value expected beside it](\
images/calc-functions.png)

The sheet *Functions* of `example_books/saltorra.xlsx` has each function once as well, as Excel stores it.

![The Function Wizard of LibreOffice Calc with LSA_REQUIRED: what it answers, its arguments and their help](\
images/calc-wizard.png)

- **Ranges.** Where one value is asked, a range may stand: the answer then has the shape of the range (it spills in
  Excel 365; elsewhere enter it as an array formula). A range of one row or column serves every row or column of the
  others. A whole column is cut at its last filled row.
- **Blank in, blank out.** A blank argument gives a blank result.
- **Errors.** `#VALUE!`: an argument that cannot be read without guessing. `#N/A`: an item, a craft or a rule that is
  not known, or an answer that hangs on a fact not given (LSA_CONDITION tells which). `#NUM!`: outside the calendar or
  beyond any number a ship has. An error in an argument passes through.
- **Days** are dates, or text that can be read in one way only: 2026-11-25, 25 Nov 2026, 25/11/2026. 03/04/2026 is
  refused, and so is a bare year. Days before 1 March 1900 are refused: the programs number them differently. A book in
  the 1904 date system must be set to the 1900 system first.
- **Numbers** may be text that is plainly a number; 1,500 as text is refused.
- **The edition.** No function looks at today's date. Without `on=` in the option the rules are those in force on
  {EDITION.isoformat()}.
- **option** is text such as `on=2026-11-25; construction=inflated; rules=us`. An unknown key or value is `#VALUE!`.

## The functions inside a ship's book

`davitbook new --lambda` gives a new book the LAMBDA names too, with the figures that they look up on its hidden sheet
*Lists*: Excel 365 then answers in that book without macros and without Python. The audit reads the book as any other.
It is an option and not the rule, because LibreOffice knows no LAMBDA:

- Without our extension, Calc shows Err:508 in every cell of such a book that uses one of the names. With the extension
  it gives the extension's values, for what is typed and for what Excel saved.
- Saved as .xlsx by Calc 7.4, the names keep every word but lose the capitals of what Calc does not know
  (`_xlfn.lambda`). Evaluated by ironcalc they still give the same values; whether Excel takes them was not tried. A
  book that goes back and forth between the two programs is better made without the names.
- In Excel a name of the book goes before an add-in's function of the same name (from memory; not tried inside Excel).
  With the xlwings add-in loaded, a cell of such a book is thus answered by the name: by the table of cases with the
  same value, or with an error where the first sheet of the functions workbook says so (an option gives `#N/A`). In a
  book without the names the add-in answers.

## The options and the functions

"""


def page() -> str:
    """The whole page."""
    return (
        _INTRODUCTION
        + "\n".join(_option_lines())
        + "\n\n"
        + "\n".join(_overview())
        + "".join(_section(function) for function in FUNCTIONS.values())
        + "\n".join(_exceptions())
        + "\n"
    )


def _option_lines() -> Iterator[str]:
    from workbook_tools.rules import rule_set_names
    from workbook_tools.rules.model import FACTS

    yield "| Key | Values |"
    yield "|---|---|"
    yield "| on | the day asked: 2026-11-25 |"
    yield "| keel | the day the keel was laid |"
    yield f"| rules | {', '.join(f'{key} ({name})' for key, name in rule_set_names().items())} |"
    for fact in known_facts():
        yield f"| {fact} | {', '.join(FACTS[fact])} |"


def _overview() -> Iterator[str]:
    yield "| Function | Answers |"
    yield "|---|---|"
    for function in FUNCTIONS.values():
        yield f"| [{function.name}](#{function.name.lower()}) | {function.help} |"
    yield ""


def signature(function: Function) -> str:
    """The function as it is typed: LSA_TPA(persons), optional arguments in brackets."""
    names = (f"[{argument.name}]" if argument.optional else argument.name for argument in function.arguments)
    return f"{function.name}({', '.join(names)})"


def _section(function: Function) -> str:
    lines = [
        "",
        f"## {function.name}",
        "",
        f"`{signature(function)}` gives {_result(function)}.",
        "",
        function.help,
        "",
    ]
    lines += [f"- `{argument.name}`{_kind(argument)}: {argument.help}" for argument in function.arguments]
    if function.examples:
        lines += ["", "| Formula | Value |", "|---|---|"]
        lines += [f"| `{formula}` | {_shown(value)} |" for formula, value in function.examples]
    lines += ["", f"Source: {function.source}.", ""]
    return "\n".join(lines)


def _result(function: Function) -> str:
    return {"number": "a number", "text": "a text", "date": "a date (a serial number)", "table": "a table"}[
        function.result
    ]


def _kind(argument: Argument) -> str:
    words = ["optional"] if argument.optional else []
    if argument.kind in TAKEN_WHOLE:
        words.append("range")
    return f" ({', '.join(words)})" if words else ""


def _shown(value: object) -> str:
    if isinstance(value, float):
        return f"{value:g}" if abs(value) < 1e5 else f"{value:.0f}"
    return str(value) or "(blank)"


def exceptions() -> list[tuple[str, str]]:
    """(function, argument) where a host that hands a blank cell over as 0 gets the answer for 0."""
    return [
        (function.name, argument.name)
        for function in FUNCTIONS.values()
        for argument in function.arguments
        if argument.kind in ("number", "whole") and not argument.zero_is_blank
    ]


def _exceptions() -> Iterator[str]:
    yield ""
    yield "## A blank cell that arrives as 0"
    yield ""
    yield "LibreOffice hands a single blank cell over as 0. Where 0 is a value of its own, a reference to a blank cell"
    yield "then gives the answer for 0 (leave the argument out instead, or give a range):"
    yield ""
    for function, argument in exceptions():
        yield f"- {function}, `{argument}`"
