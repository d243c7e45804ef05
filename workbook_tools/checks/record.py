"""Whether the record itself can be right (WB codes). Those found while reading are only explained here."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.context import Audit, close_crafts
from workbook_tools.checks.registry import Code, check, describe
from workbook_tools.columns import SHEETS
from workbook_tools.core import stock
from workbook_tools.core.imo_number import imo_number_ok
from workbook_tools.findings import Finding
from workbook_tools.reading import Row
from workbook_tools.reading.tables import lot_name, row_subject

for _code in (
    Code(
        "WB01",
        "error-value",
        ("query",),
        "no cell that is read shows an error value",
        "a cell that shows #N/A says nothing",
        "a quantity cell with a formula that shows #REF!",
        "an error value in a column that is not read; an empty cell",
        "mend the formula, or write the value itself",
    ),
    Code(
        "WB02",
        "number-not-read",
        ("query",),
        "numbers can be read without guessing",
        "a quantity that cannot be read is no quantity",
        "'about 6' as quantity; '1,500', which is 1500 to one reader and 1.5 to another",
        "'72' or '10 000' written as text; '1,5'",
        "write the number alone",
    ),
    Code(
        "WB03",
        "date-not-read",
        ("query",),
        "dates can be read without guessing",
        "a flare that expires on 12/03/2027 expires in March or in December",
        "'12/03/2027' as text; 46146 as a plain number; '03/27'",
        "'25/03/2027' as text, which has one reading only; '03/2027' as expiry, read as the last day of the month",
        "write the date as YYYY-MM-DD",
    ),
    Code(
        "WB04",
        "cell-empty",
        ("query",),
        "cells that a verdict needs are filled",
        "a lot without place, item or quantity counts nowhere",
        "an inventory line with place and item, a batch number, and no quantity",
        "a checklist line that waits to be counted; an empty optional cell",
        "fill it in, or clear the line",
    ),
    Code(
        "WB05",
        "word-unknown",
        ("query",),
        "cells with a list of words hold one of them",
        "a word nobody knows decides nothing",
        "'liferaff' as type of craft",
        "'Life Raft', 'STBD' or 'MOB boat': other names that the lists know",
        "choose a word from the list",
    ),
    Code(
        "WB06",
        "number-out-of-range",
        ("query",),
        "numbers lie where they can: quantities above zero, persons of a craft from 1 to 500",
        "a lot of none or fewer is a slip of the pen",
        "a quantity of 0 or -6",
        "a quantity of 0.5 L; 10,000 kJ as content",
        "correct the number, or clear the line",
    ),
    Code(
        "WB07",
        "name-twice",
        ("query",),
        "each craft has a name of its own, each person a number of their own",
        "with two boats of one name, nobody knows which lot lies where",
        "two lines of the Craft sheet named 'Lifeboat 1'",
        "'Lifeboat 1' and 'Lifeboat 2'; one batch number in several places",
        "give each a name of its own",
    ),
    Code(
        "WB12",
        "heading-twice",
        ("query",),
        "no heading stands twice on a sheet",
        "of two columns for one thing only one is read",
        "two columns headed 'Expiry'",
        "the heading line printed again further down",
        "keep one of the two",
    ),
    Code(
        "WB13",
        "column-not-read",
        ("note",),
        "columns that are none of ours are named, so that nobody thinks they were read",
        "a column with a heading nobody knows is not looked at",
        "a column headed 'Supplier'",
        "a known column in another place, or under another of its names",
        "rename the heading if it should be read",
    ),
    Code(
        "WB24",
        "function-with-a-dot",
        ("note",),
        "cell functions are written so that Excel knows them: LSA_WATER_L, not LSA.WATER_L",
        "LibreOffice 7.4 saves its own spelling into .xlsx, and Excel then shows #NAME?",
        "=LSA.WATER_L(25;...) on any sheet of a .xlsx",
        "=LSA_WATER_L(25;...); the words LSA.X in a text",
        "replace the dots by underscores in Excel",
    ),
    Code(
        "WB18",
        "sheet-not-read",
        ("note", "query"),
        "a sheet that might be one of ours is read, or named as left out: two of one kind, a name or headings that are "
        "nearly ours, one of our names over something else",
        "a sheet that is silently left out is thought to be looked at",
        "a sheet 'Crew' whose columns are headed '?'; 'Routine' and 'Drills' in one book; 'Servicng'",
        "a sheet of your own under a name of its own (listed as not read); one of ours with headings and no lines",
        "head its columns as in the template, name it as one of ours, or put its lines on the sheet that is read",
    ),
):
    describe(_code)


def _by_text(audit: Audit, column: str) -> dict[str, list[Row]]:
    """The lines of the Inventory by what stands in a column, in the order of the sheet."""
    found: dict[str, list[Row]] = {}
    for row in audit.book.rows("inventory"):
        text = row.values.get(column)
        if text is not None:
            found.setdefault(text, []).append(row)
    return found


@check(
    Code(
        "WB08",
        "place-unknown",
        ("query",),
        "the place of a lot is a craft of the Craft sheet or a place on board",
        "a lot in a place that does not exist is counted for no boat",
        "'Lifebaot 1', or 'Lifeboat 3' on a ship with two",
        "'LIFEBOAT 1'; 'Bridge, port wing'; 'Pyrotechnics locker'",
        "write the craft's name as on the Craft sheet",
    )
)
def place_unknown(audit: Audit) -> Iterator[Finding]:
    """Yield one query for each place nobody knows, at its first line."""
    by_name = audit.crafts_by_name
    for place, rows in _by_text(audit, "place").items():
        if catalogue.normalise(place) in by_name or catalogue.is_place(place):
            continue
        near = close_crafts(place, by_name)
        hint = f"; did you mean {' or '.join(repr(craft.name) for craft in near[:2])}?" if near else ""
        lines = "" if len(rows) == 1 else f" ({len(rows)} lines)"
        yield audit.finding(
            "WB08",
            "query",
            "at next port",
            "inventory",
            rows[0],
            "place",
            place,
            f"place {place!r}{lines} is no craft of the Craft sheet and no place on board that we know{hint}",
            "write the craft's name as on the Craft sheet, or a place such as Bridge or Safety locker",
        )


@check(
    Code(
        "WB09",
        "item-unknown",
        ("query",),
        "the item of a lot is in the list of items",
        "an item nobody knows is counted by no rule",
        "'hand flair'",
        "'Hand Flares', 'TPA', 'parachute rocket': other names that the list knows",
        "choose the item from the list",
    )
)
def item_unknown(audit: Audit) -> Iterator[Finding]:
    """Yield one query for each item nobody knows, at its first line."""
    for item, rows in _by_text(audit, "item").items():
        if catalogue.item_names().find(item) is not None:
            continue
        near = catalogue.item_names().nearest(item)
        hint = f"; did you mean {near!r}?" if near else ""
        lines = "" if len(rows) == 1 else f" ({len(rows)} lines)"
        yield audit.finding(
            "WB09",
            "query",
            "at next port",
            "inventory",
            rows[0],
            "item",
            item,
            f"item {item!r}{lines} is not in the list of items{hint}",
            "choose the item from the list (davitbook rules items)",
        )


@check(
    Code(
        "WB10",
        "expires-before-made",
        ("query",),
        "nothing expires before it was made",
        "one of the two dates is wrong, and with it the day of replacement",
        "made 2027-01-10, expires 2026-01-31",
        "made and expiring in the same month; one of the two dates missing",
        "correct the date that is wrong",
    )
)
def expires_before_made(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every lot that expires before it was made."""
    for row in audit.book.rows("inventory"):
        made = row.values.get("made")
        expires = row.values.get("expires") if made is not None else None
        if made is not None and expires is not None and expires < made:
            yield audit.finding(
                "WB10",
                "query",
                "at next port",
                "inventory",
                row,
                "expires",
                _subject(row),
                f"expires on {expires}, before it was made on {made}",
                "correct the date that is wrong",
            )


# Dates of a record lie within a working life: none before 1980, none past 25 years from the day asked.
_EARLIEST = date(1980, 1, 1)
_YEARS_AHEAD = 25
# What was made or certified long ago may still be on board; an anniversary's year means nothing.
_OLDEST = date(1950, 1, 1)
_MAY_BE_OLD = ("keel_laid", "made", "issued")
_YEAR_MEANS_NOTHING = ("anniversary",)
_DATES = {
    entry.key: tuple(
        (column.key, _OLDEST if column.key in _MAY_BE_OLD else _EARLIEST)
        for column in entry.columns
        if column.kind in ("date", "expiry", "made") and column.key not in _YEAR_MEANS_NOTHING
    )
    for entry in SHEETS
}


@check(
    Code(
        "WB11",
        "date-implausible",
        ("query",),
        "dates lie between 1980 (of making, issue and keels: 1950) and 25 years after the day asked",
        "a slip in the century makes a lot last for ever",
        "expires 2206-05-01; joined 1926-11-02",
        "a battery that lasts ten years; a keel laid in 1975",
        "correct the year",
    )
)
def date_implausible(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every date implausibly far away."""
    latest = date(min(audit.on.year + _YEARS_AHEAD, 9999), 12, 31)
    for key, columns in _DATES.items():
        for row in audit.book.rows(key):
            values = row.values
            for column, earliest in columns:
                day = values.get(column)
                if day is None or earliest <= day <= latest:
                    continue
                heading = audit.book.tables[key].sheet.column(column).heading
                yield audit.finding(
                    "WB11",
                    "query",
                    "at next port",
                    key,
                    row,
                    column,
                    f"{row_subject(row, audit.book.tables[key])}, {heading.lower()}",
                    f"{heading} is {day}, implausibly far away",
                    "correct the year",
                )


def _subject(row: Row) -> str:
    """What an inventory line is about."""
    return lot_name(row) or "lot without a name"


@check(
    Code(
        "WB14",
        "content-missing",
        ("query",),
        "what is asked in litres or kilojoules has a content recorded",
        "72 sachets are 9 L or 36 L",
        "fresh water, 72 sachets, and nothing in 'content per unit'",
        "fresh water, 90 L; 72 sachets of 125 mL; a checklist line not yet counted",
        "write what one piece holds, and its unit",
    )
)
def content_missing(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every lot whose measure cannot be worked out for want of a content."""
    items = catalogue.items()
    for entry in audit.lots:
        item = items[entry.lot.item]
        lot, row = entry.lot, entry.row
        if item.dimension == "count" or lot.quantity is None or _unit_misfits(lot):
            continue
        if (
            stock.measure(lot, _base_unit(item.dimension)) is None
            and not {"content", "content_unit"} & row.unclear.keys()
        ):
            column = "content" if lot.content is None else "content_unit"
            yield audit.finding(
                "WB14",
                "query",
                "at next port",
                "inventory",
                row,
                column,
                _subject(row),
                f"{lot.item}: {lot.quantity:g} recorded; what one of them holds is not",
                f"write what one piece holds and its unit (such as 500 mL) beside {lot.item}",
            )


def _base_unit(dimension: str) -> str:
    return next(unit.key for unit in catalogue.units().values() if unit.dimension == dimension)


def _unit_misfits(lot: stock.Lot) -> bool:
    """Whether the unit, or the content's unit, measures something else than the item."""
    if lot.content_unit is None and (lot.unit is None or lot.unit == "each"):
        return False  # pieces fit everything
    dimension = catalogue.items()[lot.item].dimension
    own = catalogue.units()[lot.unit].dimension if lot.unit else "count"
    if own not in ("count", dimension):
        return True
    if lot.content_unit is None or dimension == "count":
        return False
    return catalogue.units()[lot.content_unit].dimension not in ("count", dimension)


@check(
    Code(
        "WB15",
        "expiry-missing",
        ("query",),
        "lots of dated items carry their date",
        "a flare without a date may be ten years old",
        "hand flares, 6, and no date",
        "buckets without a date; water in a built-in tank; flares awaiting landing",
        "read the date on the item",
        "LSA Code 1.2.3",
    )
)
def expiry_missing(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every lot of a dated item without a date."""
    items = catalogue.items()
    for entry in audit.lots:
        row, lot = entry.row, entry.lot
        if lot.expires is not None or not items[lot.item].dated or "expires" in row.unclear:
            continue
        if lot.quantity is None or lot.condition not in stock.FIT_CONDITIONS:
            continue
        yield audit.finding(
            "WB15",
            "query",
            "at next port",
            "inventory",
            row,
            "expires",
            _subject(row),
            f"{lot.item}: no expiry date recorded",
            "read the date on the item and write it here",
            source="LSA Code 1.2.3",
        )


@check(
    Code(
        "WB16",
        "unit-misfits",
        ("query",),
        "the unit of a lot measures what the item is measured in",
        "water in kilograms or flares in litres is a slip of a line",
        "hand flares, 6 L",
        "water in millilitres or US gallons; food in kcal; a painter of 25 m",
        "choose a unit that fits the item",
    )
)
def unit_misfits(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every lot whose unit does not fit its item."""
    for entry in audit.lots:
        if entry.lot.quantity is None or not _unit_misfits(entry.lot):
            continue
        lot = entry.lot
        item = catalogue.items()[lot.item]
        own = catalogue.units()[lot.unit].dimension if lot.unit else "count"
        column = "unit" if own not in ("count", item.dimension) else "content_unit"
        yield audit.finding(
            "WB16",
            "query",
            "at next port",
            "inventory",
            entry.row,
            column,
            _subject(entry.row),
            f"{lot.item} is not measured in {lot.unit if column == 'unit' else lot.content_unit}",
            f"choose a unit that fits, such as {item.default_unit}",
        )


@check(
    Code(
        "WB17",
        "imo-number-wrong",
        ("query",),
        "the IMO number has seven digits and the right check digit",
        "a wrong number puts the record with another ship",
        "a number with two digits exchanged",
        "'IMO' written before the number; an empty cell",
        "copy the number from the certificate",
        "resolution A.1117(30)",
    )
)
def imo_number_wrong(audit: Audit) -> Iterator[Finding]:
    """Yield a query when the IMO number's check digit does not agree."""
    number = audit.book.ship_value("imo_number")
    if number is not None and not imo_number_ok(number):
        yield audit.finding(
            "WB17",
            "query",
            "at next port",
            "ship",
            audit.book.rows("ship")[0],
            "imo_number",
            "ship",
            f"IMO number {number!r}: not seven digits with the right check digit",
            "copy the number from the certificate",
            source="resolution A.1117(30)",
        )
