"""Which books are returns of which ship, and which of several in one folder is taken."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path

from workbook_tools.catalogue import normalise
from workbook_tools.columns import sheet
from workbook_tools.compare.apart import Ended, each
from workbook_tools.core.imo_number import imo_number_ok
from workbook_tools.fleet.run import FEW, find_books, is_ordinary
from workbook_tools.reading import Book, UnreadableBook, load
from workbook_tools.reading.cells import as_text
from workbook_tools.reading.form import read_form
from workbook_tools.reading.sheets import choose

BY_IMO, BY_NAME, BY_HAND = "IMO number", "ship's name", "the books named"


@dataclass(frozen=True, slots=True)
class Found:
    """A book and who it says it is. problem: why it could not be read, or ''."""

    path: Path
    imo: str = ""
    name: str = ""
    recorded: date | None = None
    problem: str = ""

    @property
    def who(self) -> str:
        """The ship as printed."""
        return " ".join(part for part in (self.name, f"(IMO {self.imo})" if self.imo else "") if part) or str(self.path)


@dataclass(slots=True)
class Series:
    """The returns of one ship, oldest first; None where a place has none. left_out: those passed over, with why."""

    matched_by: str
    returns: list[Found | None]
    left_out: list[str] = field(default_factory=list)

    @property
    def newest(self) -> Found:
        """The newest return there is."""
        return [found for found in self.returns if found is not None][-1]


@dataclass(slots=True)
class Fleet:
    """Ships with returns in two places at least; and what has no partner, or could not be read, place by place."""

    places: list[str]
    ships: list[Series] = field(default_factory=list)
    alone: list[tuple[int, Found, str]] = field(default_factory=list)
    unreadable: list[Found] = field(default_factory=list)
    small: bool = True  # whether its books can be compared in this process


class NothingToCompare(Exception):
    """The books named are of different ships; the text says which."""


def identify(path: Path) -> Found:
    """Read who a book says it is. A number with a wrong check digit is none."""
    try:
        raw = load(path)
        contract = sheet("ship")
        choice = choose(raw, contract)
        book = Book(str(path), {})
        if choice is not None and not choice.of_another:
            table = read_form(contract, raw, choice.name, book)
            if table is not None:
                book.tables["ship"] = table
    except UnreadableBook as error:
        return Found(path, problem=str(error))
    except Exception as error:
        what = f"{type(error).__name__}: {error}".splitlines()[0]
        return Found(path, problem=f"reading failed on this book ({what}): a fault of the program; please report it")
    imo = as_text(book.ship_value("imo_number") or "")
    return Found(
        path,
        imo if imo_number_ok(imo) else "",
        as_text(book.ship_value("name") or ""),
        book.ship_value("record_date"),
    )


def is_small(books: Sequence[Path]) -> bool:
    """Whether books are so few, and each as small as a ship's book is, that no worker processes need be started."""
    return len(books) <= FEW and all(is_ordinary(str(path)) for path in books)


def gather(places: Sequence[str], jobs: int = 1) -> Fleet:
    """The returns in each place (a book, a folder or a pattern; oldest first), matched by IMO number, else by name.

    jobs: processes that read at a time, where there are more than a few books.
    Raises NoBooks for a place without a workbook, NothingToCompare where two books named are of different ships.
    """
    fleet = Fleet(list(places))
    found: list[list[Found]] = []
    books = [find_books([place]) for place in places]
    paths = [path for inside in books for path in inside]
    fleet.small = is_small(paths)
    read = iter(each(identify, paths, jobs, fleet.small))
    for inside in books:
        readable = []
        for path in inside:
            entry = next(read)
            if isinstance(entry, Ended):
                entry = Found(path, problem=str(entry))
            if entry.problem:
                fleet.unreadable.append(entry)
            else:
                readable.append(entry)
        found.append(readable)
    if all(Path(place).is_file() for place in places):
        _books_named(fleet, found)
    else:
        _match(fleet, found)
    return fleet


def _books_named(fleet: Fleet, found: list[list[Found]]) -> None:
    """Books named one by one are of one ship, unless they say that they are not."""
    entries = [entry for inside in found for entry in inside]
    for field_name in ("imo", "name"):
        said = {normalise(getattr(entry, field_name)): entry for entry in entries if getattr(entry, field_name)}
        if field_name == "imo" and len(said) == 1 and all(entry.imo for entry in entries):
            break
        if len(said) > 1:
            first, second, *_ = said.values()
            raise NothingToCompare(
                f"{first.path} is of {first.who}, {second.path} of {second.who}: two ships, nothing to compare"
            )
    if len(entries) < 2:
        fleet.alone += [(0, entry, "no other return that could be read") for entry in entries]
        return
    same_imo = all(entry.imo for entry in entries)
    same_name = all(entry.name for entry in entries)
    returns: list[Found | None] = [inside[0] if inside else None for inside in found]
    fleet.ships.append(Series(BY_IMO if same_imo else BY_NAME if same_name else BY_HAND, returns))


Ship = tuple[str, str]  # ("imo", number) or ("name", folded name)


def _match(fleet: Fleet, found: list[list[Found]]) -> None:
    imo_by_name: dict[str, set[str]] = defaultdict(set)
    for inside in found:
        for entry in inside:
            if entry.imo and entry.name:
                imo_by_name[normalise(entry.name)].add(entry.imo)
    groups: dict[Ship, list[list[Found]]] = {}
    for number, inside in enumerate(found):
        for entry in inside:
            ship, why = _ship_of(entry, imo_by_name)
            if ship is None:
                fleet.alone.append((number, entry, why))
            else:
                groups.setdefault(ship, [[] for _ in found])[number].append(entry)
    for returns in groups.values():
        series = _series(returns, fleet.places)
        present = [number for number, entry in enumerate(series.returns) if entry is not None]
        if len(present) < 2:
            fleet.alone.append((present[0], series.newest, "no return of this ship in another place"))
        else:
            fleet.ships.append(series)
    fleet.ships.sort(key=lambda series: (normalise(series.newest.name), series.newest.imo, str(series.newest.path)))


def _ship_of(entry: Found, imo_by_name: dict[str, set[str]]) -> tuple[Ship | None, str]:
    """By what a return is matched; None and why where it cannot be."""
    if entry.imo:
        return ("imo", entry.imo), ""
    if not entry.name:
        return None, "it gives neither a valid IMO number nor a ship's name"
    name = normalise(entry.name)
    numbers = imo_by_name.get(name, set())
    if len(numbers) > 1:
        return None, f"it gives no valid IMO number, and {len(numbers)} ships go by that name"
    return ("imo", next(iter(numbers))) if numbers else ("name", name), ""


def _series(returns: list[list[Found]], places: Sequence[str]) -> Series:
    """One return a place: the one with the latest record date; without dates, the last by its file's name."""
    taken: list[Found | None] = []
    left_out: list[str] = []
    for place, inside in zip(places, returns, strict=True):
        best = max(inside, key=lambda entry: (entry.recorded or date.min, str(entry.path)), default=None)
        taken.append(best)
        for entry in inside:
            if best is not None and entry is not best:
                why = "an earlier record date" if entry.recorded != best.recorded else "an earlier file name"
                left_out.append(f"{entry.path} in {place}, beside {best.path.name}: {why}")
    by_imo = all(entry.imo for entry in taken if entry is not None)
    return Series(BY_IMO if by_imo else BY_NAME, taken, left_out)
