"""Carries a foreign workbook over by its mapping. Every filled cell meets one fate: carried, or left with a reason."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from workbook_tools.adopt.blocks import headings_of
from workbook_tools.adopt.craft_lines import craft_lines
from workbook_tools.adopt.drafts import Draft, Record
from workbook_tools.adopt.fates import Account, Fate
from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.lexicon import PLACE_COLUMNS, Lexicon, has_words
from workbook_tools.adopt.line_reading import LineReader, is_ditto
from workbook_tools.adopt.lines import HEADINGS, LINE, NOTE, SECTION, TOTAL, Area, Part, parts
from workbook_tools.adopt.locate import LayoutChanged, locate
from workbook_tools.adopt.mapping import NONE, UNDECIDED, ColumnMap, Mapping, TableMap
from workbook_tools.adopt.ship_answers import ship_answers
from workbook_tools.adopt.source import Page, Place, Source
from workbook_tools.columns import Column, Sheet, sheet
from workbook_tools.reading.address import split
from workbook_tools.reading.cells import is_nil

__all__ = ["Carried", "Carrier", "Fate", "LayoutChanged", "Record", "Undecided", "carry"]

# Without this a line is no line of ours.
NAMING = {
    "inventory": "item",
    "craft": "name",
    "servicing": "appliance",
    "routine": "task",
    "fire": "kind",
    "defects": "subject",
    "certificates": "certificate",
    "record_of_equipment": "entry",
}


class Undecided(Exception):
    """A mapping in which a person has still to decide something; the texts name what."""

    def __init__(self, what: list[str]) -> None:
        super().__init__("; ".join(what))
        self.what = what


@dataclass
class Carried:
    """A foreign workbook in our terms."""

    ship: Record
    rows: dict[str, list[Record]]
    fates: list[Fate]
    notes: list[str]

    @property
    def left(self) -> list[Fate]:
        """The cells that are not in our book."""
        return [fate for fate in self.fates if not fate.carried]


def carry(source: Source, mapping: Mapping) -> Carried:
    """Carry a workbook over. Raises Undecided, and LayoutChanged where the book is not laid out as mapped."""
    return Carrier(source, mapping).carry()


class Carrier:
    """Carries one workbook over; before that, tells which words and places its mapping has to settle."""

    def __init__(self, source: Source, mapping: Mapping) -> None:
        self.source = source
        self.mapping = mapping
        self.account = Account(source)
        self.lexicon = Lexicon(mapping)
        self.rows: dict[str, list[Record]] = {}

    # What a mapping has to settle, before there is one.

    def words_used(self) -> Iterator[tuple[str, str]]:
        """The words in columns that have a list of words, each once: column and text."""
        seen: set[tuple[str, str]] = set()
        for name, column, text in self._texts():
            if has_words(column) and (name, fold(text)) not in seen:
                seen.add((name, fold(text)))
                yield name, text

    def places_used(self) -> Iterator[str]:
        """The texts that name craft or places, each once."""
        seen: set[str] = set()
        for text in self._place_texts():
            if fold(text) not in seen:
                seen.add(fold(text))
                yield text

    def _place_texts(self) -> Iterator[str]:
        yield from (text for name, _, text in self._texts() if name in PLACE_COLUMNS)
        for table in self.mapping.tables:
            yield from (fixed.value for fixed in table.fixed if fixed.column == "place" and fixed.value)
            yield from (column.place for column in table.columns if column.place)
            yield from self._sections(table)

    def _texts(self) -> Iterator[tuple[str, Column, str]]:
        """Every text of a line with the column that it is taken for: inventory.item, the column, the text."""
        for table in self.mapping.tables:
            key = table.match.to if table.match.to not in (NONE, UNDECIDED) else table.match.suggested
            if not key:
                continue
            page = self.source.pages[table.sheet]
            for part in self._parts(table, self.mapping.tables):
                for mapped in table.columns if part.role == LINE else ():
                    to, text = mapped.match.suggested or mapped.match.to, page.text(part.row, mapped.index)
                    if to not in (NONE, UNDECIDED, "") and text and not is_nil(text) and not is_ditto(text):
                        yield f"{key}.{to}", sheet(key).column(to), text

    def _sections(self, table: TableMap) -> Iterator[str]:
        page = self.source.pages[table.sheet]
        for part in self._parts(table, self.mapping.tables) if table.sections else ():
            text = page.text(part.row, part.cells[0])
            if part.role == SECTION and self.lexicon.says_where(text):
                yield text

    # Carrying over.

    def carry(self) -> Carried:
        """Carry everything over. Raises Undecided, LayoutChanged."""
        if undecided := still_open(self.mapping):
            raise Undecided(undecided)
        located = locate(self.source, self.mapping)
        ship = ship_answers(self.source, located.answers, self.account)
        tables = [table for table in located.tables if table.match.to != NONE]
        for table in tables:
            self._fixed_cells(table)
        for table in located.tables:
            if table.match.to == NONE:
                self._leave_table(table, located.tables)
            else:
                self._table(table, located.tables)
        if craft := craft_lines(self.rows, self.mapping.places, self.account):
            self.rows["craft"] = craft
        return Carried(ship, self.rows, self.account.closed(), located.notes + self.lexicon.notes)

    def _parts(self, table: TableMap, tables: list[TableMap]) -> list[Part]:
        page = self.source.pages[table.sheet]
        return parts(page, self._area(table, tables), _heading_texts(page, table))

    def _area(self, table: TableMap, tables: list[TableMap]) -> Area:
        """The body of a table: down to the titles of the next one below it, or to the end of the sheet."""
        below = [
            other.first_heading - other.titles_above - 1
            for other in tables
            if other.sheet == table.sheet
            and other.first_heading > table.last_heading
            and other.first_column <= table.last_column + 1
            and other.last_column >= table.first_column - 1
        ]
        last = min([len(self.source.pages[table.sheet].grid) - 1, *below])
        return Area(table.last_heading + 1, last, table.first_column, table.last_column)

    def _fixed_cells(self, table: TableMap) -> None:
        for fixed in table.fixed:
            place = split(fixed.cell) if fixed.cell else None
            if place and fixed.match.to not in (NONE, ""):
                target = f"{table.match.to}.{fixed.column}"
                self.account.carry((table.sheet, *place), target, "holds for the whole table")

    def _leave_table(self, table: TableMap, tables: list[TableMap]) -> None:
        rows = [part.row for part in self._parts(table, tables)]
        for row in [*range(table.first_heading, table.last_heading + 1), *rows]:
            self._leave_row(row, table, "the mapping carries nothing of this table")

    def _table(self, table: TableMap, tables: list[TableMap]) -> None:
        page, contract = self.source.pages[table.sheet], sheet(table.match.to)
        self._heading_cells(page, table)
        reader = LineReader(self.account, self.lexicon, table, contract, page, self.mapping.month_expiry == "first")
        section: tuple[str, Place] | None = None
        rows = self._parts(table, tables)
        for part in rows:
            text = page.text(part.row, part.cells[0])
            if part.role == LINE:
                self._line(reader, part, section)
            elif part.role == SECTION and table.sections and self.lexicon.says_where(text):
                section = (text, (page.name, part.row, part.cells[0]))
            else:
                self._leave_row(part.row, table, _WHY_LEFT[part.role])
        for part in rows:  # a section under which no line stands
            if part.role == SECTION:
                self._leave_row(part.row, table, _WHY_LEFT[SECTION])

    def _leave_row(self, row: int, table: TableMap, why: str) -> None:
        page = self.source.pages[table.sheet]
        for column in page.columns_filled(row, table.first_column, table.last_column):
            self.account.leave((page.name, row, column), why)

    def _heading_cells(self, page: Page, table: TableMap) -> None:
        """Headings are carried where their column is: they are what the mapping reads."""
        for row in range(table.first_heading, table.last_heading + 1):
            for column in page.columns_filled(row, table.first_column, table.last_column):
                used = [
                    one.match.to for one in table.columns if one.match.to != NONE and _heads(page, row, column, one)
                ]
                if used:
                    self.account.carry((page.name, row, column), f"{table.match.to}.{used[0]}", "a heading")
                else:
                    why = "the heading of a column that has no place in our book"
                    self.account.leave((page.name, row, column), why)

    def _line(self, reader: LineReader, part: Part, section: tuple[str, Place] | None) -> None:
        """One line of theirs: a line of ours, or one for each boat across, or one for each lot in a cell."""
        table, contract = reader.table, reader.contract
        naming = NAMING.get(contract.key)
        drafts = self._drafts(reader, part.row)
        made = False
        for draft in drafts:
            self._fill_in(table, contract, draft, section)
            if naming is None or not draft.lacks(naming):
                made = True
                self.rows.setdefault(contract.key, []).extend(draft.finish(self.account))
        if not made:
            what = contract.column(naming).heading if naming else "any column of ours"
            why = f"its line has nothing under {what}" if drafts else "its line has nothing for any craft"
            for column in part.cells:
                self.account.leave((table.sheet, part.row, column), why)
        for column in part.cells:
            self.account.leave((table.sheet, part.row, column), "has no heading in the mapping")

    def _drafts(self, reader: LineReader, row: int) -> list[Draft]:
        columns = reader.table.columns
        common = reader.read(row, [mapped for mapped in columns if not mapped.place])
        boats = list(dict.fromkeys(mapped.place for mapped in columns if mapped.place))
        if not boats:
            return [common] if common.says_anything else []
        groups = [(boat, reader.read(row, [one for one in columns if one.place == boat])) for boat in boats]
        return [common.joined(group, self.lexicon.place(boat)) for boat, group in groups if group.says_anything]

    def _fill_in(self, table: TableMap, contract: Sheet, draft: Draft, section: tuple[str, Place] | None) -> None:
        """What stands once for many lines: the section, the title, the sheet's name."""
        if table.sections and section is not None and draft.lacks(table.sections):
            column = contract.column(table.sections)
            value = self.lexicon.word(f"{contract.key}.{column.key}", section[0], column)[0]
            draft.put(column.key, value, section[1], "heads the lines below it")
        for fixed in table.fixed:
            if fixed.match.to not in (NONE, "") and draft.lacks(fixed.column):
                name = f"{contract.key}.{fixed.column}"
                value = self.lexicon.place(fixed.match.to) if name in PLACE_COLUMNS else fixed.match.to
                draft.put(fixed.column, value, None)


_WHY_LEFT = {
    HEADINGS: "the headings printed again",
    TOTAL: "a total: it is worked out, not recorded",
    NOTE: "a note under the table",
    SECTION: "a heading between the lines",
}


def still_open(mapping: Mapping) -> list[str]:
    """What a person has still to decide, each in a few words."""
    return [what for what, match, _ in mapping.matches() if match.undecided] + [
        f"empty cells of column {column.heading!r} of {table.sheet!r}"
        for table in mapping.tables
        for column in table.columns
        if column.blank == UNDECIDED and NONE not in (column.match.to, table.match.to)
    ]


def _heading_texts(page: Page, table: TableMap) -> dict[int, tuple[str, ...]]:
    """What stands above each column: its lower heading, its upper one, and both together."""
    first, last = table.first_heading, table.last_heading
    whole = headings_of(page, first, last, [mapped.index for mapped in table.columns])
    return {column: (page.text(last, column), page.text(first, column), text) for column, text in whole.items()}


def _heads(page: Page, row: int, column: int, mapped: ColumnMap) -> bool:
    """Whether a heading cell heads a column: it stands above it, or over several of which it is one."""
    if column == mapped.index:
        return True
    text = page.text(row, column)
    return bool(text) and column < mapped.index and mapped.heading.startswith(f"{text} / ")
