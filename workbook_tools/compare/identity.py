"""By what a line is known again in the next return, wherever it stands there.

Each sheet has several keys, the surest first. A key is None for a line that lacks what the key is made of. Lines that
no key brings together are new, or gone.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from workbook_tools import catalogue
from workbook_tools.core.crew import serial_key
from workbook_tools.reading import Row

Key = Callable[[Row], tuple[Any, ...] | None]

# Columns in which an empty cell means one of the choices: writing it out changes nothing.
MEANT_BY_EMPTY = {("inventory", "condition"): "in use", ("craft", "purpose"): "required"}


def folded(row: Row, column: str) -> Any:
    """A cell as it is compared: text without case and punctuation, else the value. What cannot be read is its text."""
    value = row.get(column)
    if value is None:
        value = row.unclear.get(column)
    return catalogue.normalise(value) if isinstance(value, str) else value


def item_of(row: Row) -> str:
    """The catalogue's name of a lot's item; the folded text where the catalogue does not know it."""
    text = row.get("item") or row.unclear.get("item", "")
    return catalogue.item_names().find(text) or catalogue.normalise(text)


def number_in(row: Row, column: str) -> str:
    """A batch, serial or certificate number folded for comparing; '' where the cell holds none."""
    return serial_key(row.get(column))


def _of(*columns: str) -> Key:
    """A key of whole cells; None where the first of them is empty."""

    def key(row: Row) -> tuple[Any, ...] | None:
        values = tuple(folded(row, column) for column in columns)
        return values if values[0] not in (None, "") else None

    return key


def _number(column: str) -> Key:
    def key(row: Row) -> tuple[Any, ...] | None:
        number = number_in(row, column)
        return (number,) if number else None

    return key


def _lot(*columns: str, batch: bool) -> Key:
    """A key of a lot: its item, the cells named, and its batch where asked; None for a lot without a batch then."""

    def key(row: Row) -> tuple[Any, ...] | None:
        number = number_in(row, "batch")
        if batch and not number:
            return None
        return (item_of(row), number if batch else "", *(folded(row, column) for column in columns))

    return key


def _person(row: Row) -> tuple[Any, ...] | None:
    """A person's full name, which is compared and never shown. One word may be a rank or 'N.N.'."""
    name = str(row.get("name") or "")
    return (catalogue.normalise(name),) if len(name.split()) > 1 else None


def _numbered_person(row: Row) -> tuple[Any, ...] | None:
    person = _person(row)
    return (*person, folded(row, "number")) if person else None


KEYS: dict[str, tuple[Key, ...]] = {
    "craft": (_of("name"), _number("serial")),
    # A number passes to the relief: the person is looked for first, then the number.
    "crew": (_numbered_person, _person, _of("number"), _of("rank", "craft", "duty")),
    # One batch may lie in several places; a batch is known again where it was moved. A lot that has no batch is known
    # by its date, then by its place: there it is what took the place of what lay there.
    "inventory": (
        _lot("place", "expires", batch=True),
        _lot("place", batch=True),
        _lot(batch=True),
        _lot("place", "expires", "side", "wearer_size", "content", "condition", batch=False),
        _lot("place", "expires", batch=False),
        _lot("place", "side", "wearer_size", "content", batch=False),
        _lot("place", batch=False),
    ),
    "servicing": (_of("appliance", "service", "done"), _of("appliance", "service")),
    "routine": (_of("day", "task", "subject"),),
    "ports": (_of("port", "arrival"), _of("port")),
    "fire": (_of("number", "kind"), _number("serial"), _of("kind", "place", "size", "agent"), _of("kind", "place")),
    "defects": (_of("subject", "fitting", "since"), _of("subject", "fitting")),
    "follow_up": (_of("finding"),),
    "certificates": (_of("certificate", "number"), _of("certificate")),
    "record_of_equipment": (_of("entry"),),
    "exemptions": (_of("rule", "subject", "reference"), _of("rule", "subject")),
}


def order(row: Row) -> tuple[date, int]:
    """Lines of one key are paired the oldest date first, then as they stand."""
    days = (row.get(column) for column in ("expires", "done", "since", "until", "arrival"))
    return next((day for day in days if isinstance(day, date)), date.max), row.number
