"""The mapping: which cell of theirs is what in our book, how sure that is, and why."""

from __future__ import annotations

from dataclasses import dataclass, field

from workbook_tools.columns import sheet

# What stands in a mapping where there is no name of ours.
UNDECIDED = "?"  # to be decided by a person before the mapping can be used
NONE = "none"  # has no place in our book: its cells are listed
KEEP = "keep"  # a word that is carried as it is written

# A match at least so sure is applied without asking; one at least so sure is proposed to the person who decides.
APPLIED = 0.90
PROPOSED = 0.50


SHEET_NAMES = "sheets"


def named(key: str, of: str) -> str:
    """A key of ours as people read it. of: SHEET_NAMES, the key of the sheet whose column it is, or '' for no key."""
    if not of or key in ("", NONE, UNDECIDED):
        return key
    return sheet(key).name if of == SHEET_NAMES else sheet(of).column(key).heading


@dataclass
class Match:
    """What something of theirs is taken for, how sure that is (0 to 1) and what speaks for it.

    suggested: what is proposed where a person must decide.
    """

    to: str
    confidence: float
    evidence: str
    suggested: str = ""

    @property
    def undecided(self) -> bool:
        """Whether a person must decide."""
        return self.to == UNDECIDED


def settled(to: str, confidence: float, evidence: str, otherwise: str = NONE) -> Match:
    """A match by its confidence: applied, proposed to a person, or left out (otherwise)."""
    confidence = round(min(1.0, max(0.0, confidence)), 2)
    if confidence >= APPLIED:
        return Match(to, confidence, evidence)
    if confidence >= PROPOSED:
        return Match(UNDECIDED, confidence, evidence, to)
    return Match(otherwise, round(1 - confidence, 2), evidence)


@dataclass
class ColumnMap:
    """One column of a table of theirs. place is set where its heading names the place (a column for each boat)."""

    index: int
    heading: str
    match: Match
    place: str = ""
    date_order: str = ""
    month_order: str = ""
    blank: str = ""  # 'as above', 'empty' or '?': what an empty cell in a line means
    note: str = ""


@dataclass
class Fixed:
    """A value that holds for every line of a table: from a title, or from the sheet's name (cell '')."""

    column: str
    value: str
    cell: str
    text: str
    match: Match


@dataclass
class TableMap:
    """One table of theirs."""

    sheet: str
    first_heading: int  # rows counted from 0
    last_heading: int
    first_column: int
    last_column: int
    match: Match  # to: the key of a sheet of ours
    columns: list[ColumnMap] = field(default_factory=list)
    fixed: list[Fixed] = field(default_factory=list)
    sections: str = ""  # the column key that a line of one cell between the others fills, or ''
    titles_above: int = 0  # rows above the headings that hold its titles

    @property
    def ours(self) -> str:
        """The key of our sheet that it is, or is proposed to be; '' where there is none."""
        key = self.match.suggested if self.match.undecided else self.match.to
        return "" if key == NONE else key


@dataclass
class AnswerMap:
    """One answer about the ship: the cell of its label and the cell of its value."""

    sheet: str
    label_cell: str
    label: str
    value_cell: str
    match: Match


@dataclass
class WordMap:
    """A word of theirs in a column that has a list of words: an item, a kind of craft, a service."""

    column: str  # inventory.item, craft.kind
    text: str
    match: Match
    content: str = ""  # a measure told in the name: '500 mL'


@dataclass
class PlaceMap:
    """A place or craft of theirs. kind is set where it is a craft, which then gets a line on our Craft sheet."""

    text: str
    match: Match
    kind: str = ""
    side: str = ""


@dataclass
class Mapping:
    """How one foreign layout becomes ours."""

    made_from: str
    tables: list[TableMap] = field(default_factory=list)
    answers: list[AnswerMap] = field(default_factory=list)
    words: list[WordMap] = field(default_factory=list)
    places: list[PlaceMap] = field(default_factory=list)
    month_expiry: str = "last"
    notes: list[str] = field(default_factory=list)

    def matches(self) -> list[tuple[str, Match, str]]:
        """Every match with what it is about, and what its names are (see named)."""
        found = [(f"sheet {table.sheet!r}", table.match, SHEET_NAMES) for table in self.tables]
        for table in self.tables:
            ours = table.ours
            found += [(f"column {column.heading!r} of {table.sheet!r}", column.match, ours) for column in table.columns]
            found += [(f"{named(fixed.column, ours)} of {table.sheet!r}", fixed.match, "") for fixed in table.fixed]
        found += [(f"label {answer.label!r}", answer.match, "ship") for answer in self.answers]
        found += [(f"word {word.text!r}", word.match, "") for word in self.words]
        return found + [(f"place {place.text!r}", place.match, "") for place in self.places]
