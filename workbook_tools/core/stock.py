"""What is carried: lots, their measure in a rule's unit, and what stands in the place of something else.

Evidence has three values. A lot that is fit and in date is sure; one whose date, place or measure cannot be read
is possible. What is possible never makes a shortage, and never fills one.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date

from workbook_tools.catalogue import convert, items, units
from workbook_tools.rules.model import Facts, Rule, Substitute

SURE = "sure"
POSSIBLE = "possible"
EXPIRED = "expired"
UNFIT = "unfit"

# Conditions in which a lot can be used; every other one takes it out of the count.
FIT_CONDITIONS = ("in use", "spare")


# Hundreds to a book: a frozen dataclass takes three times as long to make. Nobody changes one all the same.
@dataclass(slots=True, unsafe_hash=True)
class Lot:
    """One inventory line, as far as it could be read. None: not recorded or not readable."""

    item: str
    quantity: float | None
    unit: str | None = None
    content: float | None = None
    content_unit: str | None = None
    expires: date | None = None
    condition: str = "in use"
    certain: bool = True  # False: place or item is only a likely reading


# Units that hold something: how many pieces are inside must be said beside them.
CONTAINERS = ("pack", "sachet")


def measure(lot: Lot, unit: str) -> float | None:
    """The lot in a unit: quantity x content, or the quantity itself where it is in such a unit already.

    None when quantity or content is missing, or when the units measure different things. A container whose content
    is not given holds at least one piece: it counts as one, and open_ended() tells.

    >>> measure(Lot("fresh water", 72, "sachet", 500, "mL"), "L")
    36.0
    """
    if lot.quantity is None:
        return None
    own = lot.unit or items()[lot.item].default_unit
    if lot.content is None and own == unit:
        return lot.quantity
    if lot.content is not None and lot.content_unit is not None and units()[own].dimension == "count":
        inside = convert(lot.quantity * lot.content, lot.content_unit, unit)
        if inside is not None:
            return inside
    return convert(lot.quantity, own, unit)


def open_ended(lot: Lot, unit: str) -> bool:
    """Whether a lot may hold more than measure() says: packs of pieces whose number is not recorded."""
    if lot.unit not in CONTAINERS or lot.content is not None or units()[unit].dimension != "count":
        return False
    return items()[lot.item].default_unit not in CONTAINERS


def standing(lot: Lot, on: date) -> str:
    """Whether a lot counts on a day: sure, possible, expired or unfit."""
    if lot.condition not in FIT_CONDITIONS:
        return UNFIT
    if lot.expires is not None and lot.expires < on:
        return EXPIRED
    if not lot.certain or (lot.expires is None and items()[lot.item].dated):
        return POSSIBLE
    return SURE


# Marked contents are rounded (0.132 US gal is not quite 500 mL): so much of a quantity may be missing.
ROUNDING = 1e-4


def suffices(amount: float, asked: float) -> bool:
    """Whether an amount reaches what is asked, but for the rounding of a marked figure (one part in 10,000)."""
    return amount >= asked * (1 - ROUNDING)


@dataclass(slots=True)
class Carried:
    """What is carried for a rule: surely, possibly besides, and what has expired."""

    sure: float = 0.0
    possible: float = 0.0
    expired: float = 0.0
    unmeasured: int = 0  # lots whose measure is not known: they may hold any amount

    @property
    def at_best(self) -> float:
        """The most that the record can mean."""
        return float("inf") if self.unmeasured else self.sure + self.possible


def counts_for(lot: Lot, item: str) -> bool:
    """Whether a lot's item is the one asked, or counts as it."""
    return lot.item == item or item in items()[lot.item].counts_as


def carried(lots: Iterable[Lot], item: str, unit: str, on: date) -> Carried:
    """Add up the lots that count for an item, in a unit, on a day."""
    known = items()
    sure = possible = expired = 0.0
    unmeasured = 0
    for lot in lots:
        if lot.item != item and item not in known[lot.item].counts_as:
            continue
        state = standing(lot, on)
        if state == UNFIT:
            continue
        amount = measure(lot, unit)
        held = amount if amount is not None and amount > 0 else 0.0
        if state == EXPIRED:
            expired += held
            continue
        if amount is None or open_ended(lot, unit):
            unmeasured += 1
        if state == SURE:
            sure += held
        else:
            possible += held
    return Carried(sure, possible, expired, unmeasured)


def credited(
    rule: Rule, substitutes: Sequence[Substitute], lots: Sequence[Lot], facts: Facts, persons: int | None, on: date
) -> Carried:
    """What is carried for a rule with its substitutes, which are alternatives: the best one counts, never two.

    A device that makes water counts for what it makes in two days (content per unit), up to the rule's share; where
    that is not recorded, its share is possible, not sure.
    """
    base = carried(lots, rule.item, rule.unit, on)
    if not substitutes:
        return base
    sure, at_best = base.sure, base.sure + base.possible
    for substitute in substitutes:
        applies, _ = substitute.condition.holds(facts)
        if applies is False or not substitute.in_force(on):
            continue
        surely, besides = _credit(rule, substitute, lots, facts, persons, on)
        if applies:
            sure = max(sure, base.sure + surely)
        at_best = max(at_best, base.sure + base.possible + surely + besides)
    return Carried(sure, at_best - sure, base.expired, base.unmeasured)


def _credit(
    rule: Rule, substitute: Substitute, lots: Sequence[Lot], facts: Facts, persons: int | None, on: date
) -> tuple[float, float]:
    """What one substitute adds: surely, and possibly besides."""
    if substitute.form == "whole":
        whole = max(rule.minimum, rule.fixed)
        if substitute.by_fact.clauses and substitute.by_fact.holds(facts)[0]:
            return whole, 0.0
        pieces = carried(lots, substitute.by_item, "each", on) if substitute.by_item else Carried()
        if pieces.sure > 0:
            return whole, 0.0
        return 0.0, whole if pieces.at_best > 0 else 0.0
    if substitute.form == "one for one":
        pieces = carried(lots, substitute.by_item, "each", on)
        limit = substitute.at_most if substitute.at_most is not None else float("inf")
        sure = min(pieces.sure, limit)
        return sure, min(pieces.at_best, limit) - sure
    limit = substitute.per_person * (persons or 0)
    made = carried(lots, substitute.by_item, rule.unit, on)
    sure = min(made.sure, limit)
    return sure, min(made.at_best, limit) - sure
