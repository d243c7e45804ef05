"""Stand-ins for the COM modules of Windows: xlwings' own registration, VBA generation and call path run anywhere.

xlwings binds its function decorators to Excel only where pywin32 is there. Here it is loaded anew over modules that
answer what it asks while loading, with a workbook that keeps what is imported into it and ranges that hold values.
Nothing of Excel runs.
"""

from __future__ import annotations

import asyncio  # noqa: F401  xlwings loads it; loaded here, while the platform has its true name
import atexit
import ctypes
import subprocess  # noqa: F401  as asyncio
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from importlib import import_module
from pathlib import Path
from types import ModuleType, SimpleNamespace
from typing import Any

RANGE_ID = "{00020846-0000-0000-C000-000000000046}"
MISSING = -2147352572  # what Excel hands over for an argument that is left out
WINDOWS_MODULES = (
    "pywintypes",
    "pythoncom",
    "win32api",
    "win32con",
    "win32event",
    "win32gui",
    "win32process",
    "win32timezone",
    "win32com",
    "win32com.client",
    "win32com.server",
    "win32com.server.dispatcher",
    "win32com.server.policy",
    "win32com.server.util",
)

# What xlwings loads if it can, and does not need: left out, so that nothing else is loaded under a false platform.
LEFT_OUT = ("numpy", "pandas", "polars", "matplotlib", "matplotlib.pyplot", "PIL", "plotly", "plotly.graph_objects")


class ComError(Exception):
    """The error of a COM call."""


class _Anything:
    """Answers every attribute and call with itself: what xlwings touches while loading, and never uses here."""

    def __getattr__(self, name: str) -> Any:
        if name.startswith("__"):
            raise AttributeError(name)
        return self

    def __call__(self, *arguments: Any, **named: Any) -> Any:
        return self


class ExcelRange:
    """A range of a sheet as Excel's COM object: a value, or a tuple of row tuples."""

    def __init__(self, value: Any, address: str = "$A$1") -> None:
        self.Value = value
        self.Address = address
        rows = value if isinstance(value, tuple) else ((value,),)
        self.Rows, self.Columns = SimpleNamespace(Count=len(rows)), SimpleNamespace(Count=len(rows[0]))
        self.Count = len(rows) * len(rows[0])
        self.Row = self.Column = 1
        application = _Anything()
        self.Worksheet = SimpleNamespace(Parent=SimpleNamespace(Application=application), Application=application)
        attributes = SimpleNamespace(iid=RANGE_ID)
        self._oleobj_ = SimpleNamespace(GetTypeInfo=lambda: SimpleNamespace(GetTypeAttr=lambda: attributes))

    def GetAddress(self, *arguments: Any) -> str:
        """The address, whatever style is asked."""
        return self.Address


class ExcelWorkbook:
    """A workbook as Excel's COM object: keeps the VBA module imported into it and the texts set for the wizard."""

    def __init__(self, name: str = "davitbook.xlam") -> None:
        self.Name = name
        self.module = ""
        self.options: dict[str, dict[str, Any]] = {}
        self.Application = SimpleNamespace(Version="16.0", MacroOptions=self._macro_options)
        self.VBProject = SimpleNamespace(VBComponents=_Components(self))
        self.Worksheets = self.Sheets = _NoSheets()

    def _macro_options(self, macro: str, **options: Any) -> None:
        self.options[macro.rpartition("!")[2]] = options


class _NoSheets:
    Count = 0

    def __call__(self, index: int) -> Any:
        raise ComError(f"no sheet {index}")

    def __iter__(self) -> Iterator[Any]:
        return iter(())


class _Components:
    def __init__(self, workbook: ExcelWorkbook) -> None:
        self._workbook = workbook

    def __call__(self, name: str) -> Any:
        raise ComError(f"no module {name}")

    def Remove(self, component: Any) -> None:
        """Nothing is there to remove."""

    def Import(self, file: str) -> None:
        """Keep the text of a module."""
        self._workbook.module = Path(file).read_text(encoding="utf-8")


def _windows_modules() -> dict[str, ModuleType]:
    modules = {name: ModuleType(name) for name in WINDOWS_MODULES}
    anything = _Anything()
    for name, module in modules.items():
        module.__dict__["__getattr__"] = lambda attribute, own=anything: _attribute(attribute, own)
        module.__file__ = None
        parent, _, child = name.rpartition(".")
        if parent:
            setattr(modules[parent], child, module)
            modules[parent].__path__ = []
    types = modules["pywintypes"].__dict__
    types.update(com_error=ComError, error=ComError, TimeType=datetime, IID=str)
    client = modules["win32com.client"].__dict__
    client.update({name: type(name, (), {}) for name in ("CDispatch", "CoClassBaseClass", "DispatchBaseClass")})
    client.update(Dispatch=lambda thing, *arguments, **named: thing, DispatchEx=anything, gencache=anything)
    modules["pythoncom"].__dict__.update(TypeIIDs={}, IID_IDispatch="IDispatch", CoInitialize=lambda: None)
    modules["pythoncom"].__dict__["TypeIIDs"]["IDispatch"] = type("PyIDispatch", (), {})
    modules["win32process"].__dict__["GetWindowThreadProcessId"] = lambda window: (0, 0)
    modules["win32com.server.util"].__dict__["unwrap"] = _not_ours
    modules["win32com.server.policy"].__dict__["DefaultPolicy"] = type("DefaultPolicy", (), {})
    return modules


def _attribute(name: str, anything: _Anything) -> Any:
    if name.startswith("__"):
        raise AttributeError(name)
    return anything


def _not_ours(value: Any) -> Any:
    raise ComError("no object of the server")


@contextmanager
def xlwings_over_standins() -> Iterator[Any]:
    """xlwings, loaded as on Windows over the stand-ins; the interpreter is as before when the block ends.

    Raises ImportError where xlwings is not installed.
    """
    kept = {name: module for name, module in sys.modules.items() if _is_ours(name)}
    platform, attributes = sys.platform, {}
    for name in kept:
        del sys.modules[name]
    for name in ("windll", "oledll"):
        attributes[name] = getattr(ctypes, name, None)
        setattr(ctypes, name, _Anything())
    attributes["PyDLL"] = ctypes.PyDLL
    setattr(ctypes, "PyDLL", lambda *arguments: _Anything())  # noqa: B010
    sys.modules.update(_windows_modules())
    sys.modules.update(dict.fromkeys(LEFT_OUT))  # type: ignore[arg-type]
    try:
        sys.platform = "win32"
        try:
            xlwings = import_module("xlwings")
        finally:
            sys.platform = platform
        yield xlwings
    finally:
        for name in [name for name in sys.modules if _is_ours(name)]:
            if name == "xlwings._xlwindows":
                atexit.unregister(sys.modules[name].cleanup)
            del sys.modules[name]
        sys.modules.update(kept)
        for name, value in attributes.items():
            if value is None:
                delattr(ctypes, name)
            else:
                setattr(ctypes, name, value)


def _is_ours(name: str) -> bool:
    return (
        name in WINDOWS_MODULES
        or name in LEFT_OUT
        or name.partition(".")[0] == "xlwings"
        or name == "workbook_tools.addins.excel.udfs"
    )
