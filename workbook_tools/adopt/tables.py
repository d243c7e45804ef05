"""Which sheet of ours a table of theirs is, and which column each of its columns is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from workbook_tools.adopt.blocks import Block
from workbook_tools.adopt.days import Proof, prove, prove_short
from workbook_tools.adopt.evidence import Speaks, Values, by_heading, by_shape, is_amount, is_date, together
from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.lines import LINE, SECTION, Area, Part, names_place, parts
from workbook_tools.adopt.mapping import NONE, PROPOSED, UNDECIDED, ColumnMap, Fixed, Match, TableMap, settled
from workbook_tools.adopt.measures import lots
from workbook_tools.adopt.names import choice_names
from workbook_tools.adopt.places import craft_in_title, is_place, read_craft
from workbook_tools.adopt.words import vocabulary
from workbook_tools.columns import SHEETS, Column, Sheet
from workbook_tools.reading.address import address
from workbook_tools.reading.lines import is_blank

# The column whose words tell a table from others.
_DECIDING = {
    "inventory": "item",
    "craft": "kind",
    "servicing": "service",
    "routine": "task",
    "fire": "kind",
    "defects": "fitting",
    "record_of_equipment": "entry",
}
# Follow-up and Exemptions hold ids of findings and keys of rules: no book but ours has them.
CANDIDATES = tuple(
    sheet for sheet in SHEETS if sheet.layout == "table" and sheet.key not in ("follow_up", "exemptions")
)
# Two claims on one column, or one claim on two columns, so near that a person must decide.
_NEAR = 0.05
_DATES = ("date", "expiry", "made")


@dataclass
class Claim:
    """A column of theirs as a column of ours."""

    index: int
    key: str
    speaks: Speaks
    place: str = ""


@dataclass
class Reading:
    """A table of theirs read as one sheet of ours."""

    sheet: Sheet
    claims: dict[int, Claim] = field(default_factory=dict)
    deciding: float = 0.0
    named: bool = False
    settled_elsewhere: set[str] = field(default_factory=set)  # required columns told by title, section or sheet name

    @property
    def lacking(self) -> list[str]:
        """The required columns that nothing tells."""
        there = {claim.key for claim in self.claims.values()} | self.settled_elsewhere
        return [column.key for column in self.sheet.columns if column.required and column.key not in there]

    @property
    def worth(self) -> float:
        """By which readings of a table are compared."""
        sure = sum(claim.speaks.score for claim in self.claims.values() if claim.speaks.score >= PROPOSED)
        return sure + 2.0 * self.deciding + 0.8 * self.named - 0.8 * len(self.lacking)


def area_of(block: Block) -> Area:
    """The body of a block as an area."""
    return Area(block.body[0], block.body[1], block.columns[0], block.columns[-1])


def parts_of(block: Block) -> list[Part]:
    """The rows of a block below its headings."""
    headings = {column: (*block.headings.get(column, ()), block.heading(column)) for column in block.columns}
    return parts(block.page, area_of(block), headings)


def propose_table(block: Block, only: Sheet | None = None) -> TableMap:
    """The mapping of one table. only: the sheet of ours that a person has said it is."""
    rows = parts_of(block)
    lines = [part.row for part in rows if part.role == LINE]
    values = {
        column: Values.of([block.page.value(row, column) for row in lines if block.page.filled(row, column)])
        for column in block.columns
    }
    readings = sorted((_read_as(sheet, block, values, rows) for sheet in CANDIDATES), key=lambda one: -one.worth)
    best = next((one for one in readings if one.sheet is only), readings[0])
    sheet_match = _sheet_match(best, readings[1], bool(lines))
    if only is not None:
        sheet_match = Match(only.key, 1.0, "you said so")
    table = TableMap(
        block.page.name,
        block.first_heading,
        block.last_heading,
        block.columns[0],
        block.columns[-1],
        sheet_match,
        titles_above=block.first_heading - min((row for row, _, _ in block.titles), default=block.first_heading),
    )
    _map_columns(table, block, best, values, lines)
    if table.match.to == NONE:
        return table
    _fix(table, block, best, rows)
    ships = _several_ships(block, best, lines)
    if ships:
        why = f"{ships}, and a book is of one ship; {table.match.evidence}"
        table.match = Match(UNDECIDED, min(table.match.confidence, 0.6), why, best.sheet.key)
    return table


def _several_ships(block: Block, reading: Reading, lines: list[int]) -> str:
    """Says so where a column names ships, and more than one."""
    names = vocabulary().headings["ship"]
    for index in block.columns:
        heading = fold(block.heading(index))
        if index not in reading.claims and heading in names and names[heading].entry in ("name", "imo_number"):
            ships = {fold(str(block.page.value(row, index))) for row in lines if block.page.filled(row, index)}
            if len(ships) > 1:
                return f"column {block.heading(index)!r} names {len(ships)} ships"
    return ""


def _sheet_match(best: Reading, second: Reading, has_lines: bool) -> Match:
    """How sure it is which sheet of ours a table is."""
    required = [column.key for column in best.sheet.columns if column.required]
    told = 1 - len(best.lacking) / len(required) if required else min(1.0, len(best.claims) / 3)
    margin = best.worth - second.worth
    deciding = min(1.0, best.deciding / 0.7)
    confidence = 0.25 + 0.30 * told + 0.30 * max(deciding, 0.8 * best.named) + 0.15 * min(1.0, max(0.0, margin))
    words = [f"{len(best.claims)} of its columns are ours"]
    if best.deciding:
        words.append(f"{best.deciding:.0%} of the words that decide are known")
    if best.named:
        words.append("its sheet or title is named so")
    if best.lacking:
        words.append(f"no column for {', '.join(best.lacking)}")
    words.append(f"next best {second.sheet.name}")
    if not has_lines:
        return Match(NONE, 1.0, "no line stands under its headings")
    if best.sheet.key in _DECIDING and best.deciding < 0.3:
        confidence = min(confidence, 0.8)  # a list of bolts has an Item and a Quantity too
    if len(best.claims) < 2:
        confidence = min(confidence, 0.45)
    return settled(best.sheet.key, confidence, "; ".join(words))


def _read_as(sheet: Sheet, block: Block, values: Mapping[int, Values], rows: list[Part]) -> Reading:
    reading = Reading(sheet, _claims(sheet, block, values))
    reading.named = _is_named(sheet, block)
    key = _DECIDING.get(sheet.key)
    for claim in reading.claims.values():
        if claim.key == key:
            shape = by_shape(values[claim.index], sheet, sheet.column(key))
            reading.deciding = shape.score if shape else 0.0
    if sheet.key == "crew":
        told = {claim.key for claim in reading.claims.values() if claim.speaks.score >= 0.85}
        reading.deciding = len(told & {"rank", "name", "craft"}) / 3
    if sheet.key == "certificates" and any(claim.key == "certificate" for claim in reading.claims.values()):
        index = next(claim.index for claim in reading.claims.values() if claim.key == "certificate")
        reading.deciding = values[index].share(lambda value: isinstance(value, str) and _is_certificate(value))
    if sheet.key == "inventory" and (_place_told(block, rows) or any(one.place for one in reading.claims.values())):
        reading.settled_elsewhere.add("place")
    if sheet.key in ("fire", "craft") and _kind_told(sheet, block):
        reading.settled_elsewhere.add("kind")
        reading.deciding = max(reading.deciding, 0.7)
    return reading


def _is_certificate(text: str) -> bool:
    return any(part in fold(text) for part in ("certificat", "zeugni", "zertifikat", "sertifikat", "certificado"))


def _is_named(sheet: Sheet, block: Block) -> bool:
    names = [fold(name) for name in (sheet.name, *sheet.other_names)]
    texts = [fold(block.page.name), *(fold(text) for _, _, text in block.titles)]
    return any(f" {name} " in f" {text} " for name in names for text in texts)


def _claims(sheet: Sheet, block: Block, values: Mapping[int, Values]) -> dict[int, Claim]:
    """The best use of each column of theirs, no column of ours used twice (but once for each boat across)."""
    found: list[Claim] = []
    for index in block.columns:
        place, words = _boat_above(block, index) if sheet.key == "inventory" else ("", block.headings[index])
        for column in sheet.columns:
            speaks = _speaks(block, index, words, sheet, column, values[index], bool(place))
            if speaks.score >= PROPOSED:
                found.append(Claim(index, column.key, speaks, place))
    found.sort(key=lambda claim: (-claim.speaks.score, claim.index))
    chosen: dict[int, Claim] = {}
    used: set[tuple[str, str]] = set()
    for claim in found:
        if claim.index not in chosen and (claim.place, claim.key) not in used and ("", claim.key) not in used:
            chosen[claim.index] = claim
            used.add((claim.place, claim.key))
    for claim in chosen.values():
        claim.speaks = _with_rivals(claim, found)
    return chosen


def _with_rivals(claim: Claim, found: list[Claim]) -> Speaks:
    """Less sure where another use of the column, or another column for the use, is as good."""
    for other in found:
        same_column = other.index == claim.index and other.key != claim.key
        same_use = other.index != claim.index and other.key == claim.key and other.place == claim.place
        if (same_column or same_use) and other.speaks.score >= claim.speaks.score - _NEAR:
            rival = f"{other.key} is as likely" if same_column else "another column says the same"
            return Speaks(min(claim.speaks.score, 0.8), f"{claim.speaks.words}; but {rival}")
    return claim.speaks


def _boat_above(block: Block, index: int) -> tuple[str, tuple[str, str]]:
    """The craft that a heading names, and the heading without it: a column for each boat."""
    upper, lower = block.headings[index]
    for text, rest in ((upper, ("", lower)), (lower, ("", upper))):
        craft = read_craft(text) if text else None
        if craft is not None and (craft.number or craft.side or _several_craft(block)):
            return text, rest
    return "", (upper, lower)


def _several_craft(block: Block) -> bool:
    return sum(read_craft(part) is not None for pair in block.headings.values() for part in pair if part) >= 2


def _speaks(
    block: Block, index: int, words: tuple[str, str], sheet: Sheet, column: Column, values: Values, across: bool
) -> Speaks:
    """What speaks for one column of theirs being one of ours."""
    upper, lower = words
    tried = [lower, f"{upper} {lower}".strip(), upper] if upper else [lower]
    heading = max(
        (by_heading(text, sheet.key, column.key) for text in tried if text), key=_score, default=Speaks(0, "")
    )
    if not any(tried) and across:
        return _across(block, column, values)
    if any(vocabulary().is_one("line_number", text) for text in tried if text) and values.running:
        return Speaks(0.0, "a running number")
    shape = by_shape(values, sheet, column)
    speaks = together(heading, shape)
    if shape is not None and heading.score < 0.84:
        return max(speaks, _by_shape_alone(sheet, column, values, shape), key=_score)
    return speaks


def _score(speaks: Speaks) -> float:
    return speaks.score


def _across(block: Block, column: Column, values: Values) -> Speaks:
    """A column headed by a craft alone: its counts, or its dates where a title speaks of expiry."""
    if column.key == "quantity":
        share = values.share(is_amount)
        return Speaks(0.95 * share, f"its heading is a craft; {share:.0%} of its values are quantities")
    if column.key == "expires":
        share = values.share(is_date)
        told = any(word in vocabulary().plain["expiry"] for _, _, text in block.titles for word in fold(text).split())
        return Speaks((0.95 if told else 0.8) * share, f"its heading is a craft; {share:.0%} of its values are dates")
    return Speaks(0.0, "")


def _by_shape_alone(sheet: Sheet, column: Column, values: Values, shape: Speaks) -> Speaks:
    """What the values say where the heading says little: known items are items, whatever stands above them."""
    few = len(values.cells) < 3
    if column.key == _DECIDING.get(sheet.key) and not few:
        return Speaks(0.6 + 0.35 * shape.score if shape.score >= 0.4 else 0.0, shape.words)
    if column.key == "place" and sheet.key == "inventory" and not few and shape.score >= 0.8:
        return Speaks(0.55 + 0.3 * shape.score, shape.words)
    if sheet.key == "inventory" and column.key in ("expires", "quantity") and shape.score >= 0.8:
        return Speaks(0.55, f"{shape.words}; its heading does not say what they are")
    if sheet.key == "inventory" and column.key == "unit" and shape.score >= 0.9 and not few:
        return Speaks(0.85, shape.words)
    return Speaks(0.0, "")


def _map_columns(
    table: TableMap, block: Block, reading: Reading, values: Mapping[int, Values], lines: list[int]
) -> None:
    for index in block.columns:
        claim = reading.claims.get(index)
        if claim is None:
            why, sure = _why_none(block, index, values[index])
            table.columns.append(ColumnMap(index, block.heading(index), Match(NONE, sure, why)))
            continue
        match = settled(claim.key, claim.speaks.score, claim.speaks.words)
        mapped = ColumnMap(index, block.heading(index), match, claim.place)
        table.columns.append(mapped)
        column = reading.sheet.column(claim.key)
        if column.kind in (*_DATES, "number") or column.key == "remarks":
            _prove(mapped, block, index, lines, column.kind in _DATES)
        if claim.key in ("place", "item", "kind", "appliance") and column.required:
            _blanks(mapped, block, index, lines)


def _why_none(block: Block, index: int, values: Values) -> tuple[str, float]:
    heading = block.heading(index)
    if not values.cells:
        return "nothing stands in it", 1.0
    if values.running:
        return "a running number", 0.95
    return ("none of our columns is like it" if heading else "it has no heading, and its values do not tell"), 0.6


def _prove(mapped: ColumnMap, block: Block, index: int, lines: list[int], of_dates: bool) -> None:
    """The order of day and month that the column itself proves. of_dates: whole cells are dates, not parts of texts."""
    cells = [
        (address(row, index), text) for row in lines for text in _date_texts(block.page.value(row, index), of_dates)
    ]
    proof, short = prove(cells), prove_short(cells)
    mapped.date_order, mapped.month_order = proof.order, short.order
    notes = [f"date order: {proof.words()}"] if proof.order or proof.open or proof.against else []
    notes += [f"month and year: {short.words()}"] if short.order or short.open or short.against else []
    if _mixed(proof, cells):
        notes.append(
            "LOOK: some cells are real dates and some are texts that put the day first; where the day is 12 or less, "
            "the spreadsheet may have swapped day and month as they were typed"
        )
    mapped.note = "; ".join(notes)


def _date_texts(value: object, of_dates: bool) -> list[object]:
    """The dates in a cell: those behind 'exp' in a text, or the whole of it."""
    told = lots(value) if isinstance(value, str) else None
    inside: list[object] = [lot.expires for lot in told or () if lot.expires]
    return inside or ([value] if of_dates else [])


def _mixed(proof: Proof, cells: list[tuple[str, object]]) -> bool:
    return proof.order == "day first" and any(isinstance(value, date) for _, value in cells)


def _blanks(mapped: ColumnMap, block: Block, index: int, lines: list[int]) -> None:
    """Whether lines leave the column empty that says what or where a thing is: a person decides what that means."""
    empty = [
        row
        for row in lines
        if is_blank(block.page.value(row, index)) and block.page.merged_at(row, index) is None and row != lines[0]
    ]
    if empty:
        mapped.blank = UNDECIDED
        where = ", ".join(address(row, index) for row in empty[:3])
        mapped.note = (
            f"{len(empty)} lines leave it empty ({where}): 'as above' repeats the cell above, 'empty' does not"
        )


def _place_told(block: Block, rows: list[Part]) -> bool:
    if any(part.role == SECTION and _place_of(block, part) for part in rows):
        return True
    texts = [text for _, _, text in block.titles]
    return any(craft_in_title(text) or is_place(text) for text in (*texts, block.page.name))


def _place_of(block: Block, part: Part) -> str:
    text = block.page.text(part.row, part.cells[0])
    return text if names_place(text) else ""


def _fix(table: TableMap, block: Block, reading: Reading, rows: list[Part]) -> None:
    """What holds for all lines: the place by sections, title or sheet name; the kind by the title."""
    told = {column.match.to for column in table.columns} | {column.match.suggested for column in table.columns}
    if reading.sheet.key == "inventory" and "place" not in told:
        across = any(column.place for column in table.columns)
        if any(part.role == SECTION and _place_of(block, part) for part in rows):
            table.sections = "place"
        elif not across:
            table.fixed.append(_fixed_place(block))
    if reading.sheet.key in ("fire", "craft") and "kind" not in told:
        fixed = _kind_told(reading.sheet, block)
        table.fixed.append(
            fixed or Fixed("kind", "", "", "", Match(UNDECIDED, 0.0, "no column, title or name says it"))
        )


def _told_by(block: Block) -> list[tuple[str, str]]:
    """The texts that speak for a whole table, nearest first: cell and text; the sheet's name last."""
    return [*((address(row, column), text) for row, column, text in block.titles), ("", block.page.name)]


def _fixed_place(block: Block) -> Fixed:
    for cell, text in _told_by(block):
        craft = craft_in_title(text)
        if craft is not None:
            words = f"{'title' if cell else 'sheet name'} {text!r} names one craft"
            sure = 0.95 if craft.number or craft.side else 0.8
            return Fixed("place", craft.name, cell, text, settled(craft.name, sure, words))
    for cell, text in _told_by(block):
        craft = read_craft(text)
        if craft is not None and fold(text) == fold(craft.kind):
            words = f"{'title' if cell else 'sheet name'} {text!r} is a craft"
            return Fixed("place", craft.name, cell, text, settled(craft.name, 0.92, words))
    for cell, text in _told_by(block):
        if is_place(text):
            words = f"{'title' if cell else 'sheet name'} {text!r} may be the place"
            return Fixed("place", text, cell, text, settled(text, 0.75, words))
    return Fixed("place", "", "", "", Match(UNDECIDED, 0.0, "no column, title or sheet name says where things are"))


def _kind_told(sheet: Sheet, block: Block) -> Fixed | None:
    """The kind of everything in a table, by its title or sheet name: 'Portable fire extinguishers'."""
    names = dict(choice_names(sheet.key, "kind"))
    if sheet.key == "craft":
        names.update(vocabulary().craft_kinds)
    for cell, text in _told_by(block):
        folded = fold(text)
        inside = [name for name in names if f" {name} " in f" {folded} "]
        if not inside:
            continue
        longest = max(inside, key=len)
        entries = {names[name].entry for name in inside if name not in longest or name == longest}
        score = 0.93 if longest == folded else 0.91 if len(longest.split()) >= 2 else 0.8
        if len(entries) > 1:
            score = 0.6
        words = f"{'title' if cell else 'sheet name'} {text!r} names {longest!r}"
        entry = names[longest].entry
        return Fixed("kind", entry, cell, text, settled(entry, score, words))
    return None
