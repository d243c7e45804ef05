"""The Record of Equipment (Form E, Form P) beside the rule and beside what is carried (SH codes from 30 on).

These checks speak when the states of all rules are told: where a rule is unmet already, the same lack is not told a
second time in the words of the form.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from workbook_tools.checks.context import SHIP, Audit, Craft, LotRow
from workbook_tools.checks.equipment import verdicts
from workbook_tools.checks.exemptions import exemptions
from workbook_tools.checks.registry import Code, describe
from workbook_tools.core import stock
from workbook_tools.core.form import BELOW_FORM, BELOW_RULE, compare
from workbook_tools.core.quantity import required
from workbook_tools.findings import Finding
from workbook_tools.reading import Row
from workbook_tools.rules import Rule

SOURCE = "Record of Equipment, Form E or P (SOLAS I/12, from memory)"
PERSONS = "persons provided for"

for _code in (
    Code(
        "SH30",
        "form-below-rule",
        ("query",),
        "a figure of the Record of Equipment is no lower than the rule's",
        "either the certificate is wrong, or the ship's length, tonnage or persons are",
        "Form E lists 6 lifebuoys for a cargo ship of 98 m: 8 are asked",
        "a form that lists more than the rule; a figure that no rule of this audit gives; an exemption of that rule",
        "compare with the certificate; tell class if the form is wrong",
        SOURCE,
    ),
    Code(
        "SH31",
        "carried-below-form",
        ("query",),
        "as many are carried as the Record of Equipment lists",
        "the inspector counts by the form, and what it lists and is not there is a deficiency",
        "Form E lists 26 lifejackets, the Inventory holds 24, and the rule asks 20",
        "more than the form lists; an item of which nothing is recorded; a lack that a rule's own finding tells",
        "look for what is missing, correct the record, or have the form corrected",
        SOURCE,
    ),
    Code(
        "SH32",
        "persons-differ-from-form",
        ("query",),
        "the persons certified for are the same on the Ship sheet and on the form",
        "rations, jackets and suits are counted by this figure",
        "persons certified for 20 on the Ship sheet, 22 on Form E",
        "one of the two figures not recorded",
        "copy the figure from the certificate",
        SOURCE,
    ),
):
    describe(_code)


@dataclass(frozen=True, slots=True)
class Count:
    """What the record holds of an entry: the most it can mean (None: nothing is recorded of it)."""

    at_best: float | None
    rules: tuple[str, ...] = ()  # keys of the rules that ask for the same things


# Entries of the form that are counted from lots: the item, and whether what lies in the craft counts as well.
_ITEMS = {
    "lifebuoys": ("lifebuoy", True),
    "lifejackets": ("lifejacket", True),
    "immersion suits": ("immersion suit", True),
    "two-way VHF": ("survival-craft two-way VHF", True),
    "SART": ("survival-craft SART", True),
    "line-throwing appliances": ("line-throwing rocket", True),
    "rocket parachute flares, bridge": ("rocket parachute flare", False),
}
# The rules that give the least figure of an entry, without the prefix of the rule set. Left out: line-throwing
# appliances, because one has several rockets (LSA Code 7.1): the rule counts these, the form may count those.
_RULES = {
    "rescue boats": ("capacity.rescue-boats",),
    "lifebuoys": ("lifebuoys.number-cargo", "lifebuoys.number-passenger"),
    "lifejackets": ("lifejackets.personal",),
    "immersion suits": ("suits.personal",),
    "two-way VHF": ("radio.two-way-vhf-cargo", "radio.two-way-vhf-passenger"),
    "SART": ("radio.sart-cargo", "radio.sart-passenger"),
    "rocket parachute flares, bridge": ("distress.bridge-rockets",),
}
_CRAFT = {
    "lifeboats": ("lifeboat", False),
    "persons in lifeboats": ("lifeboat", True),
    "rescue boats": ("rescue-boat", False),
    "liferafts": ("liferaft", False),
    "persons in liferafts": ("liferaft", True),
}
_ABOARD = (*stock.FIT_CONDITIONS,)


def counted_crafts(audit: Audit, family: str) -> list[Craft]:
    """The craft of a family that the form lists: required and remote ones, those carried as extra left out."""
    return [craft for craft in audit.crafts if family in craft.families and craft.purpose != "extra"]


def persons_in(crafts: list[Craft]) -> int | None:
    """Persons whom the craft are permitted to accommodate together; None where one of them does not say."""
    numbers = [craft.persons for craft in crafts]
    return None if None in numbers else sum(number or 0 for number in numbers)


def _of_craft(audit: Audit, family: str, persons: bool) -> Count:
    crafts = counted_crafts(audit, family)
    if not crafts or any(craft.kind is None for craft in audit.crafts):
        return Count(None)
    keys = tuple(key for key, _ in audit.rule_set.by_evidence("capacity"))
    return Count(persons_in(crafts) if persons else len(crafts), keys)


def _amount(lots: list[LotRow], item: str) -> float | None:
    """Pieces on board at the most the record can mean; what has expired is on board still, and told elsewhere."""
    known = [entry.lot for entry in lots if stock.counts_for(entry.lot, item)]
    if not known:
        return None
    aboard = [lot for lot in known if lot.condition in _ABOARD]
    amounts = [None if stock.open_ended(lot, "each") else stock.measure(lot, "each") for lot in aboard]
    return float("inf") if None in amounts else sum(amount or 0.0 for amount in amounts)


def _of_item(audit: Audit, entry: str) -> Count:
    item, in_craft = _ITEMS[entry]
    inside = {id(lot) for craft in audit.crafts for lot in craft.lots}
    amount = _amount([lot for lot in audit.lots if in_craft or id(lot) not in inside], item)
    if entry == "SART":
        stowed = sum(craft.facts["sart_stowed"] == "yes" for craft in audit.crafts)
        amount = (amount or 0.0) + stowed if stowed else amount
    keys = tuple(rule.key for rule in audit.rule_set.rules if rule.item == item and rule.subject == SHIP)
    return Count(amount, keys)


def _protective_aids(audit: Audit) -> Count:
    """Thermal protective aids beyond those that the craft must carry: the form counts these alone."""
    item = "thermal protective aid"
    inside = {id(lot) for craft in audit.crafts for lot in craft.lots}
    outside = _amount([lot for lot in audit.lots if id(lot) not in inside], item)
    asked: dict[str, float] = {}
    for verdict in verdicts(audit):
        if verdict.rule.item == item:
            asked[verdict.craft.name] = max(asked.get(verdict.craft.name, 0.0), verdict.asked)
    beyond = [
        max(0.0, amount - asked.get(craft.name, 0.0))
        for craft in audit.crafts
        if (amount := _amount(craft.lots, item)) is not None
    ]
    keys = tuple(rule.key for rule in audit.rule_set.rules if rule.item == item)
    return Count(None if outside is None and not any(beyond) else (outside or 0.0) + sum(beyond), keys)


def _count(audit: Audit, entry: str) -> Count:
    if entry in _CRAFT:
        return _of_craft(audit, *_CRAFT[entry])
    if entry in _ITEMS:
        return _of_item(audit, entry)
    return _protective_aids(audit) if entry == "thermal protective aids" else Count(None)


def _asked(audit: Audit, entry: str) -> tuple[float, Rule] | None:
    """What the ship's rule asks of an entry, by the persons certified; a rule that is exempted asks nothing."""
    prefix = f"{audit.rule_set.key}-"
    exempt = {key for exemption in exemptions(audit) if not exemption.fault for key in exemption.rules}
    for evidence in ("stock", "capacity"):
        for holding in audit.rules_for_ship(evidence):
            rule = holding.rule
            if rule.key.removeprefix(prefix) not in _RULES.get(entry, ()) or rule.key in exempt:
                continue
            if holding.state or holding.doubt:
                continue
            amount = required(rule, audit.book.ship_value("persons_certified"))
            if amount is not None:
                return amount, rule
    return None


def findings(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every figure of the form that differs from the rule or from what is carried."""
    unmet = {state.rule for state in audit.states if state.state == "finding"}
    for row in audit.book.rows("record_of_equipment"):
        entry, figure = row.get("entry"), row.get("figure")
        if entry is None or figure is None:
            continue
        if entry == PERSONS:
            yield from _persons(audit, row, figure)
            continue
        asked, count = _asked(audit, entry), _count(audit, entry)
        told = any(key in unmet for key in count.rules)
        compared = compare(figure, asked[0] if asked else None, None if told else count.at_best)
        if BELOW_RULE in compared and asked is not None:
            yield _query(
                audit,
                "SH30",
                row,
                entry,
                f"{entry}: {figure:g} on the form, {asked[0]:g} asked",
                "compare with the certificate, and the ship's data with it; if the form is wrong, tell class",
                asked[1].reference,
                required=asked[0],
                carried=figure,
            )
        if BELOW_FORM in compared and count.at_best is not None:
            yield _query(
                audit,
                "SH31",
                row,
                entry,
                f"{entry}: {figure:g} on the form, {count.at_best:g} recorded on board",
                "look for what is missing and correct the record; or have the form corrected",
                SOURCE,
                required=figure,
                carried=count.at_best,
            )


def _persons(audit: Audit, row: Row, figure: float) -> Iterator[Finding]:
    certified = audit.book.ship_value("persons_certified")
    if certified is not None and certified != figure:
        yield _query(
            audit,
            "SH32",
            row,
            PERSONS,
            f"{PERSONS}: {figure:g} on the form, {certified:g} on the Ship sheet",
            "copy the figure from the certificate to the sheet that is wrong",
            SOURCE,
            required=figure,
            carried=certified,
        )


def _query(
    audit: Audit,
    code: str,
    row: Row,
    entry: str,
    message: str,
    remedy: str,
    source: str,
    required: float,
    carried: float,
) -> Finding:
    return audit.finding(
        code,
        "query",
        "at next port",
        "record_of_equipment",
        row,
        "figure",
        entry,
        message,
        remedy,
        source=source,
        required=required,
        carried=carried,
    )
