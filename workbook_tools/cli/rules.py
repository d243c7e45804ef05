"""davitbook rules."""

from __future__ import annotations

import click

from workbook_tools.findings import CAUTION


@click.command()
@click.argument("what", required=False)
def rules(what: str | None) -> None:
    """Explain a finding (EQ01), a rule (lifeboat.fresh-water) or a list.

    \b
    davitbook rules              every code, and the rule sets
    davitbook rules EQ01         what a code means
    davitbook rules lifeboat     every rule whose key begins so
    davitbook rules "hand flare" the rules for an item
    davitbook rules III/20.8     the rules of a paragraph
    davitbook rules items        the items and their other names
    """
    from workbook_tools import compare, handbook

    text = handbook.explain(what, compare.CODES)
    if text is None:
        near = handbook.nearest(what or "", compare.CODES)
        hint = f"; did you mean {near}?" if near else ""
        raise click.UsageError(f"no code, rule or list named {what!r}{hint}")
    click.echo(text)
    click.echo()
    click.echo(CAUTION)
