"""Reads the cells of one line of theirs, each as the column of ours that the mapping says."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from workbook_tools.adopt import measures
from workbook_tools.adopt.convert import Converted, convert, shown
from workbook_tools.adopt.drafts import Draft
from workbook_tools.adopt.fates import Account
from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.lexicon import PLACE_COLUMNS, Lexicon, has_words
from workbook_tools.adopt.mapping import NONE, ColumnMap, TableMap
from workbook_tools.adopt.source import Page, Place
from workbook_tools.adopt.words import vocabulary
from workbook_tools.columns import Column, Sheet
from workbook_tools.reading.address import column_letters
from workbook_tools.reading.cells import is_nil, shortened
from workbook_tools.reading.load import NO_RESULT

# A cell merged over several lines says the same of each of them; a quantity so merged is one for all.
_SAID_OF_EACH = ("text", "item", "choice")
_DITTO = frozenset(('"', "''", "”", "“", "″", "〃", ",,", "„", '-"-', '- " -', "-''-", "-do-"))


def is_ditto(text: str) -> bool:
    """Whether a text repeats the cell above: a ditto mark, 'do', 'ditto'."""
    return text.strip() in _DITTO or vocabulary().is_one("ditto", text)


@dataclass
class LineReader:
    """Reads the lines of one table. above: the last value of each column, for ditto marks."""

    account: Account
    lexicon: Lexicon
    table: TableMap
    contract: Sheet
    page: Page
    month_first_day: bool
    above: dict[int, tuple[Any, Place]] = field(default_factory=dict)

    def read(self, row: int, columns: list[ColumnMap]) -> Draft:
        """The cells of a row under some columns."""
        draft = Draft(self.contract.key)
        for mapped in columns:
            self._cell(draft, row, mapped)
        return draft

    def _cell(self, draft: Draft, row: int, mapped: ColumnMap) -> None:
        here = (self.page.name, row, mapped.index)
        if mapped.match.to == NONE:
            self.account.leave(here, _no_place(mapped))
            return
        column = self.contract.column(mapped.match.to)
        error = self.page.errors.get((row, mapped.index))
        if error:
            why = "the cell holds a formula without a result" if error == NO_RESULT else f"the cell shows {error}"
            self._fail(draft, column, here, why)
            return
        value, place = self._value(draft, mapped, column, here)
        if place is None:
            return
        if is_nil(value):
            self.account.leave(here, "a word for nothing")
            return
        self.above[mapped.index] = (value, place)
        self._take(draft, mapped, column, value, place)

    def _value(self, draft: Draft, mapped: ColumnMap, column: Column, here: Place) -> tuple[Any, Place | None]:
        """The value of a cell and where it stands: in the cell, above a ditto mark, or in a merged cell above."""
        _, row, index = here
        if self.page.filled(row, index):
            value = self.page.value(row, index)
            if isinstance(value, str) and is_ditto(value) and index in self.above:
                draft.repeats.append((here, f"{self.contract.key}.{column.key}"))
                return self.above[index]
            return value, here
        area = self.page.merged_at(row, index)
        if area and self.table.last_heading < area[0] < row and column.kind in _SAID_OF_EACH:
            at = (self.page.name, area[0], area[1])
            return self.page.value(area[0], area[1]), at if self.page.filled(area[0], area[1]) else None
        if mapped.blank == "as above" and index in self.above:
            return self.above[index]
        return None, None

    def _take(self, draft: Draft, mapped: ColumnMap, column: Column, value: Any, place: Place) -> None:
        name = f"{self.contract.key}.{column.key}"
        if mapped.place and column.key == "quantity" and value in (0, 0.0, "0"):
            self.account.leave(place, "none there: 0")
            return
        draft.says_anything = True
        if column.key == "remarks":
            own = fold(mapped.heading) in vocabulary().headings[self.contract.key]
            draft.remarks.append(
                (shown(value) if own or not mapped.heading else f"{mapped.heading}: {shown(value)}", place)
            )
            self._expiry_in_remark(draft, mapped, value, place)
        elif isinstance(value, str) and (name in PLACE_COLUMNS or has_words(column)):
            self._word(draft, column, name, value, place)
        else:
            found = convert(value, mapped, column, self.contract.key, self.month_first_day)
            if found.problem:
                self._fail(draft, column, place, found.problem)
            elif len(found.lots) > 1:
                draft.lots, draft.lots_place = found.lots, place
            else:
                _put(draft, column, found, place)

    def _expiry_in_remark(self, draft: Draft, mapped: ColumnMap, value: Any, place: Place) -> None:
        """A remark that says 'exp 03/27' and nothing else tells the date, where no column of its own does."""
        told = measures.lots(value) if isinstance(value, str) and self.contract.key == "inventory" else None
        if not told or len(told) > 1 or told[0].quantity is not None or not told[0].expires:
            return
        found = convert(value, mapped, self.contract.column("expires"), "inventory", self.month_first_day)
        if found.lots:
            draft.derived.append((found.lots[0], place, found.also))

    def _word(self, draft: Draft, column: Column, name: str, text: str, place: Place) -> None:
        text = " ".join(text.split())
        value, content, said = self.lexicon.word(name, text, column)
        draft.put(column.key, value, place, said)
        if said and column.kind == "item":
            draft.remarks.append((f"written as: {text}", None))
        if content:
            number, _, unit = content.partition(" ")
            draft.derived.append(({"content": float(number), "content_unit": unit}, place, said))

    def _fail(self, draft: Draft, column: Column, here: Place, why: str) -> None:
        """A cell that cannot be read: it is left, and its text goes into Remarks so that the line shows it."""
        draft.says_anything = True
        self.account.leave(here, f"{column.heading}: {why}")
        text = shortened(self.account.text_of(here))
        draft.unclear[column.key] = (text, why, here)
        if any(one.key == "remarks" for one in self.contract.columns):
            draft.remarks.append((f"{column.heading} not carried over, as written: {text}", None))


def _put(draft: Draft, column: Column, found: Converted, place: Place) -> None:
    values = dict(found.lots[0])
    own = values.pop(column.key, None)
    if own is not None:
        draft.put(column.key, own, place, found.also)
    if values:
        draft.derived.append((values, place, found.also))


def _no_place(mapped: ColumnMap) -> str:
    heading = f"column {mapped.heading!r}" if mapped.heading else f"column {column_letters(mapped.index)} (no heading)"
    return f"{heading} has no place in our book: {mapped.match.evidence}"
