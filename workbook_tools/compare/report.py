"""A comparison as one page for text and HTML. Works nothing out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from workbook_tools.compare.changes import CHANGED, GONE, KINDS, NEW, Change
from workbook_tools.compare.returns import BY_IMO, Fleet, Found
from workbook_tools.compare.run import ShipComparison, StepResult
from workbook_tools.core.caution import CAUTION
from workbook_tools.core.words import counted
from workbook_tools.findings import Finding, grade_words
from workbook_tools.reports.cautions import cautions_for
from workbook_tools.reports.layout import Block, Line, Page

_KIND_WORDS = {NEW: "new", GONE: "gone", CHANGED: "changed"}


def grades(ships: Iterable[ShipComparison]) -> Counter[str]:
    """How many findings there are of each grade."""
    return Counter(finding.grade for ship in ships for finding in ship.all_findings())


def page(fleet: Fleet, ships: Sequence[ShipComparison], brief: bool = False) -> Page:
    """The whole comparison as a page. brief: leave out what changed and does not look wrong."""
    unreadable = [*fleet.unreadable, *(found for ship in ships for found in ship.unreadable)]
    blocks: list[Block] = []
    if len(ships) > 1:
        blocks.append(_summary(ships))
    for ship in ships:
        blocks += _ship(ship, brief)
    if fleet.alone:
        blocks.append(_alone(fleet))
    if unreadable:
        lines = [Line((str(found.path), found.problem), "urgent") for found in unreadable]
        blocks.append(Block("Not read", ("Book", "Why"), lines, ""))
    if any(ship.steps for ship in ships):
        blocks.append(_not_compared(ships))
    return Page(
        title="Comparison of returns",
        subtitle=_subtitle(ships),
        verdict=_verdict(ships, len(unreadable)),
        facts=list(_facts(fleet, ships)),
        blocks=blocks,
        cautions=[
            "What looks wrong is a question to the ship, not an accusation: look at the appliance, then at the record. "
            "Lines are known again by what they are (place, item, batch; crew number; craft), wherever they stand.",
            *cautions_for(" ".join(_said(ships))),
            CAUTION,
        ],
    )


def _said(ships: Sequence[ShipComparison]) -> Iterator[str]:
    for ship in ships:
        for finding in ship.all_findings():
            yield f"{finding.subject} {finding.message} {finding.remedy}"


def _subtitle(ships: Sequence[ShipComparison]) -> str:
    return ships[0].series.newest.who if len(ships) == 1 else counted(len(ships), "ship")


def _verdict(ships: Sequence[ShipComparison], unreadable: int) -> str:
    by_grade = grades(ships)
    with_queries = sum(1 for ship in ships if any(finding.grade == "query" for finding in ship.all_findings()))
    parts = []
    if not ships:
        parts.append("NOTHING COMPARED: no ship has two returns that could be read")
    elif by_grade["query"]:
        looks = "thing looks" if by_grade["query"] == 1 else "things look"
        of = f" on {with_queries:,} of {len(ships):,} ships" if len(ships) > 1 else ""
        parts.append(f"LOOK: {by_grade['query']:,} {looks} wrong{of}")
    else:
        parts.append("NOTHING LOOKS WRONG in what was compared")
    if by_grade["note"]:
        parts.append(grade_words("note", by_grade["note"]))
    if unreadable:
        parts.append(f"{counted(unreadable, 'book')} could not be read")
    return "; ".join(parts)


def _facts(fleet: Fleet, ships: Sequence[ShipComparison]) -> Iterator[tuple[str, str]]:
    last = len(fleet.places) - 1
    for number, place in enumerate(fleet.places):
        label = "Older" if number == 0 else "Newer" if number == last else ""
        yield label if last == 1 else f"Return {number + 1}", place
    if len(ships) == 1:
        for found in ships[0].series.returns:
            if found is not None:
                yield "Record date", f"{found.recorded or 'not given'} in {found.path.name}"
    for ship in ships:
        if ship.series.matched_by != BY_IMO:
            yield "Matched", f"{ship.series.newest.who}: by {ship.series.matched_by}, not by IMO number"
        names = {found.name: found for found in ship.series.returns if found is not None and found.name}
        if len(names) > 1:
            yield "Name", f"IMO {ship.series.newest.imo} went by the names {', '.join(names)}"
        for text in ship.series.left_out:
            yield "Passed over", text
        missing = [place for place, found in zip(fleet.places, ship.series.returns, strict=True) if found is None]
        if missing:
            yield "No return", f"{ship.series.newest.who}: none in {', '.join(missing)}"


def _summary(ships: Sequence[ShipComparison]) -> Block:
    lines = []
    for ship in sorted(ships, key=lambda ship: -grades([ship])["query"]):
        by_grade = grades([ship])
        kinds = Counter(change.kind for step in ship.steps for change in step.changes)
        cells = (
            ship.series.newest.who,
            _word_of(by_grade),
            *(f"{by_grade[grade]:,}" for grade in ("query", "note")),
            *(f"{kinds[kind]:,}" for kind in KINDS),
        )
        lines.append(Line(cells, "soon" if by_grade["query"] else ""))
    return Block("Ships", ("Ship", "Verdict", "Looks wrong", "Notes", "New", "Gone", "Changed"), lines, "")


def _word_of(by_grade: Counter[str]) -> str:
    return "LOOK" if by_grade["query"] else "note" if by_grade["note"] else "clear"


def _ship(ship: ShipComparison, brief: bool) -> Iterator[Block]:
    who = ship.series.newest.who
    if brief and not ship.all_findings():
        return
    yield Block(
        f"{who}: what looks wrong",
        ("Grade", "Where", "What, and what to do"),
        [_finding(finding) for finding in ship.all_findings()],
        "Nothing looks wrong in what was compared." if ship.steps else "Fewer than two returns could be read.",
    )
    if brief:
        return
    for step in ship.steps:
        yield _changes(step, f"{who}: what changed, {_when(step.old)} to {_when(step.new)}")


def _when(found: Found) -> str:
    return str(found.recorded or found.path.name)


def _finding(finding: Finding) -> Line:
    what = f"{finding.subject}: {finding.message} ({finding.id}). {finding.remedy[:1].upper()}{finding.remedy[1:]}."
    return Line((finding.grade, f"{finding.sheet}!{finding.cell}", what), "soon" if finding.grade == "query" else "")


def _changes(step: StepResult, heading: str) -> Block:
    lines = [Line((_KIND_WORDS[change.kind], _where(change), _what(change))) for change in step.changes]
    lines += [
        Line(("new", sheet, f"{counted(number, 'line')} that the older return had not"))
        for sheet, number in step.log_lines.items()
    ]
    nothing = "Nothing changed."
    if step.sent_again:
        nothing = "Nothing changed, not even the record date: the same return sent again."
    return Block(heading, ("Change", "Where", "What"), lines, nothing)


def _where(change: Change) -> str:
    if change.kind == GONE:
        return f"{change.sheet}!{change.old_cell} before"
    return f"{change.sheet}!{change.cell}"


def _what(change: Change) -> str:
    if not change.differences:
        return change.subject
    parts = (f"{entry.column} {entry.before or 'empty'}, now {entry.after or 'empty'}" for entry in change.differences)
    return f"{change.subject}: {'; '.join(parts)}"


def _alone(fleet: Fleet) -> Block:
    lines = [
        Line((found.who, f"{found.path.name} in {fleet.places[number]}", why)) for number, found, why in fleet.alone
    ]
    return Block("Without a partner", ("Ship", "Book", "Why"), lines, "")


def _not_compared(ships: Sequence[ShipComparison]) -> Block:
    often: Counter[str] = Counter()
    on: Counter[str] = Counter()
    for ship in ships:
        own = Counter(ship.left_out)
        for step in ship.steps:
            own.update(step.left_out)
        often.update(own)
        on.update(own.keys())
    lines = [Line((what, f"{number:,}", f"{on[what]:,}")) for what, number in sorted(often.items())]
    return Block(
        "Not compared, for want of evidence", ("What", "How often", "Ships"), lines, "Everything could be compared."
    )
