"""The handbook on the terminal: what `davitbook rules` answers."""

from __future__ import annotations

import difflib
import textwrap
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING

from workbook_tools import catalogue
from workbook_tools.handbook import words
from workbook_tools.rules import load_rule_set, rule_set_names
from workbook_tools.rules.loader import policies

if TYPE_CHECKING:
    from workbook_tools.checks.registry import Code

WIDTH = 80
_NO_CODES: Mapping[str, Code] = MappingProxyType({})


def _codes(further: Mapping[str, Code]) -> dict[str, Code]:
    from workbook_tools.checks import CODES

    return {**CODES, **further}


def explain(what: str | None, further: Mapping[str, Code] = _NO_CODES) -> str | None:
    """The text for a code, a rule key or its beginning, a list, a sheet or a cell function; None when unknown.

    what: None gives the overview. further: codes that are not the audit's but those of a command built on it.
    """
    codes = _codes(further)

    if what is None:
        return _overview(codes)
    if what.upper() in codes:
        return _wrapped(codes[what.upper()].text())
    if what.lower() in _LISTS:
        return _LISTS[what.lower()]()
    if _is_sheet(what):
        return _sheet(what)
    entries = words.entries()
    found = [entry for key, entry in entries.items() if what in (key, entry.subject)]
    if found:
        return "\n\n".join(_entry(entry) for entry in found)
    policy = policies().get(what.lower())
    if policy:
        return _block(policy.key, words.policy_words(policy))
    return _function(what) or _search(what, entries) or _sheet(what)


def names(further: Mapping[str, Code] = _NO_CODES) -> list[str]:
    """Everything that can be asked by its own name: codes, lists, rule keys and their beginnings, sheets, functions."""
    from workbook_tools.cells import FUNCTIONS
    from workbook_tools.columns import SHEETS

    entries = words.entries()
    subjects = dict.fromkeys(entry.subject for entry in entries.values())
    sheets = [sheet.name for sheet in SHEETS]
    return [*_codes(further), *_LISTS, *subjects, *entries, *policies(), *FUNCTIONS, *sheets]


def nearest(what: str, further: Mapping[str, Code] = _NO_CODES) -> str | None:
    """The name most like a word; further as for explain."""
    folded = {name.casefold(): name for name in names(further)}
    close = difflib.get_close_matches(what.casefold(), folded, n=1, cutoff=0.6)
    return folded[close[0]] if close else None


def _search(what: str, entries: Mapping[str, words.Entry]) -> str | None:
    """Rules by their item, under any of its names, or by a paragraph; one line each."""
    item = catalogue.item_names().find(what) or what.casefold()
    folded = what.casefold()
    lines = []
    for key, entry in entries.items():
        rule = entry.rows[0]
        if rule.item == item or (any(sign.isdigit() for sign in what) and folded in rule.reference.casefold()):
            lines.append(f"{key}: {rule.item}, {words.quantity_words(rule)} ({rule.reference})")
    return "\n".join(_wrapped(line) for line in lines) or None


def _wrapped(text: str) -> str:
    return "\n".join(
        "\n".join(textwrap.wrap(line, WIDTH, subsequent_indent="    ", break_on_hyphens=False))
        for line in text.splitlines()
    )


def _block(title: str, said: words.Said) -> str:
    return _wrapped("\n".join([title, *(f"  {label}: {text}" for label, text in said)]))


def _entry(entry: words.Entry) -> str:
    """Every row of a rule, and what may stand in its item's place."""
    blocks = [_block(entry.key, words.rule_words(rule)) for rule in entry.rows]
    if entry.substitutes:
        others = [f"  - {words.substitute_words(substitute)}" for substitute in entry.substitutes]
        blocks[-1] += "\n" + _wrapped("\n".join(["  In its place may stand:", *others]))
    return "\n\n".join(blocks)


def _overview(codes: Mapping[str, Code]) -> str:
    width = max(len(code.name) for code in codes.values())
    lines = ["Codes"]
    lines += [f"  {code.code}  {code.name:<{width}}  {', '.join(code.grades)}" for _, code in sorted(codes.items())]
    lines += ["", "Rule sets"]
    for name, title in rule_set_names().items():
        rule_set = load_rule_set(name)
        subjects = ", ".join(dict.fromkeys(words.subject_of(key) for key in rule_set.by_key()))
        lines.append(f"  {name:<6} {title}, edition {rule_set.edition}: {len(rule_set.rules)} rows")
        lines += textwrap.wrap(
            subjects, WIDTH, initial_indent=" " * 9, subsequent_indent=" " * 9, break_on_hyphens=False
        )
    lines += ["", "Lists: " + ", ".join(_LISTS)]
    return "\n".join(lines)


def _items() -> str:
    return _wrapped("\n".join(words.items_words()))


def _assumptions() -> str:
    return "\n\n".join(_block(policy.key, words.policy_words(policy)) for policy in policies().values())


def _applies() -> str:
    """Where each chapter applies at all, for every rule set."""
    return "\n\n".join(
        _block(application.key, words.application_words(application))
        for name in rule_set_names()
        for application in load_rule_set(name).applications
    )


def _functions() -> str:
    from workbook_tools.cells import FUNCTIONS

    return _wrapped("\n".join(f"{function.name}: {function.help}" for function in FUNCTIONS.values()))


def _function(what: str) -> str | None:
    from workbook_tools.cells import FUNCTIONS
    from workbook_tools.cells.page import signature

    function = FUNCTIONS.get(what.upper())
    if function is None:
        return None
    said: words.Said = [("Answers", function.help)]
    said += [(argument.name, argument.help) for argument in function.arguments]
    said += [("Example", formula) for formula, _ in function.examples]
    said.append(("Source", function.source))
    return _block(signature(function), said)


def _sheets() -> str:
    from workbook_tools.columns import SHEETS

    return _wrapped("\n".join(f"{sheet.name}: {sheet.help}" for sheet in SHEETS))


def _is_sheet(what: str) -> bool:
    """Whether a word is a sheet's name as it is written: Crew is the sheet, crew the beginning of rules."""
    from workbook_tools.columns import SHEETS

    return any(what == sheet.name for sheet in SHEETS)


def _sheet(what: str) -> str | None:
    from workbook_tools.columns import SHEETS
    from workbook_tools.handbook.dictionary import holds

    folded = what.casefold()
    found = next((sheet for sheet in SHEETS if folded in (sheet.key, sheet.name.casefold())), None)
    if found is None:
        return None
    said = [(column.title, f"{column.help} Holds: {holds(column)}.") for column in found.columns]
    return _block(f"{found.name}: {found.help}", said)


_LISTS: Mapping[str, Callable[[], str]] = {
    "items": _items,
    "assumptions": _assumptions,
    "applies": _applies,
    "sheets": _sheets,
    "functions": _functions,
}
