"""The order of ships in a report: the one that needs most stands first."""

from __future__ import annotations

from collections import Counter

from workbook_tools.findings import BookResult
from workbook_tools.rules.model import PRIORITIES


def weight(result: BookResult) -> tuple[int, ...]:
    """Sorts books worst first: not read, then by actions of each priority, then by what is due and what is unclear.

    What is being followed up does not count: somebody has it in hand.
    """
    actions = Counter(finding.priority for finding in result.front() if finding.grade == "action")
    grades = Counter(finding.grade for finding in result.front())
    unread = 0 if result.readable else 1
    return (-unread, *(-actions[priority] for priority in PRIORITIES), -grades["due"], -grades["query"])
