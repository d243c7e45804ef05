"""A ship and its craft described in TOML, from which a workbook begins as a checklist.

    [ship]
    ship_type = "general cargo ship"
    gross_tonnage = 5200

    [[craft]]
    name = "Lifeboat 1"
    type = "lifeboat"
    side = "port"
    persons_permitted = 30

Keys are the headings of the Ship and Craft sheets, in small letters with underscores, or the columns' own keys.
"""

from __future__ import annotations

import difflib
import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from workbook_tools.catalogue import normalise
from workbook_tools.columns import Sheet, sheet
from workbook_tools.reading.cells import type_cell

Values = dict[str, Any]


class DescriptionError(ValueError):
    """A description that cannot be used; the text names file, entry and remedy."""


@dataclass(frozen=True)
class Description:
    """Typed values of the Ship sheet and of each line of the Craft sheet, by column key."""

    ship: Values = field(default_factory=dict)
    craft: list[Values] = field(default_factory=list)


def read_description(path: Path) -> Description:
    """Read a description. Raises DescriptionError."""
    try:
        document = tomllib.loads(path.read_text(encoding="utf-8"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise DescriptionError(f"{path}: not valid TOML: {error}") from error
    except OSError as error:
        raise DescriptionError(f"{path}: {error.strerror}") from error
    unknown = set(document) - {"ship", "craft"}
    if unknown:
        raise DescriptionError(
            f"{path}: unknown part [{sorted(unknown)[0]}]; it has one [ship] and a [[craft]] for each craft"
        )
    ship, craft = document.get("ship", {}), document.get("craft", [])
    if not isinstance(ship, dict) or not isinstance(craft, list) or not all(isinstance(entry, dict) for entry in craft):
        raise DescriptionError(f"{path}: write one [ship] and a [[craft]] for each craft")
    return Description(
        _typed(path, "[ship]", ship, sheet("ship")),
        [_typed(path, f"[[craft]] number {number}", entry, sheet("craft")) for number, entry in enumerate(craft, 1)],
    )


def _typed(path: Path, where: str, entries: Values, contract: Sheet) -> Values:
    values: Values = {}
    for key, raw in entries.items():
        column = contract.headings.get(normalise(key))
        if column is None:
            near = difflib.get_close_matches(normalise(key), contract.headings, n=1)
            hint = f"; did you mean {contract.headings[near[0]].key}?" if near else ""
            raise DescriptionError(f"{path}: {where}: {key} is none of the {contract.name} sheet's columns{hint}")
        typed = type_cell(raw, column)
        if typed.problem:
            raise DescriptionError(f"{path}: {where}: {key}: {typed.problem}: {typed.remedy}")
        if column.choices and typed.value is not None and typed.value not in column.choices:
            raise DescriptionError(f"{path}: {where}: {key} = {raw!r}: it must be one of {', '.join(column.choices)}")
        values[column.key] = typed.value
    for column in contract.columns:
        if column.required and contract.key != "ship" and values.get(column.key) is None:
            raise DescriptionError(f"{path}: {where}: {column.key} is missing")
    return values
