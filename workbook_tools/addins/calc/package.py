"""Builds the LibreOffice extension: no SDK, no compiler, the same bytes every time."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from pathlib import Path

import workbook_tools
from workbook_tools.addins.calc import texts
from workbook_tools.addins.calc.idl import idl
from workbook_tools.addins.calc.modules import PACKAGE, needed_files
from workbook_tools.cells import FUNCTIONS
from workbook_tools.output import write_whole

FILE_NAME = "davitbook.oxt"
_ROOT = Path(workbook_tools.__file__).parent
_OFFICE = Path(__file__).parent / "office"
# The oldest time that a zip file can hold: the bytes must not depend on the day of the build.
_TIME = (1980, 1, 1, 0, 0, 0)


def contents() -> dict[str, bytes]:
    """Every file of the extension by its name inside it."""
    written = {
        "META-INF/manifest.xml": texts.MANIFEST,
        "description.xml": texts.description(workbook_tools.__version__),
        "description.txt": texts.ABOUT,
        "jobs.xcu": texts.JOBS,
        "davitbook.idl": idl(FUNCTIONS),
    }
    files = {name: text.encode() for name, text in written.items()}
    for name in ("component.py", "load_job.py"):
        files[name] = _bytes(_OFFICE / name)
    files["pythonpath/davitbook_bridge.py"] = _bytes(_OFFICE / "bridge.py")
    for path in needed_files(_ROOT, f"{PACKAGE}.cells"):
        files[f"pythonpath/{PACKAGE}/{path.relative_to(_ROOT).as_posix()}"] = _bytes(path)
    return dict(sorted(files.items()))


def build(out_dir: Path) -> Path:
    """Write davitbook.oxt into a folder, which is made where it is missing, and return its path.

    The file appears whole or not at all.
    """
    out_dir.mkdir(parents=True, exist_ok=True)
    target = out_dir / FILE_NAME
    write_whole(target, _zipped(contents()))
    return target


def _zipped(files: Mapping[str, bytes]) -> bytes:
    buffer = io.BytesIO()
    with zipfile.ZipFile(buffer, "w", zipfile.ZIP_DEFLATED, compresslevel=9) as archive:
        for name, data in files.items():
            entry = zipfile.ZipInfo(name, _TIME)
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.create_system = 3  # Unix, wherever it was built
            entry.external_attr = 0o100644 << 16
            archive.writestr(entry, data)
    return buffer.getvalue()


def _bytes(path: Path) -> bytes:
    """A text file with the line ends of the repository, whatever the checkout made of them."""
    return path.read_bytes().replace(b"\r\n", b"\n")
