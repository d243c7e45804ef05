"""The cell functions as Calc add-ins, inside LibreOffice's own Python: one UNO component for each name prefix.

Names, help and argument texts come from the registry; the interface that holds the methods was generated from it when
the extension was built.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Sequence
from datetime import date
from functools import lru_cache
from typing import Any

import uno  # type: ignore[import-not-found]
import unohelper  # type: ignore[import-not-found]
from com.sun.star.lang import Locale, XLocalizable, XServiceInfo, XServiceName  # type: ignore[import-not-found]
from com.sun.star.sheet import (  # type: ignore[import-not-found]
    LocalizedName,
    ResultEvent,
    XAddIn,
    XCompatibilityNames,
    XVolatileResult,
)

if sys.version_info < (3, 11):  # noqa: UP036 - LibreOffice brings a Python of its own, which may be older
    raise RuntimeError("davitbook needs a LibreOffice whose Python is 3.11 or later; this one is " + sys.version[:6])

import davitbook_bridge as bridge  # type: ignore[import-not-found]

from workbook_tools.cells import FUNCTIONS
from workbook_tools.cells.registry import Function

ORIGIN: int = bridge.SERIAL_ORIGIN.toordinal()
_ADD_IN = "com.sun.star.sheet.AddIn"


class _Ready(unohelper.Base, XVolatileResult):  # type: ignore[misc]
    """A table on its way to Calc. Python cannot say the type of what a method returns, and Calc takes no table without;
    in an event the type can be said, so the table is sent as a result that is ready at once and never changes."""

    def __init__(self, answer: bridge.Answer) -> None:
        self._event = ResultEvent()
        self._event.Value = uno.Any(answer.type, answer.rows)

    def addResultListener(self, listener: Any) -> None:
        listener.modified(self._event)

    def removeResultListener(self, listener: Any) -> None:
        pass


# Calc keeps a listener for each object that it was given until the document is closed: give it the same one again.
_ready = lru_cache(maxsize=1024)(_Ready)


def _handed_over(value: object) -> object:
    return _ready(value) if isinstance(value, bridge.Answer) else value


def _date_shift(caller: Any) -> int:
    """Days from a date of the calling document to the 1900 serial number: 0, or 1462 where it counts from 1904."""
    if caller is None:  # no document, as where a formula is tried out
        return 0
    null = caller.getPropertyValue("NullDate")
    return date(null.Year, null.Month, null.Day).toordinal() - ORIGIN


def _method(function: Function) -> Callable[..., object]:
    if bridge.takes_dates(function):

        def dated(self: object, *given: Any) -> object:
            return _handed_over(bridge.call(function, given[:-1], _date_shift(given[-1])))

        return dated

    def plain(self: object, *given: object) -> object:
        return _handed_over(bridge.call(function, given))

    return plain


class _Texts(XAddIn, XCompatibilityNames, XServiceName, XServiceInfo, XLocalizable):  # type: ignore[misc]
    """What Calc asks an add-in besides its functions. Texts are in English whatever the language of the program."""

    implementation = ""
    service = ""
    functions: dict[str, Function]  # by the name of the method

    def __init__(self, context: object) -> None:
        self._locale = Locale("en", "US", "")

    def getProgrammaticFuntionName(self, shown: str) -> str:  # spelt so in the interface
        return shown.upper().removeprefix(self.service + "_")

    def getDisplayFunctionName(self, method: str) -> str:
        return self.functions[method].name

    def getFunctionDescription(self, method: str) -> str:
        return self.functions[method].help

    def getDisplayArgumentName(self, method: str, index: int) -> str:
        arguments = self.functions[method].arguments
        return arguments[index].name if index < len(arguments) else ""

    def getArgumentDescription(self, method: str, index: int) -> str:
        arguments = self.functions[method].arguments
        return arguments[index].help if index < len(arguments) else ""

    def getProgrammaticCategoryName(self, method: str) -> str:
        return "Add-In"

    def getDisplayCategoryName(self, method: str) -> str:
        return self.functions[method].category

    def getCompatibilityNames(self, method: str) -> Sequence[LocalizedName]:
        return (LocalizedName(Locale("en", "US", ""), self.functions[method].name),)

    def getServiceName(self) -> str:
        return self.service

    def getImplementationName(self) -> str:
        return self.implementation

    def supportsService(self, name: str) -> bool:
        return name in self.getSupportedServiceNames()

    def getSupportedServiceNames(self) -> Sequence[str]:
        return (_ADD_IN, self.service)

    def setLocale(self, locale: object) -> None:
        self._locale = locale

    def getLocale(self) -> object:
        return self._locale


def _add_in(prefix: str, functions: dict[str, Function]) -> type:
    """The component of one prefix: 'LSA' offers the methods WATER_L, TPA and so on."""
    interface = uno.getClass(f"org.davitbook.calc.X{prefix.capitalize()}")
    members: dict[str, object] = {name: _method(function) for name, function in functions.items()}
    members |= {"implementation": f"org.davitbook.calc.{prefix}", "service": prefix, "functions": functions}
    return type(prefix, (unohelper.Base, _Texts, interface), members)


def _by_prefix() -> dict[str, dict[str, Function]]:
    groups: dict[str, dict[str, Function]] = {}
    for name, function in FUNCTIONS.items():
        prefix, _, method = name.partition("_")
        groups.setdefault(prefix, {})[method] = function
    return groups


g_ImplementationHelper = unohelper.ImplementationHelper()
for _prefix, _functions in _by_prefix().items():
    _component = _add_in(_prefix, _functions)
    g_ImplementationHelper.addImplementation(_component, f"org.davitbook.calc.{_prefix}", (_ADD_IN, _prefix))
