"""Deadlines as an iCalendar (RFC 5545): one all-day event for each, with an alarm at its warning days.

The identifier of an event is made of the ship and of what the deadline is about, never of rows or of days that move, so
that a calendar which imports the file again changes the event it has. No clock is read: the stamp is given, and the
sequence number grows with it.
"""

from __future__ import annotations

import uuid
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from icalendar import Alarm, Calendar, Event

from workbook_tools import __version__
from workbook_tools.catalogue import normalise
from workbook_tools.core.caution import CAUTION
from workbook_tools.core.expiry import DUE, EXPIRED, days_words
from workbook_tools.core.imo_number import imo_number_ok
from workbook_tools.planning.deadlines import Deadline

_SPACE = uuid.uuid5(uuid.NAMESPACE_URL, "davitbook:deadline")
_BEGIN = datetime(2020, 1, 1, tzinfo=UTC)  # sequence numbers count minutes from here
_WORDS = {EXPIRED: "OVERDUE", DUE: "DUE"}
_PRIORITIES = {EXPIRED: 1, DUE: 3}  # RFC 5545 3.8.1.9: 1 is the highest, 5 the middle


@dataclass(frozen=True, slots=True)
class ShipDeadlines:
    """The deadlines of one book: its ship, and the file it was read from."""

    ship: str
    imo_number: str
    book: str
    deadlines: Sequence[Deadline]

    @property
    def key(self) -> str:
        """What stands for the ship in identifiers: a sound IMO number, else the name, else the file's name."""
        if self.imo_number and imo_number_ok(self.imo_number):
            return f"imo {self.imo_number}"
        return normalise(self.ship) or self.book.replace("\\", "/").rpartition("/")[2].casefold()


def uid(ship_key: str, identity: Iterable[str]) -> str:
    """The identifier of an event: a UUID (RFC 7986 5.3) that the same ship and the same thing always give."""
    return str(uuid.uuid5(_SPACE, "\0".join((ship_key, *identity))))


def sequence(stamp: datetime) -> int:
    """A number that is higher the later the calendar was made (RFC 5545 3.8.7.4): minutes, which last 4,000 years."""
    return max(0, int((stamp - _BEGIN).total_seconds() // 60))


def as_ics(ships: Sequence[ShipDeadlines], stamp: datetime) -> bytes:
    """The calendar of one or several ships. stamp: the moment, in UTC, at which the books were looked at."""
    calendar = Calendar()
    calendar.add("prodid", f"-//davitbook//davitbook {__version__}//EN")
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    name = f"Life-saving appliances: {ships[0].ship}" if len(ships) == 1 else "Life-saving appliances"
    calendar.add("name", _line(name))
    calendar.add("x-wr-calname", _line(name))
    for ship in ships:
        for deadline in ship.deadlines:
            calendar.add_component(_event(ship, deadline, stamp))
    return bytes(calendar.to_ical())


def _line(text: str) -> str:
    """Text on one line, without the control characters that no content line may hold (RFC 5545 3.1)."""
    return " ".join("".join(letter if letter.isprintable() else " " for letter in text).split())


def _event(ship: ShipDeadlines, deadline: Deadline, stamp: datetime) -> Event:
    event = Event()
    event.add("uid", uid(ship.key, deadline.identity))
    event.add("dtstamp", stamp)
    event.add("last-modified", stamp)
    event.add("sequence", sequence(stamp))
    event.add("dtstart", deadline.day)
    if deadline.day < date.max:
        event.add("dtend", deadline.day + timedelta(days=1))  # the day after: the end is no part of it
    event.add("summary", _summary(ship, deadline))
    event.add("description", _description(ship, deadline))
    event.add("location", _line(deadline.subject))
    event.add("categories", [deadline.kind])
    event.add("priority", _PRIORITIES.get(deadline.status, 5))
    event.add("transp", "TRANSPARENT")  # a day with a deadline is no day on which nobody has time
    if deadline.days_left >= 0 and deadline.warn_days:
        event.add_component(_alarm(deadline))
    return event


def _alarm(deadline: Deadline) -> Alarm:
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", _line(f"{deadline.thing}, {deadline.subject}: {deadline.day}"))
    alarm.add("trigger", timedelta(days=-deadline.warn_days))
    return alarm


def _summary(ship: ShipDeadlines, deadline: Deadline) -> str:
    word = _WORDS.get(deadline.status, "")
    text = f"{ship.ship or 'Ship without a name'}: {deadline.thing}, {deadline.subject}"
    return _line(f"{word} {text}" if word else text)


def _description(ship: ShipDeadlines, deadline: Deadline) -> str:
    end = "last good day" if deadline.kind in ("expiry", "certificate", "papers", "exemption") else "due by"
    lines = [
        f"{deadline.thing}, {deadline.subject}: {end} {deadline.day}",
        f"Cell: {deadline.sheet}!{deadline.cell}",
    ]
    if deadline.leaves_short is not None:
        lines.append("Then the rule is not met." if deadline.leaves_short else "Enough others stay in date then.")
    if deadline.paragraph:
        lines.append(f"Rule: {deadline.paragraph}" + (f" ({deadline.rule})" if deadline.rule else ""))
    lines.append(f"Called due {days_words(deadline.warn_days)} ahead.")
    lines += [text for text in (deadline.caution, CAUTION) if text]
    return "\n".join(map(_line, lines))
