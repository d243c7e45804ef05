"""What one row of a rules table is, in Python. Standard library only."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

EVIDENCE = (
    "inventory",  # count what lies in the craft
    "length",  # each counted piece must measure as much
    "certificate",  # a sealed pack: the service certificate shows it
    "pack",  # the kind of pack on the Craft sheet
    "service",  # the date of the last service
    "contents",  # the earliest dated item of a sealed pack
    "maker",  # asked only where the maker specifies it
    "capacity",  # places in the craft against persons on board
    "crew",  # persons assigned on the Crew sheet
    "stock",  # count what lies anywhere on board
    "servicing",  # a line of the Servicing sheet within the interval (the quantity, in months or days)
    "routine",  # a line of the Routine sheet within the interval
    "fire",  # lines of the Fire sheet
    "person",  # each person of the Crew sheet
    "fitting",  # fittings, reported by exception on the Defects sheet
    "document",  # a document or figure on record
    "craft.painter_m",
    "craft.persons",
    "craft.mass_kg",
    "craft.stowage_height_m",
)
STATUSES = ("confirmed", "secondary", "memory", "derived")
STATUS_WORDS = {
    "confirmed": "read in the rule's text or a copy of it",
    "secondary": "read on a page that restates the rule",
    "memory": "from memory or partly so: compare with the official text",
    "derived": "our own arithmetic or choice",
}
PRIORITIES = ("before sailing", "within 14 days", "at next port", "plan")
SUBJECTS = ("lifeboat", "liferaft", "liferaft-a", "liferaft-b", "rescue-boat", "craft", "ship", "appliance")
DONE_BY = ("crew", "maker", "authorized provider", "servicing station", "competent person")

# Facts that a condition may ask, and the values each can have. An unknown fact is None.
FACTS: dict[str, tuple[str, ...]] = {
    "kind": (
        "lifeboat",
        "free-fall lifeboat",
        "lifeboat and rescue boat",
        "liferaft",
        "davit-launched liferaft",
        "rescue boat",
        "fast rescue boat",
    ),
    "construction": (
        "totally enclosed",
        "partially enclosed",
        "open",
        "rigid",
        "inflated",
        "rigid-inflated",
        "inflatable",
    ),
    "purpose": ("required", "remote", "extra"),
    "pack": ("A", "B"),
    "self_bailing": ("yes", "no"),
    "sart_stowed": ("yes", "no"),
    "transferable": ("yes", "no"),
    "drop_tested_higher": ("yes", "no"),
    "hooks_compliant": ("yes", "no"),
    "fall_preventers": ("yes", "no"),
    "fire_protected": ("yes", "no"),
    "air_support": ("yes", "no"),
    "ship_family": ("cargo", "passenger"),
    "ship_type": (
        "bulk carrier",
        "general cargo ship",
        "container ship",
        "oil tanker",
        "chemical tanker",
        "gas carrier",
        "ro-ro cargo ship",
        "refrigerated cargo ship",
        "offshore supply vessel",
        "other cargo ship",
        "passenger ship",
        "ro-ro passenger ship",
    ),
    "tanker": ("yes", "no"),
    "voyage": ("international", "short international", "domestic"),
    "voyage_under_24h": ("yes", "no"),
    "warm_routes": ("yes", "no"),
    "far_stem_or_stern": ("yes", "no"),
    "toxic_cargo": ("yes", "no"),
    "low_flash_cargo": ("yes", "no"),
    "dangerous_goods": ("yes", "no"),
    "recharging_plant": ("yes", "no"),
    "deadline_counting": ("date to date", "same calendar month"),
    "spare_charge_counting": ("by type and size", "over the ship"),
    "head_count": ("not asked", "by complement"),
}
FACT_WORDS = {
    "kind": "type of craft",
    "construction": "construction",
    "purpose": "purpose",
    "pack": "pack",
    "self_bailing": "self-bailing",
    "sart_stowed": "SART stowed in the craft",
    "transferable": "side-to-side transfer",
    "drop_tested_higher": "drop-tested for a stowage above 18 m",
    "hooks_compliant": "hooks confirmed compliant",
    "fall_preventers": "fall preventers in use",
    "fire_protected": "fire-protected",
    "air_support": "air support",
    "ship_family": "kind of ship",
    "ship_type": "ship type",
    "tanker": "oil, chemical or gas tanker",
    "voyage": "voyages",
    "voyage_under_24h": "voyages under 24 h",
    "warm_routes": "routes between 32 N and 32 S only",
    "far_stem_or_stern": "stem or stern over 100 m from the nearest craft",
    "toxic_cargo": "toxic vapour cargoes",
    "low_flash_cargo": "cargo flash point to 60 C",
    "dangerous_goods": "dangerous goods",
    "recharging_plant": "air recharging plant",
    "deadline_counting": "counting of deadlines",
    "spare_charge_counting": "counting of spare charges",
    "head_count": "counting of certificated persons",
}

Facts = Mapping[str, str | None]


@dataclass(frozen=True, slots=True)
class Condition:
    """Facts that must hold for a rule to apply: each fact has one of the values named."""

    clauses: tuple[tuple[str, tuple[str, ...]], ...] = ()

    def holds(self, facts: Facts) -> tuple[bool | None, str]:
        """True, False or None (a fact is not recorded), and the fact that decided, in words.

        One fact that contradicts decides, even where another is unknown.
        """
        unknown = ""
        for fact, values in self.clauses:
            value = facts.get(fact)
            if value is None:
                unknown = unknown or f"{FACT_WORDS[fact]} is not recorded"
            elif value not in values:
                return False, f"{FACT_WORDS[fact]}: {value}"
        return (None, unknown) if unknown else (True, "")


@dataclass(frozen=True, slots=True)
class Rule:
    """One requirement in one period of force.

    The quantity asked is the larger of minimum and
    fixed + per_person x persons + percent of persons (rounded up) + per_height x stowage height
    + extra from threshold persons on. Bands (band_by) give one key several rows by size. For a service or routine the
    quantity is the interval, in months or days; done_by names who may do it, extended_to the longest interval that the
    Administration may grant.
    """

    key: str
    item: str
    subject: str
    evidence: str
    fixed: float
    per_person: float
    percent: float
    minimum: float
    threshold: float | None
    extra: float
    per_height: float
    unit: str
    at_most: bool
    condition: Condition
    band_by: str
    band_from: float | None
    band_until: float | None
    in_force_from: date
    in_force_until: date | None
    keel_laid_from: date | None
    keel_laid_until: date | None
    done_by: tuple[str, ...]
    extended_to: float | None
    priority: str
    waivable: str
    reference: str
    status: str
    compared_on: date
    note: str
    origin: str  # file:line

    def __hash__(self) -> int:
        """By the line it stands on: what is worked out of a rule is remembered under it, and asked often."""
        return hash((self.key, self.origin))

    def in_force(self, on: date) -> bool:
        """Whether the row is in force on a day (the last day counts)."""
        return _within(on, self.in_force_from, self.in_force_until)

    @property
    def needs_persons(self) -> bool:
        """Whether the quantity depends on the number of persons the craft may carry."""
        return bool(self.per_person or self.percent or self.threshold is not None)


def _within(on: date, first: date, last: date | None) -> bool:
    return first <= on and (last is None or on <= last)


@dataclass(frozen=True, slots=True)
class Substitute:
    """What may stand in the place of a rule's item.

    form: 'one for one' (each piece counts, at_most pieces), 'whole' (its presence satisfies the rule),
    'made in 2 days' (replaces per_person of the unit for each person, as far as the device makes it in two days).
    """

    key: str
    rule: str
    by_item: str
    by_fact: Condition
    form: str
    per_person: float
    at_most: float | None
    condition: Condition
    in_force_from: date
    in_force_until: date | None
    reference: str
    status: str
    note: str

    def in_force(self, on: date) -> bool:
        """Whether the row is in force on a day (the last day counts)."""
        return _within(on, self.in_force_from, self.in_force_until)


@dataclass(frozen=True, slots=True)
class Application:
    """Where a chapter applies at all: ship family, voyages, tonnage, keel date.

    covers: the beginnings of the references that it holds for; '*' for every one that no other row names.
    """

    key: str
    ship_family: str
    voyages: tuple[str, ...]
    gross_tonnage_from: float
    keel_laid_from: date | None
    covers: tuple[str, ...]
    reference: str
    status: str
    note: str
