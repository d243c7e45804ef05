"""The spreadsheet programs of this machine: LibreOffice and its extension, Excel. Only looks, and changes nothing."""

from __future__ import annotations

import importlib
import os
import platform
import re
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

OLDEST_OFFICE = (7, 4)  # the oldest LibreOffice in which the functions were tried
OLDEST_PYTHON = (3, 11)
_EXTENSION = "davitbook.oxt"
_START_S = 60


@dataclass(frozen=True, slots=True)
class Office:
    """LibreOffice: its program, its version as text ('' where it does not answer), and the Python it brings along.

    python: as text, '' where it uses the system's own.
    """

    program: Path
    version: str
    python: str

    @property
    def numbers(self) -> tuple[int, ...]:
        """The version as numbers."""
        return _numbers(self.version)

    @property
    def python_fits(self) -> bool:
        """Whether its Python can run the functions; the system's own is taken to."""
        return not self.python or _numbers(self.python)[:2] >= OLDEST_PYTHON


def _numbers(version: str) -> tuple[int, ...]:
    return tuple(int(part) for part in re.findall(r"\d+", version)[:3])


def on_windows() -> bool:
    """Whether this is Windows."""
    return platform.system() == "Windows"


def find_office() -> Office | None:
    """LibreOffice as it is installed here; None where it is not found on the path nor where it is usually put."""
    for program in _office_programs():
        if program.is_file():
            return Office(program, _office_version(program), _office_python(program))
    return None


def _office_programs() -> Iterator[Path]:
    for name in ("soffice", "libreoffice"):
        found = shutil.which(name)
        if found:
            yield Path(found)
    if on_windows():
        for variable in ("PROGRAMFILES", "PROGRAMFILES(X86)"):
            if folder := os.environ.get(variable):
                # soffice.com and not .exe: only that one writes to the console
                yield Path(folder) / "LibreOffice" / "program" / "soffice.com"
    yield Path("/Applications/LibreOffice.app/Contents/MacOS/soffice")
    yield from sorted(Path("/opt").glob("libreoffice*/program/soffice"), reverse=True)


def _office_version(program: Path) -> str:
    """What the program says of itself, asked with a profile of its own so that a running office is left alone."""
    with tempfile.TemporaryDirectory() as profile:
        command = [str(program), f"-env:UserInstallation={Path(profile).as_uri()}", "--version"]
        try:
            done = subprocess.run(command, capture_output=True, text=True, timeout=_START_S, check=False)
        except (OSError, subprocess.TimeoutExpired):
            return ""
    found = re.search(r"\d+(\.\d+)+", done.stdout)
    return found[0] if found else ""


def _office_python(program: Path) -> str:
    folder = program.resolve().parent
    places = (folder, folder.parent / "Resources", folder.parent / "Frameworks")
    for place in places:
        for found in (*place.glob("python-core-*"), *place.glob("LibreOfficePython.framework/Versions/3.*")):
            return found.name.removeprefix("python-core-")
    return ""


def office_profiles() -> list[Path]:
    """The user's own LibreOffice profiles, where an extension is put that the user adds."""
    home = Path.home()
    bases = [home / ".config", home / "Library" / "Application Support"]
    if roaming := os.environ.get("APPDATA"):
        bases.append(Path(roaming))
    return [path for base in bases for path in sorted(base.glob("[Ll]ibre[Oo]ffice/*/user"))]


def extension_version(packages: list[Path]) -> str | None:
    """The version of our extension in LibreOffice profiles or its shared folder; None where it is in none of them."""
    for folder in packages:
        for found in sorted(folder.glob(f"uno_packages/cache/uno_packages/*/{_EXTENSION}/description.xml")):
            text = found.read_text(encoding="utf-8", errors="replace")
            version = re.search(r"<version\s+value=\"([^\"]+)\"", text)
            return version[1] if version else ""
    return None


def shared_packages(office: Office) -> Path:
    """The folder in which LibreOffice keeps what is installed for every user of the machine."""
    return office.program.resolve().parent.parent / "share"


def find_excel() -> str | None:
    """The version of Excel for Windows by the registry, such as '16'; None where there is none, or off Windows."""
    registry = _registry()
    if registry is None:
        return None
    try:
        with registry.OpenKey(registry.HKEY_CLASSES_ROOT, r"Excel.Application\CurVer") as key:
            value, _ = registry.QueryValueEx(key, None)
    except OSError:
        return None
    return str(value).rpartition(".")[2] or None


def _registry() -> Any:
    """The module winreg; None off Windows, where there is none."""
    try:
        return importlib.import_module("winreg")
    except ImportError:
        return None


def excel_addin() -> Path | None:
    """davitbook.xlam where Excel loads add-ins from of itself; None where it lies elsewhere or nowhere."""
    roaming = os.environ.get("APPDATA")
    if not roaming:
        return None
    folders = (Path(roaming) / "Microsoft" / "AddIns", Path(roaming) / "Microsoft" / "Excel" / "XLSTART")
    return next((path for folder in folders if (path := folder / "davitbook.xlam").is_file()), None)
