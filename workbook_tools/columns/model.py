"""What a sheet and a column of the workbook are."""

from dataclasses import dataclass
from functools import cached_property

from workbook_tools.catalogue import Names, normalise

# The number of this contract. A later davitbook reads every earlier one.
CONTRACT = 1

KINDS = (
    "text",
    "whole",  # a whole number
    "number",
    "date",  # a day
    "expiry",  # a day, or a month standing for its last day
    "made",  # a day, or a month standing for its first day
    "choice",
    "item",  # a catalogue item
    "unit",
    "content",  # a number, or a number with its unit in one cell ("500 mL")
    "imo",
    "interval",  # 12M, 5Y, 2W, 30D
    "year",  # a year, or a date of which the year counts
)


@dataclass(frozen=True)
class Column:
    """One column of a table, or one line of a form."""

    key: str
    heading: str
    kind: str
    help: str
    unit: str = ""
    required: bool = False
    unique: bool = False
    choices: tuple[str, ...] = ()
    choice_names: tuple[tuple[str, tuple[str, ...]], ...] = ()  # other names of a choice
    other_headings: tuple[str, ...] = ()
    minimum: float | None = None
    above: float | None = None
    maximum: float | None = None
    width: int = 14
    example: str = ""

    @property
    def title(self) -> str:
        """The heading as printed: with its unit, and a star where the cell must be filled."""
        unit = f" ({self.unit})" if self.unit else ""
        return f"{self.heading}{unit}{' *' if self.required else ''}"

    @cached_property
    def names(self) -> Names:
        """Looks up this column's choices by any of their names."""
        others = dict(self.choice_names)
        return Names((choice, others.get(choice, ())) for choice in self.choices)


@dataclass(frozen=True)
class Sheet:
    """One sheet: a table with one heading row, or a form with a label beside each cell."""

    key: str
    name: str
    layout: str  # table or form
    columns: tuple[Column, ...]
    help: str
    required: bool = False
    other_names: tuple[str, ...] = ()
    row_name: str = "line"

    def column(self, key: str) -> Column:
        """The column of this key. Raises KeyError."""
        return self._by_key[key]

    @cached_property
    def _by_key(self) -> dict[str, Column]:
        return {column.key: column for column in self.columns}

    @cached_property
    def headings(self) -> dict[str, Column]:
        """Columns by every heading they go by, normalised."""
        found: dict[str, Column] = {}
        for column in self.columns:
            for name in (column.heading, column.title, column.key.replace("_", " "), *column.other_headings):
                folded = normalise(name)
                if found.setdefault(folded, column) is not column:
                    raise ValueError(f"{self.name}: heading {name!r} names two columns")
        return found
