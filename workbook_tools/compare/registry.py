"""The list of what looks wrong between two returns: each is one function with its code and explanation."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from workbook_tools.checks.registry import CODES as AUDIT_CODES
from workbook_tools.checks.registry import FAMILIES, Code

if TYPE_CHECKING:
    from workbook_tools.compare.step import Step
    from workbook_tools.findings import Finding

# The codes that only a comparison finds. `davitbook rules` explains them beside those of the audit.
CODES: dict[str, Code] = {}
SuspicionFunction = Callable[["Step"], Iterator["Finding"]]
SUSPICIONS: list[SuspicionFunction] = []


def describe(code: Code) -> None:
    """Enter a code in the list. Raises ValueError for a code or name that is taken, here or by the audit."""
    names = {other.name for other in (*CODES.values(), *AUDIT_CODES.values())}
    if code.code in CODES or code.code in AUDIT_CODES or code.name in names:
        raise ValueError(f"{code.code} {code.name} is taken")
    if code.code[:2] not in FAMILIES:
        raise ValueError(f"{code.code}: no such family")
    CODES[code.code] = code


def suspicion(code: Code) -> Callable[[SuspicionFunction], SuspicionFunction]:
    """Enter a function that looks at two returns of a ship, and its code, in the lists."""

    def enter(function: SuspicionFunction) -> SuspicionFunction:
        describe(code)
        SUSPICIONS.append(function)
        return function

    return enter
