"""The job that makes Calc know the cell functions in a document that has just been loaded.

Calc 7.4 resolves add-in names in a .xlsx only where they are written SERVICE.METHOD; Excel writes LSA_WATER_L, which
stays an unknown name (kept in lower case). Adding and removing a named range makes Calc compile all such formulas
afresh, and by then it looks for the names shown to the user as well. Nothing is done to a document that holds none.

A document may hold the functions as LAMBDA names too, for Excel 365. Calc knows no LAMBDA, and on loading it takes a
call for a call of the name, which gives Err:508; compiled afresh, it is a call of ours.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Any

import unohelper  # type: ignore[import-not-found]
from com.sun.star.lang import XServiceInfo  # type: ignore[import-not-found]
from com.sun.star.sheet.CellFlags import FORMULA  # type: ignore[import-not-found]
from com.sun.star.table import CellAddress  # type: ignore[import-not-found]
from com.sun.star.task import XJob  # type: ignore[import-not-found]

IMPLEMENTATION = "org.davitbook.calc.LoadJob"
# An unknown name stands in lower case, a known one in upper case.
PREFIXES = ("lsa_", "ffa_")
_CALL = re.compile(r"(?<![\w.])(?:lsa|ffa)_\w+ *\(")
_CALL_IN_EITHER_CASE = re.compile(_CALL.pattern, re.IGNORECASE)
_OURS = re.compile(r"(?:lsa|ffa)_\w+", re.IGNORECASE)
_LAMBDA = "_xlfn.lambda("
_TEMPORARY = "davitbook_temporary_name"


class LoadJob(unohelper.Base, XJob, XServiceInfo):  # type: ignore[misc]
    """Bound to OnLoadFinished, which is sent for documents opened by hand, over a socket and for conversion."""

    def __init__(self, context: object) -> None:
        pass

    def execute(self, arguments: Iterable[Any]) -> None:
        model = _model(arguments)
        if model is None or not model.supportsService("com.sun.star.sheet.SpreadsheetDocument"):
            return
        was_modified = model.isModified()
        undo = model.getUndoManager()
        undo.lock()  # the user did none of this, and must not find it in Edit - Undo
        try:
            found = _resolve(model)
        finally:
            undo.unlock()
        if found:
            _set_modified(model, was_modified)

    def getImplementationName(self) -> str:
        return IMPLEMENTATION

    def supportsService(self, name: str) -> bool:
        return name == IMPLEMENTATION

    def getSupportedServiceNames(self) -> tuple[str, ...]:
        return (IMPLEMENTATION,)


def _model(arguments: Iterable[Any]) -> Any:
    for argument in arguments:
        if argument.Name == "Environment":
            return next((each.Value for each in argument.Value if each.Name == "Model"), None)
    return None


def _resolve(model: Any) -> bool:
    """Have Calc look again for unresolved names; whether there were any."""
    shadowed = any(_is_lambda(name) and _OURS.fullmatch(name.getName()) for name in _named(model))
    call = _CALL_IN_EITHER_CASE if shadowed else _CALL
    names = [name for name in _named(model) if _calls(name.getContent(), call) and not _is_lambda(name)]
    for name in names:
        name.setContent(name.getContent())
    cells = shadowed or any(_has_unresolved_cell(sheet) for sheet in model.Sheets)
    if names or cells:
        _compile_afresh(model)
    formats = [_resolve_conditions(sheet, call) for sheet in model.Sheets]
    return bool(names) or cells or any(formats)


def _set_modified(model: Any, modified: bool) -> None:
    """A document counts as modified while one of its charts does, and a chart is drawn afresh with its cells."""
    if not modified:
        for sheet in model.Sheets:
            for index in range(sheet.Charts.getCount()):
                sheet.Charts.getByIndex(index).getEmbeddedObject().setModified(False)
    model.setModified(modified)


def _is_lambda(name: Any) -> bool:
    return bool(name.getContent().lower().startswith(_LAMBDA))


def _calls(formula: str, call: re.Pattern[str]) -> bool:
    """Whether a formula calls a function of ours, written as in the pattern; what stands in quotes is text."""
    return call.search("".join(formula.split('"')[::2])) is not None


def _named(model: Any) -> Iterator[Any]:
    for holder in (model, *model.Sheets):
        for index in range(holder.NamedRanges.getCount()):
            yield holder.NamedRanges.getByIndex(index)


def _has_unresolved_cell(sheet: Any) -> bool:
    formulas = sheet.queryContentCells(FORMULA)
    if not formulas.getCount():  # a search in no cells at all is an error
        return False
    search = formulas.createSearchDescriptor()
    search.SearchCaseSensitive = True
    for prefix in PREFIXES:
        search.setSearchString(prefix)
        found = formulas.findFirst(search)
        while found is not None:
            if _calls(found.getFormula(), _CALL):
                return True
            found = formulas.findNext(found, search)
    return False


def _compile_afresh(model: Any) -> None:
    names = model.NamedRanges
    names.addNewByName(_TEMPORARY, "0", CellAddress(), 0)
    names.removeByName(_TEMPORARY)


def _resolve_conditions(sheet: Any, call: re.Pattern[str]) -> bool:
    """Conditional formats are compiled once, when they are set: set those that hold a call to what they say."""
    found = False
    for condition in _conditions(sheet):
        for part in ("Formula1", "Formula2"):
            formula = condition.getPropertyValue(part)
            if _calls(formula, call):
                condition.setPropertyValue(part, formula)
                found = True
    return found


def _conditions(sheet: Any) -> Iterator[Any]:
    for conditional in sheet.ConditionalFormats.getConditionalFormats():
        for index in range(conditional.getCount()):
            entry = conditional.getByIndex(index)
            # colour scales, data bars and icon sets have no formula of this kind
            if entry.getPropertySetInfo().hasPropertyByName("Formula1"):
                yield entry


g_ImplementationHelper = unohelper.ImplementationHelper()
g_ImplementationHelper.addImplementation(LoadJob, IMPLEMENTATION, (IMPLEMENTATION,))
