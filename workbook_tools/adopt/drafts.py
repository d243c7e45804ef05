"""A line of ours in the making: values with the cells they came from, until it is finished and accounted for."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from workbook_tools.adopt.convert import Values
from workbook_tools.adopt.fates import Account
from workbook_tools.adopt.source import Place


@dataclass
class Record:
    """One line of a sheet of ours: its values, the cell each came from, and what stands unread in a column."""

    values: Values = field(default_factory=dict)
    places: dict[str, Place] = field(default_factory=dict)
    unclear: dict[str, tuple[str, str]] = field(default_factory=dict)  # column key -> text, problem


@dataclass
class Put:
    """A value on its way: where it came from (None: it holds for the whole table) and what was read out of it."""

    value: Any
    place: Place | None
    how: str = ""


@dataclass
class Draft:
    """A line of ours in the making."""

    sheet: str
    puts: dict[str, Put] = field(default_factory=dict)
    lots: list[Values] = field(default_factory=list)  # several lots told in one cell
    lots_place: Place | None = None
    remarks: list[tuple[str, Place | None]] = field(default_factory=list)
    unclear: dict[str, tuple[str, str, Place]] = field(default_factory=dict)
    derived: list[tuple[Values, Place, str]] = field(default_factory=list)  # told beside a cell's own column
    repeats: list[tuple[Place, str]] = field(default_factory=list)  # ditto marks and what they repeat
    says_anything: bool = False

    def lacks(self, key: str) -> bool:
        """Whether nothing is told for a column."""
        return key not in self.puts

    def put(self, key: str, value: Any, place: Place | None, how: str = "") -> None:
        """Set a column."""
        self.puts[key] = Put(value, place, how)

    def joined(self, group: Draft, boat: str) -> Draft:
        """The columns common to all boats with those of one boat."""
        both = Draft(self.sheet, {**self.puts, **group.puts})
        both.lots = group.lots or self.lots
        both.lots_place = group.lots_place or self.lots_place
        both.remarks = self.remarks + group.remarks
        both.unclear = {**self.unclear, **group.unclear}
        both.derived = self.derived + group.derived
        both.repeats = self.repeats + group.repeats
        both.put("place", boat, None)
        return both

    def finish(self, account: Account) -> list[Record]:
        """One line of ours, or one for each lot told in a cell; the fate of each cell is noted."""
        for values, place, how in self.derived:
            self._derive(values, place, how)
        lots = self.lots
        clash = self._clash()
        if clash and self.lots_place is not None:
            account.leave(self.lots_place, f"says another thing of {clash} than the column for it")
            lots = []
        elif self.lots_place is not None:
            for key in dict.fromkeys(key for values in lots for key in values):
                account.carry(self.lots_place, f"{self.sheet}.{key}", f"{len(lots)} lots in one cell")
        for key, put in self.puts.items():
            if put.place is not None:
                account.carry(put.place, f"{self.sheet}.{key}", put.how)
        for _, told in self.remarks:
            if told is not None:
                account.carry(told, f"{self.sheet}.remarks")
        for here, target in self.repeats:
            account.carry(here, target, "as above")
        return [self._record(values) for values in lots or [{}]]

    def _clash(self) -> str:
        """A column for which several lots in one cell and the column itself say different things; '' for none."""
        for values in self.lots:
            for key, value in values.items():
                if not self.lacks(key) and self.puts[key].value != value:
                    return key.replace("_", " ")
        return ""

    def _derive(self, values: Values, place: Place, how: str) -> None:
        """What a text told beside its own column: taken where no other column says it, else kept in Remarks."""
        for key, value in values.items():
            if self.lacks(key):
                self.put(key, value, place, how)
            elif self.puts[key].value != value and how:
                self.remarks.append((f"also written: {how}", place))

    def _record(self, lot: Values) -> Record:
        record = Record()
        for key, put in self.puts.items():
            record.values[key] = put.value
            if put.place is not None:
                record.places[key] = put.place
        for key, value in lot.items():
            record.values[key] = value
            if self.lots_place is not None:
                record.places[key] = self.lots_place
        for key, (text, problem, place) in self.unclear.items():
            if key not in record.values:  # else another cell told it: of two columns for one of ours
                record.unclear[key] = (text, problem)
                record.places[key] = place
        if self.remarks:
            record.values["remarks"] = "; ".join(dict.fromkeys(text for text, _ in self.remarks))
            told = [place for _, place in self.remarks if place is not None]
            if told:
                record.places["remarks"] = told[0]
        return record
