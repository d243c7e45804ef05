"""The mapping as a TOML file that a person reads and edits: each match with its confidence and its evidence."""

from __future__ import annotations

import json
import re
import tomllib
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from workbook_tools.adopt.days import ORDERS, SHORT_ORDERS
from workbook_tools.adopt.mapping import (
    APPLIED,
    KEEP,
    NONE,
    UNDECIDED,
    AnswerMap,
    ColumnMap,
    Fixed,
    Mapping,
    Match,
    PlaceMap,
    TableMap,
    WordMap,
)
from workbook_tools.columns import SHEETS, sheet
from workbook_tools.core.caution import CAUTION
from workbook_tools.reading.address import column_index, column_letters, split

FORMAT = 1
_BLANKS = ("", "as above", "empty", UNDECIDED)

_HEAD = f"""\
# How a workbook of your own becomes a davitbook. Made by: davitbook adopt
#
# Each entry says what something of yours is taken for (to), how sure that is (confidence, 0 to 1) and why
# (evidence). What is {APPLIED:g} or surer was decided without asking. Change any 'to' as you like:
#   to = "?"      to be decided: the mapping is not used while one is left ('suggested' is a proposal)
#   to = "none"   has no place in our book; its cells are listed on the sheet "Not carried over"
#   to = "keep"   a word or place that stays as it is written
#   to = "remarks"  (a column) goes into Remarks, with its heading before it
# date_order: "day first", "month first" or "year first", for texts such as 03/04/2026; month_order: "month/year" or
# "year/month", for 03/27. Empty: such texts are not read, and listed.
# blank: "as above" where an empty cell means the one above it, "empty" where it means nothing.
#
# Then: davitbook adopt YOURS.xlsx --map THIS.toml --out BOOK.xlsx, or each month: davitbook check --map THIS.toml
# {CAUTION.replace("the flag Administration", chr(10) + "# the flag Administration")}
"""


class MappingError(ValueError):
    """A mapping file that cannot be used; the text names file, entry and remedy."""


def mapping_text(mapping: Mapping) -> str:
    """The mapping as the text of its file. Reading it again gives the same mapping."""
    lines = [_HEAD, f"format = {FORMAT}", f"made_from = {_quoted(mapping.made_from)}"]
    lines += ["# An expiry given as month and year: the last or the first day of that month (an assumption)."]
    lines += [f"month_expiry = {_quoted(mapping.month_expiry)}"]
    lines += [f"# {_comment(note)}" for note in mapping.notes]
    for table in mapping.tables:
        lines += ["", *_table_lines(table)]
    for answer in mapping.answers:
        pairs = [("sheet", answer.sheet), ("label", answer.label), ("label_cell", answer.label_cell)]
        lines += ["", "[[answer]]", *_pairs([*pairs, ("value_cell", answer.value_cell)]), *_match_lines(answer.match)]
    for place in mapping.places:
        pairs = [("text", place.text), ("kind", place.kind), ("side", place.side)]
        lines += ["", "[[place]]", *_pairs(pairs), *_match_lines(place.match)]
    for word in mapping.words:
        pairs = [("column", word.column), ("text", word.text), ("content", word.content)]
        lines += ["", "[[word]]", *_pairs(pairs), *_match_lines(word.match)]
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    """A text as a basic string of TOML: JSON's escapes are TOML's, DEL apart."""
    return json.dumps(text, ensure_ascii=False).replace("\x7f", "\\u007f")


def _comment(text: str) -> str:
    return re.sub(r"[\x00-\x1f\x7f]+", " ", text)


def _pairs(pairs: Iterable[tuple[str, str]], needed: tuple[str, ...] = ("text", "heading")) -> list[str]:
    return [f"{key} = {_quoted(value)}" for key, value in pairs if value or key in needed]


def _match_lines(match: Match, indent: str = "") -> list[str]:
    lines = [f"{indent}to = {_quoted(match.to)}"]
    if match.undecided:
        lines[0] += "  # decide"
    if match.suggested:
        lines.append(f"{indent}suggested = {_quoted(match.suggested)}")
    return [*lines, f"{indent}confidence = {match.confidence:.2f}", f"{indent}evidence = {_quoted(match.evidence)}"]


def _table_lines(table: TableMap) -> list[str]:
    lines = ["[[table]]", f"sheet = {_quoted(table.sheet)}"]
    rows = [table.first_heading + 1, table.last_heading + 1]
    lines.append(f"heading_rows = [{', '.join(str(row) for row in dict.fromkeys(rows))}]")
    lines.append(f"title_rows = {table.titles_above}")
    columns = [column_letters(table.first_column), column_letters(table.last_column)]
    lines.append(f"columns = [{_quoted(columns[0])}, {_quoted(columns[1])}]")
    lines += _match_lines(table.match)
    if table.sections:
        lines.append(f"sections = {_quoted(table.sections)}")
    for fixed in table.fixed:
        pairs = [("column", fixed.column), ("cell", fixed.cell), ("text", fixed.text), ("value", fixed.value)]
        lines += ["", "  [[table.fixed]]", *(f"  {line}" for line in _pairs(pairs)), *_match_lines(fixed.match, "  ")]
    for column in table.columns:
        pairs = [("at", column_letters(column.index)), ("heading", column.heading), ("place", column.place)]
        lines += ["", "  [[table.column]]", *(f"  {line}" for line in _pairs(pairs)), *_match_lines(column.match, "  ")]
        rest = [("date_order", column.date_order), ("month_order", column.month_order), ("blank", column.blank)]
        lines += [f"  {line}" for line in _pairs([*rest, ("note", column.note)])]
    return lines


def read_mapping(path: Path) -> Mapping:
    """Read a mapping. Raises MappingError with file, entry and remedy."""
    try:
        document = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise MappingError(f"{path}: not valid TOML: {error}") from error
    except OSError as error:
        raise MappingError(f"{path}: cannot be opened: {error.strerror or error}") from error
    return _Reader(path).mapping(document)


class _Reader:
    """Reads the parts of a mapping file, strictly."""

    def __init__(self, path: Path) -> None:
        self.path = path

    def fail(self, where: str, what: str) -> MappingError:
        return MappingError(f"{self.path}: {where}: {what}")

    def mapping(self, document: dict[str, Any]) -> Mapping:
        allowed = {"format", "made_from", "month_expiry", "table", "answer", "place", "word"}
        self.known("top of the file", document, allowed)
        if document.get("format") != FORMAT:
            raise self.fail("format", f"it is {document.get('format')!r}; this davitbook reads format = {FORMAT}")
        month = self.text("top of the file", document, "month_expiry", "last")
        if month not in ("last", "first"):
            raise self.fail("month_expiry", f"{month!r} must be 'last' or 'first'")
        return Mapping(
            self.text("top of the file", document, "made_from", ""),
            [self.table(where, entry) for where, entry in self.entries(document, "table")],
            [self.answer(where, entry) for where, entry in self.entries(document, "answer")],
            [self.word(where, entry) for where, entry in self.entries(document, "word")],
            [self.place(where, entry) for where, entry in self.entries(document, "place")],
            month,
        )

    def entries(self, document: dict[str, Any], name: str, inside: str = "") -> list[tuple[str, dict[str, Any]]]:
        found = document.get(name, [])
        if not isinstance(found, list) or not all(isinstance(entry, dict) for entry in found):
            raise self.fail(inside or name, f"write [[{'table.' if inside else ''}{name}]] for each")
        called = f"{inside}, [[table.{name}]]" if inside else f"[[{name}]]"
        return [(f"{called} number {number}", entry) for number, entry in enumerate(found, 1)]

    def known(self, where: str, entry: dict[str, Any], allowed: set[str]) -> None:
        unknown = sorted(set(entry) - allowed)
        if unknown:
            raise self.fail(where, f"{unknown[0]!r} is none of its entries: {', '.join(sorted(allowed))}")

    def text(self, where: str, entry: dict[str, Any], key: str, default: str | None = None) -> str:
        value = entry.get(key, default)
        if value is None:
            raise self.fail(where, f"{key} is missing")
        if not isinstance(value, str):
            raise self.fail(where, f"{key} = {value!r} must be a text in quotes")
        return value

    def choice(self, where: str, entry: dict[str, Any], key: str, allowed: Iterable[str]) -> str:
        value, words = self.text(where, entry, key, ""), list(allowed)
        if value and value not in words:
            raise self.fail(where, f"{key} = {value!r} must be one of {', '.join(word for word in words if word)}")
        return value

    def match(self, where: str, entry: dict[str, Any], allowed: set[str] | None) -> Match:
        to = self.text(where, entry, "to")
        if allowed is not None and to not in allowed:
            raise self.fail(where, f"to = {to!r} must be one of {', '.join(sorted(allowed))}")
        confidence = entry.get("confidence", 1.0)
        if isinstance(confidence, bool) or not isinstance(confidence, int | float) or not 0 <= confidence <= 1:
            raise self.fail(where, f"confidence = {confidence!r} must be a number from 0 to 1")
        return Match(
            to,
            float(confidence),
            self.text(where, entry, "evidence", ""),
            self.text(where, entry, "suggested", ""),
        )

    _MATCH = frozenset(("to", "confidence", "evidence", "suggested"))

    def table(self, where: str, entry: dict[str, Any]) -> TableMap:
        own = {"sheet", "heading_rows", "title_rows", "columns", "sections", "fixed", "column"}
        self.known(where, entry, own | self._MATCH)
        match = self.match(where, entry, {NONE, UNDECIDED, *(one.key for one in SHEETS if one.layout == "table")})
        rows = entry.get("heading_rows")
        if not isinstance(rows, list) or not rows or not all(isinstance(row, int) and row > 0 for row in rows):
            raise self.fail(where, "heading_rows must hold the numbers of the heading rows, such as [5] or [5, 6]")
        letters = entry.get("columns")
        if not isinstance(letters, list) or len(letters) != 2:
            raise self.fail(where, 'columns must hold the first and the last column, such as ["A", "H"]')
        titles = entry.get("title_rows", 0)
        if not isinstance(titles, int) or titles < 0:
            raise self.fail(where, "title_rows must be a number of rows")
        table = TableMap(
            self.text(where, entry, "sheet"),
            rows[0] - 1,
            rows[-1] - 1,
            self.letters(where, letters[0]),
            self.letters(where, letters[1]),
            match,
            titles_above=titles,
        )
        keys = self.keys(match)
        table.sections = self.choice(where, entry, "sections", keys)
        table.fixed = [self.fixed(inside, one, keys) for inside, one in self.entries(entry, "fixed", where)]
        table.columns = [self.column(inside, one, keys) for inside, one in self.entries(entry, "column", where)]
        self.each_once(where, table)
        return table

    def keys(self, match: Match) -> set[str]:
        chosen = match.to if match.to not in (NONE, UNDECIDED) else match.suggested
        sheets = [sheet(chosen)] if any(one.key == chosen for one in SHEETS) else list(SHEETS)
        return {column.key for one in sheets for column in one.columns}

    def letters(self, where: str, value: Any) -> int:
        if not isinstance(value, str) or not re.fullmatch(r"[A-Z]{1,3}", value):
            raise self.fail(where, f"{value!r} is no column; write its letters, such as 'C'")
        return column_index(value)

    def each_once(self, where: str, table: TableMap) -> None:
        seen: set[tuple[str, str]] = set()
        for column in table.columns:
            use = (column.place, column.match.to)
            if column.match.to not in (NONE, UNDECIDED, "remarks") and use in seen:
                raise self.fail(where, f"two columns have to = {column.match.to!r}: one of them must be 'none'")
            seen.add(use)

    def fixed(self, where: str, entry: dict[str, Any], keys: set[str]) -> Fixed:
        self.known(where, entry, {"column", "value", "cell", "text"} | self._MATCH)
        column = self.choice(where, entry, "column", keys)
        cell = self.cell(where, entry, "cell")
        match = self.match(where, entry, None)
        return Fixed(column, self.text(where, entry, "value", ""), cell, self.text(where, entry, "text", ""), match)

    def cell(self, where: str, entry: dict[str, Any], key: str) -> str:
        value = self.text(where, entry, key, "")
        if value and split(value) is None:
            raise self.fail(where, f"{key} = {value!r} is no cell; write it as 'B7'")
        return value

    def column(self, where: str, entry: dict[str, Any], keys: set[str]) -> ColumnMap:
        own = {"at", "heading", "place", "date_order", "month_order", "blank", "note"}
        self.known(where, entry, own | self._MATCH)
        return ColumnMap(
            self.letters(where, entry.get("at")),
            self.text(where, entry, "heading", ""),
            self.match(where, entry, keys | {NONE, UNDECIDED}),
            self.text(where, entry, "place", ""),
            self.choice(where, entry, "date_order", ORDERS),
            self.choice(where, entry, "month_order", SHORT_ORDERS),
            self.choice(where, entry, "blank", _BLANKS),
            self.text(where, entry, "note", ""),
        )

    def answer(self, where: str, entry: dict[str, Any]) -> AnswerMap:
        self.known(where, entry, {"sheet", "label", "label_cell", "value_cell"} | self._MATCH)
        keys = {column.key for column in sheet("ship").columns}
        return AnswerMap(
            self.text(where, entry, "sheet"),
            self.cell(where, entry, "label_cell"),
            self.text(where, entry, "label"),
            self.cell(where, entry, "value_cell"),
            self.match(where, entry, keys | {NONE, UNDECIDED}),
        )

    def word(self, where: str, entry: dict[str, Any]) -> WordMap:
        self.known(where, entry, {"column", "text", "content"} | self._MATCH)
        name = self.text(where, entry, "column")
        words = _words_of(name)
        if words is None:
            raise self.fail(where, f"column = {name!r} is no column with a list of words, such as 'inventory.item'")
        content = self.text(where, entry, "content", "")
        if content and not re.fullmatch(r"\d+(\.\d+)?(e\+?\d+)? \S.*", content):
            raise self.fail(where, f"content = {content!r} must be a number and a unit, such as '500 mL'")
        match = self.match(where, entry, None)
        if match.to not in {*words, NONE, KEEP, UNDECIDED}:
            raise self.fail(where, f"to = {match.to!r} is none of our words for {name}, nor 'keep', 'none' or '?'")
        return WordMap(name, self.text(where, entry, "text"), match, content)

    def place(self, where: str, entry: dict[str, Any]) -> PlaceMap:
        from workbook_tools import catalogue

        self.known(where, entry, {"text", "kind", "side"} | self._MATCH)
        return PlaceMap(
            self.text(where, entry, "text"),
            self.match(where, entry, None),
            self.choice(where, entry, "kind", catalogue.craft_kinds()),
            self.choice(where, entry, "side", ("port", "starboard", "aft", "forward")),
        )


def _words_of(name: str) -> set[str] | None:
    """The words that a column such as inventory.item takes; None where it has no list."""
    from workbook_tools import catalogue

    key, _, column_key = name.partition(".")
    contract = next((one for one in SHEETS if one.key == key), None)
    column = next((one for one in contract.columns if one.key == column_key), None) if contract else None
    if column is None:
        return None
    if column.kind == "item":
        return set(catalogue.items())
    return set(column.choices) if column.kind == "choice" else None
