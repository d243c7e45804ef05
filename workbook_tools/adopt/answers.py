"""Answers about the ship that stand outside the tables: 'Vessel: Orrin Vale', a label and a cell beside it."""

from __future__ import annotations

from workbook_tools.adopt.blocks import Block, known_for
from workbook_tools.adopt.fold import fold
from workbook_tools.adopt.mapping import AnswerMap, settled
from workbook_tools.adopt.source import Page
from workbook_tools.adopt.words import vocabulary
from workbook_tools.columns import Column, sheet
from workbook_tools.reading.address import address
from workbook_tools.reading.cells import type_cell

# An answer stands so many cells to the right of its label at most.
_FURTHEST = 4
# Labels that other forms have as well: they tell of the ship only among labels that do.
_COMMON = frozenset(
    [
        "name",
        "type",
        "length",
        "trade",
        "stand",
        "rule",
        "officer",
        "company",
        "arrival",
        "tanggal",
        "tgl",
        "date",
        "position",
        "height",
        "persona",
        "kapal",
        "departure",
        "voyage",
        "manager",
        "fecha",
    ]
)
# Labels that only a ship's particulars have.
_TELLING = frozenset(("name", "imo_number", "flag", "gross_tonnage"))


def find_answers(page: Page, blocks: list[Block]) -> list[AnswerMap]:
    """The answers about the ship on a sheet, outside its tables."""
    found: list[tuple[AnswerMap, str, bool]] = []
    for row in range(len(page.grid)):
        for column in page.columns_filled(row):
            told = None if _in_table(row, column, blocks) else _answer(page, row, column, blocks)
            if told is not None:
                found.append(told)
    telling = sum(key in _TELLING and not common for _, key, common in found)
    answers = []
    for answer, key, common in found:
        sure = answer.match.confidence
        if common and not telling:
            sure = min(sure, 0.45)
        elif common and telling < 2:
            sure = min(sure, 0.8)
        answer.match = settled(key, sure, answer.match.evidence)
        answers.append(answer)
    return answers


def _in_table(row: int, column: int, blocks: list[Block]) -> bool:
    return any(
        block.first_heading <= row <= block.body[1] and block.columns[0] <= column <= block.columns[-1]
        for block in blocks
    )


def _answer(page: Page, row: int, column: int, blocks: list[Block]) -> tuple[AnswerMap, str, bool] | None:
    text = page.text(row, column)
    label, _, rest = text.partition(":")
    name = vocabulary().headings["ship"].get(fold(label))
    if name is None or len(text) > 120:
        return None
    asked = sheet("ship").column(name.entry)
    here = address(row, column)
    common = fold(label) in _COMMON or bool(known_for(label))
    if rest.strip():
        sure, words = _fits(rest.strip(), asked, label)
        return AnswerMap(page.name, here, label.strip(), here, settled(asked.key, sure, words)), asked.key, common
    beside = next(
        (at for at in range(column + 1, column + 1 + _FURTHEST) if page.filled(row, at) and _is_value(page, row, at)),
        None,
    )
    if beside is None or _in_table(row, beside, blocks):
        return None
    if any(page.filled(row, at) for at in range(column + 1, beside)):
        return None
    sure, words = _fits(page.value(row, beside), asked, label)
    answer = AnswerMap(page.name, here, label.strip(), address(row, beside), settled(asked.key, sure, words))
    return answer, asked.key, common


def _is_value(page: Page, row: int, column: int) -> bool:
    text = page.text(row, column)
    return not (text.endswith(":") or (text and fold(text) in vocabulary().headings["ship"]))


def _fits(value: object, asked: Column, label: str) -> tuple[float, str]:
    """How sure it is that a value answers what is asked."""
    typed = type_cell(value, asked)
    words = f"label {label.strip()!r} is a known name of {asked.heading}"
    if typed.value is None and asked.kind not in ("date", "number", "whole"):
        return 0.6, f"{words}; but its value does not fit"
    if typed.problem and asked.kind != "date":
        return 0.6, f"{words}; but {typed.problem}"
    if asked.choices and typed.value not in asked.choices:
        return 0.7, f"{words}; but its value is none of the words we know"
    return 0.96, words
