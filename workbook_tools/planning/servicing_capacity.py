"""Whether the ship may be without some of her rafts: the audit's own rules on places, asked with those rafts away.

Rafts ashore are allowed where every rule on capacity ends no worse than with all craft on board, where the places left
are surely enough for everyone, and where no side that covers everyone would cease to (core/coverage.py). Taking more
rafts away never helps, so what is not allowed for some rafts is not allowed for any more.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from workbook_tools.checks.capacity import covers
from workbook_tools.checks.context import Audit, Craft
from workbook_tools.checks.coverage import scenarios
from workbook_tools.checks.places import persons_on_board

# How bad an end is. A rule of another way of equipping the ship that ceases to apply makes nothing worse.
_BADNESS = {"passed": 0, "not_applicable": 0, "exempt": 0, "not_evaluated": 1, "finding": 2}
_SIDE_LOST = ("all craft usable", "port side lost", "starboard side lost")

Group = tuple[object, ...]


@dataclass(slots=True)
class Capacity:
    """Asks the audit's rules, each combination of like rafts once."""

    audit: Audit
    groups: dict[str, Group] = field(default_factory=dict)  # rafts by what the rules know of them
    answers: dict[frozenset[tuple[Group, int]], str] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.groups = {craft.name: _group(craft) for craft in self.audit.crafts}

    def why_not(self, ashore: Iterable[str]) -> str:
        """Why these rafts may not be ashore at once, by their names; '' when they may."""
        names = frozenset(ashore)
        if not names:
            return ""
        key = frozenset(Counter(self.groups[name] for name in names).items())
        if key not in self.answers:
            self.answers[key] = _judge(self.audit, names)
        return self.answers[key]

    def smallest(self, ashore: Iterable[str]) -> frozenset[str]:
        """A set of rafts, out of some that may not be ashore at once, from which none can be left out.

        Rafts of which few are alike go first, so that the set is of one kind where it can be.
        """
        names = sorted(set(ashore))
        many = Counter(self.groups[name] for name in names)
        for name in sorted(names, key=lambda name: (many[self.groups[name]], name)):
            rest = [other for other in names if other != name]
            if self.why_not(rest):
                names = rest
        return frozenset(names)

    def alike(self, names: frozenset[str]) -> frozenset[str] | None:
        """All rafts like these, where these are alike: of them no so many may be ashore. None for a mixed set."""
        groups = {self.groups[name] for name in names}
        if len(groups) > 1:
            return None
        return frozenset(name for name, group in self.groups.items() if group in groups)


def _group(craft: Craft) -> Group:
    return (
        craft.kind,
        craft.row.get("side"),
        craft.persons,
        craft.row.get("mass_kg"),
        *(craft.facts.get(fact) for fact in ("purpose", "transferable")),
    )


def _judge(audit: Audit, ashore: frozenset[str]) -> str:
    persons = persons_on_board(audit)
    if persons is None:
        return "persons on board is not recorded: whether the other craft take everyone is not known"
    left = replace(audit, crafts=[craft for craft in audit.crafts if craft.name not in ashore], shared={}, states=[])
    before = {(cover.rule.key, cover.subject): _BADNESS[cover.state] for cover in covers(audit)}
    for cover in covers(left):
        if _BADNESS[cover.state] > before.get((cover.rule.key, cover.subject), 0):
            return f"{cover.rule.reference}: {cover.message or cover.why}"
    covered = {scene.name for scene in scenarios(audit) if not scene.perhaps_left_out and scene.name in _SIDE_LOST}
    rest = {scene.name: scene for scene in scenarios(left)}
    for name in _SIDE_LOST:
        scene = rest.get(name)
        out = persons if scene is None else scene.perhaps_left_out
        if out and (name in covered or name == _SIDE_LOST[0]):
            there = 0 if scene is None else scene.places.least
            return f"{name}: places for {there:g} of {persons} persons on board"
    return ""
