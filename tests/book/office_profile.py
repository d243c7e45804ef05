"""A profile of LibreOffice that works every formula out anew when it opens a book, and pictures of what it prints."""

from __future__ import annotations

from pathlib import Path

_ALWAYS = "".join(
    f'<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="{name}" oor:op="fuse">'
    "<value>0</value></prop></item>"
    for name in ("OOXMLRecalcMode", "ODFRecalcMode")
)


def recalculating(folder: Path) -> Path:
    """A new profile below a folder, in which cached values are never trusted."""
    profile = folder / "profile"
    (profile / "user").mkdir(parents=True, exist_ok=True)
    (profile / "user" / "registrymodifications.xcu").write_text(
        '<?xml version="1.0" encoding="UTF-8"?><oor:items xmlns:oor="http://openoffice.org/2001/registry" '
        'xmlns:xs="http://www.w3.org/2001/XMLSchema" xmlns:xsi="http://www.w3.org/2001/XMLSchema-instance">'
        f"{_ALWAYS}</oor:items>",
        encoding="utf-8",
    )
    return profile
