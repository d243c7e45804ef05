"""A proposed muster list as a printed page: what cannot be met, what changes, and a table for each craft."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from workbook_tools.checks.context import Audit
from workbook_tools.checks.followup import name_remover
from workbook_tools.core.caution import CAUTION
from workbook_tools.core.coverage import SIDES
from workbook_tools.core.muster import (
    CHARGE,
    COMMAND,
    HANDS,
    MILD,
    NO,
    PARTIES,
    PLACE,
    QUALIFIED,
    SHOWN,
    SURE,
    Lack,
    usable,
)
from workbook_tools.core.words import counted
from workbook_tools.findings import BookResult
from workbook_tools.planning.muster import Proposal
from workbook_tools.reports.cautions import cautions_for
from workbook_tools.reports.layout import Block, Line, Page, ship_title

_MOST_NAMED = 8  # persons named in one cell; the rest are counted
_SOURCES = {
    PLACE: "SOLAS III/8; III/37",
    COMMAND: "SOLAS III/10.3",
    QUALIFIED: "SOLAS III/10.3; flag's number by complement",
    SHOWN: "SOLAS III/10.3; STCW A-VI/2",
    HANDS: "SOLAS III/10.5; STCW I/9; radio: common practice, no source",
    PARTIES: "common practice, no source",
}


class _Words:
    """How persons are called: by crew number and rank, and by name only where names are asked for."""

    def __init__(self, audit: Audit, proposal: Proposal, names: bool) -> None:
        self.proposal, self.names = proposal, names
        self.nameless: Callable[[str], str] = str if names else name_remover(audit.book)

    def person(self, number: int) -> str:
        person = self.proposal.persons[number]
        row = person.row
        known, rank = row.get("number"), row.get("rank")
        label = f"{known}, {rank}" if known and rank else f"crew number {known}" if known else person.label
        name = f", {row.get('name')}" if self.names and row.get("name") else ""
        return self.nameless(label) + name

    def persons(self, numbers: list[int]) -> str:
        shown = [self.proposal.persons[number].label for number in numbers[:_MOST_NAMED]]
        more = f" and {len(numbers) - _MOST_NAMED} more" if len(numbers) > _MOST_NAMED else ""
        return self.nameless(", ".join(shown)) + more

    def craft(self, number: int | None) -> str:
        return "no craft" if number is None else self.proposal.crafts[number].name


def muster_page(audit: Audit, result: BookResult, proposal: Proposal, names: bool = False) -> Page:
    """The page: to be posted only once the master has agreed, and with names (names=True)."""
    words = _Words(audit, proposal, names)
    blocks = [_unmet(proposal, words), _changes(proposal, words)]
    blocks += [_craft(proposal, words, number) for number in range(len(proposal.crafts)) if _manned(proposal, number)]
    blocks += [_stands(proposal, words), _sides(proposal, words)]
    text = " ".join(cell for block in blocks for line in block.lines for cell in line.cells)
    return Page(
        "Muster list: proposal",
        f"{ship_title(result.ship)}, {audit.on}",
        _verdict(proposal),
        list(_facts(proposal, words, result)),
        blocks,
        [*cautions_for(f"launch {text}"), CAUTION],
        ("Master",),
    )


# ---- head --------------------------------------------------------------------------------------------------------


def _verdict(proposal: Proposal) -> str:
    said = proposal.score
    changed = (
        f"{said.moved} to another craft, {counted(said.duties, 'change')} of duty"
        if said.moved or said.duties
        else "no change"
    )
    count = proposal.unmet
    if not count:
        open_ones = said.lacks[SHOWN]
        shown = f"; {open_ones} not evaluated, for want of a record" if open_ones else ""
        return f"Everything asked can be met: {changed}{shown}"
    return f"ACTION REQUIRED: {counted(count, 'thing')} cannot be met; proposed: {changed}"


def _facts(proposal: Proposal, words: _Words, result: BookResult) -> Iterator[tuple[str, str]]:
    total = len(proposal.persons) + proposal.muster.unlisted
    unlisted = (
        f", {proposal.muster.unlisted} of them without a line on the Crew sheet" if proposal.muster.unlisted else ""
    )
    room = sum(boat.room for boat in proposal.muster.boats)
    yield "Persons", f"{total} on board{unlisted}; {counted(room, 'place')} in {len(proposal.crafts)} craft"
    yield "Papers valid to", f"{proposal.until} ({proposal.until_words})"
    yield "Names", "as on the Crew sheet" if words.names else "left out; a list that is posted needs them: --names"
    for number, boat in sorted(proposal.beside.items()):
        yield "Rescue boat crew", f"{words.person(number)}: mans {boat}; a place, and no duty, here"
    for text in proposal.left_out:
        yield "Left aside", words.nameless(text)
    yield (
        "Order",
        "a place for everybody, a lifeboat before a raft, command, qualification, engine and radio, parties kept, then "
        "as few changes as can be, then even loads",
    )
    if any(not boat.sides for boat in proposal.muster.boats):
        yield (
            "Sides",
            "a craft over the stern, or one whose side is not recorded, is not counted on when a side is lost",
        )
    yield "Record", result.book
    yield from (("Assumed", text) for text in result.assumptions)


# ---- what cannot be met ------------------------------------------------------------------------------------------


def _unmet(proposal: Proposal, words: _Words) -> Block:
    lines = []
    for lack in _gathered(proposal.score.found):
        where = words.craft(lack.boat) if lack.boat is not None else "ship"
        what = ("not evaluated: " if lack.level == SHOWN else "") + lack.what
        what += f" ({lack.number})" if lack.number > 1 else ""
        lines.append(
            Line(
                (where, what, _missing(proposal, words, lack), _SOURCES[lack.level]),
                "soon" if lack.level in MILD else "urgent",
            )
        )
    for side, lost in proposal.lost.items():
        if lost.unplaced:
            left = usable(proposal.muster.boats, _other(side))
            room = sum(proposal.muster.boats[number].room for number in left)
            missing = f"{lost.unplaced} without a place: {counted(room, 'place')} left in {len(left)} craft"
            lines.append(
                Line((f"{side} side lost", "a place for everybody", missing, "SOLAS III/21; III/31"), "urgent")
            )
    for rule, person in proposal.missing_parties:
        could = f"; {words.person(person)} could" if person is not None else ""
        lines.append(Line(("ship", f"muster duty '{rule.item}'", f"nobody has it{could}", rule.reference), "urgent"))
    return Block(
        "What cannot be met, or is not shown",
        ("Where", "What", "What is missing", "Source"),
        lines,
        "Nothing: all is met.",
    )


def _gathered(found: tuple[Lack, ...]) -> Iterator[Lack]:
    """The lacks, those of many persons without a place as one."""
    out = [lack for lack in found if lack.level == PLACE]
    if out:
        yield Lack(PLACE, "no place", number=sum(lack.number for lack in out))
    yield from (lack for lack in found if lack.level != PLACE)


def _missing(proposal: Proposal, words: _Words, lack: Lack) -> str:
    """Why a demand cannot be met: who or what is missing."""
    muster, found = proposal.muster, proposal.found
    if lack.level == PLACE:
        out = [person for person, craft in enumerate(found.craft) if craft is None]
        who = f": {words.persons(out)}" if out else ""
        return f"{len(muster.hands) + muster.unlisted} persons, {sum(boat.room for boat in muster.boats)} places{who}"
    if lack.level == PARTIES:
        return "nobody of that party can stay there without breaking what is asked before it"
    if lack.level == HANDS and lack.person is not None:
        ends = proposal.persons[lack.person].row.get("medical_expires")
        return f"{words.person(lack.person)}: until {ends}; nobody else is left for the duty"
    if lack.what.startswith("certificated"):
        held = [person for person in range(len(muster.hands)) if muster.hands[person].certificated]
        return f"certificated to {proposal.until}: {words.persons(held) if held else 'nobody'}"
    if lack.person is not None:
        return f"{words.person(lack.person)}; {_who_leads(proposal, words)}"
    if lack.level in (COMMAND, QUALIFIED):
        return _who_leads(proposal, words)
    free = [person for person, hand in enumerate(muster.hands) if hand.free and not found.role[person]]
    here = [person for person in free if found.craft[person] == lack.boat]
    if here:
        return f"of those without a duty there, none is fit to {proposal.until}"
    return "nobody in it is without a key duty, and nobody can be moved to it without breaking what comes before"


def _who_leads(proposal: Proposal, words: _Words) -> str:
    """How many are shown to be qualified to the last day, and whose papers would change that."""
    hands = proposal.muster.hands
    sure = [person for person, hand in enumerate(hands) if hand.free and hand.leads == SURE]
    needed = sum(1 for number in range(len(proposal.crafts)) if _manned(proposal, number))
    text = f"{counted(len(sure), 'qualified person')} for {needed} manned craft"
    ending = [
        person
        for person, hand in enumerate(hands)
        if hand.free and hand.leads == NO and proposal.persons[person].row.get("certificate_expires") is not None
    ]
    open_ones = [person for person, hand in enumerate(hands) if hand.free and hand.leads not in (SURE, NO)]
    if ending:
        text += f"; papers end before {proposal.until}: {words.persons(ending)}"
    if open_ones:
        text += f"; not recorded for {words.persons(open_ones)}"
    return text


# ---- changes -----------------------------------------------------------------------------------------------------


def _change(proposal: Proposal, words: _Words, person: int) -> str:
    """What changes for a person, in words; '' when nothing does."""
    hand, craft, role = proposal.muster.hands[person], proposal.found.craft[person], proposal.found.role[person]
    said = []
    if person in proposal.beside:
        said.append(f"mans {proposal.beside[person]}; place here")
    elif hand.craft is None:
        told = proposal.persons[person].row.get("craft")
        said.append(f"NEW here ({told!r} is no craft here)" if told else "NEW here (had no craft)")
    elif hand.craft != craft:
        said.append(f"MOVES from {words.craft(hand.craft)}")
    if hand.role and hand.role != role:
        said.append(f"no longer {hand.role}{_reason(proposal, person)}")
    if role and hand.role != role:
        said.append(f"NEW DUTY: {role}")
    return "; ".join(said)


def _reason(proposal: Proposal, person: int) -> str:
    """Why the record lets somebody keep a key duty no longer, where it says so."""
    hand, row = proposal.muster.hands[person], proposal.persons[person].row
    if hand.fit == NO:
        return f" (medical ends {row.get('medical_expires')})"
    if hand.role == CHARGE and hand.leads == NO:
        ends = row.get("certificate_expires")
        return f" (certificate ends {ends})" if ends is not None else " (no deck officer, and no certificate)"
    return ""


def _changes(proposal: Proposal, words: _Words) -> Block:
    lines = []
    for person in range(len(proposal.persons)):
        change = _change(proposal, words, person)
        if change:
            craft, role = proposal.found.craft[person], proposal.found.role[person]
            lines.append(Line((words.person(person), f"{words.craft(craft)}, {role or 'member'}", change), "soon"))
    columns = ("Person", "Proposed", "Change from the present list")
    return Block("Changes", columns, lines, "None: the present list stands.")


# ---- the list ----------------------------------------------------------------------------------------------------


def _manned(proposal: Proposal, number: int) -> bool:
    return bool(proposal.found.in_craft(number) or proposal.found.unlisted[number])


def _other(side: str) -> str:
    return SIDES[1 - SIDES.index(side)]


def _craft(proposal: Proposal, words: _Words, number: int) -> Block:
    boat, found = proposal.muster.boats[number], proposal.found
    order = {role: rank for rank, role in enumerate((CHARGE, "second in command", "engine operator", "radio", ""))}
    inside = sorted(found.in_craft(number), key=lambda person: (order[found.role[person]], person))
    lines = []
    for person in inside:
        change = _change(proposal, words, person)
        duty = proposal.persons[person].row.get("muster_duty") or "-"
        cells = (
            words.person(person),
            found.role[person] or "member",
            duty,
            _elsewhere(proposal, words, person),
            change or "-",
        )
        lines.append(Line(cells, "soon" if change else ""))
    if found.unlisted[number]:
        lines.append(Line((f"{found.unlisted[number]} without a line on the Crew sheet", "-", "-", "-", "-")))
    persons = len(inside) + found.unlisted[number]
    side = proposal.crafts[number].row.get("side")
    heading = f"{boat.name}: {persons} of {boat.room} persons" + (f", {side}" if side else "")
    return Block(heading, ("Person", "Duty in craft", "Muster duty", "If a side is lost", "Change"), lines, "")


def _elsewhere(proposal: Proposal, words: _Words, person: int) -> str:
    """Where a person goes when the craft cannot be used."""
    said = []
    for side, lost in proposal.lost.items():
        going = dict(lost.moves).get(person)
        if going is not None:
            said.append(f"{side}: {words.craft(going)}")
        elif proposal.found.craft[person] not in usable(proposal.muster.boats, _other(side)):
            said.append(f"{side}: NO PLACE")
    return "; ".join(said) or "stays"


def _stands(proposal: Proposal, words: _Words) -> Block:
    lines = []
    for stand in proposal.stands:
        who = words.person(stand.substitute) if stand.substitute is not None else "NOBODY is left who could"
        mark = "urgent" if stand.substitute is None else "" if stand.kept else "soon"
        change = "as now" if stand.kept else "-" if stand.substitute is None else "NEW"
        lines.append(Line((words.person(stand.key), stand.role, who, change), mark))
    columns = ("Key person", "Because", "Substitute", "Change")
    nothing = "No key person: each craft has a second in command, and nobody has the duty 'in command'."
    return Block("Substitutes for key persons (SOLAS III/37.5)", columns, lines, nothing)


def _sides(proposal: Proposal, words: _Words) -> Block:
    lines = []
    for side, lost in proposal.lost.items():
        left = usable(proposal.muster.boats, _other(side))
        room = sum(proposal.muster.boats[number].room for number in left)
        moving = len(lost.moves) + sum(number for _, _, number in lost.unlisted)
        remark = f"{lost.unplaced} WITHOUT A PLACE" if lost.unplaced else "everybody has a place"
        if lost.leaderless:
            remark += "; nobody shown to be qualified goes to " + ", ".join(map(words.craft, lost.leaderless))
        lines.append(Line((f"{side} side lost", str(room), str(moving), remark), "urgent" if lost.unplaced else ""))
    return Block("If a side is lost", ("What", "Places left", "Change craft", "Remark"), lines, "")
