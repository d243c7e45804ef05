"""What the rules ask of the ship and no line of the record holds, where the record is kept at all (SH17)."""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.checks.context import SHIP, Audit
from workbook_tools.checks.registry import Code, check
from workbook_tools.checks.ship_level import holdings
from workbook_tools.checks.ship_stock import Holding, rule_name
from workbook_tools.findings import Finding

_BRIDGE_ROCKETS = "distress.bridge-rockets"


def _name(holding: Holding) -> str:
    """An item as it is missed: the bridge's rockets are not those of the craft."""
    beside = " of the bridge" if rule_name(holding.rule) == _BRIDGE_ROCKETS else ""
    return f"{holding.rule.item}{beside}"


def _listed(words: list[str]) -> str:
    return " or ".join(filter(None, (", ".join(words[:-1]), words[-1])))


@check(
    Code(
        "SH17",
        "ship-items-not-recorded",
        ("query",),
        "where the Inventory holds lines for at least half of the items that are asked of the ship as a whole, it "
        "holds one for each of them",
        "what has no line is not counted by anybody, and nobody sees that it is not there",
        "lifebuoys, lifejackets, suits and radios recorded, and no EPIRB anywhere",
        "a book that keeps the craft only, or few items of the ship; an item that may not be asked; a recovery plan on "
        "the Certificates sheet",
        "enter them, or order them",
        "SOLAS III and IV; 46 CFR 199",
    )
)
def ship_items_not_recorded(audit: Audit) -> Iterator[Finding]:
    """Yield one query that names every item asked of the ship of which no line stands."""
    surely = {entry.rule.key for entry in audit.rules_for_ship("stock") if not entry.state and not entry.doubt}
    recorded: set[str] = set()
    missing: dict[str, Holding] = {}
    for holding in holdings(audit):
        if holding.state in ("passed", "finding") or (holding.lots and holding.state != "not_applicable"):
            recorded.add(_name(holding))
        elif holding.rule.key in surely and holding.why.startswith(f"no {holding.rule.item} is recorded"):
            missing.setdefault(_name(holding), holding)
    lacking = {name: holding for name, holding in missing.items() if name not in recorded}
    if not lacking or len(recorded) < len(lacking):
        return
    yield audit.finding(
        "SH17",
        "query",
        "at next port",
        "inventory",
        None,
        "item",
        SHIP,
        f"no {_listed(list(lacking))} is recorded, though the Inventory holds {len(recorded)} of the "
        f"{len(recorded) + len(lacking)} items asked of the ship",
        "enter them, or order them",
        source="; ".join(dict.fromkeys(holding.rule.reference for holding in lacking.values())),
    )
