"""What a person has to decide in a mapping, one question at a time, and what each answer may be."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

from workbook_tools import catalogue
from workbook_tools.adopt.blocks import find_blocks
from workbook_tools.adopt.convert import shown
from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.mapping import KEEP, NONE, SHEET_NAMES, UNDECIDED, ColumnMap, Mapping, Match, TableMap, named
from workbook_tools.adopt.names import choice_names
from workbook_tools.adopt.propose import settle_words
from workbook_tools.adopt.source import Page, Source
from workbook_tools.adopt.tables import CANDIDATES, propose_table
from workbook_tools.columns import Sheet, sheet
from workbook_tools.reading.address import address, column_letters
from workbook_tools.reading.cells import shortened

_SAMPLES = 4


@dataclass
class Question:
    """One thing to decide: what it is, what stands there, what is proposed and why, and what may be answered.

    read turns what a person types into an answer, or None where it is none; decide puts an answer into the mapping.
    """

    where: str
    samples: tuple[str, ...]
    suggested: str
    evidence: str
    hint: str
    read: Callable[[str], str | None]
    decide: Callable[[str], None]


def undecided(mapping: Mapping, source: Source) -> Iterator[Question]:
    """The questions of a mapping, in the order in which answers help: tables, then columns, then words."""
    for number, table in enumerate(mapping.tables):
        if table.match.undecided:
            yield _of_table(mapping, source, number)
    for table in mapping.tables:
        if table.match.to not in (NONE, UNDECIDED):
            yield from _of_columns(table, source.pages.get(table.sheet))
    for answer in mapping.answers:
        if answer.match.undecided:
            yield _of_match(
                f"{answer.sheet}!{answer.label_cell}, label {answer.label!r}",
                (),
                answer.match,
                _column_reader(sheet("ship")),
                "a line of the Ship sheet, or none",
                "ship",
            )
    settle_words(source, mapping)
    for place in mapping.places:
        if place.match.undecided:
            yield _of_match(f"place {place.text!r}", (), place.match, _any_text, "its name in our book, or keep")
    for word in mapping.words:
        if word.match.undecided:
            what = f"{_column_name(word.column)} {word.text!r}"
            yield _of_match(what, (), word.match, _word_reader(word.column), "one of our words, or keep")


def _column_name(name: str) -> str:
    key, _, column = name.partition(".")
    return f"{sheet(key).name}, {sheet(key).column(column).heading}:"


def _of_match(
    where: str, samples: tuple[str, ...], match: Match, read: Callable[[str], str | None], hint: str, of: str = ""
) -> Question:
    def decide(answer: str) -> None:
        match.to, match.suggested, match.confidence = answer, "", 1.0
        match.evidence = f"decided by a person; {match.evidence}"

    return Question(where, samples, named(match.suggested, of), match.evidence, hint, read, decide)


def _of_table(mapping: Mapping, source: Source, number: int) -> Question:
    table = mapping.tables[number]
    page = source.pages[table.sheet]
    headings = tuple(column.heading for column in table.columns if column.heading)

    def decide(answer: str) -> None:
        if answer == NONE:
            table.match.to, table.match.suggested, table.match.evidence = NONE, "", "decided by a person"
            return
        block = next(
            one
            for one in find_blocks(page)
            if (one.first_heading, one.columns[0]) == (table.first_heading, table.first_column)
        )
        mapping.tables[number] = propose_table(block, sheet(answer))
        mapping.tables[number].match.evidence = "decided by a person"

    return Question(
        f"sheet {table.sheet!r}, the table headed in row {table.last_heading + 1}",
        headings,
        named(table.match.suggested, SHEET_NAMES),
        table.match.evidence,
        f"one of our sheets ({', '.join(one.name for one in CANDIDATES)}), or none",
        _sheet_reader,
        decide,
    )


def _sheet_reader(text: str) -> str | None:
    if text == NONE:
        return NONE
    names = {fold(name): one.key for one in CANDIDATES for name in (one.key, one.name, *one.other_names)}
    return names.get(fold(text))


def _of_columns(table: TableMap, page: Page | None) -> Iterator[Question]:
    contract = sheet(table.match.to)
    for fixed in table.fixed:
        if fixed.match.undecided:
            what = contract.column(fixed.column).heading
            read = _word_reader(f"{contract.key}.{fixed.column}") if fixed.column == "kind" else _any_text
            yield _of_match(
                f"sheet {table.sheet!r}, row {table.first_heading + 1}: {what} of every line",
                (),
                fixed.match,
                read,
                "what it is for the whole table, or none",
            )
    for column in table.columns:
        where = f"{table.sheet}!{address(table.last_heading, column.index)}, column {column.heading!r}"
        if column.match.undecided:
            yield _of_match(
                where,
                _samples(page, table, column),
                column.match,
                _column_reader(contract),
                f"a column of {contract.name}, Remarks, or none",
                contract.key,
            )
        if column.blank == UNDECIDED and column.match.to != NONE:
            yield _of_blank(column, where)


def _of_blank(column: ColumnMap, where: str) -> Question:
    def decide(answer: str) -> None:
        column.blank = answer

    def read(text: str) -> str | None:
        return {"as above": "as above", "above": "as above", "empty": "empty"}.get(text.strip().casefold())

    return Question(f"{where}: empty cells", (), "as above", column.note, "as above, or empty", read, decide)


def _samples(page: Page | None, table: TableMap, column: ColumnMap) -> tuple[str, ...]:
    if page is None:
        return ()
    values: list[Any] = []
    for row in range(table.last_heading + 1, len(page.grid)):
        if page.filled(row, column.index) and len(values) < _SAMPLES:
            values.append(page.value(row, column.index))
    return tuple(shortened(shown(value), 30) for value in values)


def _column_reader(contract: Sheet) -> Callable[[str], str | None]:
    names = {fold(name): column.key for name, column in contract.headings.items()}

    def read(text: str) -> str | None:
        return NONE if text == NONE else names.get(fold(text))

    return read


def _word_reader(name: str) -> Callable[[str], str | None]:
    key, _, column = name.partition(".")
    contract = sheet(key).column(column)

    def read(text: str) -> str | None:
        if text in (KEEP, NONE):
            return text
        if contract.kind == "item":
            return catalogue.item_names().find(text)
        found = choice_names(key, column).get(fold(text))
        return found.entry if found else None

    return read


def _any_text(text: str) -> str | None:
    return text.strip() or None


def open_entries(mapping: Mapping) -> list[str]:
    """What is undecided, each in a line: where it is and what is proposed."""
    found = []
    for what, match, of in mapping.matches():
        if match.undecided:
            proposed = f"perhaps {named(match.suggested, of)}" if match.suggested else "no proposal"
            found.append(f"{what}: {proposed} ({match.confidence:.2f}: {match.evidence})")
    for table in mapping.tables:
        for column in table.columns:
            if column.blank == UNDECIDED and column.match.to != NONE and table.match.to != NONE:
                found.append(f"empty cells in column {column_letters(column.index)} of {table.sheet!r}: {column.note}")
    return found
