"""Whether the muster list covers its duties, and who stands in for those it cannot do without (CR12 to CR16)."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from workbook_tools import catalogue
from workbook_tools.checks.context import SHIP, Audit
from workbook_tools.checks.persons import (
    Boarding,
    Outcome,
    Person,
    Told,
    boardings,
    in_charge,
    of_persons,
    people,
    query,
    seafarers,
    tell,
    used,
)
from workbook_tools.checks.registry import Code, check
from workbook_tools.columns import sheet
from workbook_tools.core.crew import also_named, crew_number, find_persons, nearest_number
from workbook_tools.core.words import counted
from workbook_tools.findings import Finding
from workbook_tools.rules import Rule

# What a duty is told with where it means handling gear that has hurt people.
_CAUTIONS = {
    "prepare and launch craft": "; launching and release gear are for those trained on them, by the maker's manual",
    "special fire duties": "; a fixed CO2 system is released only by those authorised, with everyone out and counted",
}


@of_persons("crew.muster-")
def _muster_duty(audit: Audit, rule: Rule) -> Iterator[Outcome]:
    """Whether somebody has a duty of the muster list; a line records one duty, a second one by 'also' in Remarks."""
    crew = seafarers(audit)
    column = sheet("crew").column("muster_duty")
    names = (rule.item, *dict(column.choice_names).get(rule.item, ()))
    held = [person.row.get("muster_duty") for person in crew]
    if rule.item in held or any(also_named(remarks, names) for remarks in _second_duties(audit)):
        yield Outcome(rule, SHIP, "passed", "counted")
    elif not used(crew, "muster_duty"):
        yield Outcome(rule, SHIP, "not_evaluated", "the Crew sheet records no muster duties")
    elif None in held:
        lines = held.count(None)
        why = f"the muster duty of {counted(lines, 'person')} is not recorded or not clear"
        yield Outcome(rule, SHIP, "not_evaluated", why)
    else:
        told = Told(
            "CR12",
            "query",
            "at next port",
            "crew",
            None,
            "muster_duty",
            f"nobody of {len(crew)} has the muster duty {rule.item!r}",
            f"assign it on the muster list; who has it beside another duty: write 'also {rule.item}' in that person's "
            f"Remarks{_CAUTIONS.get(rule.item, '')}",
            1,
            0,
        )
        yield Outcome(rule, SHIP, "finding", "", told)


def _second_duties(audit: Audit) -> list[str]:
    """The remarks that may record a second duty, read once an audit: every duty of the list asks for them."""
    return audit.once("second_duties", lambda: _with_also(audit))


def _with_also(audit: Audit) -> list[str]:
    remarks = (person.row.get("remarks") for person in seafarers(audit))
    return [text for text in remarks if text and "also" in text.casefold()]


@dataclass(frozen=True, slots=True)
class Substitute:
    """One line's cell 'Substitute for': the persons it names, and the words that name nobody."""

    person: Person
    text: str
    named: list[Person]
    lost: list[str]


def _numbers(persons: list[Person]) -> dict[str, int]:
    """Crew numbers folded -> position; of two alike the first."""
    found: dict[str, int] = {}
    for position, person in enumerate(persons):
        number = person.row.get("number") or person.row.unclear.get("number")
        if number:
            found.setdefault(crew_number(str(number)), position)
    return found


def substitutes(audit: Audit) -> list[Substitute]:
    """Who stands in for whom, worked out once an audit."""
    return audit.once("substitutes", lambda: _read_substitutes(audit))


def _read_substitutes(audit: Audit) -> list[Substitute]:
    persons = people(audit)
    numbers = _numbers(persons)
    folded = [catalogue.normalise(person.row.get("rank") or "") for person in persons]
    ranks = {rank: position for position, rank in enumerate(folded) if rank and folded.count(rank) == 1}
    found = []
    for person in persons:
        text = person.row.get("substitute_for")
        if text is not None and catalogue.normalise(text) not in ("", "none", "no", "nil", "n a"):
            named, lost = find_persons(text, numbers, ranks)
            found.append(Substitute(person, text, [persons[position] for position in named], lost))
    return found


def _in_command(person: Person) -> bool:
    return bool(person.row.get("muster_duty") == "in command")


def _leads_no_lifeboat(audit: Audit, person: Person) -> Boarding | None:
    """The raft or rescue boat that somebody is in charge of; of a lifeboat III/10.3 asks a second in command anyway."""
    if not in_charge(person):
        return None
    found = (entry for entry in boardings(audit) if any(row is person.row for row in entry.assigned))
    return next((entry for entry in found if "lifeboat" not in entry.craft.families), None)


def _seconded(audit: Audit, person: Person) -> bool:
    """Whether somebody in the same craft is second in command, and so stands in."""
    boarding = _leads_no_lifeboat(audit, person)
    return boarding is not None and any(row.get("duty") == "second in command" for row in boarding.assigned)


@of_persons("crew.substitutes")
def _key_persons(audit: Audit, rule: Rule) -> Iterator[Outcome]:
    crew = seafarers(audit)
    keys = [person for person in crew if _in_command(person) or _leads_no_lifeboat(audit, person) is not None]
    named = [id(person) for entry in substitutes(audit) if entry.person.aboard for person in entry.named]
    unclear = any(entry.lost for entry in substitutes(audit)) or any(
        "substitute_for" in person.row.unclear for person in crew
    )
    if not named and not unclear:
        yield Outcome(rule, SHIP, "not_evaluated", "the Crew sheet records no substitutes")
        return
    if not keys:
        yield Outcome(rule, SHIP, "not_evaluated", "the Crew sheet names nobody in command")
    for person in keys:
        if id(person) in named or (not _in_command(person) and _seconded(audit, person)):
            yield Outcome(rule, person.label, "passed", "recorded")
        elif unclear:
            yield Outcome(rule, person.label, "not_evaluated", "whom a substitute stands in for is not clear")
        else:
            role = "in command" if _in_command(person) else "in charge of a craft"
            told = Told(
                "CR13",
                "query",
                "at next port",
                "crew",
                person.row,
                "number",
                f"{person.label} is {role}; no line of the Crew sheet is a substitute for this person",
                "write this crew number under 'Substitute for' on the line of the one who stands in",
                1,
                0,
            )
            yield Outcome(rule, person.label, "finding", "", told)


@check(
    Code(
        "CR12",
        "muster-duty-missing",
        ("query",),
        "the duties that the muster list must hold are somebody's",
        "what is nobody's duty is not done",
        "everybody has a muster duty, nobody 'communications'",
        "a line whose muster duty is still empty (not evaluated); 'also communications' in somebody's Remarks; "
        "mustering passengers on a cargo ship",
        "assign the duty on the muster list",
        "SOLAS III/37.3",
    )
)
def muster_duty_missing(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every duty of the muster list that nobody has."""
    yield from tell(audit, "CR12")


@check(
    Code(
        "CR13",
        "key-person-without-substitute",
        ("query",),
        "where substitutes are recorded, each person in command, or in charge of a raft or rescue boat, has one",
        "the one who leads may be the first to be hurt",
        "the person in command, and nobody is a substitute for that number",
        "a list that records no substitutes; one in charge of a raft with a second in command in it; one in charge "
        "of a lifeboat, for which a second in command is asked anyway",
        "name who stands in",
        "SOLAS III/37.5",
    )
)
def key_person_without_substitute(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every key person for whom nobody stands in."""
    yield from tell(audit, "CR13")


@check(
    Code(
        "CR14",
        "substitute-for-unknown",
        ("query",),
        "a substitute stands in for a crew number, or a rank that one person holds, of the Crew sheet",
        "a substitute for somebody who is not on board stands in for nobody",
        "'41' where the numbers go to 22",
        "'07' or 'No. 7' for number 7; 'Master'; '3, 5'; an empty cell",
        "write the crew number of the key person",
        "SOLAS III/37.5",
    )
)
def substitute_for_unknown(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every line that stands in for somebody nobody knows."""
    numbers = _numbers(people(audit))
    for entry in substitutes(audit):
        if not entry.lost:
            continue
        near = nearest_number(entry.lost[0], numbers)
        hint = f"; did you mean {people(audit)[numbers[near]].row.get('number') or near!r}?" if near else ""
        yield query(
            audit,
            "CR14",
            entry.person,
            "substitute_for",
            f"substitute for {entry.text!r}, which is no crew number of the Crew sheet{hint}",
            "write the crew number of the key person",
            "SOLAS III/37.5",
        )


@check(
    Code(
        "CR15",
        "substitute-for-oneself",
        ("query",),
        "nobody is their own substitute",
        "who cannot act cannot stand in",
        "crew number 7 as substitute for 7",
        "two persons who stand in for each other",
        "name somebody else",
        "SOLAS III/37.5",
    )
)
def substitute_for_oneself(audit: Audit) -> Iterator[Finding]:
    """Yield a query for everybody who stands in for themselves."""
    for entry in substitutes(audit):
        if any(person is entry.person for person in entry.named):
            yield query(
                audit,
                "CR15",
                entry.person,
                "substitute_for",
                f"{entry.person.label} is named as substitute for the same person",
                "name somebody else",
                "SOLAS III/37.5",
            )


@check(
    Code(
        "CR16",
        "substitute-also-key",
        ("query",),
        "a substitute is not key in the same emergency",
        "whoever leads one boat cannot take over the other",
        "the person in charge of Lifeboat 2 as substitute for the one in charge of Lifeboat 1; two who are both in "
        "command",
        "the person in charge of Lifeboat 2 as substitute for the one in command of the ship",
        "name somebody who is free",
        "SOLAS III/37.5",
    )
)
def substitute_also_key(audit: Audit) -> Iterator[Finding]:
    """Yield a query for every substitute who is needed at the same time in a key place of their own."""
    for entry in substitutes(audit):
        for person in entry.named:
            role = _same_role(entry.person, person)
            if role and person is not entry.person:
                yield query(
                    audit,
                    "CR16",
                    entry.person,
                    "substitute_for",
                    f"{entry.person.label} is substitute for {person.label}, and both are {role}",
                    "name somebody who is free at that time",
                    "SOLAS III/37.5",
                )


def _same_role(one: Person, other: Person) -> str:
    if _in_command(one) and _in_command(other):
        return "in command"
    # The one in command of the ship is replaced in that duty, for the craft has its own second in command; somebody
    # whose muster duty is not recorded may be the one.
    muster_duty = other.row.get("muster_duty")
    if in_charge(one) and in_charge(other) and muster_duty is not None and not _in_command(other):
        return "in charge of a craft"
    return ""
