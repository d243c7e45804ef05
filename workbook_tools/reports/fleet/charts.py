"""Charts as SVG that stands within a page: bars with their figures, told apart by pattern as well as by colour."""

from __future__ import annotations

import html
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

_WIDTH = 480  # of the drawing, in its own units: letters of 13 stay legible on a telephone
_LETTERS = 24  # of a name beside a bar, before it is cut; the whole name stands in the bar's title


@dataclass(frozen=True, slots=True)
class Series:
    """One kind of thing that is counted: key, the words for it, and the fill of its bars."""

    key: str
    words: str
    fill: str


# Fills by name. The patterns are drawn once in the page, by `patterns`.
ORANGE, BLUE, GREY, PALE, DARK = "#b34700", "url(#blue-stripes)", "url(#grey-dots)", "#8fbbe0", "#0b3a66"
GRADES = (Series("action", "action", ORANGE), Series("due", "due", BLUE), Series("query", "query", GREY))
KINDS = (ORANGE, BLUE, PALE, GREY, DARK, "url(#orange-lines)")


def patterns() -> str:
    """The patterns of the fills: a page holds them once."""
    return (
        '<svg width="0" height="0" aria-hidden="true" focusable="false" class="patterns"><defs>'
        '<pattern id="blue-stripes" width="6" height="6" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><rect width="6" height="6" fill="#fff"/><rect width="3" height="6" '
        'fill="#15548a"/></pattern>'
        '<pattern id="grey-dots" width="6" height="6" patternUnits="userSpaceOnUse"><rect width="6" height="6" '
        'fill="#e4e4e4"/><circle cx="3" cy="3" r="1.4" fill="#333"/></pattern>'
        '<pattern id="orange-lines" width="5" height="5" patternUnits="userSpaceOnUse"><rect width="5" height="5" '
        'fill="#fff"/><rect width="5" height="2.5" fill="#b34700"/></pattern></defs></svg>'
    )


def _text(x: float, y: float, words: str, more: str = "") -> str:
    return f'<text x="{x:g}" y="{y:g}"{more}>{html.escape(words)}</text>'


def _rect(x: float, y: float, width: float, height: float, fill: str, title: str) -> str:
    return (
        f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" fill="{fill}" stroke="#333" '
        f'stroke-width=".6"><title>{html.escape(title)}</title></rect>'
    )


def _legend(series: Sequence[Series], y: float) -> tuple[str, float]:
    """The legend from a height on, in as many lines as it takes; with the height below it."""
    parts, x = [], 4.0
    for entry in series:
        width = 22 + 7.4 * len(entry.words)
        if x + width > _WIDTH:
            x, y = 4.0, y + 20
        parts.append(_rect(x, y, 14, 12, entry.fill, entry.words) + _text(x + 19, y + 11, entry.words))
        x += width + 12
    return "".join(parts), y + 20


def _frame(name: str, height: float, title: str, description: str, inside: str) -> str:
    return (
        f'<svg viewBox="0 0 {_WIDTH} {height:g}" role="img" aria-labelledby="{name}-title {name}-words" class="chart">'
        f'<title id="{name}-title">{html.escape(title)}</title><desc id="{name}-words">{html.escape(description)}'
        f"</desc>{inside}</svg>"
    )


def bars(
    name: str, title: str, rows: Sequence[tuple[str, Mapping[str, int]]], series: Sequence[Series], description: str
) -> str:
    """Lying bars, one for each row, stacked, each with its sum at the end."""
    legend, y = _legend(series, 4)
    most = max((sum(counts.get(entry.key, 0) for entry in series) for _, counts in rows), default=0) or 1
    left, room = 170.0, _WIDTH - 170.0 - 44
    parts = [legend]
    for words, counts in rows:
        short = words if len(words) <= _LETTERS else words[: _LETTERS - 1] + "…"
        parts.append(_text(left - 6, y + 13, short, ' text-anchor="end"'))
        x, total = left, 0
        for entry in series:
            count = counts.get(entry.key, 0)
            if count:
                width = room * count / most
                parts.append(_rect(x, y + 1, width, 15, entry.fill, f"{words}: {count} {entry.words}"))
                x, total = x + width, total + count
        parts.append(_text(x + 5, y + 13, f"{total:,}"))
        y += 21
    return _frame(name, y + 4, title, description, "".join(parts))


def columns(
    name: str, title: str, rows: Sequence[tuple[str, Mapping[str, int]]], series: Sequence[Series], description: str
) -> str:
    """Standing columns, one for each row, stacked, each with its sum on top."""
    legend, top = _legend(series, 4)
    top, high = top + 22, 170.0
    most = max((sum(counts.get(entry.key, 0) for entry in series) for _, counts in rows), default=0) or 1
    left = 34.0  # the turned name of the first column reaches out so far
    step = (_WIDTH - left - 4) / max(1, len(rows))
    floor = top + high
    parts = [legend, f'<line x1="4" x2="{_WIDTH - 4}" y1="{floor:g}" y2="{floor:g}" stroke="#333"/>']
    for index, (words, counts) in enumerate(rows):
        x, y, total = left + index * step + step * 0.12, floor, 0
        for entry in series:
            count = counts.get(entry.key, 0)
            if count:
                tall = high * count / most
                y, total = y - tall, total + count
                parts.append(_rect(x, y, step * 0.76, tall, entry.fill, f"{words}: {count} {entry.words}"))
        middle = x + step * 0.38
        parts.append(_text(middle, y - 5, f"{total:,}" if total else "–", ' text-anchor="middle"'))
        turn = f' text-anchor="end" transform="rotate(-45 {middle:g} {floor + 14:g})"'
        parts.append(_text(middle, floor + 14, words, turn))
    return _frame(name, math.ceil(floor + 62), title, description, "".join(parts))
