"""The interface of the add-in as IDL text, from the registry of cell functions. LibreOffice reads the text as it is."""

from __future__ import annotations

from collections.abc import Mapping

from workbook_tools.addins.calc.office import bridge
from workbook_tools.cells.registry import Function


def interface_name(prefix: str) -> str:
    """The interface that holds the functions of one name prefix: XLsa for LSA."""
    return f"X{prefix.capitalize()}"


def idl(functions: Mapping[str, Function]) -> str:
    """The module org.davitbook.calc with one interface for each name prefix.

    Every argument is `any`: only so may it be left out, and hold a value as well as a range. Every result is `any`, for
    a text in a table of mixed type equals no other text in Calc (see office/bridge.py). The document comes last
    where dates matter; Calc fills it in and does not show it to the user.
    """
    methods: dict[str, list[str]] = {}
    for name, function in functions.items():
        prefix, _, method = name.partition("_")
        methods.setdefault(prefix, []).append(f"    any {method}({_parameters(function)});")
    interfaces = "\n".join(
        f"interface {interface_name(prefix)} {{\n" + "\n".join(lines) + "\n};" for prefix, lines in methods.items()
    )
    return f"module org {{ module davitbook {{ module calc {{\n{interfaces}\n}}; }}; }};\n"


def _parameters(function: Function) -> str:
    # Numbered, because a name such as "option" or "interval" could be a word of the language one day.
    parts = [f"[in] any argument{number}" for number in range(1, len(function.arguments) + 1)]
    if bridge.takes_dates(function):
        parts.append("[in] com::sun::star::beans::XPropertySet document")
    return ", ".join(parts)
