"""Suits past ten years, tested more often than the interval asks (SV11)."""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools import catalogue
from workbook_tools.checks.context import Audit
from workbook_tools.checks.registry import Code, check
from workbook_tools.checks.service_duties import duties
from workbook_tools.core.servicing import months_after
from workbook_tools.findings import Finding
from workbook_tools.rules.loader import policies

_SUITS = ("immersion suit", "anti-exposure suit")


@check(
    Code(
        "SV11",
        "old-suit-test",
        ("note",),
        "a suit over ten years old is pressure-tested more often than every three years",
        "glue and zips age whether the suit is worn or not",
        "a suit made in 2014 (its serial on the Inventory sheet) last tested in May 2024, asked in November 2026",
        "the same suit tested in May 2025; a suit made in 2020; one whose day of making is not recorded",
        "have it tested at the next occasion; the Circular gives no figure, one flag says every two years",
        "MSC/Circ.1114; UK guidance on immersion suits",
    )
)
def old_suit_test(audit: Audit) -> Iterator[Finding]:
    """Yield a note for every old suit whose last pressure test is in time but long ago."""
    age, often = policies()["suit.old-age"], policies()["suit.old-interval"]
    made = {
        catalogue.normalise(entry.row.get("batch")): entry.row.get("made")
        for entry in audit.lots
        if entry.lot.item in _SUITS and entry.row.get("batch") and entry.row.get("made")
    }
    for duty in duties(audit):
        if duty.rule.item != age.group or duty.state != "passed" or duty.holding is None:
            continue
        row = duty.holding.row
        names = [catalogue.normalise(row.get(key)) for key in ("appliance", "serial") if row.get(key)]
        of = next((made[name] for name in names if name in made), None)
        if of is None or audit.on <= months_after(of, int(age.value)):
            continue
        if months_after(duty.holding.done, int(often.value)) >= audit.on:
            continue
        yield audit.finding(
            "SV11",
            "note",
            "plan",
            "servicing",
            row,
            "done",
            duty.subject,
            f"made {of}, over {age.value:g} months old; last pressure test {duty.holding.done}: such suits are tested "
            f"more often ({often.reference}: every {often.value:g} months)",
            "have it tested at the next occasion",
            source=f"{age.reference}; {often.reference}",
        )
