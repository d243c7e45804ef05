"""A headless Chromium with a page of ours in it, cut off from every network."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

WIDE, NARROW = (1366, 768), (390, 800)
_NAMES = ("chromium", "chromium-browser", "google-chrome")


def need_chromium() -> str:
    """The browser program. Fails the test where it is missing."""
    program = next(filter(None, map(shutil.which, _NAMES)), None)
    if program is None:
        pytest.fail("Chromium is not installed: the README's test command installs it", pytrace=False)
    return program


@contextmanager
def running() -> Iterator[Browser]:
    """A browser, closed at the end."""
    root = hasattr(os, "geteuid") and os.geteuid() == 0
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=need_chromium(),
            args=["--no-sandbox"] if root else [],  # Chromium's own sandbox refuses the superuser
        )
        try:
            yield browser
        finally:
            browser.close()


@dataclass(slots=True)
class Shown:
    """A page that is open, what it asked for, and what it complained of."""

    page: Page
    requests: list[str] = field(default_factory=list)
    complaints: list[str] = field(default_factory=list)

    def texts(self, selector: str) -> list[str]:
        """The visible texts of elements."""
        return [text.strip() for text in self.page.locator(selector).all_inner_texts()]

    def column(self, section: str, label: str) -> list[str]:
        """The texts of one column of a list, as far as it is shown."""
        return self.texts(f'#{section} tbody td[data-label="{label}"]')

    def status(self, section: str) -> str:
        """What a list says of how many lines it shows."""
        return self.page.locator(f"#{section} .status").inner_text()


@contextmanager
def shown(browser: Browser, file: Path, size: tuple[int, int] = WIDE) -> Iterator[Shown]:
    """Open a page; the browser is offline, and every request and complaint is noted."""
    context = browser.new_context(viewport={"width": size[0], "height": size[1]}, offline=True)
    page = context.new_page()
    opened = Shown(page)
    page.on("request", lambda request: opened.requests.append(request.url))
    page.on("console", lambda message: opened.complaints.append(f"{message.type}: {message.text}"))
    page.on("pageerror", lambda error: opened.complaints.append(str(error)))
    page.goto(file.as_uri())
    page.wait_for_selector("html[data-ready=yes]")
    try:
        yield opened
    finally:
        context.close()
