"""Inspections, tests, drills and training (RT codes)."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace

from workbook_tools.checks.context import SHIP, Audit, Craft
from workbook_tools.checks.departures import before_departure_test, drills_after_departure
from workbook_tools.checks.drills import joining_training, personal_drill
from workbook_tools.checks.registry import Code, check, states
from workbook_tools.checks.routine_duty import Duty, dated
from workbook_tools.findings import Finding, State
from workbook_tools.rules import Rule

LAUNCHING = "; launching and release gear only by the maker's manual, with the person in charge at the boat"
CO2 = "; at CO2 bottles only those authorised, with the release isolated"
REMEDIES = {
    "weekly inspection": "carry it out and enter it; release gear is worked by the maker's manual only",
    "monthly inspection": "do it by the checklist of III/36 and enter it; release gear only by the maker's manual",
    "boats moved from stowage": "do it with nobody in the boat and enter it, or enter why the weather did not allow it",
    "boats turned out": "do it with nobody in the boat and enter it, or enter why the weather did not allow it",
    "engine run": "run it by the maker's manual and enter it",
    "lifeboat launched": f"launch and manoeuvre it in sheltered water and enter it{LAUNCHING}",
    "free-fall launch": f"launch it, or carry out a simulated launch, and enter it{LAUNCHING}",
    "free-fall boarding drill": f"hold it and enter it{LAUNCHING}",
    "rescue boat launched": f"launch and manoeuvre it in sheltered water and enter it{LAUNCHING}",
    "davit raft training": f"hold it and enter it{LAUNCHING}",
    "fire weekly inspection": f"carry it out and enter it{CO2}",
    "fire monthly inspection": f"carry it out and enter it{CO2}",
    "fire annual inspection": f"have it done and enter it{CO2}",
}


def duties(audit: Audit) -> list[Duty]:
    """How every rule on routine and drills ended for each subject, worked out once an audit."""
    return audit.once("routine_duties", lambda: list(_evaluate(audit)))


def _evaluate(audit: Audit) -> Iterator[Duty]:
    for held in audit.rules_for_ship("routine"):
        rule = held.rule
        crafts = [craft for craft in audit.crafts if rule.subject == "craft" or rule.subject in craft.subjects()]
        subjects: Sequence[Craft | None] = [None] if rule.subject == SHIP else crafts
        for craft in subjects:
            name = craft.name if craft else SHIP
            if held.state:
                yield Duty(rule, name, held.state, held.why)
                continue
            applies, fact = _applies(audit, rule, craft)
            if applies is False:
                yield Duty(rule, name, "not_applicable", fact)
            elif craft is not None and not craft.clear:
                yield Duty(rule, name, "not_evaluated", "the craft's name is not clear")
            elif not audit.book.rows("routine"):
                yield Duty(rule, name, "not_evaluated", "nothing is recorded on a Routine sheet")
            else:
                duty = _SPECIAL.get(rule.key, dated)(audit, rule, craft)
                yield _in_doubt(duty, fact) if applies is None else duty


def _in_doubt(duty: Duty, fact: str) -> Duty:
    """A rule of which it is not known whether it applies can pass, but its lack is not evaluated."""
    state = ("not_evaluated", fact) if duty.state == "finding" else (duty.state, duty.why)
    return replace(duty, state=state[0], why=state[1], code="", more=None)


def _applies(audit: Audit, rule: Rule, craft: Craft | None) -> tuple[bool | None, str]:
    """Whether a rule's condition holds; one of the ship that asks about craft holds where it does for any of them."""
    if craft is not None:
        return rule.condition.holds(craft.facts)
    if not any(fact == "kind" for fact, _ in rule.condition.clauses):
        return rule.condition.holds(audit.ship_facts)
    found = [rule.condition.holds(each.facts) for each in audit.crafts]
    if any(applies for applies, _ in found):
        return True, ""
    unknown = next((fact for applies, fact in found if applies is None), "")
    if unknown:
        return None, unknown
    kinds = next(values for fact, values in rule.condition.clauses if fact == "kind")
    return False, f"no {' or '.join(kinds)} on the Craft sheet"


_SPECIAL: dict[str, Callable[[Audit, Rule, Craft | None], Duty]] = {
    "routine.abandon-drill": personal_drill,
    "routine.fire-drill": personal_drill,
    "routine.enclosed-space-drill": personal_drill,
    "routine.joining-training": joining_training,
    "routine.steering-gear-test": before_departure_test,
    "routine.passenger-muster": before_departure_test,
    "routine.drill-after-departure": drills_after_departure,
}


@states
def routine_states(audit: Audit) -> Iterator[State]:
    """How every rule on routine and drills ended."""
    for duty in duties(audit):
        yield State(duty.rule.key, duty.subject, duty.state, duty.why)


def _findings(audit: Audit, code: str) -> Iterator[Finding]:
    for first in duties(audit):
        for duty in (first, first.more):
            if duty is None or duty.code != code:
                continue
            rule = duty.rule
            yield audit.finding(
                code,
                duty.grade,
                duty.priority,
                duty.sheet,
                duty.row,
                duty.column,
                duty.subject,
                duty.message,
                REMEDIES.get(rule.item, "hold it and enter it on the Routine sheet, with who took part"),
                rule,
                required=rule.fixed,
            )


@check(
    Code(
        "RT01",
        "inspection-late",
        ("action", "due", "note"),
        "the weekly and monthly inspections and tests of life-saving appliances were carried out within their interval",
        "what is not looked at is found out of order on the day it is needed",
        "the last weekly inspection on record is of 16 November 2026, asked on 25 November 2026",
        "the same on 23 November 2026; a task without any line (not evaluated); boats not moved because of the weather",
        "carry it out and enter it",
        "SOLAS III/20.6, 20.7",
    )
)
def inspection_late(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every inspection or test that is late or falls due."""
    yield from _findings(audit, "RT01")


@check(
    Code(
        "RT02",
        "fire-inspection-late",
        ("action", "due"),
        "the weekly, monthly, quarterly and yearly inspections of fire appliances were carried out in time",
        "fire-fighting systems are not used between fires: only inspections show that they work",
        "the last monthly fire inspection is of 20 October 2026, asked on 25 November 2026",
        "one of 25 October 2026; an inspection that is not recorded at all (not evaluated)",
        "carry it out by the ship's maintenance plan and enter it",
        "MSC.1/Circ.1432 4 to 7; SOLAS II-2/14",
    )
)
def fire_inspection_late(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every inspection of fire appliances that is late or falls due."""
    yield from _findings(audit, "RT02")


@check(
    Code(
        "RT03",
        "drill-late",
        ("action", "due", "note"),
        "launches, steering and damage control drills, passenger ships' weekly drills and instruction are held in time",
        "a boat not in the water for months, or a crew that has never steered by hand, fails when it counts",
        "Lifeboat 1 last launched on 20 August 2026, asked on 25 November 2026",
        "launched on 25 August 2026; a boat of which no launch is recorded (not evaluated)",
        "hold it and enter it; launching and release gear only by the maker's manual",
        "SOLAS III/19.3.4, 19.4, 30.2; V/26; II-1/19-1",
    )
)
def drill_late(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for every drill of the ship or of a craft that is late or falls due."""
    yield from _findings(audit, "RT03")


@check(
    Code(
        "RT04",
        "person-without-drill",
        ("action", "due"),
        "each crew member has taken part in an abandon ship and a fire drill in the last month; those who enter "
        "enclosed spaces in an entry and rescue drill in the last two",
        "the drill is for the person, not for the log",
        "crew number 7 is not among those present at any fire drill since 20 October 2026",
        "a person who joined three weeks ago; a drill of which it is not recorded who took part (not evaluated)",
        "hold a drill with those who missed it",
        "SOLAS III/19.3.2, 19.3.3",
    )
)
def person_without_drill(audit: Audit) -> Iterator[Finding]:
    """Yield one finding for every drill that some of the crew have not had in time."""
    yield from _findings(audit, "RT04")


@check(
    Code(
        "RT05",
        "drill-after-departure",
        ("action", "due"),
        "abandon ship and fire drills were held within 24 hours of departure where more than 25 % of the crew had not "
        "taken part in both on this ship in the month before (that missing either one counts is a reading of the text)",
        "a new crew that has never drilled together puts to sea",
        "four of twelve joined on the day of departure and no drill follows by the next day",
        "three of twelve, exactly 25 %; drills on the day after departure; dates of joining not recorded",
        "hold both drills and enter them with who took part",
        "SOLAS III/19.3.2",
    )
)
def drill_after_departure(audit: Audit) -> Iterator[Finding]:
    """Yield a finding where drills after the last departure are missing, or before the next one are needed."""
    yield from _findings(audit, "RT05")


@check(
    Code(
        "RT06",
        "joining-training-late",
        ("action", "due", "query"),
        "each crew member was trained in the use of the appliances within two weeks of joining",
        "a newcomer who does not know the gear is lost with it",
        "crew number 9 joined on 1 November 2026, no joining training is recorded, asked on 25 November 2026",
        "one who joined before the record of joining training begins; one who joined on 11 November 2026",
        "hold the training and enter it with the crew number",
        "SOLAS III/19.4.1",
    )
)
def joining_training_late(audit: Audit) -> Iterator[Finding]:
    """Yield a finding for those who joined and were not trained in time."""
    yield from _findings(audit, "RT06")


@check(
    Code(
        "RT07",
        "test-before-departure",
        ("action",),
        "the steering gear was tested within 12 hours before departure; a passenger ship's passengers were mustered",
        "steering that fails in the channel leaves no time",
        "departure on 20 November 2026, last test of the steering gear on record of 10 November 2026",
        "a test on the day before departure; a last departure that is not recorded (not evaluated)",
        "test before each departure and enter it",
        "SOLAS V/26.1; III/19.2",
    )
)
def before_departure(audit: Audit) -> Iterator[Finding]:
    """Yield a finding where what is due before departure is not on record."""
    yield from _findings(audit, "RT07")
