"""Calls of the neutral layer for the tests: the value, or the error as a value."""

from __future__ import annotations

from typing import Any

from workbook_tools.cells import CellError, evaluate


def answer(function: str, *arguments: Any) -> Any:
    """The value of a call; raises CellError."""
    return evaluate(function, arguments)


def outcome(function: str, *arguments: Any) -> tuple[Any, str]:
    """(value, ''), or (None, the kind of the error). An error that hides a fault of the program fails the test."""
    fault = None
    try:
        return evaluate(function, arguments), ""
    except CellError as error:
        kind, fault = error.kind, error.__cause__
    if fault is not None:
        raise AssertionError(f"{function}{arguments!r}") from fault
    return None, kind
