"""Runs under the Python that has LibreOffice's `uno`: opens workbooks and follows every link of their cells.

Usage: link_follower.py PROFILE BOOK... Prints, by book, each link's text, the kind of its cell, the file that it
opened and the cell at which it landed.
"""

import json
import subprocess
import sys
import time
import uuid
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

import uno  # type: ignore[import-not-found]
from com.sun.star.beans import PropertyValue  # type: ignore[import-not-found]

START_S = 60


def _desktop(pipe: str) -> Any:
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    until = time.monotonic() + START_S
    while True:
        try:
            remote = resolver.resolve(f"uno:pipe,name={pipe};urp;StarOffice.ComponentContext")
            return remote.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", remote)
        except Exception:
            if time.monotonic() > until:
                raise
            time.sleep(0.3)


def _open(desktop: Any, url: str) -> Any:
    return desktop.loadComponentFromURL(url, "_blank", 0, (PropertyValue(Name="Hidden", Value=True),))


def _links(document: Any) -> list[dict[str, str]]:
    found = []
    for sheet in document.Sheets:
        cursor = sheet.createCursor()
        cursor.gotoEndOfUsedArea(False)
        for row in range(cursor.RangeAddress.EndRow + 1):
            for column in range(cursor.RangeAddress.EndColumn + 1):
                cell = sheet.getCellByPosition(column, row)
                if cell.Type.value == "TEXT" and cell.TextFields.hasElements():
                    url = next(iter(cell.TextFields)).URL
                    found.append({"text": cell.String, "kind": cell.Type.value, "url": url})
    return found


def _followed(desktop: Any, link: dict[str, str]) -> dict[str, str]:
    document = _open(desktop, link["url"])
    if document is None:
        raise SystemExit(f"nothing opened at {link['url']}")
    opened = unquote(urlsplit(document.URL).path)
    at = document.CurrentSelection.AbsoluteName if "#" in link["url"] else ""
    document.close(True)
    return {**link, "opened": opened, "at": at}


def main() -> None:
    """Start an office of its own, follow the links, end the office."""
    profile, *books = sys.argv[1:]
    pipe = f"links-{uuid.uuid4().hex}"
    office = subprocess.Popen(
        [
            "soffice",
            f"-env:UserInstallation={Path(profile).resolve().as_uri()}",
            "--headless",
            "--norestore",
            f"--accept=pipe,name={pipe};urp;",
        ]
    )
    try:
        desktop = _desktop(pipe)
        shown = {}
        for book in books:
            document = _open(desktop, Path(book).resolve().as_uri())
            links = _links(document)
            document.close(True)
            shown[book] = [_followed(desktop, link) for link in links]
        print(json.dumps(shown))
        desktop.terminate()
    finally:
        try:
            office.wait(20)
        except subprocess.TimeoutExpired:
            office.kill()


if __name__ == "__main__":
    main()
