"""LibreOffice Calc as an independent calculator: it opens a workbook, recalculates it and writes out the first sheet.

A profile of the test's own is used, so that nobody's settings matter and a running office is not disturbed.
"""

import csv
import shutil
import subprocess
from pathlib import Path

import pytest

# 0: recalculate every formula of a .xlsx on loading, whatever result is stored beside it.
_SETTINGS = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema"
 xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load">
<prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value></prop>
</item>
</oor:items>
"""
_TIMEOUT_S = 300


def _program() -> str:
    program = shutil.which("soffice") or shutil.which("libreoffice")
    if program is None:
        pytest.fail("LibreOffice Calc (soffice) is not installed: the README's test command installs it", pytrace=False)
    return program


def recalculated(workbook: Path, scratch: Path) -> list[list[str]]:
    """The first sheet of a workbook after a full recalculation, row by row, as each cell is displayed.

    scratch: an empty folder for profile and output. Fails the test when LibreOffice is missing or gives no answer.
    """
    program = _program()
    user = scratch / "profile" / "user"
    user.mkdir(parents=True)
    (user / "registrymodifications.xcu").write_text(_SETTINGS, encoding="utf-8")
    output = scratch / "output"
    command = [
        program,
        f"-env:UserInstallation={user.parent.as_uri()}",
        "--headless",
        "--norestore",
        "--convert-to",
        "csv",
        "--outdir",
        str(output),
        str(workbook),
    ]
    run = subprocess.run(command, capture_output=True, text=True, timeout=_TIMEOUT_S, check=False)
    result = output / f"{workbook.stem}.csv"
    if not result.exists():
        pytest.fail(
            f"soffice ended with {run.returncode} and wrote no result\n{run.stdout}\n{run.stderr}", pytrace=False
        )
    with result.open(encoding="utf-8", newline="") as file:
        return list(csv.reader(file))
