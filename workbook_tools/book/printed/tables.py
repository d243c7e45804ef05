"""Words and figures that the pages look up, from the catalogue, the rules and the policies."""

from __future__ import annotations

from workbook_tools import catalogue
from workbook_tools.book.printed.helper_sheet import HelperSheet
from workbook_tools.checks.routine_tasks import INSPECTIONS
from workbook_tools.rules import Rule, load_rule_set, rule_set_names
from workbook_tools.rules.loader import policies


def policy_figures() -> dict[str, float]:
    """Every figure of common practice, and of the alarm signal, that a page shows."""
    return {key: policy.value for key, policy in policies().items() if key.startswith(("ration.", "alarm."))}


def write_policies(helpers: HelperSheet) -> None:
    """Write the figures, known as policies.value in the order of policies.key."""
    found = policy_figures()
    helpers.table(
        "policies",
        ("key", "value", "unit", "reference"),
        [(key, value, policies()[key].unit, policies()[key].reference) for key, value in found.items()],
    )


def policy(key: str) -> str:
    """The formula for a figure of practice. Raises ValueError for one that is not written."""
    return f"INDEX([policies.value],{list(policy_figures()).index(key) + 1})"


def _conditional(name: str) -> bool:
    """Whether the rules ask a fitting only where a craft has it: by more than the craft's kind and purpose."""
    rows = [
        rule
        for rule_set in map(load_rule_set, rule_set_names())
        for rule in rule_set.rules
        if rule.evidence == "fitting" and rule.item == name
    ]
    return bool(rows) and all({fact for fact, _ in rule.condition.clauses} - {"kind", "purpose"} for rule in rows)


def write_fittings(helpers: HelperSheet) -> None:
    """Write the fittings of craft with their paragraphs and the kinds of craft that have them."""
    helpers.table(
        "fittings",
        ("name", "paragraph", "kinds"),
        [
            (
                fitting.key + (", where fitted" if _conditional(fitting.key) else ""),
                fitting.paragraph,
                f"|{'|'.join(fitting.kinds)}|",
            )
            for fitting in catalogue.fittings().values()
            if fitting.kinds != ("ship",)
        ],
    )


def interval_words(rule: Rule) -> str:
    """How often a task comes round: 'every week', 'every 3 months'."""
    names = {"days": "day", "months": "month", "h": "hour"}
    number, name = int(rule.fixed), names[rule.unit]
    if (number, name) == (7, "day"):
        return "every week"
    return f"every {name}" if number == 1 else f"every {number} {name}s"


def inspection_rules() -> list[Rule]:
    """The weekly and monthly looks at life-saving appliances, of every set that has them, in the order of the table."""
    return [
        rule
        for rule_set in map(load_rule_set, rule_set_names())
        for rule in rule_set.rules
        if rule.evidence == "routine" and rule.item in INSPECTIONS and rule.in_force_until is None
    ]


def _kinds(rule: Rule) -> str:
    """The kinds of craft that a routine rule is about."""
    told = dict(rule.condition.clauses).get("kind")
    family = rule.subject
    own = [
        kind.key
        for kind in catalogue.craft_kinds().values()
        if (family in ("ship", "craft") or family in kind.families) and (told is None or kind.key in told)
    ]
    return f"|{'|'.join(own)}|"


def write_tasks(helpers: HelperSheet) -> None:
    """Write the tasks of the Routine sheet with their names, and the weekly and monthly looks with their intervals."""
    names = list(catalogue.tasks())
    helpers.table("tasks", ("name", "drill"), [(name, int(is_drill(name))) for name in names])
    spellings = sorted(
        {
            spelling: number
            for number, word in enumerate(catalogue.tasks().values(), start=1)
            for spelling in (word.key, *word.other_names)
        }.items()
    )
    helpers.table("taskwords", ("text", "number"), spellings)
    helpers.table(
        "looks",
        ("task", "number", "every", "kinds", "family", "paragraph"),
        [
            (
                rule.item,
                names.index(rule.item) + 1,
                interval_words(rule),
                _kinds(rule),
                "|".join(dict(rule.condition.clauses).get("ship_family", ())),
                rule.reference,
            )
            for rule in inspection_rules()
        ],
    )


def is_drill(task: str) -> bool:
    """Whether an inspector would ask for it as a drill or training."""
    return any(word in task for word in ("drill", "launch", "training", "muster"))
