"""How a cell function is declared: once, with the texts from which bindings, wizard, page and tests are made."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps

from workbook_tools.cells.registry import FUNCTIONS, Argument, Function, Table, Value
from workbook_tools.cells.spread import Given, run

Call = Callable[..., Value | Table]


def cell_function(
    help: str,
    arguments: tuple[Argument, ...],
    result: str,
    examples: tuple[tuple[str, Value], ...],
    source: str,
    category: str = "Life-saving appliances",
) -> Callable[[Call], Call]:
    """Declare the function below it as a cell function, under its own name.

    What Python code imports is a plain callable that takes scalars and ranges and raises CellError.
    """

    def declare(call: Call) -> Call:
        name = call.__name__
        function = Function(name, help, arguments, result, call, examples, source, category)
        if name in FUNCTIONS:
            raise ValueError(f"{name} is declared twice")
        FUNCTIONS[name] = function

        @wraps(call)
        def plain(*given: Given, **named: Given) -> Value | Table:
            return run(function, _in_order(function, given, named) if named else given)

        return plain

    return declare


def _in_order(function: Function, given: tuple[Given, ...], named: dict[str, Given]) -> tuple[Given, ...]:
    names = [argument.name for argument in function.arguments]
    for name in named:
        if name not in names or names.index(name) < len(given):
            raise TypeError(f"{function.name}() got an unexpected argument {name!r}")
    rest = [named.get(name) for name in names[len(given) :]]
    return (*given, *rest)
