"""A return that looks copied (CP04), and a craft that looks larger than it was (CP05)."""

from __future__ import annotations

from collections.abc import Iterator

from workbook_tools.checks.registry import Code
from workbook_tools.compare.identity import folded, number_in
from workbook_tools.compare.matching import columns_of_one, contents, shared_columns
from workbook_tools.compare.registry import suspicion
from workbook_tools.compare.step import Step
from workbook_tools.findings import Finding
from workbook_tools.reading import Row


def is_identical(step: Step) -> bool:
    """Whether both returns keep the same sheets and columns, and every line says the same but for the record date."""
    if step.old.tables.keys() != step.new.tables.keys():
        return False
    for key, (old, new) in step.tables.items():
        matched = step.matched[key]
        if matched.gone or matched.new or columns_of_one(old, new):
            return False
        columns = [column for column in shared_columns(old, new) if (key, column) != ("ship", "record_date")]
        if any(contents(key, pair.old, columns) != contents(key, pair.new, columns) for pair in matched.pairs):
            return False
    return True


@suspicion(
    Code(
        "CP04",
        "return-copied",
        ("query", "note"),
        "a return with a later record date says something that the last one did not",
        "the weekly inspection alone adds a line each week: a return that is the last one under a new date was not "
        "gone through",
        "the return of October sent in November with the record date alone changed; a note where the book keeps no "
        "routine, and nothing need have changed",
        "one line more on the Routine sheet; one date changed; the same file sent twice, record date and all; no "
        "record date in one of the returns (not compared)",
        "ask the ship for the record as it is now",
        "common practice, no source",
    )
)
def return_copied(step: Step) -> Iterator[Finding]:
    """Yield one finding where nothing but the record date is new."""
    was, now = step.old.ship_value("record_date"), step.new.ship_value("record_date")
    if was is None or now is None:
        step.left_out["returns without a record date: whether one is a copy of the other"] += 1
        return
    if now <= was or not is_identical(step):
        return
    lines = sum(len(table.rows) for table in step.new.tables.values() if table.sheet.layout != "form")
    routine = bool(step.new.rows("routine"))
    yield step.query(
        "CP04",
        "ship",
        step.new.rows("ship")[0],
        "record_date",
        f"record date {now}, {was} in the older return; all {lines} lines of {len(step.new.tables)} sheets are the same"
        + (", the routine among them" if routine else "; the book keeps no routine that would show the time between"),
        "ask the ship for the record as it is now",
        "query" if routine else "note",
    )


@suspicion(
    Code(
        "CP05",
        "capacity-changed",
        ("query",),
        "a craft is permitted to carry as many persons as it was",
        "places, equipment and rations all follow this number: a wrong one makes a ship look covered that is not",
        "Lifeboat 1 for 30 persons in the last return and for 36 in this one, with the same serial number",
        "an exchanged raft or boat, which has another serial number, or where no serial is kept another year of making "
        "or a raft's new service; a craft marked anew for another mass of persons; a number that could not be read "
        "before",
        "read the number on the craft and on its certificate",
        "LSA Code 4.4.9 and 4.2.6.3 (the number marked; from memory)",
    )
)
def capacity_changed(step: Step) -> Iterator[Finding]:
    """Yield a query for each craft whose persons permitted changed while it is the same craft."""
    if not step.keeps("craft", "persons"):
        return
    for pair in step.matched["craft"].pairs:
        was, now = pair.old.get("persons"), pair.new.get("persons")
        if was is None or now is None or was == now or _explained(pair.old, pair.new):
            continue
        if _may_be_exchanged(pair.old, pair.new):
            step.left_out["rafts of another capacity with a new service, without a serial number"] += 1
            continue
        before = step.where_before("craft", pair.old, "persons")
        yield step.query(
            "CP05",
            "craft",
            pair.new,
            "persons",
            f"{now:g} persons permitted, {was:g} in the older return ({before}), and nothing says that it is another "
            "craft",
            "read the number on the craft and on its certificate",
        )


def _explained(old: Row, new: Row) -> bool:
    """Whether it is another craft under the old name, or one marked anew for another mass of persons."""
    before, after = number_in(old, "serial"), number_in(new, "serial")
    if before and after and before != after:
        return True
    changed = ("made", "kind", "person_mass_kg")
    return any(None not in (old.get(key), new.get(key)) and folded(old, key) != folded(new, key) for key in changed)


def _may_be_exchanged(old: Row, new: Row) -> bool:
    """Whether a raft of which no serial is kept came back from a service since: it may be another one."""
    if number_in(old, "serial") and number_in(new, "serial"):
        return False
    raft = "liferaft" in str(folded(new, "kind"))
    return raft and any(folded(old, key) != folded(new, key) for key in ("serviced", "certificate"))
