"""Sections of lines that follow one another on a page without gaps, however many lines each has.

A page shows a fixed number of lines, so that it prints alike in every program and never as empty sheets. Where there
are more, the page says so beside its title, and its cell "Part" brings the next ones.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from workbook_tools.book.calculated.writer import text
from workbook_tools.book.printed.helper_sheet import HelperSheet

# The mark before a line; ■ and ▲ mean what they mean on the Required sheet.
HEADING, WORST, SOON = "»", "■", "▲"


@dataclass(frozen=True, slots=True)
class Section:
    """One kind of line on a page.

    name: of the block of lines; its lines are the ones `HelperSheet.pick` found in a column of numbers.
    headings: one for each column of the page. cells: the formula of each column, in which `[place]` is the number of
    the line where its record stands. mark: formula of the mark before the line. nothing: what is said where no line
    is. most: lines at most. more: where to look for those beyond.
    """

    name: str
    key: str  # the column of numbers that decides which lines there are, and their order
    headings: tuple[str, ...]
    cells: tuple[str, ...]
    nothing: str
    most: int
    more: str
    mark: str = '""'
    headed: bool = True
    counted: bool = True  # whether the line that says how many more there are, or that there is none, may stand


def write_flow(helpers: HelperSheet, name: str, sections: Sequence[Section], shown: int, part: str) -> None:
    """Write the lines of the sections, and which of them a page of `shown` lines shows in the part asked.

    Known afterwards: name.place (for each line of the page the line of the flow, or ''), name.mark, name.c1 and on,
    and the cells name_parts.parts, name_parts.part and name_parts.words.
    """
    for section in sections:
        helpers.pick(f"{name}_{section.name}", section.key, section.most)
    width = len(sections[0].headings)
    lines: list[tuple[str, ...]] = []
    for order, section in enumerate(sections, 1):
        lines += _section_lines(name, order, section, len(lines))
    helpers.lines(f"{name}_lines", ("key", "mark", *(f"c{column}" for column in range(1, width + 1))), lines)
    for key in ("key", "mark", *(f"c{column}" for column in range(1, width + 1))):
        helpers.name(f"{name}.{key}", helpers.place(f"{name}_lines.{key}"))
    helpers.facts(
        f"{name}_parts",
        {
            "lines": f"COUNT([{name}.key])",
            "parts": f"MAX(1,ROUNDUP([{name}_parts.lines]/{shown},0))",
            "part": f"IF(ISNUMBER({part}),MIN(MAX(1,INT({part})),[{name}_parts.parts]),1)",
            "words": f'IF([{name}_parts.parts]=1,"",'
            f'"{WORST} Part "&[{name}_parts.part]&" of "&[{name}_parts.parts]&": print every part")',
        },
    )
    helpers.block(
        f"{name}_shown",
        {
            "number": f"([{name}_parts.part]-1)*{shown}+[#]",
            "place": f'IF([number]>[{name}_parts.lines],"",MATCH(SMALL([{name}.key],[number]),[{name}.key],0))',
        },
        shown,
    )
    helpers.name(f"{name}.place", helpers.place(f"{name}_shown.place"))


def _section_lines(flow: str, order: int, section: Section, before: int) -> list[tuple[str, ...]]:
    """Heading, the line that says that there is none, the lines, and the one that says how many more there are."""
    found = f"[{flow}_{section.name}.place]"
    base = order * 100_000
    empty = ('""',) * (len(section.headings) - 1)
    lines: list[tuple[str, ...]] = []
    if section.headed:
        lines.append((str(base), text(HEADING), *map(text, section.headings)))
    if section.counted:
        lines.append((f'IF(COUNT({found})=0,{base + 1},"")', '""', text(section.nothing), *empty))
    number = f"([#]-{before + len(lines)})"
    place = f"INDEX({found},{number})"
    line = (
        f'IF({place}="","",{base + 1}+{number})',
        f'IF({place}="","",{section.mark.replace("[place]", place)})',
        *(f'IF({place}="","",{cell.replace("[place]", place)})' for cell in section.cells),
    )
    lines += [line] * section.most
    if section.counted:
        missing = f"(COUNT([{section.key}])-{section.most})"
        words = f'IF({missing}>0,{missing}&" more: {section.more}","")'
        lines.append((f'IF({missing}>0,{base + 2 + section.most},"")', text(WORST), words, *empty))
    return lines
