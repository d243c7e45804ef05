"""davitbook adopt."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

import click

from workbook_tools.cli.common import ACTION_REQUIRED, CLEAR, NOT_READ, write

if TYPE_CHECKING:
    from workbook_tools.adopt import Carried, Mapping, Source
    from workbook_tools.adopt.questions import Question


@click.command()
@click.argument("theirs", type=click.Path(exists=True, dir_okay=False, path_type=Path), metavar="THEIRS.xlsx")
@click.option(
    "--map",
    "map_file",
    type=click.Path(dir_okay=False, path_type=Path),
    metavar="MAP.toml",
    help="The mapping: written without --out, used with it. Default: THEIRS.map.toml in this folder.",
)
@click.option(
    "--out", type=click.Path(path_type=Path), metavar="BOOK.xlsx", help="The workbook to make, by the mapping."
)
@click.option("--no-input", is_flag=True, help="Ask nothing: write the mapping and say what is undecided.")
@click.option("--force", is_flag=True, help="Replace the file to be written if it is there.")
def adopt(theirs: Path, map_file: Path | None, out: Path | None, no_input: bool, force: bool) -> None:
    """Bring a list of your own into a davitbook.

    First a mapping is made: which of your tables, headings and words are which
    of ours, each with how sure that is and why. What is not sure is asked, or
    with --no-input left as "?" in the file, which you edit.

    \b
    davitbook adopt theirs.xlsx
    davitbook adopt theirs.xlsx --map theirs.map.toml --out book.xlsx
    davitbook check --map theirs.map.toml theirs.xlsx

    The second makes the book. Its sheet "Not carried over" lists every cell of
    yours that is not in it, and why. Keep the mapping: next month the third
    audits the list as it stands. Your workbook is never written to.

    \b
    Exit status: 0 done, 1 something is undecided, 2 wrong usage, 3 the workbook
    could not be read or is no longer laid out as the mapping says.
    """
    from workbook_tools.adopt import open_source
    from workbook_tools.reading import UnreadableBook

    _refuse_same(theirs, map_file, out)
    try:
        source = open_source(theirs)
    except UnreadableBook as error:
        click.echo(f"NOT READ  {theirs}: {error}", err=True)
        sys.exit(NOT_READ)
    if out is not None:
        sys.exit(_make_book(source, map_file, out, force))
    sys.exit(_make_mapping(source, map_file or Path(f"{theirs.stem}.map.toml"), no_input, force))


def _refuse_same(theirs: Path, map_file: Path | None, out: Path | None) -> None:
    for option, path in (("--map", map_file), ("--out", out)):
        if path is not None and path.exists() and path.samefile(theirs):
            raise click.UsageError(f"{option} {path} is the workbook to adopt: it is never written to")
    if out is not None and out.suffix.lower() != ".xlsx":
        raise click.UsageError(f"--out {out}: the name must end in .xlsx")
    if map_file is not None and map_file.suffix.lower() != ".toml":
        raise click.UsageError(f"--map {map_file}: the name must end in .toml")


def _read_map(path: Path) -> Mapping:
    from workbook_tools.adopt import MappingError, read_mapping

    try:
        return read_mapping(path)
    except MappingError as error:
        raise click.UsageError(str(error)) from error


def _make_mapping(source: Source, path: Path, no_input: bool, force: bool) -> int:
    """Propose a mapping, or go on with one that is there; ask what is undecided; write it."""
    from workbook_tools.adopt import mapping_text, propose
    from workbook_tools.adopt.questions import open_entries

    going_on = path.exists() and not force
    mapping = _read_map(path) if going_on else propose(source)
    asks = not no_input and sys.stdin.isatty()
    if going_on and (not asks or not open_entries(mapping)):
        click.echo(f"{path} is there already; edit it, or --force to make it anew")
    else:
        if asks:
            _ask(mapping, source)
        write(path, mapping_text(mapping).encode())
        click.echo(f"{path}: written")
    _tell(mapping)
    left = open_entries(mapping)
    if left:
        click.echo(f"Undecided ({len(left)}): {_how_to_decide(source, path)}")
        for line in left:
            click.echo(f"  ? {line}")
        return ACTION_REQUIRED
    click.echo(f"Next: davitbook adopt {source.path} --map {path} --out BOOK.xlsx")
    return CLEAR


def _how_to_decide(source: Source, path: Path) -> str:
    return f'write an answer in {path} where it says "?", or run davitbook adopt {source.path} --map {path} to be asked'


def _ask(mapping: Mapping, source: Source) -> None:
    """Put every open question; whoever stops (Ctrl-C, end of input) keeps what was answered."""
    from workbook_tools.adopt.questions import undecided

    try:
        for question in undecided(mapping, source):
            _put(question)
    except (click.Abort, EOFError):
        click.echo("\nStopped: what was not answered stays undecided.")


def _put(question: Question) -> None:
    click.echo(f"\n? {question.where}")
    if question.samples:
        click.echo(f"  holds: {' | '.join(question.samples)}")
    click.echo(f"  {question.evidence}")
    while True:
        text = click.prompt(f"  {question.hint}; ? leaves it open", default=question.suggested or "?")
        if text == "?":
            return
        answer = question.read(text)
        if answer is not None:
            question.decide(answer)
            return
        click.echo(f"  {text!r} is none of these")


def _tell(mapping: Mapping) -> None:
    """What the mapping says, in short."""
    from workbook_tools.adopt import KEEP, NONE
    from workbook_tools.adopt.mapping import SHEET_NAMES, named

    for table in mapping.tables:
        rows = f"sheet {table.sheet!r}, headings in row {table.last_heading + 1}"
        if table.match.to == NONE:
            click.echo(f"  {rows}: not carried over ({table.match.evidence})")
            continue
        ours = [column for column in table.columns if column.match.to != NONE]
        click.echo(f"  {rows}: {named(table.match.to, SHEET_NAMES)}, {len(ours)} columns")
        for column in table.columns:
            if column.match.to == NONE and column.match.evidence != "nothing stands in it":
                click.echo(f"    column {column.heading!r}: no place in our book ({column.match.evidence})")
            if column.note and column.match.to != NONE:
                click.echo(f"    column {column.heading!r}: {column.note}")
    kept = [word.text for word in mapping.words if word.match.to == KEEP]
    if kept:
        click.echo(f"  words kept as written, for we do not know them: {', '.join(kept)}")


def _make_book(source: Source, map_file: Path | None, out: Path, force: bool) -> int:
    from workbook_tools.adopt import LayoutChanged, build_book, carry
    from workbook_tools.adopt.carry import Undecided

    if map_file is None or not map_file.exists():
        raise click.UsageError(
            f"--out needs the mapping: first davitbook adopt {source.path}, then again with --map MAP.toml --out {out}"
        )
    if out.exists() and not force:
        raise click.UsageError(f"{out} is there already; choose another name, or --force to replace it")
    try:
        carried = carry(source, _read_map(map_file))
    except Undecided as error:
        click.echo(f"{map_file} leaves undecided ({len(error.what)}): {_how_to_decide(source, map_file)}", err=True)
        for what in error.what:
            click.echo(f"  ? {what}", err=True)
        return ACTION_REQUIRED
    except LayoutChanged as error:
        click.echo(f"NOT READ  {source.path}: its layout is not that of {map_file}:", err=True)
        for change in error.changes:
            click.echo(f"  {change}", err=True)
        click.echo("  edit the mapping, or make it anew: davitbook adopt, with --force", err=True)
        return NOT_READ
    write(out, build_book(carried, source.file_name))
    _tell_carried(carried, out)
    return CLEAR


def _tell_carried(carried: Carried, out: Path) -> None:
    from workbook_tools.adopt.writing import LEFT_SHEET, summary
    from workbook_tools.columns import sheet

    lines = ", ".join(f"{sheet(key).name} {len(rows)}" for key, rows in carried.rows.items())
    click.echo(f"{out}: written ({lines or 'no lines'})")
    click.echo(f"  {summary(carried)}, each on its sheet {LEFT_SHEET!r} with the reason")
    for note in carried.notes:
        click.echo(f"  note: {note}")
    click.echo(f"Next: davitbook check {out}")
