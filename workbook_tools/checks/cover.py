"""How one rule on places ends for the ship, one of her sides or a craft, and what there is to say of it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from workbook_tools.checks.alike import ShipRule
from workbook_tools.checks.context import SHIP, Craft
from workbook_tools.core import coverage as core
from workbook_tools.core.coverage import SIDES, Place, Range
from workbook_tools.reading import Row
from workbook_tools.rules import Rule

_OTHER = {"port": "starboard", "starboard": "port"}
_CORRECT = (
    "correct the figures; if they are right, there are too few places: ask class or the Administration before sailing"
)


@dataclass(slots=True)
class Cover:
    """How one rule ended for the ship, one of its sides or a craft, and what there is to say if it is not met."""

    rule: Rule
    subject: str
    state: str
    why: str = ""
    code: str = ""
    sheet: str = "craft"
    row: Row | None = None
    column: str = "persons"
    message: str = ""
    remedy: str = _CORRECT
    asked: float = 0.0
    there: float = 0.0
    unit: str = ""


Rules = dict[str, Rule]
Entries = dict[str, ShipRule]


def judged(found: Range, asked: float) -> tuple[str, str]:
    """The state that so many places give a rule, and why."""
    if found.least >= asked:
        return "passed", "counted"
    if found.most < asked:
        return "finding", ""
    return "not_evaluated", found.doubt


def cover_persons(
    rule: Rule,
    subject: str,
    scenario: str,
    found: Range,
    persons: int,
    anchor: Craft | None,
    code: str = "CV01",
) -> Cover:
    """A rule that asks places for a share of the persons."""
    asked = rule.fixed * persons / 100
    state, why = judged(found, asked)
    percent = core.share_covered(persons, found.most)
    lacking = core.left_out(persons, found.most)
    message = (
        f"{rule.item}, {subject}, {scenario}: places for {'' if found.least == found.most else 'at most '}"
        f"{found.most:g} of {persons} persons ({percent:.0f} %)"
        f"{f', {lacking} left out' if lacking else ''}; {rule.fixed:g} % asked ({rule.note or rule.item})"
    )
    row = anchor.row if anchor else None
    return Cover(
        rule, subject, state, why, code, row=row, message=message, asked=asked, there=found.most, unit="persons"
    )


def _anchor(crafts: Iterable[Craft], side: str | None) -> Craft | None:
    return next((craft for craft in crafts if side is None or craft.row.get("side") == side), None)


def each_side(rule: Rule, places: list[Place], crafts: list[Craft], persons: int) -> list[Cover]:
    """A rule that asks places on each side, the other side lost."""
    return [_on_side(rule, places, crafts, persons, side) for side in SIDES]


def _on_side(rule: Rule, places: list[Place], crafts: list[Craft], persons: int, side: str) -> Cover:
    found, anchor = core.on_side(places, side), _anchor(crafts, side)
    cover = cover_persons(rule, f"{side} side", f"{_OTHER[side]} side lost", found, persons, anchor)
    if cover.state == "finding" and anchor is None and not any(side in place.possible_sides for place in places):
        cover.message = (
            f"no {_one(rule)} is recorded on the {side} side; places for {rule.fixed:g} % of {persons} persons are "
            f"asked there ({rule.note or rule.item})"
        )
        cover.remedy = "correct the side of a craft that lies there, or add its line; otherwise one is missing"
        if crafts:
            cover.row, cover.column = crafts[0].row, "side"
    return cover


def _one(rule: Rule) -> str:
    """One of what a rule counts: 'lifeboats each side' are lifeboats."""
    first = rule.item.replace(",", "").split()[0]
    return {"lifeboats": "lifeboat", "liferafts": "liferaft"}.get(first, "survival craft")


def none_carried(rule: Rule, persons: int) -> Cover:
    """The Craft sheet lists the ship's craft, and none of the kind that a rule asks."""
    what = _one(rule)
    return Cover(
        rule,
        SHIP,
        "finding",
        code="CV01",
        column="kind",
        message=f"no {what} is recorded on the Craft sheet; places for {rule.fixed:g} % of {persons} persons are "
        f"asked in {what}s",
        remedy=f"correct the type of the craft that is a {what}, or add its line; otherwise one is missing",
        asked=rule.fixed * persons / 100,
        unit="persons",
    )


def together(rule: Rule, found: Range, crafts: list[Craft], persons: int) -> Cover:
    """A rule that asks places in all craft together."""
    return cover_persons(rule, SHIP, "all craft usable", found, persons, _anchor(crafts, None))


def none_recorded(rules: Iterable[Rule], what: str) -> list[Cover]:
    """A kind of craft without any line: perhaps not written down yet."""
    return [Cover(rule, SHIP, "not_evaluated", f"no {what} is recorded on the Craft sheet") for rule in rules]
