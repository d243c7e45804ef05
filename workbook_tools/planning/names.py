"""Keeps names of persons out of a plan: places and remarks of a book may hold them."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from workbook_tools.reports.layout import Line, Page

Nameless = Callable[[str], str]


def nameless_page(page: Page, nameless: Nameless) -> Page:
    """The page with every text put through a function that takes names out."""
    return replace(
        page,
        facts=[(label, nameless(value)) for label, value in page.facts],
        blocks=[
            replace(
                block,
                heading=nameless(block.heading),
                lines=[Line(tuple(map(nameless, line.cells)), line.mark) for line in block.lines],
            )
            for block in page.blocks
        ],
    )


def nameless_data(data: Any, nameless: Nameless) -> Any:
    """Plain data with every text put through a function that takes names out; keys stay."""
    if isinstance(data, str):
        return nameless(data)
    if isinstance(data, list):
        return [nameless_data(entry, nameless) for entry in data]
    if isinstance(data, dict):
        return {key: nameless_data(entry, nameless) for key, entry in data.items()}
    return data
