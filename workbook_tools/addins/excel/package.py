"""Writes the folder for Excel: module, VBA, settings, and a page with the steps."""

from __future__ import annotations

from importlib.metadata import version
from pathlib import Path

import workbook_tools
from workbook_tools.addins.calc.modules import PACKAGE, needed_files
from workbook_tools.addins.excel.guide import CONFIGURATION, CONFIGURATION_NAME, guide
from workbook_tools.addins.excel.vba import MODULE, VBA_NAME, module_text
from workbook_tools.output import write_whole

_ROOT = Path(workbook_tools.__file__).parent


def contents() -> dict[str, bytes]:
    """Every file of the folder by its name inside it. Raises ImportError where xlwings is not installed."""
    files = {
        f"{VBA_NAME}.bas": module_text().encode("ascii"),
        "README.md": guide(version("xlwings")).encode(),
        CONFIGURATION_NAME: CONFIGURATION.replace("\n", "\r\n").encode(),
    }
    for path in needed_files(_ROOT, MODULE):
        files[f"{PACKAGE}/{path.relative_to(_ROOT).as_posix()}"] = path.read_bytes()
    return dict(sorted(files.items()))


def build(out_dir: Path) -> Path:
    """Write the files into a folder, which is made where it is missing, and return it.

    Raises ImportError where xlwings is not installed, OSError where a file cannot be written.
    """
    for name, data in contents().items():
        target = out_dir / name
        target.parent.mkdir(parents=True, exist_ok=True)
        write_whole(target, data)
    return out_dir
