"""Runs under the Python that has LibreOffice's `uno`: starts a headless office and does what it is told, line by line.

Usage: office_side.py PROFILE. Each line of input is a JSON list, a command's name and its arguments; each is answered
by one line, {"answer": ...} or {"error": ...}. The office ends with the input.
"""

import contextlib
import json
import os
import shutil
import signal
import subprocess
import sys
import time
import uuid
from pathlib import Path
from typing import Any

import uno  # type: ignore[import-not-found]
import unohelper  # type: ignore[import-not-found]
from com.sun.star.beans import PropertyValue  # type: ignore[import-not-found]
from com.sun.star.lang import DisposedException  # type: ignore[import-not-found]
from com.sun.star.task import XInteractionHandler  # type: ignore[import-not-found]
from com.sun.star.ucb import XCommandEnvironment  # type: ignore[import-not-found]
from com.sun.star.util import Date  # type: ignore[import-not-found]

Rows = list[list[Any]]

START_S = 60
FILTERS = {".xlsx": "Calc MS Excel 2007 XML", ".ods": "calc8"}


class Approve(unohelper.Base, XCommandEnvironment, XInteractionHandler):  # type: ignore[misc]
    """Stands in for the user of the Extension Manager, who says yes."""

    def getInteractionHandler(self) -> Any:
        return self

    def getProgressHandler(self) -> None:
        return None

    def handle(self, request: Any) -> None:
        approve = uno.getTypeByName("com.sun.star.task.XInteractionApprove")
        for continuation in request.getContinuations():
            if continuation.queryInterface(approve):
                continuation.select()
                return


def _property(name: str, value: Any) -> Any:
    return PropertyValue(Name=name, Value=value)


class Office:
    """A running office and the documents that are open in it, by number."""

    def __init__(self, profile: str) -> None:
        pipe = f"davitbook-{uuid.uuid4().hex}"
        self.process = subprocess.Popen(
            [
                shutil.which("soffice") or "soffice",
                f"-env:UserInstallation={Path(profile).resolve().as_uri()}",
                "--headless",
                "--norestore",
                "--nologo",
                f"--accept=pipe,name={pipe};urp",
            ],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            stdin=subprocess.DEVNULL,
            start_new_session=True,
        )
        self.context = self._connect(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        self.desktop = self._service("com.sun.star.frame.Desktop")
        self.documents: dict[int, Any] = {}
        self.opened = 0

    def _connect(self, url: str) -> Any:
        local = uno.getComponentContext()
        resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
        ends = time.monotonic() + START_S
        while True:
            try:
                return resolver.resolve(url)
            except Exception:
                if time.monotonic() > ends or self.process.poll() not in (None, 0):
                    self.kill()
                    raise
                time.sleep(0.1)

    def _service(self, name: str) -> Any:
        return self.context.ServiceManager.createInstanceWithContext(name, self.context)

    def kill(self) -> None:
        """End the office, and only the office that was started here."""
        if self.process.poll() is None:
            os.killpg(self.process.pid, signal.SIGKILL)

    def end(self) -> None:
        for document in self.documents.values():
            document.close(True)
        with contextlib.suppress(DisposedException):  # it is gone before it can answer
            self.desktop.terminate()
        try:
            self.process.wait(30)
        except subprocess.TimeoutExpired:
            self.kill()

    # The commands.

    def install(self, path: str) -> list[str]:
        """Install an extension as the Extension Manager does; its identifier and version."""
        manager = self.context.getValueByName("/singletons/com.sun.star.deployment.ExtensionManager")
        url = Path(path).resolve().as_uri()
        added = manager.addExtension(url, (), "user", manager.createAbortChannel(), Approve())
        return [added.getIdentifier().Value, added.getVersion(), added.getDisplayName()]

    def installed(self) -> list[str]:
        """Identifier and name of the extension that was installed by the user."""
        manager = self.context.getValueByName("/singletons/com.sun.star.deployment.ExtensionManager")
        (found,) = manager.getDeployedExtensions("user", manager.createAbortChannel(), Approve())
        return [found.getIdentifier().Value, found.getDisplayName()]

    def open(self, path: str | None, read_only: bool) -> int:
        """Open a document, or a new one where there is no path; its number."""
        url = Path(path).resolve().as_uri() if path else "private:factory/scalc"
        arguments = (_property("Hidden", True), _property("ReadOnly", read_only))
        document = self.desktop.loadComponentFromURL(url, "_blank", 0, arguments)
        self.opened += 1
        number = self.opened
        self.documents[number] = document
        return number

    def is_modified(self, number: int) -> bool:
        return bool(self.documents[number].isModified())

    def undo_steps(self, number: int) -> list[str]:
        return list(self.documents[number].getUndoManager().getAllUndoActionTitles())

    def fill(self, number: int, sheet: str, corner: str, rows: Rows) -> None:
        """Write rows of numbers, texts and null (a blank cell) from a cell on."""
        cells = self._cells(number, sheet, corner, rows)
        for row, values in enumerate(rows):
            for column, value in enumerate(values):
                cell = cells.getCellByPosition(column, row)
                if isinstance(value, str):
                    cell.String = value
                elif value is not None:
                    cell.Value = value

    def put(self, number: int, sheet: str, corner: str, rows: Rows) -> None:
        """Write rows of numbers, texts and '' (a cell made empty) from a cell on, all at once."""
        self._cells(number, sheet, corner, rows).setDataArray(tuple(map(tuple, rows)))

    def insert_rows(self, number: int, sheet: str, row: int, count: int) -> None:
        """Insert empty rows above a row, counted from 0."""
        self._sheet(number, sheet).Rows.insertByIndex(row, count)

    def delete_rows(self, number: int, sheet: str, row: int, count: int) -> None:
        """Delete rows from one on, counted from 0."""
        self._sheet(number, sheet).Rows.removeByIndex(row, count)

    def formulas(self, number: int, sheet: str, corner: str, rows: Rows) -> None:
        """Write rows of formulas as the user types them; null leaves a cell alone."""
        cells = self._cells(number, sheet, corner, rows)
        for row, values in enumerate(rows):
            for column, value in enumerate(values):
                if value is not None:
                    cells.getCellByPosition(column, row).Formula = value

    def array_formula(self, number: int, sheet: str, place: str, formula: str) -> None:
        self._sheet(number, sheet).getCellRangeByName(place).setArrayFormula(formula)

    def read(self, number: int, sheet: str, place: str) -> Rows:
        """What the cells hold: numbers, texts, and errors as {"error": what is shown}."""
        cells = self._sheet(number, sheet).getCellRangeByName(place)
        rows = [list(row) for row in cells.getDataArray()]
        for row, values in enumerate(rows):
            for column, value in enumerate(values):
                if value is None:
                    values[column] = {"error": cells.getCellByPosition(column, row).String}
        return rows

    def null_date(self, number: int, year: int, month: int, day: int) -> None:
        self.documents[number].NullDate = Date(Year=year, Month=month, Day=day)

    def conditions(self, number: int, sheet: str) -> list[str]:
        """The first formula of every conditional format of a sheet that has formulas."""
        formats = self._sheet(number, sheet).ConditionalFormats.getConditionalFormats()
        entries = [each.getByIndex(index) for each in formats for index in range(each.getCount())]
        return [each.Formula1 for each in entries if each.getPropertySetInfo().hasPropertyByName("Formula1")]

    def names(self, number: int) -> list[str]:
        """The named ranges, of the document and of its sheets."""
        document = self.documents[number]
        holders = [document, *document.Sheets]
        return [name for holder in holders for name in holder.NamedRanges.getElementNames()]

    def save(self, number: int, path: str) -> None:
        target = Path(path)
        arguments = (_property("FilterName", FILTERS[target.suffix]),)
        self.documents[number].storeToURL(target.resolve().as_uri(), arguments)

    def recalculate(self, number: int, times: int) -> list[float]:
        """Seconds of each of several hard recalculations."""
        seconds = []
        for _ in range(times):
            start = time.perf_counter()
            self.documents[number].calculateAll()
            seconds.append(time.perf_counter() - start)
        return seconds

    def close(self, number: int) -> None:
        self.documents.pop(number).close(True)

    def described(self) -> dict[str, list[Any]]:
        """What the Function Wizard tells, by function name: help, and the arguments' names and texts."""
        functions = self._service("com.sun.star.sheet.FunctionDescriptions")
        found: dict[str, list[Any]] = {}
        for index in range(functions.getCount()):
            told = {each.Name: each.Value for each in functions.getByIndex(index)}
            arguments = [[each.Name, each.Description] for each in told["Arguments"] or ()]
            found[told["Name"]] = [told["Description"], arguments]
        return found

    def _sheet(self, number: int, sheet: str) -> Any:
        return self.documents[number].Sheets.getByName(sheet)

    def _cells(self, number: int, sheet: str, corner: str, rows: Rows) -> Any:
        start = self._sheet(number, sheet).getCellRangeByName(corner).getRangeAddress()
        right, bottom = start.StartColumn + len(rows[0]) - 1, start.StartRow + len(rows) - 1
        return self._sheet(number, sheet).getCellRangeByPosition(start.StartColumn, start.StartRow, right, bottom)


def main() -> None:
    office = Office(sys.argv[1])
    try:
        for line in sys.stdin:
            command, *arguments = json.loads(line)
            try:
                result = {"answer": getattr(office, command)(*arguments)}
            except Exception as error:
                result = {"error": f"{command}: {type(error).__name__}: {error}"}
            print(json.dumps(result), flush=True)
    finally:
        office.end()


if __name__ == "__main__":
    main()
