"""davitbook doctor."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Sequence
from dataclasses import asdict
from itertools import groupby
from typing import TYPE_CHECKING

import click

from workbook_tools import __version__
from workbook_tools.cli.common import ACTION_REQUIRED, CLEAR

if TYPE_CHECKING:
    from workbook_tools.cli.doctor_facts import Fact

CONTRACT = 1  # of the JSON output: raised when a field changes its meaning
# A word for each state, so that no sign or colour stands alone. Only a fault makes the exit status 1.
_WORDS = {"ok": "ok", "missing": "not here", "fault": "FAULT", "note": "note"}
_WIDTH = 80


@click.command()
@click.option("--format", "form", type=click.Choice(["text", "json"]), default="text", show_default=True)
@click.option("--quick", is_flag=True, help="Look only; leave out the trials (a book made, audited, a plan solved).")
@click.pass_context
def doctor(context: click.Context, form: str, quick: bool) -> None:
    """Say what is installed, and what works here.

    Nothing is changed, and nothing is asked of any network.

    \b
    Exit status: 0 all that an audit needs works, 1 something of it does not,
    2 wrong usage. What is only optional and not here leaves it at 0.
    """
    from workbook_tools.cli.doctor_facts import gather

    facts = gather(trials=not quick)
    faults = [fact for fact in facts if fact.state == "fault"]
    if form == "json":
        content = {"contract": CONTRACT, "davitbook": __version__, "works": not faults}
        click.echo(json.dumps({**content, "facts": [asdict(fact) for fact in facts]}, indent=2))
    else:
        click.echo(_text(facts, quick), nl=False)
    context.exit(ACTION_REQUIRED if faults else CLEAR)


def _text(facts: Sequence[Fact], quick: bool) -> str:
    width = max(len(fact.name) for fact in facts)
    lines: list[str] = []
    for section, group in groupby(facts, lambda fact: fact.section):
        lines += ["", section] if lines else [section]
        for fact in group:
            begin = f"  {_WORDS[fact.state]:<9} {fact.name:<{width}}  "
            said = f"{fact.seen}. {fact.remedy}" if fact.remedy else fact.seen
            lines += textwrap.wrap(
                begin + said, _WIDTH, subsequent_indent=" " * len(begin), break_on_hyphens=False, break_long_words=False
            )
    faults = sum(fact.state == "fault" for fact in facts)
    lines += ["", f"{faults} of these stand in the way of an audit." if faults else _verdict(quick)]
    return "\n".join(lines) + "\n"


def _verdict(quick: bool) -> str:
    return "All that an audit needs is here." + ("" if quick else " It was tried just now, and works.")
