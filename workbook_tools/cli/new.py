"""davitbook new."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from workbook_tools.cli.common import write


@click.command()
@click.option("--ship", required=True, metavar="NAME", help="The ship's name.")
@click.option("--out", type=click.Path(path_type=Path), required=True, metavar="FILE", help="The workbook to make.")
@click.option(
    "--like",
    type=click.Path(exists=True, dir_okay=False, path_type=Path),
    default=None,
    metavar="TOML",
    help="A description of the ship and its craft: the Inventory then begins as a checklist of what each must carry.",
)
@click.option(
    "--lambda",
    "lambda_names",
    is_flag=True,
    help="Give the book the cell functions as LAMBDA names too, for Excel 365; leave it out for a book that is also "
    "kept in LibreOffice.",
)
@click.option("--force", is_flag=True, help="Replace FILE if it is there.")
def new(ship: str, out: Path, like: Path | None, lambda_names: bool, force: bool) -> None:
    """Make a workbook to fill in.

    With --like, the Craft sheet is filled and the Inventory lists every item
    each craft must carry, with the quantity asked; what is there is left for
    you to count. The description names the columns of the Ship and Craft
    sheets, a [[craft]] for each craft:

    \b
    [ship]
    ship_type = "general cargo ship"
    gross_tonnage = 5200
    voyages = "international"

    \b
    [[craft]]
    name = "Lifeboat 1"
    type = "lifeboat"
    side = "port"
    persons_permitted = 20
    stowage_height = 11
    """
    if not ship.strip():
        raise click.UsageError("--ship is empty: give the ship's name")
    if out.suffix.lower() != ".xlsx":
        raise click.UsageError(f"--out {out}: the name must end in .xlsx")
    if out.exists() and not force:
        raise click.UsageError(f"{out} is there already; choose another name, or --force to replace it")
    from workbook_tools.book import DescriptionError, build, read_description

    try:
        description = read_description(like) if like is not None else None
    except DescriptionError as error:
        raise click.UsageError(str(error)) from error
    if sys.stderr.isatty():
        click.echo("Working out every formula: this takes some seconds ...", err=True)
    more_names = None
    if lambda_names:
        from workbook_tools.addins.lambda_names import write_names

        more_names = write_names
    write(out, build(ship, description, more_names=more_names))
    click.echo(f"{out}: fill in the sheets from left to right, then: davitbook check {out}")
