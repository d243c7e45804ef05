"""A printed page as facts and tables, laid out as text of 80 columns or as one HTML file for A4. Works nothing out."""

from __future__ import annotations

import html
import re
import textwrap
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

WIDTH = 80
_GAP = 2
_LONGEST_WORD = 24  # a longer one may be broken to make a table fit


def ship_title(ship: str, imo_number: str = "") -> str:
    """The ship as a page names her: 'Orrin Vale, IMO 3100019'."""
    return (ship or "Ship without a name") + (f", IMO {imo_number}" if imo_number else "")


@dataclass(frozen=True, slots=True)
class Line:
    """One line of a table. mark: 'urgent' or 'soon' for the eye; the words in the cells say it as well."""

    cells: tuple[str, ...]
    mark: str = ""


@dataclass(frozen=True, slots=True)
class Block:
    """A table below a heading; `nothing` is said where it has no lines.

    figure: an inline SVG of our own making, put below the table in HTML alone; book text in it is escaped already.
    """

    heading: str
    columns: tuple[str, ...]
    lines: Sequence[Line]
    nothing: str
    figure: str = ""


@dataclass(frozen=True, slots=True)
class Page:
    """A page: title, the ship, facts beside their labels, tables, and what stands at its foot."""

    title: str
    subtitle: str
    verdict: str
    facts: Sequence[tuple[str, str]]
    blocks: Sequence[Block]
    cautions: Sequence[str] = field(default_factory=list)
    signatures: Sequence[str] = field(default_factory=list)


# ---- text --------------------------------------------------------------------------------------------------------


def _wrap(text: str, width: int) -> list[str]:
    return textwrap.wrap(text, width, break_on_hyphens=False) or [""]


def _widths(block: Block) -> list[int]:
    """Widths of the columns: as wide as they need; the widest is cut down, no further than its longest word."""
    columns = [[heading, *(line.cells[index] for line in block.lines)] for index, heading in enumerate(block.columns)]
    widths = [max(map(len, cells)) for cells in columns]
    words = [max((len(word) for cell in cells for word in cell.split()), default=1) for cells in columns]
    floors = [min(word, _LONGEST_WORD) for word in words]
    room = WIDTH - 2 - _GAP * (len(widths) - 1)
    while sum(widths) > room:
        slack = [index for index, width in enumerate(widths) if width > floors[index]]
        # where even the longest words do not fit side by side, the widest column breaks them
        widest = max(slack or range(len(widths)), key=lambda index: widths[index])
        widths[widest] -= 1
    return widths


def _text_lines(cells: Sequence[str], widths: Sequence[int]) -> Iterator[str]:
    wrapped = [_wrap(cell, width) for cell, width in zip(cells, widths, strict=True)]
    for number in range(max(map(len, wrapped))):
        parts = [
            (column[number] if number < len(column) else "").ljust(width)
            for column, width in zip(wrapped, widths, strict=True)
        ]
        yield ("  " + (" " * _GAP).join(parts)).rstrip()


def _text_block(block: Block) -> Iterator[str]:
    yield ""
    yield from _wrap(block.heading.upper(), WIDTH)
    if not block.lines:
        yield from (f"  {line}" for line in _wrap(block.nothing, WIDTH - 2))
        return
    widths = _widths(block)
    yield from _text_lines(block.columns, widths)
    yield "  " + (" " * _GAP).join("-" * width for width in widths)
    for line in block.lines:
        yield from _text_lines(line.cells, widths)


def as_text_page(page: Page) -> str:
    """The page as text, no line wider than 80 columns."""
    lines = [*_wrap(page.title.upper(), WIDTH), *_wrap(page.subtitle, WIDTH), "", *_wrap(page.verdict, WIDTH)]
    label_width = max((len(label) for label, _ in page.facts), default=0)
    for label, value in page.facts:
        indent = " " * (label_width + 4)
        lines += textwrap.wrap(
            value, WIDTH, initial_indent=f"  {label:<{label_width}}  ", subsequent_indent=indent, break_on_hyphens=False
        )
    for block in page.blocks:
        lines += _text_block(block)
    for name in page.signatures:
        lines += ["", f"{name}: ".ljust(24) + "." * 30 + "  date: " + "." * 14]
    for caution in page.cautions:
        lines += ["", *_wrap(caution, WIDTH)]
    return "\n".join(lines) + "\n"


# ---- HTML --------------------------------------------------------------------------------------------------------

# Blue and orange beside words and a bar whose pattern differs, so that a grey print says as much.
_STYLE = """
@page { size: A4; margin: 14mm 13mm; }
* { box-sizing: border-box; }
body { font: 10pt/1.35 "Liberation Sans", Arial, Helvetica, sans-serif; color: #111; background: #fff;
  max-width: 184mm; margin: 8mm auto; padding: 0 2mm; overflow-wrap: break-word; }
h1 { font-size: 16pt; margin: 0; color: #0b3a66; }
h2 { font-size: 11pt; margin: 5mm 0 1mm; color: #0b3a66; border-bottom: .5mm solid #0b3a66; break-after: avoid; }
p { margin: 1mm 0; }
.subtitle { font-size: 11pt; }
.verdict { font-weight: bold; border: .5mm solid #111; padding: 1.5mm 2.5mm; margin: 2.5mm 0; }
.verdict.urgent { border-color: #b34700; border-left-width: 2.5mm; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .3mm 4mm; margin: 1mm 0; }
dt { color: #444; }
dd { margin: 0; }
table { width: 100%; border-collapse: collapse; font-size: 9pt; }
thead { display: table-header-group; }
th { text-align: left; font-weight: bold; color: #333; padding: .6mm 1.5mm; border-bottom: .3mm solid #666;
  vertical-align: bottom; white-space: nowrap; }
td { padding: .7mm 1.5mm; border-bottom: .15mm solid #bbb; vertical-align: top; overflow-wrap: break-word; }
tr { break-inside: avoid; }
td:first-child { min-width: 27mm; }
.whole { white-space: nowrap; }
td:first-child, th:first-child { border-left: 1.2mm solid transparent; }
tr.urgent td:first-child { border-left: 1.2mm solid #b34700; font-weight: bold; color: #8a3600; }
tr.soon td:first-child { border-left: 1.2mm double #1f6fb2; font-weight: bold; color: #15548a; }
.nothing { color: #333; }
.signatures { margin-top: 8mm; display: grid; grid-template-columns: 1fr 1fr; gap: 8mm; }
.signatures div { border-top: .2mm solid #333; padding-top: 1mm; }
.caution { font-size: 8.5pt; color: #222; border-top: .2mm solid #999; padding-top: 1.5mm; margin-top: 3mm; }
@media print { body { margin: 0; max-width: none; padding: 0; } * { print-color-adjust: exact; } }
"""


_WHOLE = re.compile(r"\d{4}-\d{2}-\d{2}|[A-Z]{2}\d{2}-[a-z2-7]{6}")


def _html_text(text: str) -> str:
    """Escaped text in which dates and ids are not broken at a line's end."""
    return _WHOLE.sub(lambda match: f'<span class="whole">{match[0]}</span>', html.escape(text))


def _html_block(block: Block) -> Iterator[str]:
    yield f"<section><h2>{html.escape(block.heading)}</h2>"
    if not block.lines:
        yield f'<p class="nothing">{html.escape(block.nothing)}</p></section>'
        return
    yield "<table><thead><tr>"
    yield "".join(f'<th scope="col">{html.escape(heading)}</th>' for heading in block.columns)
    yield "</tr></thead><tbody>"
    for line in block.lines:
        mark = f' class="{line.mark}"' if line.mark else ""
        yield f"<tr{mark}>" + "".join(f"<td>{_html_text(cell)}</td>" for cell in line.cells) + "</tr>"
    yield f"</tbody></table>{block.figure}</section>"


def as_html_page(page: Page) -> str:
    """The page as one HTML file: its style within, no script, nothing fetched, every text escaped."""
    urgent = " urgent" if page.verdict.startswith("ACTION") else ""
    facts = "".join(f"<dt>{html.escape(label)}</dt><dd>{html.escape(value)}</dd>" for label, value in page.facts)
    parts = [
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">',
        '<meta name="viewport" content="width=device-width, initial-scale=1">',
        f"<title>{html.escape(page.title)}: {html.escape(page.subtitle)}</title>",
        f"<style>{_STYLE}</style></head><body>",
        f'<h1>{html.escape(page.title)}</h1><p class="subtitle">{html.escape(page.subtitle)}</p>',
        f'<p class="verdict{urgent}">{html.escape(page.verdict)}</p><dl>{facts}</dl>',
    ]
    for block in page.blocks:
        parts += _html_block(block)
    if page.signatures:
        names = "".join(f"<div>{html.escape(name)}, date</div>" for name in page.signatures)
        parts.append(f'<div class="signatures">{names}</div>')
    parts += [f'<p class="caution">{html.escape(caution)}</p>' for caution in page.cautions]
    parts.append("</body></html>")
    return "\n".join(parts) + "\n"
