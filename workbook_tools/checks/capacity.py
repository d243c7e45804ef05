"""How every capacity rule ended: those of the way in which the ship is equipped, and those that hold anyhow."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from workbook_tools.checks.context import SHIP, Audit
from workbook_tools.checks.cover import Cover, Entries
from workbook_tools.checks.craft_asked import SINGLE
from workbook_tools.checks.equipping import OF_OPTIONS, equipping
from workbook_tools.checks.places import persons_on_board


def entries_of(audit: Audit) -> Entries:
    """The capacity rules as they hold for the ship, by the name in their key."""
    return {entry.rule.key.partition(".")[2]: entry for entry in audit.rules_for_ship("capacity")}


def _evaluate(audit: Audit) -> Iterator[Cover]:
    entries = entries_of(audit)
    yield from equipping(
        audit, {name: entries[name] for name in entries if name in OF_OPTIONS}, persons_on_board(audit)
    )
    for name, entry in entries.items():
        if name in OF_OPTIONS:
            continue
        if entry.state:
            yield Cover(entry.rule, SHIP, entry.state, entry.why)
            continue
        for cover in SINGLE[name](audit, entry.rule, entries):
            if entry.doubt and cover.state == "finding":
                yield replace(cover, state="not_evaluated", why=entry.doubt)
            else:
                yield cover


def covers(audit: Audit) -> list[Cover]:
    """The state of every capacity rule, worked out once an audit."""
    return audit.once("covers", lambda: list(_evaluate(audit)))
