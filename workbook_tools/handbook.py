"""Explains codes, rules and lists, from the same text that the checks and tables carry."""

from __future__ import annotations

import difflib
import textwrap
from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING

from workbook_tools import catalogue
from workbook_tools.columns import Column
from workbook_tools.rules import Rule, load_rule_set, rule_set_names
from workbook_tools.rules.model import STATUS_WORDS

if TYPE_CHECKING:
    from workbook_tools.checks.registry import Code

_NO_CODES: Mapping[str, Code] = MappingProxyType({})


def _rules() -> dict[str, list[Rule]]:
    return {key: rows for name in rule_set_names() for key, rows in load_rule_set(name).by_key().items()}


def _codes(further: Mapping[str, Code]) -> dict[str, Code]:
    from workbook_tools.checks import CODES

    return {**CODES, **further}


def explain(what: str | None, further: Mapping[str, Code] = _NO_CODES) -> str | None:
    """The text for a code, a rule key or its beginning, 'items', or None for the overview; None when unknown.

    further: codes that are not the audit's but those of a command built on it.
    """
    codes = _codes(further)

    if what is None:
        return _overview(codes)
    if what.upper() in codes:
        return _wrapped(codes[what.upper()].text())
    if what.lower() == "items":
        return _items()
    found = {key: rows for key, rows in _rules().items() if key == what or key.partition(".")[0] == what}
    if not found:
        return _search(what)
    return "\n\n".join(_rule(rule) for rows in found.values() for rule in rows)


def _search(what: str) -> str | None:
    """Rules by their item, under any of its names, or by a paragraph; one line each."""
    item = catalogue.item_names().find(what) or what.casefold()
    folded = what.casefold()
    lines = []
    for key, rows in _rules().items():
        if rows[0].item == item or (any(sign.isdigit() for sign in what) and folded in rows[0].reference.casefold()):
            lines.append(f"{key}: {rows[0].item}, {quantity_words(rows[0])} ({rows[0].reference})")
    return "\n".join(_wrapped(line) for line in lines) or None


def nearest(what: str, further: Mapping[str, Code] = _NO_CODES) -> str | None:
    """The code or key most like a word; further as for explain."""
    names = [*_codes(further), *_rules(), *{key.partition(".")[0] for key in _rules()}, "items"]
    close = difflib.get_close_matches(what, names, n=1, cutoff=0.6)
    return close[0] if close else None


def _wrapped(text: str) -> str:
    return "\n".join(
        "\n".join(textwrap.wrap(line, 80, subsequent_indent="    ", break_on_hyphens=False))
        for line in text.splitlines()
    )


def _overview(codes: Mapping[str, Code]) -> str:
    lines = ["Codes"]
    lines += [f"  {code.code}  {code.name:<26} {', '.join(code.grades)}" for _, code in sorted(codes.items())]
    lines += ["", "Rule sets"]
    for name, title in rule_set_names().items():
        rule_set = load_rule_set(name)
        subjects = ", ".join(dict.fromkeys(key.partition(".")[0] for key in rule_set.by_key()))
        lines.append(f"  {name:<6} {title}, edition {rule_set.edition}: {len(rule_set.rules)} rows")
        lines += textwrap.wrap(
            subjects, 80, initial_indent="         ", subsequent_indent="         ", break_on_hyphens=False
        )
    return "\n".join(lines)


def quantity_words(rule: Rule) -> str:
    """The quantity of a rule in words."""
    unit = "" if rule.unit in ("each", "set", "pair") else f" {rule.unit}"
    parts = []
    if rule.fixed:
        parts.append(f"{rule.fixed:,g}{unit}")
    if rule.per_person:
        parts.append(f"{rule.per_person:,g}{unit} for each person permitted")
    if rule.percent:
        parts.append(f"{rule.percent:g} % of the persons permitted, rounded up")
    if rule.per_height:
        parts.append(f"{rule.per_height:g} x the stowage height")
    text = " + ".join(parts) or "0"
    if rule.minimum:
        text += f", {rule.minimum:g}{unit} at least"
    if rule.threshold is not None:
        text += f"; {rule.extra:g} more from {rule.threshold:g} persons on"
    return f"{'at most ' if rule.at_most else ''}{text}"


def _rule(rule: Rule) -> str:
    lines = [rule.key, f"  {rule.item}: {quantity_words(rule)}", f"  By: {rule.reference}"]
    if rule.condition.clauses:
        lines.append(
            "  Where: " + "; ".join(f"{fact} is {' or '.join(values)}" for fact, values in rule.condition.clauses)
        )
    if rule.band_by:
        until = f" below {rule.band_until:g}" if rule.band_until is not None else ""
        lines.append(f"  Where: {rule.band_by} from {rule.band_from or 0:g}{until}")
    until_day = f" until {rule.in_force_until}" if rule.in_force_until else ""
    lines.append(f"  In force: from {rule.in_force_from}{until_day}")
    lines.append(f"  Shown by: {rule.evidence}; priority when missing: {rule.priority}")
    if rule.waivable:
        words = "It cannot be waived" if rule.waivable.startswith("never") else "The Administration may waive it"
        lines.append(f"  {words}: {rule.waivable.removeprefix('never: ')}")
    if rule.note:
        lines.append(f"  Note: {rule.note}")
    lines.append(f"  Figure: {STATUS_WORDS[rule.status]} ({rule.status}, {rule.compared_on})")
    return _wrapped("\n".join(lines))


def _items() -> str:
    lines = []
    for item in catalogue.items().values():
        others = f" ({', '.join(item.other_names)})" if item.other_names else ""
        lines.append(f"{item.name}{others}")
    return _wrapped("\n".join(lines))


def data_dictionary() -> str:
    """Every sheet and column of the workbook as Markdown (docs/data-dictionary.md)."""
    from workbook_tools.columns import CONTRACT, SHEETS

    lines = [
        "# Data dictionary",
        "",
        f"The sheets and columns of the workbook, contract {CONTRACT}. Generated from `workbook_tools/columns` by",
        "`python -m workbook_tools.book`; do not edit. Headings are found in any order, in any case, under any of the",
        "names given, below any number of title rows. A star marks what must be filled.",
    ]
    for sheet in SHEETS:
        names = f" Also found as: {', '.join(sheet.other_names)}." if sheet.other_names else ""
        needed = " The book must have it." if sheet.required else ""
        lines += ["", f"## {sheet.name}", "", f"{sheet.help}{needed}{names}", ""]
        lines += ["| Heading | Holds | Help | Also headed |", "|---|---|---|---|"]
        for column in sheet.columns:
            cells = (column.title, _holds(column), column.help, ", ".join(column.other_headings))
            lines.append("| " + " | ".join(cell.replace("|", "\\|") for cell in cells) + " |")
    return "\n".join(lines) + "\n"


_KINDS = {
    "text": "text",
    "whole": "whole number",
    "number": "number",
    "date": "date",
    "expiry": "date, or month and year (its last day)",
    "made": "date, or month and year (its first day)",
    "item": "item of the list (`davitbook rules items`)",
    "unit": "unit",
    "content": "number, or number and unit",
    "imo": "IMO number",
    "interval": "interval: 12M, 5Y, 2W, 30D",
    "year": "year",
}


def _holds(column: Column) -> str:
    if column.kind == "choice" or column.kind == "unit":
        return ", ".join(column.choices)
    parts = [_KINDS[column.kind]]
    if column.above is not None:
        parts.append(f"above {column.above:g}")
    if column.minimum is not None:
        parts.append(f"{column.minimum:g} or more")
    if column.maximum is not None:
        parts.append(f"{column.maximum:,.0f} at most")
    if column.unique:
        parts.append("each once")
    return ", ".join(parts)
