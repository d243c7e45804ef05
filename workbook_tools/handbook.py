"""Explains codes, rules and lists, from the same text that the checks and tables carry."""

from __future__ import annotations

import difflib
import textwrap

from workbook_tools import catalogue
from workbook_tools.rules import Rule, load_rule_set, rule_set_names
from workbook_tools.rules.model import STATUS_WORDS


def _rules() -> dict[str, list[Rule]]:
    return {key: rows for name in rule_set_names() for key, rows in load_rule_set(name).by_key().items()}


def explain(what: str | None) -> str | None:
    """The text for a code, a rule key or its beginning, 'items', or None for the overview; None when unknown."""
    from workbook_tools.checks import CODES

    if what is None:
        return _overview()
    if what.upper() in CODES:
        return _wrapped(CODES[what.upper()].text())
    if what.lower() == "items":
        return _items()
    found = {key: rows for key, rows in _rules().items() if key == what or key.partition(".")[0] == what}
    if not found:
        return None
    return "\n\n".join(_rule(rule) for rows in found.values() for rule in rows)


def nearest(what: str) -> str | None:
    """The code or key most like a word."""
    from workbook_tools.checks import CODES

    names = [*CODES, *_rules(), *{key.partition(".")[0] for key in _rules()}, "items"]
    close = difflib.get_close_matches(what, names, n=1, cutoff=0.6)
    return close[0] if close else None


def _wrapped(text: str) -> str:
    return "\n".join(
        "\n".join(textwrap.wrap(line, 80, subsequent_indent="    ", break_on_hyphens=False))
        for line in text.splitlines()
    )


def _overview() -> str:
    from workbook_tools.checks import CODES

    lines = ["Codes"]
    lines += [f"  {code.code}  {code.name:<26} {', '.join(code.grades)}" for _, code in sorted(CODES.items())]
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
    parts = []
    if rule.fixed:
        parts.append(f"{rule.fixed:,g}")
    if rule.per_person:
        parts.append(f"{rule.per_person:,g} for each person permitted")
    if rule.percent:
        parts.append(f"{rule.percent:g} % of the persons permitted, rounded up")
    if rule.per_height:
        parts.append(f"{rule.per_height:g} x the stowage height")
    text = " + ".join(parts) or "0"
    if rule.minimum:
        text += f", {rule.minimum:g} at least"
    if rule.threshold is not None:
        text += f"; {rule.extra:g} more from {rule.threshold:g} persons on"
    unit = "" if rule.unit == "each" else f" {rule.unit}"
    return f"{'at most ' if rule.at_most else ''}{text}{unit}"


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
        lines.append(f"  The Administration may waive it: {rule.waivable}")
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
