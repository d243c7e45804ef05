"""A muster list as a problem: persons, craft, what is asked of their assignment, and how far a list meets it.

What is asked comes in levels; a list is better than another when it lacks less on the first level on which they differ.
Nothing here solves anything and nothing knows a name: persons are numbers. Standard library only.

Source of what is asked: SOLAS III/10.3 to 10.5, III/37; STCW A-VI/2; the number of certificated persons by complement
where the flag asks it. That each craft with a radio has somebody for it, that whoever has a key duty is medically fit,
and that the parties of the muster list stay spread as they are, is common practice, no source.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from workbook_tools.catalogue import normalise

CHARGE, SECOND, ENGINE, RADIO = "person in charge", "second in command", "engine operator", "radio"
ROLES = (CHARGE, SECOND, ENGINE, RADIO)
SURE, PERHAPS, NO = "sure", "perhaps", "no"

# What is asked, the first first.
LEVELS = (
    "a place for everybody",
    "a person in charge of each craft",
    "a second in command and qualified persons in each lifeboat",
    "qualification shown by the record",
    "somebody for engine and radio, and key persons medically fit",
    "parties of the muster list kept in their craft",
)
PLACE, COMMAND, QUALIFIED, SHOWN, HANDS, PARTIES = range(len(LEVELS))
# What is not shown is not evaluated, and that a party stays together is a wish: neither makes a list one to act on.
MILD = (SHOWN, PARTIES)


@dataclass(frozen=True, slots=True)
class Hand:
    """A person. leads, fit: whether deck officer or certificated, and medically fit, to the last day asked.

    craft: number of the craft on the present list. role: key duty there ('' none). party: muster duty. free: whether
    a key duty may be given (no passenger, nobody who mans the rescue boat).
    """

    leads: str = SURE
    certificated: bool = False
    fit: str = PERHAPS
    engineer: bool = False
    craft: int | None = None
    role: str = ""
    party: str = ""
    free: bool = True


@dataclass(frozen=True, slots=True)
class Boat:
    """A survival craft. by_complement: (from so many persons, certificated persons asked), rising.

    sides: the sides on which it can surely be used.
    """

    name: str
    room: int
    lifeboat: bool = True
    second: bool = True
    engine: bool = True
    radio: bool = False
    by_complement: tuple[tuple[int, int], ...] = ()
    sides: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Muster:
    """Who is to be placed in what. unlisted: persons on board without a line, who need a place as well."""

    hands: tuple[Hand, ...]
    boats: tuple[Boat, ...]
    unlisted: int = 0

    def to_raft(self, person: int | None, boat: int) -> bool:
        """Whether a place in a craft would put somebody into a raft who is in none now (None: without a line)."""
        now = None if person is None else self.hands[person].craft
        return not self.boats[boat].lifeboat and (now is None or self.boats[now].lifeboat)

    def manned_now(self, boat: int) -> bool:
        """Whether the present list has somebody in a craft."""
        return any(hand.craft == boat for hand in self.hands)

    def parties(self) -> set[tuple[int, str]]:
        """The parties of the present list by craft."""
        return {(hand.craft, hand.party) for hand in self.hands if hand.craft is not None and hand.party}


@dataclass(frozen=True, slots=True)
class List:
    """An assignment: craft (None: no place) and key duty ('': none) of each person; unlisted persons in each craft."""

    craft: tuple[int | None, ...]
    role: tuple[str, ...]
    unlisted: tuple[int, ...]

    def in_craft(self, boat: int) -> list[int]:
        """Numbers of the persons in a craft."""
        return [person for person, craft in enumerate(self.craft) if craft == boat]

    def holders(self, boat: int, role: str) -> list[int]:
        """Who has a key duty in a craft."""
        return [person for person in self.in_craft(boat) if self.role[person] == role]


@dataclass(frozen=True, slots=True)
class Lack:
    """Something asked that a list does not give. level: of LEVELS. boat, person: where and who, if that is known."""

    level: int
    what: str
    boat: int | None = None
    person: int | None = None
    number: int = 1


@dataclass(frozen=True, slots=True)
class Score:
    """How a list stands: what it lacks by level, and how far it lies from the present one.

    to_rafts: persons put into a raft who are in none now; it weighs next after places, for a lifeboat comes first.
    moved: persons in another craft than on the present list. in_rafts: persons in rafts. fullest: persons in the
    fullest lifeboat (raft, where there is none). duties: key duties changed.
    """

    lacks: tuple[int, ...]
    to_rafts: int
    moved: int
    in_rafts: int
    fullest: int
    duties: int
    unhandy: int
    found: tuple[Lack, ...] = field(default=(), compare=False)

    @property
    def order(self) -> tuple[int, ...]:
        """What a better list has less of, the first first."""
        return (
            self.lacks[PLACE],
            self.to_rafts,
            *self.lacks[1:],
            self.moved,
            self.in_rafts,
            self.fullest,
            self.duties,
            self.unhandy,
        )


def lacks(muster: Muster, found: List) -> Iterator[Lack]:
    """Everything that is asked and not given."""
    for person, craft in enumerate(found.craft):
        if craft is None:
            yield Lack(PLACE, "no place", None, person)
    if missing := muster.unlisted - sum(found.unlisted):
        yield Lack(PLACE, "no place for persons without a line", number=missing)
    for number, boat in enumerate(muster.boats):
        # a lifeboat that is manned now is not left to itself because others are easier to man
        if found.in_craft(number) or found.unlisted[number] or (boat.lifeboat and muster.manned_now(number)):
            yield from _of_boat(muster, found, number, boat)
    for person, role in enumerate(found.role):
        if role and muster.hands[person].fit == NO:
            yield Lack(HANDS, "medical certificate ends before the last day", found.craft[person], person)
    kept = {(found.craft[person], hand.party) for person, hand in enumerate(muster.hands)}
    for craft, party in sorted(muster.parties() - kept):
        yield Lack(PARTIES, f"nobody of the party '{party}'", craft)


def _of_boat(muster: Muster, found: List, number: int, boat: Boat) -> Iterator[Lack]:
    charge = found.holders(number, CHARGE)
    if not charge:
        yield Lack(COMMAND, "nobody in charge", number)
    for person in charge:
        leads = muster.hands[person].leads
        if leads == NO and boat.lifeboat:
            yield Lack(QUALIFIED, "the person in charge is no deck officer or certificated person", number, person)
        elif leads != SURE:
            yield Lack(SHOWN, "that the person in charge is qualified is not shown", number, person)
    if boat.second and not found.holders(number, SECOND):
        yield Lack(QUALIFIED, "no second in command", number)
    short = asked_certificated(boat, complement(found, number)) - certificated(muster, found, number)
    if short > 0:
        yield Lack(QUALIFIED, "certificated persons too few for the complement", number, number=short)
    for role, asked in ((ENGINE, boat.engine), (RADIO, boat.radio)):
        if asked and not found.holders(number, role):
            yield Lack(HANDS, f"nobody for the {'engine' if role == ENGINE else 'radio'} alone", number)


def complement(found: List, boat: int) -> int:
    """Persons in a craft, those without a line among them."""
    return len(found.in_craft(boat)) + found.unlisted[boat]


def certificated(muster: Muster, found: List, boat: int) -> int:
    """Certificated persons in a craft."""
    return sum(muster.hands[person].certificated for person in found.in_craft(boat))


def asked_certificated(boat: Boat, persons: int) -> int:
    """Certificated persons asked of a craft with so many persons."""
    return max((asked for begins, asked in boat.by_complement if persons >= begins), default=0)


def score(muster: Muster, found: List) -> Score:
    """How a list stands. unhandy: engine operators who are no engineers, seconds not shown to be qualified."""
    said = tuple(lacks(muster, found))
    counts: Counter[int] = Counter()
    for lack in said:
        counts[lack.level] += lack.number
    hands = muster.hands
    moved = sum(hand.craft is not None and craft != hand.craft for hand, craft in zip(hands, found.craft, strict=True))
    duties = sum(role != hand.role for hand, role in zip(hands, found.role, strict=True))
    unhandy = sum(unhandy_in(hand, role) for hand, role in zip(hands, found.role, strict=True))
    loads = {number: complement(found, number) for number in range(len(muster.boats))}
    in_rafts = sum(loads[number] for number, boat in enumerate(muster.boats) if not boat.lifeboat)
    fullest = max((loads[number] for number in spread_over(muster.boats)), default=0)
    levels = tuple(counts[level] for level in range(len(LEVELS)))
    to_rafts = sum(muster.to_raft(person, craft) for person, craft in enumerate(found.craft) if craft is not None)
    to_rafts += sum(number for boat, number in enumerate(found.unlisted) if muster.to_raft(None, boat))
    return Score(levels, to_rafts, moved, in_rafts, fullest, duties, unhandy, said)


def spread_over(boats: Sequence[Boat]) -> list[int]:
    """The craft over which persons are spread evenly: the lifeboats, or all where there is none."""
    lifeboats = [number for number, boat in enumerate(boats) if boat.lifeboat]
    return lifeboats or list(range(len(boats)))


def unhandy_in(hand: Hand, role: str) -> bool:
    """Whether somebody would do in a duty, but another would do better."""
    return (role == ENGINE and not hand.engineer) or (role == SECOND and hand.leads != SURE)


@dataclass(frozen=True, slots=True)
class Displaced:
    """Where persons go when their craft is lost: (person, craft) pairs, and unlisted persons as (from, craft, number).

    unplaced: persons for whom there is no place. leaderless: craft that fill with nobody qualified among them.
    """

    moves: tuple[tuple[int, int], ...]
    unlisted: tuple[tuple[int | None, int, int], ...]
    unplaced: int
    leaderless: tuple[int, ...]


def usable(boats: Sequence[Boat], side: str) -> list[int]:
    """The craft that can surely be used on a side."""
    return [number for number, boat in enumerate(boats) if side in boat.sides]


_ENGINE_WORDS = ("engineer", "oiler", "motorman", "wiper", "fitter", "greaser", "electrician", "mechanic", "eto")


def is_engine_hand(rank: str | None) -> bool:
    """Whether a rank is one of the engine department's. The list of words is ours."""
    words = normalise(rank or "").split()
    return any(word.startswith(_ENGINE_WORDS) or word == "engine" for word in words)
