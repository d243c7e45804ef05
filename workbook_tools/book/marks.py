"""What an input sheet shows by itself while it is filled in: a word and a symbol beside each colour.

A mark is a conditional format whose number format writes the word into the cell: '2026-08-31 ■ expired' is still the
day 2026-08-31. What is marked is only what the cell itself can tell; what a rule asks stands on the calculated sheets.
Other sheets are referred to by defined names, which every program accepts in a conditional format.

In a test `{column}` is the cell of that column in the same line, `{line}` the whole line, `[name]` a place that a
calculated sheet has made known, `[name@]` what stands in it for this line.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cache

from workbook_tools.book.calculated.lists import escaped, folded
from workbook_tools.book.validations import times, without_wildcards
from workbook_tools.columns import SHEETS, Column, Sheet, sheet

# What the symbols say, in the line under each sheet's title.
SYMBOLS = "■▲?×√□_"
LEGEND = "■ past or wrong   ▲ soon, or to be filled in   ? not understood   × not counted"

DAYS = ("date", "expiry", "made")


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark on a column: the test of a line, and the symbol and words that the cell then shows.

    Of the marks on one column no two hold for the same line, so that their order is no matter: LibreOffice saves no
    order.
    """

    sheet: str
    column: str
    words: str  # begins with a symbol of SYMBOLS
    test: str

    @property
    def symbol(self) -> str:
        """The sign before the words."""
        return self.words[0]


@cache
def marks() -> tuple[Mark, ...]:
    """Every mark of every input sheet; where two could meet on one cell, the first one given excludes the others."""
    found: dict[tuple[str, str], list[Mark]] = {
        (contract.key, column.key): [] for contract in SHEETS for column in contract.columns
    }
    cheap = (*_inventory(), *_craft(), *_others(), *_expiries(), *_future(), *_unfilled(), *_out())
    for mark in (*cheap, *_twice(), *_asked()):  # what looks through a whole column stands last: it is in no other test
        found[mark.sheet, mark.column].append(mark)
    return tuple(apart for place, group in found.items() for apart in _kept_apart(*place, group))


def _kept_apart(key: str, column: str, group: Sequence[Mark]) -> Iterator[Mark]:
    for number, mark in enumerate(group):
        earlier = ",".join(other.test for other in group[:number])
        yield mark if not earlier else replace(mark, test=f"IF(OR({earlier}),FALSE,{mark.test})")
    # a rule under every line that was begun, to read along on paper; every other mark has the same rule
    if sheet(key).layout == "table":
        yield Mark(key, column, "_", "COUNTA({line})>0")


_LOT_OUT = "[lots.fit@]=0"
_LEAD = "INDEX([lists.item_lead],[lots.item@])"


def _inventory() -> Iterator[Mark]:
    yield Mark("inventory", "item", "? unknown", 'AND({item}<>"",[lots.item@]=0)')
    yield Mark("inventory", "item", "▲ count", f'AND({{item}}<>"",{{quantity}}="",NOT({_LOT_OUT}))')
    yield Mark("inventory", "condition", "? unknown", '[lots.fit@]="?"')
    yield Mark("inventory", "quantity", "× not counted", f'AND({{quantity}}<>"",{_LOT_OUT})')
    yield Mark("inventory", "quantity", "? no number", "ISTEXT({quantity})")
    yield Mark("inventory", "expires", "× not counted", f'AND({{expires}}<>"",{_LOT_OUT})')
    yield Mark("inventory", "expires", "■ expired", "AND(ISNUMBER({expires}),{expires}<[date asked])")
    due = f"{{expires}}<=[date asked]+IF([lots.item@]=0,0,{_LEAD})"
    yield Mark("inventory", "expires", "▲ due", f"AND(ISNUMBER({{expires}}),{due})")


def _asked() -> Iterator[Mark]:
    yield Mark("inventory", "quantity", "▲ below asked", _below_asked())


def _below_asked() -> str:
    """Whether all the lots of an item in a craft are fewer than the checklist asked, as far as their units compare.

    A lot that cannot be measured may hold any amount: then nothing is said. What may stand in the item's place is not
    weighed here, so the word is not 'short': that is the Required sheet's.
    """
    key = "[lots.key@]"
    carried = "+".join(
        f'SUMIFS([lots.at_best],[lots.{name}],{key},[lots.date],">="&[date asked])' for name in ("key", "key1", "key2")
    )
    clear = "INDEX([craft.unread],[lots.craft@])=0"
    compares = "INDEX([lists.unit_dimension],[lots.unit@])=INDEX([lists.item_measure],[lots.item@])"
    asked = "{asked}*INDEX([lists.unit_factor],[lots.unit@])*(1-[lists.rounding_share])"
    return (
        f"IF(AND(ISNUMBER({{asked}}),ISNUMBER({{quantity}}),{key}>0,[lots.unit@]>0),"
        f"IF({compares},IF({clear},{carried}<{asked},FALSE),FALSE),FALSE)"
    )


def _craft() -> Iterator[Mark]:
    yield Mark("craft", "name", "■ no * ? ~", f'AND({{name}}<>"",NOT(AND({without_wildcards("{name}")})))')
    # blank cells behind the last craft are folded to nothing, so a name is only ever found among names
    known = f"SUMPRODUCT(--([craft.name]={folded('{craft}')}))"
    yield Mark("crew", "craft", "? no such craft", f'AND({{craft}}<>"",{known}=0)')


def _others() -> Iterator[Mark]:
    granted = "NOT(AND(ISNUMBER({granted_until}),{granted_until}>=[date asked]))"
    late = f"AND(ISNUMBER({{next_due}}),{{next_due}}<[date asked],{granted})"
    yield Mark("servicing", "next_due", "■ overdue", late)
    soon = "AND(ISNUMBER({next_due}),{next_due}>=[date asked],{next_due}<=[date asked]+[lists.lead_servicing])"
    yield Mark("servicing", "next_due", "▲ due", soon)
    yield Mark(
        "ports", "departure", "? before arrival", "AND(ISNUMBER({departure}),ISNUMBER({arrival}),{departure}<{arrival})"
    )
    yield Mark("follow_up", "expected", "■ past", 'AND(ISNUMBER({expected}),{expected}<[date asked],{closed}="")')
    yield Mark("exemptions", "rule", "× no reference", 'AND({rule}<>"",{reference}="")')
    for key in ("defects", "follow_up"):
        yield Mark(key, "closed", "√ closed", "ISNUMBER({closed})")


def _twice() -> Iterator[Mark]:
    """What must be unique in its column and is not."""
    for contract in SHEETS:
        for column in contract.columns:
            if column.unique:
                again = times(f"{{{column.key}}}", f"{{{column.key}:}}")
                yield Mark(contract.key, column.key, "■ twice", f'IF({{{column.key}}}="",FALSE,{again}>1)')


# Dates that lapse on a day, with the lead time of servicing, as papers and services have.
_LAPSING = (
    ("craft", "earliest_content"),
    ("crew", "certificate_expires"),
    ("crew", "medical_expires"),
    ("certificates", "until"),
    ("exemptions", "until"),
)


def _expiries() -> Iterator[Mark]:
    for key, column in _LAPSING:
        cell = f"{{{column}}}"
        yield Mark(key, column, "■ expired", f"AND(ISNUMBER({cell}),{cell}<[date asked])")
        yield Mark(key, column, "▲ due", f"AND(ISNUMBER({cell}),{cell}<=[date asked]+[lists.lead_servicing])")
    for contract in SHEETS:
        for entry in contract.columns:
            if entry.kind in ("date", "expiry") and contract.layout == "table":
                yield Mark(contract.key, entry.key, "? no date", f"ISTEXT({{{entry.key}}})")


# What was done cannot lie ahead: a slip in the year would hide a service that is due.
_DONE = (
    ("craft", "serviced"),
    ("servicing", "done"),
    ("routine", "day"),
    ("fire", "serviced"),
    ("fire", "discharged"),
    ("fire", "pressure_tested"),
)


def _future() -> Iterator[Mark]:
    for key, column in _DONE:
        yield Mark(key, column, "? to come", f"AND(ISNUMBER({{{column}}}),{{{column}}}>[date asked])")


def _unfilled() -> Iterator[Mark]:
    """A starred cell that is empty in a line that was begun, and a word in the line's first cell."""
    for contract in SHEETS:
        starred = [column.key for column in contract.columns if column.required]
        first, second = contract.columns[0].key, contract.columns[1].key
        for key in starred:
            yield Mark(contract.key, key, "□", f'AND({{{key}}}="",COUNTA({{line}})>0)')
        if contract.key == "inventory":  # its quantity is asked for beside the item
            starred.remove("quantity")
        others = [f'{{{key}}}=""' for key in starred if key != first]
        if others and contract.layout == "table":
            yield Mark(contract.key, first, "▲ fill in", f'AND({{{first}}}<>"",OR({",".join(others)}))')
        if first in starred and contract.layout == "table":
            yield Mark(contract.key, second, "▲ fill in", f'AND({{{second}}}<>"",{{{first}}}="")')
    yield Mark("exemptions", "reference", "□", 'AND({rule}<>"",{reference}="")')


def _fit(column: str) -> str:
    meaning = f'INDEX([lists.choice_value],MATCH("condition|"&{escaped(folded(column))},[lists.choice_text],0))'
    return f'IFERROR(INDEX([lists.choice_value],MATCH("fit|"&{meaning},[lists.choice_text],0)),1)'


def _out() -> Iterator[Mark]:
    """The whole line of what is out of the count, struck through."""
    fire_out = f'IF({{condition}}="",FALSE,{_fit("{condition}")}=0)'
    for column in sheet("inventory").columns:
        yield Mark("inventory", column.key, "×", _LOT_OUT)
    for column in sheet("fire").columns:
        yield Mark("fire", column.key, "× not counted" if column.key == "condition" else "×", fire_out)


def number_format(mark: Mark) -> str:
    """The number format that writes a mark's words into a cell: behind a number or day, before a text; '' for none."""
    if len(mark.words) == 1:
        return "yyyy-mm-dd" if sheet(mark.sheet).column(mark.column).kind in DAYS else ""
    base = "yyyy-mm-dd" if sheet(mark.sheet).column(mark.column).kind in DAYS else "General"
    return f'{base}" {mark.words}";{base}" {mark.words}";{base}" {mark.words}";"{mark.words}: "@'


_BETWEEN_WORDS = re.compile(r"\s|(?<=-)")  # where a heading is broken into lines
_BOLD = 2  # characters more that a word takes in a heading: it is bold, and the cell has a margin


def needed_width(contract: Sheet, column: Column) -> int:
    """Characters that a column needs for the longest word of its heading, which would be broken, and for its days or
    numbers with the longest words beside them: a number that does not fit shows as ####. A text is only cut off, its
    symbol before it.
    """
    least = max(column.width, max(map(len, _BETWEEN_WORDS.split(column.title))) + _BOLD)
    words = [len(mark.words) for mark in marks() if (mark.sheet, mark.column) == (contract.key, column.key)]
    longest = max(words, default=0)
    if longest <= 1:
        return least
    if column.kind in DAYS:
        return max(least, len("2026-08-31 ") + longest)
    if column.kind in ("number", "whole"):
        return max(least, len("999 ") + longest)
    return least
