"""davitbook rules."""

from __future__ import annotations

import textwrap

import click
from click.shell_completion import CompletionItem

from workbook_tools.core.caution import CAUTION

_WIDTH = 80


def _known(context: click.Context, parameter: click.Parameter, begun: str) -> list[CompletionItem]:
    """The names that a shell proposes after `davitbook rules`."""
    from workbook_tools import compare, handbook

    folded = begun.casefold()
    return [CompletionItem(name) for name in handbook.names(compare.CODES) if name.casefold().startswith(folded)]


@click.command()
@click.argument("what", required=False, shell_complete=_known)
def rules(what: str | None) -> None:
    """Explain a finding (EQ01), a rule (lifeboat.fresh-water) or a list.

    \b
    davitbook rules              every code, and the rule sets
    davitbook rules EQ01         what a code means
    davitbook rules lifeboat     every rule whose key begins so
    davitbook rules "hand flare" the rules for an item
    davitbook rules III/20.8     the rules of a paragraph
    davitbook rules items        the items and their other names
    davitbook rules assumptions  what was chosen where no rule speaks
    davitbook rules applies      on which ships the rules are asked at all
    davitbook rules sheets       the sheets; davitbook rules Craft: its columns
    davitbook rules functions    the cell functions; by name: one of them
    """
    from workbook_tools import compare, handbook
    from workbook_tools.reports.cautions import cautions_for

    text = handbook.explain(what, compare.CODES)
    if text is None:
        near = handbook.nearest(what or "", compare.CODES)
        hint = f"; did you mean {near}?" if near else ". `davitbook rules` lists them"
        raise click.UsageError(f"no code, rule, item, sheet or list is named {what!r}{hint}")
    click.echo(text)
    click.echo()
    for caution in (*(cautions_for(text) if what else ()), CAUTION):
        click.echo(textwrap.fill(caution, _WIDTH))
