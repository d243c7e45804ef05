"""Carries the answers about the ship over to the Ship sheet."""

from __future__ import annotations

from typing import Any

from workbook_tools.adopt.convert import convert
from workbook_tools.adopt.drafts import Record
from workbook_tools.adopt.fates import Account
from workbook_tools.adopt.mapping import NONE, AnswerMap, ColumnMap, Match
from workbook_tools.adopt.source import Place, Source, where
from workbook_tools.columns import Column, sheet
from workbook_tools.reading.address import split
from workbook_tools.reading.cells import type_cell


def ship_answers(source: Source, answers: list[AnswerMap], account: Account) -> Record:
    """The ship's answers; of two that differ the first stands and the other is listed."""
    record = Record()
    for answer in answers:
        label, value = split(answer.label_cell), split(answer.value_cell)
        if label is not None and value is not None and answer.match.to != NONE:
            _answer(source, account, record, answer.match.to, (answer.sheet, *label), (answer.sheet, *value))
    return record


def _answer(source: Source, account: Account, record: Record, key: str, label: Place, at: Place) -> None:
    page, column = source.pages[at[0]], sheet("ship").column(key)
    raw = page.text(*at[1:]).partition(":")[2].strip() if label == at else page.value(*at[1:])
    problem, value = _value(column, raw, page.errors.get(at[1:]))
    if value is None:
        account.leave(at, f"{column.heading}: {problem}" if problem else "says nothing")
        account.leave(label, f"the label of {column.heading}, whose answer is not carried over")
    elif record.values.setdefault(key, value) != value:
        account.leave(at, f"{column.heading}: another answer stands in {where(record.places[key])}")
        account.leave(label, f"the label of {column.heading}, answered elsewhere")
    else:
        again = record.places.setdefault(key, at) != at
        account.carry(at, f"ship.{key}", "said again" if again else "")
        account.carry(label, f"ship.{key}", "a label" if label != at else "")


def _value(column: Column, raw: Any, error: str | None) -> tuple[str, Any]:
    """Why an answer cannot be read, or the answer."""
    if error:
        return f"the cell shows {error}", None
    if column.kind == "date":
        found = convert(raw, ColumnMap(0, "", Match(NONE, 0.0, "")), column, "ship", False)
        return found.problem, found.lots[0][column.key] if found.lots else None
    typed = type_cell(raw, column)
    if typed.value is not None and column.choices and typed.value not in column.choices:
        return f"{typed.value!r} is none of the words we know", None
    return typed.problem, typed.value
