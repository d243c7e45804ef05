"""What the published rules say: one CSV row per rule and period of force, read by a strict loader."""

from workbook_tools.rules.loader import RuleSet, load_rule_set, rule_set_names, warning_days
from workbook_tools.rules.model import Application, Condition, Rule, Substitute

__all__ = [
    "Application",
    "Condition",
    "Rule",
    "RuleSet",
    "Substitute",
    "load_rule_set",
    "rule_set_names",
    "warning_days",
]
