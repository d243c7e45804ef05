"""The --map option of davitbook check: audits foreign workbooks as they stand, by a mapping kept from adopt."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from workbook_tools.fleet.run import Work

map_option = click.option(
    "--map",
    "map_file",
    type=click.Path(path_type=Path),
    default=None,
    metavar="TOML",
    help="The books are laid out as this mapping of davitbook adopt says, and are audited as they stand.",
)


def work_by_map(map_file: Path | None, resume: bool, cluster: str | None) -> Work | None:
    """The work that reads books by a mapping; None where none is given. A fault in the file is wrong usage."""
    if map_file is None:
        return None
    if resume or cluster is not None:
        raise click.UsageError("--map goes with neither --resume nor --cluster")
    from workbook_tools.adopt.auditing import by_map
    from workbook_tools.adopt.carry import still_open
    from workbook_tools.adopt.mapping_file import MappingError, read_mapping

    try:
        mapping = read_mapping(map_file)
    except MappingError as error:
        raise click.UsageError(str(error)) from error
    undecided = still_open(mapping)
    if undecided:
        raise click.UsageError(f'{map_file} leaves undecided: {"; ".join(undecided)}: decide it where it says "?"')
    return by_map(mapping)
