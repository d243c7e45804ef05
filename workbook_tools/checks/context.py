"""One book under audit: its ship, craft and lots in the words of the rules, and the states of the rules so far."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import date
from functools import lru_cache
from typing import TYPE_CHECKING, Any, TypeVar

from workbook_tools import catalogue
from workbook_tools.catalogue.near import close_words
from workbook_tools.checks.alike import CraftRule, ShipRule, Ships, craft_rules, ships_like
from workbook_tools.columns import sheet
from workbook_tools.core.quantity import in_band
from workbook_tools.core.stock import Lot
from workbook_tools.findings import Finding, State
from workbook_tools.reading import Book, Row
from workbook_tools.reading.cells import quoted
from workbook_tools.rules import Application, Rule, RuleSet, load_rule_set, warning_days
from workbook_tools.rules.in_force import period_words
from workbook_tools.rules.model import FACTS

if TYPE_CHECKING:
    from workbook_tools.rules.company import Company

SHIP = "ship"
T = TypeVar("T")
_SHIP_COLUMNS = {column.key for column in sheet("ship").columns}
_CRAFT_COLUMNS = {column.key for column in sheet("craft").columns}


@dataclass(frozen=True, slots=True)
class Options:
    """What an audit is asked: the day, the warning days (None: by kind of item), the rule set (None: the book's).

    company: the company's own rules, which tighten and add to the published ones. names: name the person beside a
    finding on a line of the Crew sheet. lapses: gather the days on record after which something holds no more.
    """

    on: date
    warn_days: int | None = None
    rule_set: str | None = None
    month_first_day: bool = False
    company: Company | None = None
    names: bool = False
    lapses: bool = False


@dataclass(slots=True, eq=False)
class LotRow:
    """A lot and the line it stands on."""

    row: Row
    lot: Lot
    place: str
    doubt: str = ""  # why it may not be what it seems; '' when it is clear
    counted: bool = False  # whether some rule counts it
    reported: bool = False  # whether some finding names its date


@dataclass(slots=True, eq=False)
class Craft:
    """A craft, the facts that conditions ask, and the lots stowed in it."""

    row: Row
    name: str
    clear: bool  # False: the name could not be read or stands twice
    kind: str | None
    families: tuple[str, ...]
    persons: int | None
    height_m: float | None
    facts: dict[str, str | None]
    lots: list[LotRow] = field(default_factory=list)
    _by_item: tuple[int, dict[str, list[LotRow]]] = field(default=(0, {}), init=False, repr=False)
    _subjects: tuple[str, ...] = field(default=(), init=False, repr=False)

    def __post_init__(self) -> None:
        pack = self.facts["pack"]
        packs = (f"liferaft-{pack.lower()}",) if pack and "liferaft" in self.families else ()
        self._subjects = (*self.families, *packs)

    def lots_of(self, *items: str) -> list[LotRow]:
        """The lots here that count as any of the items, in the order of the sheet."""
        count, by_item = self._by_item
        if count != len(self.lots):
            by_item = self._index_lots()
        if len(items) == 1:
            return list(by_item.get(items[0], ()))
        found = [by_item[item] for item in items if item in by_item]
        if len(found) <= 1:
            return list(found[0]) if found else []
        wanted = {id(entry) for lots in found for entry in lots}
        return [entry for entry in self.lots if id(entry) in wanted]

    def _index_lots(self) -> dict[str, list[LotRow]]:
        by_item: dict[str, list[LotRow]] = {}
        known = catalogue.items()
        for entry in self.lots:
            item = known[entry.lot.item]
            for name in (item.name, *item.counts_as):
                by_item.setdefault(name, []).append(entry)
        self._by_item = len(self.lots), by_item
        return by_item

    @property
    def purpose(self) -> str | None:
        """required, remote, extra, or None when it could not be read."""
        return self.facts["purpose"]

    def subjects(self) -> tuple[str, ...]:
        """The rule subjects this craft answers to: its families, and a raft's pack."""
        return self._subjects


@dataclass(slots=True)
class Audit:
    """The audit of one book."""

    book: Book
    options: Options
    rule_set: RuleSet
    crafts: list[Craft] = field(default_factory=list)
    crafts_by_name: dict[str, Craft] = field(default_factory=dict)  # by folded name, where the name is clear
    lots: list[LotRow] = field(default_factory=list)
    ship_facts: dict[str, str | None] = field(default_factory=dict)
    outside: str = ""  # why the main chapter does not apply; '' when it does
    gates: list[tuple[tuple[str, ...], str]] = field(default_factory=list)  # what each covers, why it is shut
    states: list[State] = field(default_factory=list)
    gate_states: int = 0  # how many of them tell whether the chapters apply: the first ones
    shared: dict[str, Any] = field(default_factory=dict)  # results that several checks read
    on: date = field(init=False)  # the day asked

    def __post_init__(self) -> None:
        self.on = self.options.on

    def once(self, name: str, work_out: Callable[[], T]) -> T:
        """What work_out returns, worked out the first time a name is asked for and shared by all who ask after."""
        if name not in self.shared:
            self.shared[name] = work_out()
        result: T = self.shared[name]
        return result

    def alike(self) -> Ships:
        """What is known of all ships of this one's kind."""
        known: Ships | None = self.shared.get("ships_alike")
        if known is None:
            facts = tuple(self.ship_facts.items())
            known = ships_like(self.rule_set, self.on, facts, tuple(self.gates), self.outside)
            self.shared["ships_alike"] = known
        return known

    def outside_of(self, rule: Rule) -> str:
        """Why the chapter of a rule does not apply to this ship; '' when it does."""
        return self.alike().outside_of(rule)

    def warn_days(self, group: str) -> int:
        """Days before a date at which it is called due, for a group of items or 'servicing'."""
        if self.options.warn_days is not None:
            return self.options.warn_days
        own = self.options.company.warning_days(group) if self.options.company else None
        if own is not None:
            return own
        return int(warning_days(group).value)

    def state(self, rule: str, subject: str, state: str, why: str = "") -> None:
        """Record how a rule ended for a subject."""
        self.states.append(State(rule, subject, state, why))

    def finding(
        self,
        code: str,
        grade: str,
        priority: str,
        sheet: str,
        row: Row | None,
        column: str,
        subject: str,
        message: str,
        remedy: str,
        rule: Rule | None = None,
        rule_key: str = "",
        source: str = "",
        required: float | None = None,
        carried: float | None = None,
        unit: str = "",
    ) -> Finding:
        """Make a finding at a cell of one of the book's sheets."""
        table = self.book.tables[sheet]
        return Finding(
            code=code,
            rule=rule.key if rule else rule_key or f"record.{code.lower()}",
            grade=grade,
            priority=priority,
            sheet=table.name,
            cell=table.cell(row, column),
            subject=subject,
            message=message,
            remedy=remedy,
            source=rule.reference if rule else source,
            required=required,
            carried=carried,
            unit=unit or (rule.unit if rule else ""),
        )

    def where(self, sheet: str, row: Row | None, column: str) -> str:
        """Sheet and cell as printed: Inventory!D12."""
        table = self.book.tables[sheet]
        return f"{table.name}!{table.cell(row, column)}"

    def rules_for_ship(self, evidence: str) -> list[ShipRule]:
        """Each rule of one kind of evidence as it holds for this ship on the day asked."""
        return self.once(f"rules_for_ship {evidence}", lambda: self._rules_for_ship(evidence))

    def _rules_for_ship(self, evidence: str) -> list[ShipRule]:
        alike = self.alike()
        return [
            known if isinstance(known, ShipRule) else alike.ended(known.rows, *self._row_by_size(known.rows, None))
            for known in alike.rules(evidence)
        ]

    def rules_for_craft(
        self, craft: Craft, evidence: tuple[str, ...], subjects: tuple[str, ...]
    ) -> tuple[CraftRule, ...]:
        """Each key of some kinds of evidence and subjects as it stands for a craft by its facts, in table order."""
        return craft_rules(self.rule_set, self.on, evidence, subjects, tuple(craft.facts.items()))

    def rows_in_force(self, key: str, rows: list[Rule], persons: int | None) -> tuple[Rule | None, str, str]:
        """The row of a key that holds on the day asked for this ship and size.

        Returns (row, '', ''), or (None, state, why).
        """
        if len(rows) == 1 and not (rows[0].band_by or rows[0].keel_laid_from or rows[0].keel_laid_until):
            held = rows[0].in_force(self.on)
            return (rows[0], "", "") if held else (None, "not_applicable", period_words(rows[0]))
        return self._row_by_size(rows, persons)

    def _row_by_size(self, rows: list[Rule], persons: int | None) -> tuple[Rule | None, str, str]:
        """The row that holds by period, keel date and size."""
        keel = self.book.ship_value("keel_laid")
        reasons: list[str] = []
        possible: list[Rule] = []
        unknown = ""
        for rule in rows:
            if not rule.in_force(self.on):
                reasons.append(period_words(rule))
                continue
            if rule.keel_laid_from or rule.keel_laid_until:
                if keel is None:
                    unknown = "keel date is not recorded"
                elif not ((rule.keel_laid_from or date.min) <= keel <= (rule.keel_laid_until or date.max)):
                    reasons.append(f"keel laid {keel}")
                    continue
            if rule.band_by:
                size = persons if rule.band_by == "persons" else self.book.ship_value(rule.band_by)
                inside = in_band(rule, size)
                if inside is None:
                    unknown = f"{_BAND_WORDS[rule.band_by]} is not recorded"
                elif not inside:
                    reasons.append(_band(rule, size))
                    continue
            possible.append(rule)
        if not possible:
            return None, "not_applicable", "; ".join(dict.fromkeys(reasons))
        if unknown or len(possible) > 1:
            return None, "not_evaluated", unknown or "more than one row may apply"
        return possible[0], "", ""


_BAND_WORDS = {
    "persons": "persons permitted",
    "length_m": "length",
    "gross_tonnage": "gross tonnage",
    "passengers_certified": "passengers certified for",
}


def _band(rule: Rule, size: float | None) -> str:
    least = f"from {rule.band_from:g} " if rule.band_from else ""
    most = f"below {rule.band_until:g}" if rule.band_until is not None else ""
    return f"{_BAND_WORDS[rule.band_by]} {size or 0:g}; the rule is for those {least}{most}".rstrip()


def open_audit(book: Book, options: Options) -> Audit:
    """Put a validated book into the words of the rules."""
    key = options.rule_set or book.ship_value("rule_set") or "solas"
    published = load_rule_set(key)
    audit = Audit(book, options, _applied(options.company, published) if options.company else published)
    ship_type = book.ship_value("ship_type")
    kind = catalogue.ship_types().get(ship_type) if ship_type else None
    audit.ship_facts = {key: book.ship_value(key) for key in FACTS if key in _SHIP_COLUMNS}
    audit.ship_facts |= {
        "ship_family": kind.family if kind else None,
        "tanker": ("yes" if kind.tanker else "no") if kind else None,
    }
    _gate(audit)
    audit.gate_states = len(audit.states)
    audit.crafts = [_craft(row, audit) for row in book.rows("craft")]
    audit.crafts_by_name = {catalogue.normalise(craft.name): craft for craft in audit.crafts if craft.clear}
    _place_lots(audit)
    return audit


_last_applied: list[tuple[Company, RuleSet, RuleSet]] = []  # one company, one set: those of a run's books


def _applied(company: Company, published: RuleSet) -> RuleSet:
    """The rule set as a company tightens it, worked out once for all books of a run."""
    for known, before, after in _last_applied:
        if known is company and before is published:
            return after
    after = company.applied(published)
    _last_applied[:] = [*_last_applied[-3:], (company, published, after)]
    return after


def _gate(audit: Audit) -> None:
    """Whether each chapter applies to this ship at all (SOLAS III/1 and its like)."""
    family = audit.ship_facts["ship_family"]
    chapters: dict[tuple[str, ...], list[Application]] = {}
    for gate in audit.rule_set.applications:
        if family in (None, gate.ship_family):
            chapters.setdefault(gate.covers, []).append(gate)
    for covers, gates in chapters.items():
        reasons = [_outside(audit, gate) for gate in gates]
        reason = reasons[0] if all(reasons) else ""
        audit.gates.append((covers, reason))
        if "*" in covers:
            audit.outside = reason
            _tell_gate(audit, gates if family is not None else [], gates, reason)
        elif family is not None:
            audit.state(gates[0].key, SHIP, "not_applicable" if reason else "passed", reason)


def _outside(audit: Audit, gate: Application) -> str:
    """Why a chapter does not apply to this ship; '' when nothing recorded says so."""
    voyage, book = audit.ship_facts["voyage"], audit.book
    tonnage, keel = book.ship_value("gross_tonnage"), book.ship_value("keel_laid")
    if voyage is not None and voyage not in gate.voyages:
        reason = f"voyages: {voyage}"
    elif tonnage is not None and tonnage < gate.gross_tonnage_from:
        reason = f"gross tonnage {tonnage:g}, the chapter begins at {gate.gross_tonnage_from:g}"
    elif keel is not None and gate.keel_laid_from and keel < gate.keel_laid_from:
        reason = f"keel laid {keel}, before {gate.keel_laid_from}: older rules apply"
    else:
        return ""
    return f"{reason} ({gate.reference}); the flag's own rules apply"


def _tell_gate(audit: Audit, own: list[Application], gates: list[Application], reason: str) -> None:
    """The state of the gate of the main chapter: own are its rows for the ship's family, where that is known."""
    key = own[0].key if own else "application"
    needed = {"voyages": audit.ship_facts["voyage"]}
    if any(gate.gross_tonnage_from for gate in gates):
        needed["gross tonnage"] = audit.book.ship_value("gross_tonnage")
    if any(gate.keel_laid_from for gate in gates):
        needed["keel date"] = audit.book.ship_value("keel_laid")
    unknown = [*([] if own else ["ship type"]), *(name for name, value in needed.items() if value is None)]
    if reason:
        audit.state(key, SHIP, "not_applicable", reason)
    elif unknown:
        why = f"not recorded: {', '.join(unknown)}; the ship is taken as one to which the rules apply"
        audit.state(key, SHIP, "not_evaluated", why)
    else:
        audit.state(key, SHIP, "passed")


def _craft(row: Row, audit: Audit) -> Craft:
    kind = row.get("kind")
    entry = catalogue.craft_kinds().get(kind) if kind else None
    facts: dict[str, str | None] = dict(audit.ship_facts)
    facts |= {key: row.get(key) for key in FACTS if key in _CRAFT_COLUMNS}
    facts["kind"] = kind
    if facts["purpose"] is None and "purpose" not in row.unclear:
        facts["purpose"] = "required"
    if kind == "free-fall lifeboat" and facts["construction"] is None:
        facts["construction"] = "totally enclosed"
    name = row.get("name")
    return Craft(
        row=row,
        name=name or row.unclear.get("name", "craft without a name"),
        clear=name is not None,
        kind=kind,
        families=entry.families if entry else (),
        persons=row.get("persons"),
        height_m=row.get("stowage_height_m"),
        facts=facts,
    )


_MEASURES = ("quantity", "unit", "content", "content_unit")


@dataclass(frozen=True, slots=True)
class _Spot:
    """What the place of a lot means: the craft it names, or those it may mean, and whether it is unclear."""

    name: str
    crafts: list[Craft]
    is_unclear: bool


def _spot(place: str, by_name: dict[str, Craft]) -> _Spot:
    craft = by_name.get(catalogue.normalise(place))
    if craft is not None:
        return _Spot(craft.name, [craft], False)
    crafts = [] if catalogue.is_place(place) else close_crafts(place, by_name)
    return _Spot(place, crafts, bool(crafts))


def _place_lots(audit: Audit) -> None:
    """Put the lines of the Inventory sheet into the craft and places that they name."""
    spots: dict[str, _Spot] = {}
    for row in audit.book.rows("inventory"):
        place, item_text = row.values.get("place"), row.values.get("item")
        if place is None or item_text is None:
            continue
        spot = spots.get(place)
        if spot is None:
            spot = spots[place] = _spot(place, audit.crafts_by_name)
        _place_lot(row, item_text, spot, audit)


def _place_lot(row: Row, item_text: str, spot: _Spot, audit: Audit) -> None:
    doubts = [f"{audit.where('inventory', row, 'place')} names {quoted(row.get('place'))}"] if spot.is_unclear else []
    item = catalogue.item_names().find(item_text)
    if item is None:
        item = catalogue.item_names().nearest(item_text)
        if item is None:
            return
        doubts.append(f"{audit.where('inventory', row, 'item')} names {quoted(item_text)}")
    values, unclear = row.values.get, row.unclear
    for key in (*_MEASURES, "expires", "condition") if unclear else ():
        if key in unclear:
            doubts.append(f"{audit.where('inventory', row, key)} shows {quoted(unclear[key])}")
    quantity, expires = values("quantity"), values("expires")
    if quantity is None and "quantity" not in unclear:
        doubts.append(f"{audit.where('inventory', row, 'quantity')} is not counted yet")
    elif expires is None and catalogue.items()[item].dated and "expires" not in unclear:
        doubts.append(f"{audit.where('inventory', row, 'expires')} has no date")
    lot = Lot(
        item,
        None if unclear and any(key in unclear for key in _MEASURES) else quantity,
        values("unit"),
        values("content"),
        values("content_unit"),
        expires,
        values("condition") or "in use",
        not doubts,
    )
    entry = LotRow(row, lot, spot.name, "; ".join(doubts))
    audit.lots.append(entry)
    for candidate in spot.crafts:
        candidate.lots.append(entry)


def close_crafts(text: str, by_name: dict[str, Craft]) -> list[Craft]:
    """The craft whose names are like a text, the likest first: what it says may be meant for any of them."""
    return [by_name[name] for name in _close_names(catalogue.normalise(text), tuple(by_name))]


@lru_cache(maxsize=5_000)
def _close_names(text: str, names: tuple[str, ...]) -> tuple[str, ...]:
    return tuple(close_words(text, names, n=max(1, len(names)), cutoff=0.75))
