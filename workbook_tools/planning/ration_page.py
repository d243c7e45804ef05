"""The ration plan as a printed page: what each craft holds, how long it lasts, and what is left day by day."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Any

from workbook_tools.checks.context import Audit
from workbook_tools.checks.followup import name_remover
from workbook_tools.core.caution import CAUTION
from workbook_tools.core.rations import LONGEST_PLAN
from workbook_tools.core.words import counted
from workbook_tools.findings import BookResult
from workbook_tools.planning.line_chart import Curve, line_chart
from workbook_tools.planning.page_sheet import as_xlsx
from workbook_tools.planning.rations import Case, CraftRations, RationPlan, Store
from workbook_tools.reports.layout import Block, Line, Page, ship_title
from workbook_tools.rules.loader import policies

_PARTS = ("morning", "midday", "sunset")
_HELD = "\u00a0"  # keeps a figure and its unit on one line


@dataclass(frozen=True, slots=True)
class _Group:
    """Craft for which every figure is the same: they share one table."""

    name: str
    entry: CraftRations


def ration_page(audit: Audit, result: BookResult, plan: RationPlan) -> Page:
    """The page for the craft and the master: facts, stores, how long they last, and a table for each craft."""
    groups = _groups(plan)
    blocks = [_stores(plan), *_lasting(plan, groups)]
    blocks += [_by_day(plan, group) for group in groups if any(case.days for case in group.entry.cases)]
    nameless = name_remover(audit.book)
    blocks = [
        replace(block, lines=[Line(tuple(map(nameless, line.cells)), line.mark) for line in block.lines])
        for block in blocks
    ]
    return Page(
        "Water and food in the survival craft",
        f"{ship_title(result.ship)}, {plan.on}",
        _verdict(plan),
        [*_facts(plan), ("Record", result.book), *(("Assumed", text) for text in _assumptions(plan, result))],
        blocks,
        [*_medical(), CAUTION],
    )


# ---- words -------------------------------------------------------------------------------------------------------


def _floor(value: float, decimals: int) -> str:
    """A figure cut off, never rounded up: a plan must not promise what is not there."""
    factor: int = 10**decimals
    return f"{math.floor(value * factor + 1e-6) / factor:,.{decimals}f}"


def _litres(value: float) -> str:
    return f"{_floor(value, 1)}{_HELD}L"


def _energy(value: float) -> str:
    return f"{_floor(value, 0)}{_HELD}kJ"


def _days(value: float | None) -> str:
    if value is None:
        return f"over {LONGEST_PLAN} days"
    whole = math.floor(value + 1e-6)
    return f"{_floor(value, 1)} days" + ("" if abs(value - whole) < 1e-6 else f" (full to day {whole})")


def _persons(number: int) -> str:
    return counted(number, "person")


def _verdict(plan: RationPlan) -> str:
    known = [
        (case.lasting, entry.craft.name, case.scenario)
        for entry in plan.crafts
        for case in entry.cases
        if case.lasting is not None and case.persons
    ]
    left = "; ".join(f"{name}: {_persons(number)} without a place" for name, number in plan.left_out.items())
    if not known:
        return "Not evaluated: " + (left or "no craft with water and persons on record")
    days, craft, scenario = min(known)
    return f"The water ends first in {craft}, {scenario}: {_days(days)}" + (f". {left}" if left else "")


def _facts(plan: RationPlan) -> Iterator[tuple[str, str]]:
    parts = int(policies()["ration.issues-a-day"].value)
    names = f" ({', '.join(_PARTS)})" if parts == len(_PARTS) else ""
    injured = f", but to {_persons(plan.ask.injured)} injured in each craft" if plan.ask.injured else ""
    yield "Issue", f"{plan.issue:g} L for each person and day, in {parts} parts{names}"
    if plan.dry_days:
        yield "Day 1", f"nothing is issued in the first {plan.dry_days * 24} hours{injured}"
    rain = []
    if plan.ask.every_day:
        rain.append(f"{plan.ask.every_day:g} L every day")
    rain += [f"{litres:g} L on day {day}" for day, litres in sorted(plan.ask.rain.items())]
    if plan.gains:
        yield "With gains", "what rain and desalinators add; included where an issue is to reach a day"
    if rain:
        yield "Rain", f"collected in each craft: {', '.join(rain)}"
    yield "LESS", "the issue that reaches the day is smaller than the issue above"
    for name, number in plan.left_out.items():
        yield "NO PLACE", f"{name}: {_persons(number)} without a place in any craft that is left"


def _assumptions(plan: RationPlan, result: BookResult) -> Iterator[str]:
    yield "only what is in date and fit on the day asked is counted; it is not counted again as days go by"
    yield (
        "the issue and the dry day are common practice of the training texts, no rule; the person in charge of the "
        "craft decides"
    )
    yield (
        "when a side is lost, those assigned to the craft that are left stay there, the others fill the lifeboats "
        "first, then the rafts, in the order of the Craft sheet; craft over the stern are not counted on"
    )
    yield "food is shared out evenly over the days of issue on which there is water, since it is not eaten without"
    if any(entry.makers.each_day or entry.makers.once for entry in plan.crafts):
        days = policies()["ration.desalinator-days"]
        yield (
            f"a hand-pumped desalinator makes its recorded content every {days.value:g} days as long as somebody can "
            f"pump; a desalting apparatus makes it once ({days.reference})"
        )
    yield from result.assumptions


def _medical() -> list[str]:
    practice = policies()
    cut, fish = practice["ration.no-cut-before"].value, practice["ration.no-protein-below"].value
    return [
        f"Medical: this is arithmetic, no medical advice. The training texts do not cut the daily issue before day "
        f"{cut:g}, and let nobody eat fish on less than {fish:g} L of water a day. The injured, the burnt, children "
        "and those who vomit need more; take the medicine against seasickness early, keep out of sun and wind, rest by "
        "day, and ask for radio medical advice. Never drink sea water or urine."
    ]


# ---- tables ------------------------------------------------------------------------------------------------------


def _key(entry: CraftRations) -> tuple[object, ...]:
    cases = tuple((case.scenario, case.persons, case.why) for case in entry.cases)
    return entry.water.sure, entry.water.known, entry.food.sure, entry.food.known, entry.makers, cases


def _groups(plan: RationPlan) -> list[_Group]:
    together: dict[tuple[object, ...], list[CraftRations]] = {}
    for entry in plan.crafts:
        together.setdefault(_key(entry), []).append(entry)
    return [_Group(", ".join(entry.craft.name for entry in found), found[0]) for found in together.values()]


def _store_words(store: Store, words: str) -> str:
    if not store.known:
        perhaps = f" (should hold {words.format(store.perhaps)})" if store.perhaps else ""
        return f"not evaluated{perhaps}"
    return words.format(store.sure) + (f", perhaps {words.format(store.perhaps)} more" if store.perhaps else "")


def _stores(plan: RationPlan) -> Block:
    lines = []
    for entry in plan.crafts:
        made = []
        if entry.makers.each_day:
            made.append(f"{entry.makers.each_day:g} L a day by hand pump")
        if entry.makers.once:
            made.append(f"{entry.makers.once:g} L once by desalting")
        doubts = [text for text in (entry.water.doubt, entry.food.doubt, entry.makers.doubt) if text]
        shown = "; ".join(dict.fromkeys([*made, entry.water.how, *doubts]))
        lines.append(
            Line(
                (
                    entry.craft.name,
                    _store_words(entry.water, f"{{:,.4g}}{_HELD}L"),
                    _store_words(entry.food, f"{{:,.0f}}{_HELD}kJ"),
                    shown,
                ),
                "soon" if not entry.water.known or entry.water.perhaps else "",
            )
        )
    return Block(
        "What each craft holds", ("Craft", "Water", "Food", "Shown by"), lines, "No survival craft is recorded."
    )


def _lasting(plan: RationPlan, groups: Sequence[_Group]) -> Iterator[Block]:
    reach = tuple(f"To day {day}" for day in plan.ask.reach)
    gains = ("With gains",) if plan.gains else ()
    columns = ("Scenario", "Persons", "Lasts", *gains, *reach, "Food a day")
    for group in groups:
        lines = [_case_line(plan, case) for case in group.entry.cases]
        yield Block(f"{group.name}: how long the water lasts, and which issue reaches a day", columns, lines, "")


def _case_line(plan: RationPlan, case: Case) -> Line:
    persons = "-" if case.persons is None else str(case.persons)
    blank = len(plan.ask.reach) + int(plan.gains) + 1
    if case.absent:
        return Line((case.scenario, case.absent, *["-"] * (blank + 1)))
    if case.why or case.persons is None:
        return Line((case.scenario, persons, f"not evaluated: {case.why}", *["-"] * blank))
    reach = [_issue_words(plan, case.reach[day]) for day in plan.ask.reach]
    gains = [_days(case.with_gains)] if plan.gains else []
    food = f"{_energy(case.food_a_day)} each" if case.food_a_day else "-"
    return Line((case.scenario, persons, _days(case.lasting), *gains, *reach, food))


def _issue_words(plan: RationPlan, litres: float | None) -> str:
    if litres is None:
        return "nothing to issue"
    return f"{_floor(litres, 2)} L" + (" (LESS)" if litres < plan.issue - 1e-9 else "")


def _by_day(plan: RationPlan, group: _Group) -> Block:
    cases = [case for case in _distinct(group.entry.cases) if case.days]
    last = _last_shown(plan, cases)
    lines = [Line((str(day), _issue_on(plan, day), *_left(plan, cases, day))) for day in range(1, last + 1)]
    curves = [
        Curve(name, [group.entry.water.sure, *(day.left for day in days[:last])])
        for case in cases
        for name, days in _runs(plan, case)
    ]
    figure = line_chart(f"{group.name}: litres of water left by day", "day (evening)", "litres left", curves)
    columns = ("Day", "Issue to each", *(case.scenario for case in cases))
    heading = f"{group.name}: left in the evening of each day" + (", with gains" if plan.gains else "")
    return Block(heading, columns, lines, "", figure)


def _runs(plan: RationPlan, case: Case) -> Iterator[tuple[str, Sequence[Any]]]:
    """The days of a case by the name of its curve: from the store alone, and with what is gained."""
    yield _persons(case.persons or 0), case.days
    if plan.gains:
        yield f"{_persons(case.persons or 0)}, with gains", case.days_with_gains


def _last_shown(plan: RationPlan, cases: Sequence[Case]) -> int:
    """The last day of a craft's table: the one on which its last water is issued, or the last day asked."""
    if plan.ask.days is not None:
        return plan.ask.days
    runs = [days for case in cases for _, days in _runs(plan, case)]
    return max(2, *(max((day.day for day in days if day.issued or day.gained), default=1) for days in runs))


def _distinct(cases: Sequence[Case]) -> list[Case]:
    """The cases that have figures; those of the same number of persons share one column."""
    found: dict[int, Case] = {}
    names: dict[int, list[str]] = {}
    for case in cases:
        if case.days and case.persons is not None:
            found.setdefault(case.persons, case)
            names.setdefault(case.persons, []).append(case.scenario)
    return [
        Case(
            f"{', '.join(names[persons])} ({_persons(persons)})",
            persons,
            days=case.days,
            days_with_gains=case.days_with_gains,
            food_left=case.food_left,
        )
        for persons, case in found.items()
    ]


def _issue_on(plan: RationPlan, day: int) -> str:
    if day <= plan.dry_days:
        return f"nothing; injured {plan.issue:g} L" if plan.ask.injured else "nothing"
    parts = int(policies()["ration.issues-a-day"].value)
    return f"{parts} x {plan.issue * 1000 / parts:.0f} mL"


def _left(plan: RationPlan, cases: Sequence[Case], day: int) -> Iterator[str]:
    for case in cases:
        found = (case.days_with_gains if plan.gains else case.days)[day - 1]
        food = f", {_energy(case.food_left[day - 1])}" if case.food_left else ""
        each = found.issued / (case.persons or 1)
        short = (
            "" if found.full else f" (only {_floor(each, 2)}{_HELD}L each)" if each >= 0.01 else " (nothing to issue)"
        )
        yield f"{_litres(found.left)}{food}{short}"


# ---- the workbook ------------------------------------------------------------------------------------------------


def ration_xlsx(page: Page, plan: RationPlan) -> bytes:
    """The page as an .xlsx, with a second sheet of figures and a chart of litres left for each craft."""
    return as_xlsx(page, "Ration", lambda book: _figures(book, plan))


def _figures(book: Any, plan: RationPlan) -> None:
    sheet = book.add_worksheet("Litres by day")
    bold, number = book.add_format({"bold": True}), book.add_format({"num_format": "#,##0.0"})
    sheet.set_column(0, 0, 8)
    sheet.set_column(1, 8, 20)
    row, breaks = 0, []
    for group in _groups(plan):
        cases = [(name, days) for case in _distinct(group.entry.cases) for name, days in _runs(plan, case)]
        if not cases:
            continue
        sheet.write_string(row, 0, f"{group.name}: litres of water left in the evening", bold)
        sheet.write_string(row + 1, 0, "Day", bold)
        chart = book.add_chart({"type": "line"})
        for column, (name, days) in enumerate(cases, 1):
            sheet.write_string(row + 1, column, name, bold)
            for step, left in enumerate([group.entry.water.sure, *(day.left for day in days)]):
                sheet.write_number(row + 2 + step, 0, step)
                sheet.write_number(row + 2 + step, column, left, number)
            last = row + 2 + plan.horizon
            chart.add_series(
                {
                    "name": ["Litres by day", row + 1, column],
                    "categories": ["Litres by day", row + 2, 0, last, 0],
                    "values": ["Litres by day", row + 2, column, last, column],
                    "line": {
                        "color": ("#15548a", "#b34700", "#333333", "#5a86b0")[(column - 1) % 4],
                        "dash_type": ("solid", "dash", "round_dot", "long_dash_dot")[(column - 1) % 4],
                    },
                }
            )
        chart.set_title({"name": ["Litres by day", row, 0], "name_font": {"size": 11}})
        chart.set_x_axis({"name": "day (evening)"})
        chart.set_y_axis({"name": "litres left", "min": 0})
        chart.set_legend({"position": "bottom"})
        chart.set_size({"width": 560, "height": 300})
        below = row + 3 + plan.horizon + 1
        sheet.insert_chart(below, 0, chart, {"description": f"{group.name}: litres of water left by day"})
        row = below + 17
        breaks.append(row)
    sheet.set_h_pagebreaks(breaks[1:-1:2])  # two craft on a page
    sheet.set_paper(9)
    sheet.set_print_scale(75)
    sheet.set_margins(left=0.5, right=0.5)
    sheet.set_footer("&L&A&RPage &P of &N")
