"""davitbook addin."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from collections.abc import Callable


@click.group()
def addin() -> None:
    """Build the cell functions for Excel or LibreOffice Calc.

    \b
    davitbook addin calc --out DIR     extension for LibreOffice Calc
    davitbook addin excel --out DIR    module, VBA and steps for Excel
    davitbook addin lambda --out DIR   named formulas for Excel 365
    """


_ADDIN_OUT = click.option(
    "--out",
    type=click.Path(file_okay=False, path_type=Path),
    required=True,
    metavar="DIR",
    help="The folder to write to; made if it is missing.",
)


@addin.command()
@_ADDIN_OUT
def calc(out: Path) -> None:
    """Write the extension for LibreOffice Calc (davitbook.oxt)."""
    from workbook_tools.addins.calc import build

    _build_addin(build, out)


@addin.command()
@_ADDIN_OUT
def excel(out: Path) -> None:
    """Write what Excel needs: VBA, module, settings, steps.

    Needs xlwings (pip install "davitbook[excel]"). The steps for a locked-down
    PC stand in README.md of the folder.
    """
    from workbook_tools.addins.excel.package import build

    _build_addin(build, out)


@addin.command("lambda")
@_ADDIN_OUT
def lambda_names(out: Path) -> None:
    """Write named formulas for Excel 365: no macros, no Python."""
    from workbook_tools.addins.lambda_names import build

    _build_addin(build, out)


def _build_addin(build: Callable[[Path], Path], out: Path) -> None:
    """Build into a folder and say where; what stands in the way is wrong usage."""
    try:
        click.echo(f"{build(out)}: written")
    except ImportError as error:
        raise click.UsageError(f'{error}: install xlwings with pip install "davitbook[excel]"') from error
    except OSError as error:
        raise click.UsageError(f"cannot write to {out}: {error.strerror or error}") from error
