"""What became of each filled cell of the source: an account that closes."""

from __future__ import annotations

from dataclasses import dataclass, field

from workbook_tools.adopt.convert import shown
from workbook_tools.adopt.source import Place, Source
from workbook_tools.reading.load import NO_RESULT


@dataclass
class Fate:
    """What became of a filled cell: carried to columns of ours, or left for a reason. how: what was read out of it."""

    place: Place
    text: str
    targets: list[str] = field(default_factory=list)  # inventory.quantity ...
    why: str = ""
    how: str = ""

    @property
    def carried(self) -> bool:
        """Whether the cell is in our book."""
        return bool(self.targets)


class Account:
    """The fates of the cells of one source. A cell meets one fate; that of being carried prevails."""

    def __init__(self, source: Source) -> None:
        self.source = source
        self._fates: dict[Place, Fate] = {}

    def text_of(self, place: Place) -> str:
        """A cell as a person sees it."""
        page = self.source.pages[place[0]]
        error = page.errors.get(place[1:])
        if error == NO_RESULT:
            return "a formula without a result"
        return error or shown(page.value(*place[1:]))

    def leave(self, place: Place, why: str) -> None:
        """Leave a cell, unless it is empty or has met its fate already."""
        if place not in self._fates and self.source.pages[place[0]].filled(*place[1:]):
            self._fates[place] = Fate(place, self.text_of(place), why=why)

    def carry(self, place: Place, target: str, how: str = "") -> None:
        """Note that a cell is carried to a column of ours; one that was left for its like elsewhere becomes carried."""
        fate = self._fates.get(place)
        if fate is None or not fate.carried:
            fate = self._fates[place] = Fate(place, self.text_of(place))
        if target not in fate.targets:
            fate.targets.append(target)
        if how and how not in fate.how:
            fate.how = f"{fate.how}; {how}" if fate.how else how

    def take_back(self, place: Place, target: str, why: str) -> None:
        """A cell is not carried to a column after all; left for this reason where that was its only one."""
        fate = self._fates[place]
        fate.targets = [one for one in fate.targets if one != target]
        if not fate.targets:
            fate.why, fate.how = why, ""

    def closed(self) -> list[Fate]:
        """Every filled cell's fate, in the order of the source; what nothing has touched stands outside the tables."""
        places = list(self.source.filled())
        for place in places:
            self.leave(place, "stands outside the tables of the mapping: a title or a note")
        return [self._fates[place] for place in places]
