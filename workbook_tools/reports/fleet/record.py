"""What a run says of a fleet, put aside book by book and given back worst first.

Nothing is worked out here but counts. The lines lie in a temporary database that SQLite keeps in memory while it is
small and on disk when it grows: ten thousand books do not fill the memory, and the order of a report needs no sort of
everything at once.
"""

from __future__ import annotations

import os
import re
import sqlite3
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import astuple, dataclass, fields
from datetime import date
from pathlib import Path
from typing import Any

from workbook_tools.checks import CODES, Options
from workbook_tools.checks.registry import FAMILIES
from workbook_tools.core.interval import add_months
from workbook_tools.findings import GRADES, STATES, WORST, BookResult, Finding, Lapse
from workbook_tools.reports.ranking import weight
from workbook_tools.reports.text import follow_up_words, verdict
from workbook_tools.rules.model import PRIORITIES

# The families of the audit's own codes: a check makes no finding of the others, which compare returns.
CHECKED = {key: words for key, words in FAMILIES.items() if any(code.startswith(key) for code in CODES)}
MONTHS_AHEAD = 12  # how far the list of what lapses looks: the rest of this month and so many more; our choice


class RecordFull(OSError):
    """The disk that holds the temporary record has no room left; the text says what to do."""


@dataclass(frozen=True, slots=True)
class ShipLine:
    """One book: number in the order given, rank (1: worst), who, verdict, and its counts as in the JSON report."""

    number: int
    rank: int
    path: str
    ship: str
    imo_number: str
    rules: str
    readable: bool
    reason: str
    verdict: str
    grades: dict[str, int]
    followed_up: int
    families: dict[str, int]  # findings of each family, by its two letters
    actions: dict[str, int]  # those of them that are actions
    states: dict[str, int]

    @property
    def title(self) -> str:
        """The ship's name, or for want of one the name of the file."""
        return self.ship or Path(self.path).name


@dataclass(frozen=True, slots=True)
class FindingLine:
    """One finding with the book it stands in."""

    path: str
    ship: str
    rank: int
    id: str
    code: str
    rule: str
    grade: str
    priority: str
    sheet: str
    cell: str
    subject: str
    message: str
    remedy: str
    source: str
    person: str
    followed_up: bool
    follow_up: str


@dataclass(frozen=True, slots=True)
class LapseLine:
    """One day on record after which something holds no more, with its book; days_left: counted from the day asked."""

    path: str
    ship: str
    rank: int
    day: str
    kind: str
    what: str
    where: str
    sheet: str
    cell: str
    person: str
    days_left: int


@dataclass(frozen=True, slots=True)
class RepeatedLine:
    """One fault that stands on several ships; ships: the first few by name, worst first."""

    code: str
    rule: str
    grade: str
    ship_count: int
    finding_count: int
    source: str
    example: str
    remedy: str
    ships: tuple[str, ...]

    @property
    def name(self) -> str:
        """What the code says of the fault: equipment-short."""
        return CODES[self.code].name if self.code in CODES else ""


_SHIP_COLUMNS = ("path", "ship", "imo_number", "rules", "readable", "reason", "verdict", "vessel")
_COUNTS = (
    *(f"grade_{grade}" for grade in GRADES),
    "followed_up",
    *(f"family_{family}" for family in CHECKED),
    *(f"action_{family}" for family in CHECKED),
    *(f"state_{state}" for state in STATES),
)
_WEIGHTS = tuple(f"weight_{number}" for number in range(len(weight(BookResult("")))))
_FINDING_COLUMNS = (
    *("priority_order", "not_worst", "grade_order", "id", "code", "rule", "grade", "priority", "sheet", "cell"),
    *("subject", "message", "remedy", "source", "person", "followed_up", "follow_up"),
)
_LAPSE_COLUMNS = tuple(entry.name for entry in fields(Lapse))
_SHIPS_NAMED = 6  # ships that a repeated fault names; the others are counted


def _insert(table: str, columns: Iterable[str]) -> str:
    names = ("number", *columns)
    quoted = ", ".join(f'"{name}"' for name in names)
    return f"INSERT INTO {table} ({quoted}) VALUES ({', '.join('?' * len(names))})"


class FleetRecord:
    """The results of a run, for the reports that are written when the last book is done.

    Raises RecordFull when there is no room for it. Use it as a context manager, or close it.
    """

    def __init__(self, options: Options) -> None:
        self.options = options
        self.books = 0
        self.last_day = _end_of_month(options.on)
        self.later_lapses = 0  # those past last_day: not kept, and counted
        self._ranked = False
        # "": a private database in memory that spills to a temporary file; it is gone when it is closed
        self._db = sqlite3.connect("")
        self._db.executescript(
            f"""
            PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF;
            -- a path is kept as the bytes of its name: a name need not be text
            CREATE TABLE book (number INTEGER PRIMARY KEY, rank INTEGER, {", ".join(_SHIP_COLUMNS)},
                {", ".join(_COUNTS)}, {", ".join(_WEIGHTS)});
            CREATE TABLE finding (number INTEGER, {", ".join(_FINDING_COLUMNS)});
            CREATE TABLE lapse (number INTEGER, {", ".join(f'"{name}"' for name in _LAPSE_COLUMNS)});
            CREATE TABLE assumption (number INTEGER, words TEXT);
            """
        )

    def __enter__(self) -> FleetRecord:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Give back memory and disk."""
        self._db.close()

    # ---- taking in ---------------------------------------------------------------------------------------------

    def add(self, result: BookResult) -> None:
        """Put one result aside."""
        self.books += 1
        self._ranked = False
        number = self.books
        try:
            self._add_book(number, result)
            rows = (_storable(_row(number, entry)) for entry in result.findings)
            self._db.executemany(_insert("finding", _FINDING_COLUMNS), rows)
            near = [lapse for lapse in result.lapses if self.options.on <= lapse.day <= self.last_day]
            self.later_lapses += sum(lapse.day > self.last_day for lapse in result.lapses)
            self._db.executemany(
                _insert("lapse", _LAPSE_COLUMNS),
                (_storable((number, lapse.day.isoformat(), *astuple(lapse)[1:])) for lapse in near),
            )
            assumed = (_storable((number, words)) for words in result.assumptions)
            self._db.executemany(_insert("assumption", ("words",)), assumed)
        except sqlite3.Error as error:
            raise _full(error) from error

    def _add_book(self, number: int, result: BookResult) -> None:
        families = Counter(finding.code[:2] for finding in result.findings)
        actions = Counter(finding.code[:2] for finding in result.findings if finding.grade == "action")
        who = (
            *(os.fsencode(result.book), result.ship, result.imo_number, result.rules, result.readable, result.reason),
            verdict(result) if result.readable else "NOT READ",
            vessel(result.imo_number) or f"book {number}",
        )
        counts = (
            *result.grade_counts().values(),
            len(result.followed_up()),
            *(families[family] for family in CHECKED),
            *(actions[family] for family in CHECKED),
            *result.state_counts().values(),
        )
        columns = (*_SHIP_COLUMNS, *_COUNTS, *_WEIGHTS)
        self._db.execute(_insert("book", columns), _storable((number, *who, *counts, *weight(result))))

    def _rank(self) -> None:
        """Number the books worst first; those alike stand in the order given."""
        if self._ranked:
            return
        self._db.execute(
            f"""UPDATE book SET rank = place FROM
            (SELECT number AS which, ROW_NUMBER() OVER (ORDER BY {", ".join(_WEIGHTS)}, number) AS place FROM book)
            WHERE number = which"""
        )
        self._ranked = True

    # ---- giving back -------------------------------------------------------------------------------------------

    def _rows(self, query: str, *values: Any) -> Iterator[tuple[Any, ...]]:
        try:
            self._rank()
            yield from self._db.execute(query, values)
        except sqlite3.Error as error:
            raise _full(error) from error

    def _count(self, query: str) -> int:
        return int(next(self._rows(query))[0])

    def ships(self, readable: bool | None = None, most: int = -1) -> Iterator[ShipLine]:
        """The books, worst first; readable: only those that could, or could not, be read; most: no more of them."""
        where = "" if readable is None else f"WHERE readable = {int(readable)}"
        names = ("number", "rank", *_SHIP_COLUMNS[:-1], *_COUNTS)
        for row in self._rows(f"SELECT {', '.join(names)} FROM book {where} ORDER BY rank LIMIT ?", most):
            said = dict(zip(names, row, strict=True))
            said["path"] = os.fsdecode(said["path"])
            yield ShipLine(
                **{name: said[name] for name in ("number", "rank", *_SHIP_COLUMNS[:-1]) if name != "readable"},
                readable=bool(said["readable"]),
                grades={grade: said[f"grade_{grade}"] for grade in GRADES},
                followed_up=said["followed_up"],
                families={family: said[f"family_{family}"] for family in CHECKED},
                actions={family: said[f"action_{family}"] for family in CHECKED},
                states={state: said[f"state_{state}"] for state in STATES},
            )

    def findings(self, most: int = -1) -> Iterator[FindingLine]:
        """The findings of the fleet, worst first, those being followed up last; most: no more than so many."""
        columns = [f"finding.{entry.name}" for entry in fields(FindingLine)[3:]]
        query = f"""SELECT path, {_TITLE}, rank, {", ".join(columns)} FROM finding JOIN book USING (number)
            ORDER BY finding.followed_up, priority_order, not_worst, grade_order, rank, subject, code, finding.rowid
            LIMIT ?"""
        names = [entry.name for entry in fields(FindingLine)]
        for row in self._rows(query, most):
            said = dict(zip(names, row, strict=True))
            said["followed_up"] = bool(said["followed_up"])
            yield FindingLine(**_named(said))

    def lapses(self, most: int = -1) -> Iterator[LapseLine]:
        """What lapses from the day asked to last_day, the nearest first; most: no more than so many."""
        columns = ", ".join(f'lapse."{name}"' for name in _LAPSE_COLUMNS)
        query = f"""SELECT path, {_TITLE}, rank, {columns} FROM lapse JOIN book USING (number)
            ORDER BY lapse.day, rank, lapse.rowid LIMIT ?"""
        names = [entry.name for entry in fields(LapseLine)[:-1]]
        for row in self._rows(query, most):
            said = dict(zip(names, row, strict=True))
            yield LapseLine(**_named(said), days_left=(date.fromisoformat(said["day"]) - self.options.on).days)

    def lapses_by_month(self) -> dict[tuple[str, str], int]:
        """How many things of each kind lapse in each month: by month as YYYY-MM, and kind."""
        query = "SELECT substr(day, 1, 7) AS month, kind, COUNT(*) FROM lapse GROUP BY month, kind"
        return {(month, kind): count for month, kind, count in self._rows(query)}

    def months(self) -> list[str]:
        """The months that the list of lapses covers, the one of the day asked first, as YYYY-MM."""
        first = self.options.on.replace(day=1)
        found = [first]
        while (found[-1].year, found[-1].month) < (self.last_day.year, self.last_day.month):
            found.append(add_months(found[-1], 1))
        return [day.isoformat()[:7] for day in found]

    def repeated(self, most: int = -1) -> Iterator[RepeatedLine]:
        """The faults that stand on more than one ship, the widest spread first.

        A fault is a code with its rule: the same lack by the same paragraph. Serial numbers and batches are no part of
        it, so that rafts which are exchanged each year, and batches which change, make no alarm. Notes are no faults.
        """
        query = f"""SELECT finding.code, finding.rule, MIN(grade_order), COUNT(DISTINCT vessel) AS vessels, COUNT(*),
            MIN(finding.source) FROM finding JOIN book USING (number) WHERE grade_order < {GRADES.index("note")}
            GROUP BY finding.code, finding.rule HAVING vessels > 1
            ORDER BY vessels DESC, MIN(grade_order), COUNT(*) DESC, finding.code, finding.rule LIMIT ?"""
        for code, rule, grade, vessels, count, source in list(self._rows(query, most)):
            example, remedy = next(
                self._rows(
                    """SELECT finding.message, finding.remedy FROM finding JOIN book USING (number)
                    WHERE code = ? AND rule = ? ORDER BY grade_order, rank LIMIT 1""",
                    code,
                    rule,
                )
            )
            ships = self._rows(
                f"""SELECT {_TITLE}, path, MIN(rank) AS first FROM finding JOIN book USING (number)
                WHERE code = ? AND rule = ? AND grade_order < {GRADES.index("note")}
                GROUP BY vessel ORDER BY first LIMIT {_SHIPS_NAMED}""",
                code,
                rule,
            )
            named = tuple(ship_title(ship, os.fsdecode(path)) for ship, path, _ in ships)
            yield RepeatedLine(code, rule, GRADES[grade], vessels, count, source, example, remedy, named)

    def cited(self) -> Iterator[tuple[str, str, str, int]]:
        """The rules that findings cite: rule set, rule key, paragraph, and how many findings cite it."""
        yield from self._rows(
            """SELECT rules, finding.rule, finding.source, COUNT(*) FROM finding JOIN book USING (number)
            GROUP BY rules, finding.rule, finding.source ORDER BY rules, finding.rule, finding.source"""
        )

    def assumptions(self) -> Iterator[tuple[str, int, str]]:
        """What was assumed of books: the words, how many books they hold for, and the name of the worst of those."""
        query = f"""SELECT words, COUNT(*) AS books, {_TITLE}, path, MIN(rank) FROM assumption JOIN book USING (number)
            GROUP BY words ORDER BY books DESC, words"""
        for words, count, ship, path, _ in self._rows(query):
            yield words, count, ship_title(ship, os.fsdecode(path))

    def rule_sets(self) -> dict[str, int]:
        """The rule sets by which books were audited, and how many."""
        return dict(self._rows("SELECT rules, COUNT(*) FROM book WHERE rules <> '' GROUP BY rules ORDER BY rules"))

    def twice(self) -> Iterator[tuple[str, tuple[str, ...]]]:
        """IMO numbers that stand in more than one book, with the paths of those books."""
        seen: dict[str, list[str]] = {}
        query = """SELECT vessel, path FROM book WHERE vessel IN
            (SELECT vessel FROM book GROUP BY vessel HAVING COUNT(*) > 1) ORDER BY vessel, number"""
        for vessel_number, path in self._rows(query):
            seen.setdefault(vessel_number, []).append(os.fsdecode(path))
        yield from ((number, tuple(paths)) for number, paths in seen.items())

    def totals(self) -> dict[str, int]:
        """Findings of each grade over the fleet, as in the JSON report."""
        sums = ", ".join(f"COALESCE(SUM(grade_{grade}), 0)" for grade in GRADES)
        return dict(zip(GRADES, next(self._rows(f"SELECT {sums} FROM book")), strict=True))

    def family_totals(self) -> dict[str, dict[str, int]]:
        """Findings of each family over the fleet, by grade."""
        found: dict[str, dict[str, int]] = {family: dict.fromkeys(GRADES, 0) for family in CHECKED}
        query = "SELECT substr(code, 1, 2) AS family, grade, COUNT(*) FROM finding GROUP BY family, grade"
        for family, grade, count in self._rows(query):
            found[family][grade] = count
        return found

    def state_totals(self) -> dict[str, int]:
        """Pairs of rule and subject over the fleet, by the state in which they ended."""
        sums = ", ".join(f"COALESCE(SUM(state_{state}), 0)" for state in STATES)
        return dict(zip(STATES, next(self._rows(f"SELECT {sums} FROM book")), strict=True))

    def finding_count(self) -> int:
        """How many findings there are."""
        return self._count("SELECT COUNT(*) FROM finding")

    def lapse_count(self) -> int:
        """How many things lapse from the day asked to last_day."""
        return self._count("SELECT COUNT(*) FROM lapse")

    def unread_count(self) -> int:
        """How many books could not be read."""
        return self._count("SELECT COUNT(*) FROM book WHERE NOT readable")

    def action_ships(self) -> int:
        """How many books have an action required."""
        return self._count("SELECT COUNT(*) FROM book WHERE grade_action > 0")

    def text(self) -> Iterator[str]:
        """Every message and remedy once, to see which cautions they bring with them."""
        for row in self._rows("SELECT DISTINCT subject || ' ' || message || ' ' || remedy FROM finding"):
            yield row[0]
        for row in self._rows("SELECT DISTINCT what FROM lapse"):
            yield row[0]


_TITLE = "book.ship"


def ship_title(ship: str, path: str) -> str:
    """A ship's name, or for want of one the name of its file."""
    return ship or Path(path).name


def _named(line: dict[str, Any]) -> dict[str, Any]:
    """A line with its path as text, and with a name for the ship in any case."""
    path = os.fsdecode(line["path"])
    return line | {"path": path, "ship": ship_title(line["ship"], path)}


def vessel(imo_number: str) -> str:
    """The seven digits that tell ships apart, whatever is written around them; '' where there are none."""
    digits = re.sub(r"\D", "", imo_number)
    return digits if len(digits) == 7 else ""


def _full(error: sqlite3.Error) -> RecordFull:
    return RecordFull(
        f"the temporary record of the fleet cannot be kept ({error}): make room where temporary files go, or check "
        "fewer books at a time"
    )


def _storable(values: tuple[Any, ...]) -> tuple[Any, ...]:
    """Values as the database can hold them: what is no text in a text stands there in figures."""
    return tuple(
        value.encode("utf-8", "backslashreplace").decode() if isinstance(value, str) and not value.isascii() else value
        for value in values
    )


def _row(number: int, finding: Finding) -> tuple[Any, ...]:
    return (
        number,
        PRIORITIES.index(finding.priority),
        finding.code != WORST,
        GRADES.index(finding.grade),
        *(finding.id, finding.code, finding.rule, finding.grade, finding.priority, finding.sheet, finding.cell),
        *(finding.subject, finding.message, finding.remedy, finding.source, finding.person),
        finding.followed_up,
        follow_up_words(finding),
    )


def _end_of_month(on: date) -> date:
    """The last day of the month that comes MONTHS_AHEAD after the day asked."""
    try:
        return add_months(on.replace(day=1), MONTHS_AHEAD + 1) - date.resolution
    except (ValueError, OverflowError):
        return date.max
