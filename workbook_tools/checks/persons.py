"""The persons of the Crew sheet: who is on board, who goes to which craft, and how each rule on them ended.

The rules are judged in crew (each craft), papers (certificates) and muster (the muster list); they enter their
functions here. A person is told by crew number or rank, never by name. Somebody who joins after the day asked is not on
board yet: such a line neither fills a place nor makes a fault.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from datetime import date

from workbook_tools import catalogue
from workbook_tools.checks.alike import ShipRule
from workbook_tools.checks.context import SHIP, Audit, Craft
from workbook_tools.checks.places import crew_lines
from workbook_tools.checks.registry import states
from workbook_tools.core.crew import is_passenger
from workbook_tools.findings import Finding, State
from workbook_tools.reading import Row
from workbook_tools.rules import Rule

# The cells that together say whether somebody is certificated.
CERTIFICATE_CELLS = ("certificate", "certificate_expires")


@dataclass(slots=True)
class Boarding:
    """The persons assigned to a craft, those who may be, and the state of its two rules.

    doubtful: whose craft cell may mean it, or who join later. placeless: on board, with an empty craft cell that no
    remark explains. unlisted: persons on board beyond those who have a line.
    """

    craft: Craft
    assigned: list[Row] = field(default_factory=list)
    doubtful: list[Row] = field(default_factory=list)
    placeless: list[Row] = field(default_factory=list)
    unlisted: int = 0
    states: dict[str, tuple[str, str]] = field(default_factory=dict)


def boardings(audit: Audit) -> list[Boarding]:
    """Who is assigned to each craft, worked out once an audit."""
    return audit.once("boardings", lambda: _evaluate(audit))


def _evaluate(audit: Audit) -> list[Boarding]:
    by_name = audit.crafts_by_name
    found = {id(craft): Boarding(craft) for craft in audit.crafts}
    placeless = []
    for row in audit.book.rows("crew"):
        text = row.get("craft")
        craft = by_name.get(catalogue.normalise(text)) if text is not None else None
        if craft is not None:
            boarding = found[id(craft)]
            (boarding.assigned if is_aboard(audit, row) else boarding.doubtful).append(row)
        elif text is not None or "craft" in row.unclear:
            for boarding in found.values():  # a name that nobody knows may mean any of them
                boarding.doubtful.append(row)
        elif is_aboard(audit, row) and row.get("remarks") is None and not is_passenger(row.get("rank")):
            placeless.append(row)
    unlisted = _unlisted(audit)
    for boarding in found.values():
        boarding.placeless, boarding.unlisted = placeless, unlisted
    recorded = any(boarding.assigned or boarding.doubtful for boarding in found.values())
    for boarding in found.values():
        boarding.states["manning.room"] = _room(audit, boarding, recorded)
        boarding.states["manning.person-in-charge"] = _charge(audit, boarding, recorded)
    return list(found.values())


def _unlisted(audit: Audit) -> int:
    """How many of the crew on board have surely no line on the Crew sheet."""
    on_board, passengers = audit.book.ship_value("persons_on_board"), audit.book.ship_value("passengers")
    if on_board is None or (passengers is None and audit.ship_facts["ship_family"] != "cargo"):
        return 0
    lines = crew_lines(audit)
    named = sum(is_passenger(row.get("rank")) for row in lines)
    return max(0, int(on_board) - max(int(passengers or 0), named) - (len(lines) - named))


def may_have_duty(audit: Audit, boarding: Boarding, duties: tuple[str, ...]) -> str:
    """Why somebody whose craft is not known may have one of the duties in this one; '' when nobody may."""

    def open_to(row: Row) -> bool:
        return row.get("duty") in duties or (row.get("duty") is None and is_aboard(audit, row))

    if any(open_to(row) for row in boarding.doubtful):
        return "a craft, duty or joining date on the Crew sheet is not clear"
    if any(open_to(row) for row in boarding.placeless):
        return "for somebody on the Crew sheet no craft is recorded"
    if boarding.unlisted:
        verb = "is" if boarding.unlisted == 1 else "are"
        return f"{boarding.unlisted} of those on board {verb} not on the Crew sheet"
    return ""


def is_aboard(audit: Audit, row: Row) -> bool:
    """Whether a person has joined by the day asked; a line without that date is taken as on board."""
    joined: date | None = row.get("joined")
    return joined is None or joined <= audit.on


def _basis(audit: Audit, boarding: Boarding, recorded: bool) -> tuple[str, str] | None:
    if audit.outside:
        return "not_applicable", audit.outside
    if not boarding.craft.clear:
        return "not_evaluated", "the craft's name is not clear"
    if not recorded:
        return "not_evaluated", "the Crew sheet assigns nobody to a craft"
    return None


def _room(audit: Audit, boarding: Boarding, recorded: bool) -> tuple[str, str]:
    basis = _basis(audit, boarding, recorded)
    if basis is not None:
        return basis
    persons = boarding.craft.persons
    if persons is None:
        return "not_evaluated", "persons permitted is not recorded"
    if len(boarding.assigned) > persons:
        return "finding", ""
    if len(boarding.assigned) + len(boarding.doubtful) > persons:
        return "not_evaluated", "a craft or joining date on the Crew sheet is not clear"
    return "passed", "counted"


def _charge(audit: Audit, boarding: Boarding, recorded: bool) -> tuple[str, str]:
    basis = _basis(audit, boarding, recorded)
    if basis is not None:
        return basis
    if any(row.get("duty") == "person in charge" for row in boarding.assigned):
        return "passed", "counted"
    if not boarding.assigned:
        return "not_applicable", "nobody is assigned to it"
    if any("duty" in row.unclear for row in boarding.assigned):
        return "not_evaluated", "a duty named on the Crew sheet is not clear"
    if why := may_have_duty(audit, boarding, ("person in charge",)):
        return "not_evaluated", why
    if all(row.get("duty") is None for row in boarding.assigned):
        return "not_evaluated", "no duty in the craft is recorded"
    return "finding", ""


@dataclass(frozen=True, slots=True)
class Told:
    """What a finding will say, and at which cell."""

    code: str
    grade: str
    priority: str
    sheet: str
    row: Row | None
    column: str
    message: str
    remedy: str
    required: float | None = None
    carried: float | None = None


@dataclass(slots=True)
class Outcome:
    """How one rule ended for a craft, a person or the ship, and the finding that tells of it, if any."""

    rule: Rule
    subject: str
    state: str
    why: str = ""
    told: Told | None = None


@dataclass(slots=True)
class Person:
    """A line of the Crew sheet, called by crew number or rank."""

    row: Row
    label: str
    aboard: bool
    seafarer: bool

    @property
    def explained(self) -> bool:
        """Whether somebody without a craft has a remark: one who is on board alongside only goes to none."""
        return self.row.get("craft") is None and self.row.get("remarks") is not None


def people(audit: Audit) -> list[Person]:
    """The persons of the Crew sheet, each with a label of its own, worked out once an audit."""
    return audit.once("people", lambda: _read_people(audit))


def _read_people(audit: Audit) -> list[Person]:
    seen: Counter[str] = Counter()
    found = []
    for row in audit.book.rows("crew"):
        if not any(row.get(key) or key in row.unclear for key in ("number", "rank", "name", "craft")):
            continue
        number, rank = row.get("number"), row.get("rank")
        label = f"crew number {number}" if number else rank or "person without a number"
        seen[label.casefold()] += 1
        again = seen[label.casefold()]
        label = label if again == 1 else f"{label} ({again})"
        found.append(Person(row, label, is_aboard(audit, row), not is_passenger(rank)))
    return found


def seafarers(audit: Audit) -> list[Person]:
    """Those whose duties and papers the rules ask: on board, no passengers, none who is explained by a remark."""
    return audit.once(
        "seafarers",
        lambda: [person for person in people(audit) if person.aboard and person.seafarer and not person.explained],
    )


def used(persons: list[Person], column: str) -> bool:
    """Whether a column says anything about anybody: an empty one is not kept, and no fault."""
    return any(person.row.get(column) is not None or column in person.row.unclear for person in persons)


def in_charge(person: Person) -> bool:
    return bool(person.row.get("duty") == "person in charge")


CraftJudge = Callable[[Audit, Rule, Boarding], Outcome]
PersonJudge = Callable[[Audit, Rule], Iterator[Outcome]]
_CRAFT_RULES: dict[str, CraftJudge] = {}
_PERSON_RULES: dict[str, PersonJudge] = {}


def of_craft(key: str) -> Callable[[CraftJudge], CraftJudge]:
    """Enter the function that judges a rule (its key without the rule set's prefix) for each craft with persons."""

    def enter(judge: CraftJudge) -> CraftJudge:
        _CRAFT_RULES[key] = judge
        return judge

    return enter


def of_persons(key: str) -> Callable[[PersonJudge], PersonJudge]:
    """Enter the function that judges a rule for the persons of the Crew sheet; 'crew.muster-' for all of that name."""

    def enter(judge: PersonJudge) -> PersonJudge:
        _PERSON_RULES[key] = judge
        return judge

    return enter


def outcomes(audit: Audit) -> list[Outcome]:
    """How every rule on persons ended, worked out once an audit; no rule ends twice for one subject."""
    return audit.once("crew_outcomes", lambda: _work_out(audit))


def _work_out(audit: Audit) -> list[Outcome]:
    found: dict[tuple[str, str], Outcome] = {}
    for outcome in (*_of_craft(audit), *_of_persons(audit)):
        found.setdefault((outcome.rule.key, outcome.subject), outcome)
    return list(found.values())


def _name(rule: Rule) -> str:
    """The key without the prefix of its rule set: crew.engine-operator."""
    return rule.key[rule.key.find("crew.") :]


def _of_craft(audit: Audit) -> Iterator[Outcome]:
    recorded = any(entry.assigned or entry.doubtful for entry in boardings(audit))
    for key, rows in audit.rule_set.by_evidence("crew"):
        judge = _CRAFT_RULES.get(_name(rows[0]))
        if judge is not None:
            for boarding in boardings(audit):
                yield _for_craft(audit, key, rows, boarding, judge, recorded)


def _for_craft(
    audit: Audit, key: str, rows: list[Rule], boarding: Boarding, judge: CraftJudge, recorded: bool
) -> Outcome:
    craft = boarding.craft
    if audit.outside:
        return Outcome(rows[0], craft.name, "not_applicable", audit.outside)
    rule, state, why = audit.rows_in_force(key, rows, len(boarding.assigned))
    if rule is None:
        return Outcome(rows[0], craft.name, state, why)
    applies, fact = rule.condition.holds(craft.facts)
    if applies is False:
        return Outcome(rule, craft.name, "not_applicable", fact)
    basis = _basis(audit, boarding, recorded)
    if basis is not None:
        return Outcome(rule, craft.name, *basis)
    if not boarding.assigned:
        if boarding.doubtful:
            return Outcome(rule, craft.name, "not_evaluated", "a craft or joining date on the Crew sheet is not clear")
        return Outcome(rule, craft.name, "not_applicable", "nobody is assigned to it")
    outcome = judge(audit, rule, boarding)
    if applies is None and outcome.state == "finding":
        return Outcome(rule, craft.name, "not_evaluated", fact)
    return outcome


def _of_persons(audit: Audit) -> Iterator[Outcome]:
    for entry in audit.rules_for_ship("person"):
        name = _name(entry.rule)
        judge = _PERSON_RULES.get("crew.muster-" if name.startswith("crew.muster-") else name)
        if judge is None:
            continue
        if entry.state:
            yield Outcome(entry.rule, SHIP, entry.state, entry.why)
        elif not any(person.aboard for person in people(audit)):
            yield Outcome(entry.rule, SHIP, "not_evaluated", "the Crew sheet names nobody on board")
        else:
            for outcome in judge(audit, entry.rule):
                yield _unless_doubtful(outcome, entry)


def _unless_doubtful(outcome: Outcome, entry: ShipRule) -> Outcome:
    if entry.doubt and outcome.state == "finding":
        return Outcome(outcome.rule, outcome.subject, "not_evaluated", entry.doubt)
    return outcome


@states
def crew_states(audit: Audit) -> Iterator[State]:
    """How the rules on persons in craft ended."""
    prefix = "" if audit.rule_set.key == "solas" else f"{audit.rule_set.key}-"
    for boarding in boardings(audit):
        for key, (state, why) in boarding.states.items():
            yield State(f"{prefix}{key}", boarding.craft.name, state, why)
    for outcome in outcomes(audit):
        yield State(outcome.rule.key, outcome.subject, outcome.state, outcome.why)


def tell(audit: Audit, code: str) -> Iterator[Finding]:
    """The findings of one code that the outcomes hold."""
    for outcome in outcomes(audit):
        told = outcome.told
        if told is None or told.code != code:
            continue
        yield audit.finding(
            code,
            told.grade,
            told.priority,
            told.sheet,
            told.row,
            told.column,
            outcome.subject,
            told.message,
            told.remedy,
            outcome.rule,
            required=told.required,
            carried=told.carried,
            unit="persons" if told.required is not None else "",
        )


def query(audit: Audit, code: str, person: Person, column: str, message: str, remedy: str, source: str) -> Finding:
    return audit.finding(
        code, "query", "at next port", "crew", person.row, column, person.label, message, remedy, source=source
    )
