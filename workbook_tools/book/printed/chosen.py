"""The craft that a page is about: the one in its cell, or the first of the Craft sheet where that is empty."""

from __future__ import annotations

from workbook_tools.book.calculated.lists import escaped, folded
from workbook_tools.book.calculated.words import day_text, said
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.book.printed.helper_sheet import HelperSheet
from workbook_tools.columns import sheet

# What the Craft sheet says of the craft, as it stands there.
_TOLD = (
    *("name", "kind", "construction", "side", "persons", "pack", "stowage_height_m"),
    *("serial", "certificate", "serviced", "earliest_content"),
)


def craft_cell(column: str, place: str) -> str:
    """What stands in a column of the Craft sheet, for the craft of a place (a formula for its number, from 1)."""
    return f"INDEX([in.craft.{column}],{place}+{FIRST_ROW})"


def write_chosen(helpers: HelperSheet, name: str, choice: str) -> None:
    """Work out the craft of the cell `choice`: name.place (0: none), name.folded, name.says, and what is told of it."""
    place, none = f"[{name}.place]", f"[{name}.place]=0"
    dates = {entry.key for entry in sheet("craft").columns if entry.kind in ("date", "expiry")}
    helpers.facts(
        name,
        {
            "place": f'IF({choice}="",IFERROR(MATCH(1,[craft.used],0),0),'
            f"IFERROR(MATCH({escaped(folded(choice))},[craft.name],0),0))",
            "folded": f'IF({none},"",INDEX([craft.name],{place}))',
            "read_kind": f'IF({none},"",INDEX([craft.kind],{place})&"")',
            "number": f'IF({none},0,COUNTIFS([craft.used],1,[craft.number],"<="&{place}))',
            "says": f'IF({none},IF({choice}="","The Craft sheet names no craft yet.",'
            '"■ The Craft sheet has no craft of this name: choose one from the list."),'
            f'"Craft "&[{name}.number]&" of "&COUNTIF([craft.used],1)&" on the Craft sheet; print one page for each.")',
            **{key: f'IF({none},"",{(day_text if key in dates else said)(craft_cell(key, place))})' for key in _TOLD},
        },
    )
