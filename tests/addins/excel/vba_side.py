"""Runs under the Python that has LibreOffice's `uno`: runs a Basic function of a module in VBA mode, prints its answer.

Usage: vba_side.py PROFILE MODULE_FILE FUNCTION.
"""

import contextlib
import subprocess
import sys
import time
import uuid
from pathlib import Path
from typing import Any

import uno  # type: ignore[import-not-found]
from com.sun.star.beans import PropertyValue  # type: ignore[import-not-found]

START_S = 60


def connected(pipe: str) -> Any:
    """The office's context, once it answers."""
    resolver = uno.getComponentContext().ServiceManager.createInstance("com.sun.star.bridge.UnoUrlResolver")
    ends = time.monotonic() + START_S
    while True:
        try:
            return resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
        except Exception:
            if time.monotonic() > ends:
                raise
            time.sleep(0.2)


def answer(context: Any, text: str, function: str) -> Any:
    """What a function of a module gives, run in a document of its own."""
    desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
    hidden, macros = PropertyValue(Name="Hidden", Value=True), PropertyValue(Name="MacroExecutionMode", Value=4)
    document = desktop.loadComponentFromURL("private:factory/scalc", "_blank", 0, (hidden, macros))
    try:
        libraries = document.BasicLibraries
        if not libraries.hasByName("Standard"):
            libraries.createLibrary("Standard")
        libraries.getByName("Standard").insertByName("Module", text)
        address = f"vnd.sun.star.script:Standard.Module.{function}?language=Basic&location=document"
        return document.getScriptProvider().getScript(address).invoke((), (), ())[0]
    finally:
        document.close(True)


def main(profile: str, module: str, function: str) -> None:
    """Start an office of our own, ask, and end it."""
    pipe = f"davitbook-{uuid.uuid4().hex}"
    office = subprocess.Popen(
        [
            "soffice",
            f"-env:UserInstallation={Path(profile).resolve().as_uri()}",
            "--headless",
            "--norestore",
            f"--accept=pipe,name={pipe};urp;",
        ],
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    try:
        context = connected(pipe)
        print(answer(context, Path(module).read_text(encoding="utf-8"), function))
        with contextlib.suppress(Exception):  # the office goes before it can answer
            context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context).terminate()
        office.wait(START_S)
    finally:
        office.kill()


if __name__ == "__main__":
    main(*sys.argv[1:])
