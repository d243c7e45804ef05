"""The lines a new Inventory begins with: every item each craft must carry, with the quantity asked."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from workbook_tools.book.description import Description
from workbook_tools.checks import Options
from workbook_tools.checks.context import open_audit
from workbook_tools.checks.equipment import Verdict, verdicts
from workbook_tools.columns import sheet
from workbook_tools.reading import Book, Row, Table
from workbook_tools.rules import Rule


@dataclass(frozen=True)
class ChecklistLine:
    """One line to count: place, item, the quantity asked and its unit, and the paragraph."""

    place: str
    item: str
    asked: float
    unit: str
    remarks: str


def _as_book(description: Description) -> Book:
    """The description as the tables that reading a workbook would give."""
    tables = {}
    rows: dict[str, list[dict[str, Any]]] = {"ship": [description.ship], "craft": description.craft}
    for key, entries in rows.items():
        contract = sheet(key)
        columns = {column.key: index for index, column in enumerate(contract.columns)}
        tables[key] = Table(contract, contract.name, columns, [Row(n, dict(entry)) for n, entry in enumerate(entries)])
    return Book("description", tables)


def checklist(description: Description, on: date) -> list[ChecklistLine]:
    """What the craft of a description must carry by the rules in force on a day.

    Sealed rafts have no lines for their packs: only their hydrostatic release is counted on board.
    """
    audit = open_audit(_as_book(description), Options(on))
    lines = []
    lengths: dict[tuple[str, str], Verdict] = {
        (verdict.craft.name, verdict.rule.item): verdict
        for verdict in verdicts(audit)
        if verdict.rule.evidence == "length" and verdict.state != "not_applicable" and verdict.asked
    }
    for verdict in verdicts(audit):
        rule = verdict.rule
        if rule.evidence != "inventory" or verdict.state == "not_applicable" or not verdict.asked:
            continue
        if verdict.why.endswith("is not recorded") and rule.condition.clauses:
            continue  # whether it is asked at all depends on something the description leaves open
        length = lengths.get((verdict.craft.name, rule.item))
        lines.append(ChecklistLine(verdict.craft.name, rule.item, verdict.asked, rule.unit, _remarks(rule, length)))
    return lines


def _remarks(rule: Rule, length: Verdict | None) -> str:
    parts = [rule.reference]
    if length is not None:
        parts.append(f"each {length.asked:g} m at least: write the length as content")
    if rule.note:
        parts.append(rule.note)
    return "; ".join(parts)
