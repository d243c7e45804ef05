"""The data dictionary: every sheet and column of the workbook, from their declarations."""

from __future__ import annotations

from workbook_tools.columns import CONTRACT, SHEETS, Column


def data_dictionary() -> str:
    """Every sheet and column of the workbook as Markdown (docs/data-dictionary.md)."""
    lines = [
        "# Data dictionary",
        "",
        f"The sheets and columns of the workbook, contract {CONTRACT}. Generated from `workbook_tools/columns` by",
        "`python -m workbook_tools.book`; do not edit. Headings are found in any order, in any case, under any of the",
        "names given, below any number of title rows. A star marks what must be filled.",
    ]
    for sheet in SHEETS:
        names = f" Also found as: {', '.join(sheet.other_names)}." if sheet.other_names else ""
        needed = " The book must have it." if sheet.required else ""
        lines += ["", f"## {sheet.name}", "", f"{sheet.help}{needed}{names}", ""]
        lines += ["| Heading | Holds | Help | Also headed |", "|---|---|---|---|"]
        for column in sheet.columns:
            cells = (column.title, holds(column), column.help, ", ".join(column.other_headings))
            lines.append("| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |")
    return "\n".join(lines) + "\n"


_KINDS = {
    "text": "text",
    "whole": "whole number",
    "number": "number",
    "date": "date",
    "expiry": "date, or month and year (its last day)",
    "made": "date, or month and year (its first day)",
    "item": "item of the list (`davitbook rules items`)",
    "unit": "unit",
    "content": "number, or number and unit",
    "imo": "IMO number",
    "interval": "interval: 12M, 5Y, 2W, 30D",
    "year": "year",
}


def holds(column: Column) -> str:
    """What a column may hold, in words."""
    if column.kind == "choice" or column.kind == "unit":
        return ", ".join(column.choices)
    parts = [_KINDS[column.kind]]
    if column.above is not None:
        parts.append(f"above {column.above:g}")
    if column.minimum is not None:
        parts.append(f"{column.minimum:g} or more")
    if column.maximum is not None:
        parts.append(f"{column.maximum:{'.0f' if column.kind == 'year' else ',.0f'}} at most")
    if column.unique:
        parts.append("each once")
    return ", ".join(parts)
