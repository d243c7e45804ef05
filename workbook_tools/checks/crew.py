"""Who goes to which craft, and who leads and runs it (CR01 to CR07, CR11, CR17, CR18)."""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools import catalogue
from workbook_tools.checks.context import SHIP, Audit, close_crafts
from workbook_tools.checks.persons import (
    CERTIFICATE_CELLS,
    Boarding,
    Outcome,
    Person,
    Told,
    boardings,
    is_aboard,
    may_have_duty,
    of_craft,
    of_persons,
    people,
    query,
    tell,
    used,
)
from workbook_tools.checks.registry import Code, check
from workbook_tools.core.crew import certificate_word, is_able_seaman, is_deck_officer, is_no_deck_officer
from workbook_tools.core.quantity import required
from workbook_tools.core.words import counted
from workbook_tools.findings import Finding
from workbook_tools.reading import Row
from workbook_tools.rules import Rule

_LEADING = ("person in charge", "second in command")


def _assigned(number: int) -> str:
    """'1 person assigned', '12 persons assigned'."""
    return f"{counted(number, 'person')} assigned"


def _rule(audit: Audit, name: str) -> Rule | None:
    return next((rows[0] for key, rows in audit.rule_set.by_evidence("crew") if key.endswith(name)), None)


def _holder(audit: Audit, boarding: Boarding, duties: tuple[str, ...]) -> tuple[str, str]:
    """The state of a rule that asks for somebody with one of the duties; 'finding' with why 'empty' when a line of the
    craft has no duty yet, which may be the one."""
    held = [row.get("duty") for row in boarding.assigned]
    if any(duty in duties for duty in held):
        return "passed", "counted"
    if any("duty" in row.unclear for row in boarding.assigned):
        return "not_evaluated", "a duty on the Crew sheet is not clear"
    if why := may_have_duty(audit, boarding, duties):
        return "not_evaluated", why
    if all(duty is None for duty in held):
        return "not_evaluated", "no duty in the craft is recorded"
    return "finding", "empty" if any(duty is None for duty in held) else ""


def _without(boarding: Boarding, rule: Rule, code: str, why: str, wanted: str) -> Outcome:
    """The outcome for a craft in which nobody has a duty; a query while a line's duty is still empty."""
    persons = len(boarding.assigned)
    beside = "; some of them have no duty recorded" if why else ""
    told = Told(
        code,
        "query" if why else "action",
        "at next port" if why else rule.priority,
        "craft",
        boarding.craft.row,
        "name",
        f"{_assigned(persons)}, none of them {wanted}{beside}",
        f"give one of them the duty {rule.item!r} on the Crew sheet, and on the muster list",
        1,
        0,
    )
    return Outcome(rule, boarding.craft.name, "finding", "", told)


@of_craft("crew.second-in-command")
def _second(audit: Audit, rule: Rule, boarding: Boarding) -> Outcome:
    state, why = _holder(audit, boarding, ("second in command",))
    if state != "finding":
        return Outcome(rule, boarding.craft.name, state, why)
    return _without(boarding, rule, "CR05", why, "second in command")


@of_craft("crew.engine-operator")
def _engine(audit: Audit, rule: Rule, boarding: Boarding) -> Outcome:
    state, why = _holder(audit, boarding, ("engine operator",))
    leading = [row.get("duty") for row in boarding.assigned if row.get("duty") in _LEADING]
    if leading and state != "passed":
        # III/10.5 does not say whether the person in charge may also be the one for the engine: accepted
        return Outcome(
            rule, boarding.craft.name, "passed", f"by the {leading[0]}, taken to be able to operate the engine"
        )
    if state == "finding" and (may := may_have_duty(audit, boarding, _LEADING)):
        state, why = "not_evaluated", may
    if state != "finding":
        return Outcome(rule, boarding.craft.name, state, why)
    return _without(boarding, rule, "CR06", why, "for the engine")


@of_craft("crew.charge-qualified")
def _qualified(audit: Audit, rule: Rule, boarding: Boarding) -> Outcome:
    name = boarding.craft.name
    leaders = [row for row in boarding.assigned if row.get("duty") == "person in charge"]
    if not leaders:
        state = boarding.states["manning.person-in-charge"][0]
        if state == "finding":
            return Outcome(rule, name, "not_applicable", "nobody is in charge of it")
        return Outcome(rule, name, "not_evaluated", "who is in charge is not clear")
    for row in leaders:
        if is_deck_officer(row.get("rank")):
            return Outcome(rule, name, "passed", "by rank")
        if certificate_word(row.get("certificate")) == "held":
            return Outcome(rule, name, "passed", "by certificate")
        if "able seaman" in rule.item and is_able_seaman(row.get("rank")):
            return Outcome(rule, name, "passed", "by rank")
    clear = all(
        certificate_word(row.get("certificate")) == "none" and is_no_deck_officer(row.get("rank")) for row in leaders
    )
    if not clear:
        return Outcome(rule, name, "not_evaluated", "no certificate of the person in charge is recorded")
    if "liferaft" in boarding.craft.families or not boarding.craft.families:
        return Outcome(rule, name, "not_evaluated", "whether practised persons are allowed for it is not recorded")
    told = Told(
        "CR07",
        "action",
        rule.priority,
        "crew",
        leaders[0],
        "certificate",
        f"the person in charge is {leaders[0].get('rank')} and without certificate; {rule.item} is asked",
        "put a deck officer or certificated person in charge",
        1,
        0,
    )
    return Outcome(rule, name, "finding", "", told)


@of_craft("crew.certificated-by-complement")
def _by_complement(audit: Audit, rule: Rule, boarding: Boarding) -> Outcome:
    """Certificated persons of a lifeboat against the number for its complement."""
    name = boarding.craft.name
    rows = audit.rule_set.by_key()[rule.key]
    most, _, _ = audit.rows_in_force(rule.key, rows, len(boarding.assigned) + len(boarding.doubtful))
    least_asked = required(rule, None) or 0.0
    most_asked = (required(most, None) or 0.0) if most else least_asked
    held = [_certificated(audit, row) for row in boarding.assigned]
    sure = held.count("held")
    others = [row for row in (*boarding.doubtful, *boarding.placeless) if _may_be_certificated(audit, row)]
    perhaps = held.count("perhaps") + sum(_certificated(audit, row) == "held" for row in boarding.doubtful)
    empty = held.count("")
    if sure >= most_asked:
        return Outcome(rule, name, "passed", "counted")
    if sure + perhaps >= least_asked:
        return Outcome(rule, name, "not_evaluated", "a certificate, craft or joining date is not clear")
    if empty == len(held):
        return Outcome(rule, name, "not_evaluated", "no certificate of those assigned to it is recorded")
    query = sure + perhaps + empty >= least_asked
    if not query and sure + perhaps + empty + len(others) + boarding.unlisted >= least_asked:
        return Outcome(rule, name, "not_evaluated", "who of those on board belongs to it is not clear")
    beside = f"; {empty} of them with an empty certificate cell" if query else ""
    told = Told(
        "CR11",
        "query" if query else "action",
        "at next port" if query else rule.priority,
        "craft",
        boarding.craft.row,
        "name",
        f"{_assigned(len(held))}, {sure} with a certificate in date, {least_asked:g} asked{beside}",
        "assign certificated persons to it; where somebody has none, write 'none' in the certificate cell",
        least_asked,
        sure,
    )
    return Outcome(rule, name, "finding", "", told)


def _certificated(audit: Audit, row: Row) -> str:
    """'held' (and in date), 'none', 'perhaps' (a cell cannot be read) or '' (nothing is recorded)."""
    if any(column in row.unclear for column in CERTIFICATE_CELLS):
        return "perhaps"
    word = certificate_word(row.get("certificate"))
    last_day = row.get("certificate_expires")
    return "none" if word == "held" and last_day is not None and last_day < audit.on else word


def _may_be_certificated(audit: Audit, row: Row) -> bool:
    """Of somebody whose craft is not known; one who joins later counts with a certificate on record only."""
    word = _certificated(audit, row)
    return word == "held" or (word != "none" and is_aboard(audit, row))


def _labels(persons: list[Person]) -> str:
    """Persons named by number or rank; beyond eight only how many more there are."""
    shown = ", ".join(person.label for person in persons[:8])
    return shown if len(persons) <= 8 else f"{shown} and {len(persons) - 8} more"


def _key_duty(row: Row) -> str | None:
    """The duty in a craft that only somebody with a place in it can have."""
    duty: str | None = row.get("duty")
    return None if duty == "member" else duty


@of_persons("crew.craft-assigned")
def _craft_for_everyone(audit: Audit, rule: Rule) -> Iterator[Outcome]:
    aboard = [person for person in people(audit) if person.aboard]
    placed = [person for person in aboard if person.row.get("craft") is not None]
    unclear = any("craft" in person.row.unclear for person in aboard)
    empty = [person for person in aboard if person.row.get("craft") is None and "craft" not in person.row.unclear]
    if not placed:
        yield Outcome(rule, SHIP, "not_evaluated", "the Crew sheet assigns nobody to a craft")
        return
    # fewer than half: the column is kept for those with duties only, and says nothing of the others (our choice)
    if len(placed) * 2 < len(aboard):
        why = f"a craft is recorded for {len(placed)} of {len(aboard)} persons only"
        yield Outcome(rule, SHIP, "not_evaluated", why)
        return
    lost = [person for person in empty if not person.explained and _key_duty(person.row) is None]
    if not lost:
        told_elsewhere = any(not person.explained for person in empty)
        state = "not_evaluated" if unclear or told_elsewhere else "passed"
        yield Outcome(rule, SHIP, state, "counted" if state == "passed" else "a craft on the Crew sheet is not clear")
        return
    verb = "has" if len(lost) == 1 else "have"
    told = Told(
        "CR04",
        "query",
        "at next port",
        "crew",
        lost[0].row,
        "craft",
        f"{_labels(lost)} {verb} no craft; {len(placed)} others have one",
        "assign a craft with room, or say in Remarks why this person goes to none",
        len(placed) + len(lost),
        len(placed),
    )
    yield Outcome(rule, SHIP, "finding", "", told)


@check(
    Code(
        "CR01",
        "craft-overfilled",
        ("action",),
        "no more persons are assigned to a craft than it is permitted to accommodate",
        "who has no seat in a boat that falls or is lowered is hurt, and hurts others",
        "31 persons assigned to a boat for 30",
        "exactly 30 persons assigned to it",
        "assign the persons beyond the number to another craft with room",
        "LSA Code 4.4.2",
    )
)
def craft_overfilled(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every craft with more persons than places."""
    rule = _rule(audit, "manning.room")
    for boarding in boardings(audit):
        if rule is None or boarding.states["manning.room"][0] != "finding":
            continue
        persons = boarding.craft.persons or 0
        yield audit.finding(
            "CR01",
            "action",
            rule.priority,
            "crew",
            boarding.assigned[persons],
            "craft",
            boarding.craft.name,
            f"{_assigned(len(boarding.assigned))}, {persons} permitted",
            "assign those beyond the number to another craft with room",
            rule,
            required=persons,
            carried=len(boarding.assigned),
        )


@check(
    Code(
        "CR02",
        "nobody-in-charge",
        ("action",),
        "each craft to which persons are assigned has a person in charge",
        "a craft without one is not launched in time",
        "Lifeboat 2 has twelve persons assigned, none with the duty 'person in charge'",
        "a raft to which nobody is assigned",
        "name a deck officer or certificated person",
        "SOLAS III/10.3; 46 CFR 199.100",
    )
)
def nobody_in_charge(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every manned craft without a person in charge."""
    rule = _rule(audit, "manning.person-in-charge")
    for boarding in boardings(audit):
        if rule is None or boarding.states["manning.person-in-charge"][0] != "finding":
            continue
        yield audit.finding(
            "CR02",
            "action",
            rule.priority,
            "craft",
            boarding.craft.row,
            "name",
            boarding.craft.name,
            f"{_assigned(len(boarding.assigned))}, none in charge ({rule.note or 'one is asked'})",
            "give one of them the duty 'person in charge' on the Crew sheet",
            rule,
            required=1,
            carried=0,
        )


@check(
    Code(
        "CR03",
        "assigned-to-unknown-craft",
        ("query",),
        "the craft that a person is assigned to stands on the Craft sheet",
        "a person sent to a boat that is not there has no place",
        "'Lifebaot 1' on the Crew sheet",
        "'lifeboat 1' in small letters; an empty cell",
        "write the craft's name as on the Craft sheet",
    )
)
def assigned_to_unknown_craft(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every person assigned to a craft nobody knows."""
    by_name = audit.crafts_by_name
    for row in audit.book.rows("crew"):
        text = row.get("craft")
        if text is None or catalogue.normalise(text) in by_name:
            continue
        near = close_crafts(text, by_name)
        hint = f"; did you mean {near[0].name!r}?" if near else ""
        number = row.get("number")
        yield audit.finding(
            "CR03",
            "query",
            "at next port",
            "crew",
            row,
            "craft",
            f"crew number {number}" if number else f"assigned to {text}",
            f"craft {text!r} is not on the Craft sheet{hint}",
            "write the craft's name as on the Craft sheet",
        )


@check(
    Code(
        "CR04",
        "no-craft-assigned",
        ("query",),
        "everybody on board has a craft, where most have one",
        "who does not know where to go is looked for when there is no time",
        "crew number 9 without a craft, the eleven others with one",
        "a list on which nobody, or fewer than half, have a craft; a technician whose Remarks say why; one who joins "
        "later",
        "assign a craft with room",
        "SOLAS III/8; III/37",
    )
)
def no_craft_assigned(audit: Audit) -> Iterator[Finding]:
    """Yield one query naming all persons without a craft."""
    yield from tell(audit, "CR04")


@check(
    Code(
        "CR05",
        "no-second-in-command",
        ("action", "query"),
        "each lifeboat to which persons are assigned has a second in command",
        "if the person in charge is hurt, somebody must know that it is now for them to lead",
        "Lifeboat 1 with six persons, none with the duty 'second in command'; a query while some lines have no duty",
        "a liferaft or rescue boat without one; a boat whose duties are not recorded at all",
        "name a second in command",
        "SOLAS III/10.3; 46 CFR 199.100",
    )
)
def no_second_in_command(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every manned lifeboat without a second in command."""
    yield from tell(audit, "CR05")


@check(
    Code(
        "CR06",
        "nobody-for-the-engine",
        ("action", "query"),
        "each motor craft to which persons are assigned has somebody for the engine",
        "a boat without way on lies under the ship's side",
        "a lifeboat of members and a radio operator only",
        "a boat whose person in charge or second in command may be the one; a liferaft",
        "name an engine operator",
        "SOLAS III/10.5; 46 CFR 199.100",
    )
)
def nobody_for_the_engine(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every manned motor craft without somebody for the engine."""
    yield from tell(audit, "CR06")


@check(
    Code(
        "CR07",
        "charge-not-qualified",
        ("action",),
        "the person in charge of a boat is a deck officer or certificated person",
        "launching and release hurt people where nobody is trained on them",
        "a cook in charge of Lifeboat 2 whose certificate cell says 'none'",
        "the same cell empty (not evaluated); a rank that nobody knows; a liferaft, where practised persons may do",
        "put a deck officer or certificated person in charge",
        "SOLAS III/10.3; 46 CFR 199.100",
    )
)
def charge_not_qualified(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every boat in the charge of somebody who is surely not qualified."""
    yield from tell(audit, "CR07")


@check(
    Code(
        "CR11",
        "too-few-certificated",
        ("action", "query"),
        "where the flag asks a number of certificated persons for each lifeboat by its complement, there are so many",
        "a boat of eighty is not boarded and launched by one who knows how",
        "a lifeboat of 41 persons, two of them with a certificate; a query while certificate cells are empty",
        "a ship whose flag asks no number; a boat of 40 with two; one whose certificates are not recorded at all",
        "assign certificated persons to the boat",
        "Panama MMC-68",
    )
)
def too_few_certificated(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every lifeboat with fewer certificated persons than its complement asks."""
    yield from tell(audit, "CR11")


@check(
    Code(
        "CR17",
        "duty-without-craft",
        ("query",),
        "who has a duty in a craft is assigned to one",
        "a duty in no craft is done in none",
        "'engine operator' on a line without a craft",
        "'member' or an empty duty; a list that assigns nobody",
        "write the craft",
        "SOLAS III/10",
    )
)
def duty_without_craft(audit: Audit) -> Iterator[Finding]:
    """Yield a query for everybody with a duty in a craft and no craft."""
    if not used(people(audit), "craft"):
        return
    for person in people(audit):
        duty = _key_duty(person.row)
        if duty is not None and person.row.get("craft") is None and "craft" not in person.row.unclear:
            yield query(
                audit,
                "CR17",
                person,
                "craft",
                f"duty {duty!r} in a craft, and no craft",
                "write the name of the craft as on the Craft sheet, or clear the duty",
                "SOLAS III/10",
            )


@check(
    Code(
        "CR18",
        "two-in-charge",
        ("query",),
        "a craft has one person in charge",
        "two who give orders are worse than none",
        "two lines with the duty 'person in charge' in Lifeboat 1",
        "one in charge of each boat; a relief who joins later",
        "make one of them second in command",
        "SOLAS III/10.3",
    )
)
def two_in_charge(audit: Audit) -> Iterator[Finding]:
    """Yield a query for everybody beyond the first in charge of a craft."""
    labels = {id(person.row): person for person in people(audit)}
    for boarding in boardings(audit):
        leaders = [row for row in boarding.assigned if row.get("duty") == "person in charge"]
        for row in leaders[1:]:
            first = labels[id(leaders[0])].label
            yield query(
                audit,
                "CR18",
                labels[id(row)],
                "duty",
                f"in charge of {boarding.craft.name}, and so is {first}",
                "leave one of them in charge; the other may be second in command",
                "SOLAS III/10.3",
            )
