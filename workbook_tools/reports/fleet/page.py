"""The fleet's audit as one page that asks nothing of any other file or machine: search, filter, sort, charts, print.

Works nothing out. The long lists are put into the page as data and drawn by its script, a hundred lines at a time; what
stands in a book enters the page as escaped text or as data, never as markup, and the page's own policy forbids every
other script and every request.
"""

from __future__ import annotations

import base64
import hashlib
import html
import json
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from pathlib import Path
from string import Template
from typing import Any

from workbook_tools.core.caution import CAUTION
from workbook_tools.core.words import counted
from workbook_tools.findings import GRADES, LAPSE_KINDS
from workbook_tools.reports.fleet import charts
from workbook_tools.reports.fleet.links import page_link, relative
from workbook_tools.reports.fleet.record import CHECKED, FleetRecord, ShipLine
from workbook_tools.reports.fleet.words import FOLLOWED_UP, MARKS, basis, headline, lapses_words, sources
from workbook_tools.rules.model import PRIORITIES

# What one page holds, so that a plain office machine still opens it. The rest is counted in words on the page.
MOST_SHIPS, MOST_FINDINGS, MOST_LAPSES, MOST_REPEATED = 20_000, 20_000, 20_000, 500
_CHART_SHIPS = 15


def fleet_page(
    record: FleetRecord, folder: Path, most_findings: int = MOST_FINDINGS, most_lapses: int = MOST_LAPSES
) -> str:
    """The audit of a fleet as an HTML page, whose links work from a folder.

    What does not fit (most_findings, most_lapses: lines) is left out, and the page says how much.
    """
    data = _Data(record, folder, most_findings, most_lapses)
    style, script = _resource("page.css"), _resource("page.js")
    policy = (
        f"default-src 'none'; style-src '{_digest(style)}'; script-src '{_digest(script)}'; base-uri 'none'; "
        "form-action 'none'"
    )
    return Template(_resource("page.html")).substitute(
        policy=policy,
        title=_text(f"Fleet audit on {record.options.on}"),
        style=style,
        headline=_text(headline(record)),
        caution=_text(CAUTION),
        unread=f"{record.unread_count():,}",
        patterns=charts.patterns(),
        figures=_figures(record),
        charts=_charts(record),
        left_out="".join(f'<p class="caution">{_text(words)}</p>' for words in data.left_out),
        ships=_ships_table(),
        findings=_findings_table(),
        lapses_words=_text(lapses_words(record)),
        due=_due_table(),
        repeated=_repeated(record),
        unreadable=_unreadable(record, folder),
        basis=_basis(record),
        data=data.text(),
        script=script,
    )


@cache
def _resource(name: str) -> str:
    text = (Path(__file__).parent / name).read_text(encoding="utf-8")
    return text.strip() if name.endswith((".css", ".js")) else text


def _digest(text: str) -> str:
    return "sha256-" + base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()


def _text(text: object) -> str:
    """A text as the page can hold it: escaped, and without what no encoding can hold."""
    return html.escape(str(text)).encode("utf-8", "replace").decode()


# ---- the data of the lists ---------------------------------------------------------------------------------------


class _Data:
    """What the script draws. Texts that many lines share stand once, and are named by their number."""

    def __init__(self, record: FleetRecord, folder: Path, most_findings: int, most_lapses: int) -> None:
        self.folder, self.left_out = folder, list[str]()
        self._words: dict[str, int] = {}
        self.ships = [self._ship(ship) for ship in record.ships(most=MOST_SHIPS)]
        self.findings = self._cut(
            "findings", record.finding_count(), self._findings(record, most_findings), "the least urgent"
        )
        self.lapses = self._cut("lapses", record.lapse_count(), self._lapses(record, most_lapses), "the latest")
        if record.books > MOST_SHIPS:
            self.left_out.append(
                f"{record.books - MOST_SHIPS:,} of {counted(record.books, 'book')} left out, the best ones."
            )

    def _cut(self, what: str, count: int, lines: Iterator[dict[str, Any]], which: str) -> list[dict[str, Any]]:
        kept = list(lines)
        if len(kept) < count:
            self.left_out.append(
                f"{count - len(kept):,} of {count:,} {what} are left out of this page, {which}: --report FILE.xlsx "
                "holds them."
            )
        return kept

    def _word(self, text: str) -> int:
        return self._words.setdefault(text, len(self._words))

    def _ship(self, ship: ShipLine) -> dict[str, Any]:
        read = ship.readable
        return {
            "n": ship.rank - 1,
            "r": ship.rank,
            "t": ship.title,
            "i": ship.imo_number,
            "v": ship.verdict if read else f"{ship.verdict}: {ship.reason}",
            "g": "action" if not read or ship.grades["action"] else "plain",
            "c": [ship.grades[grade] for grade in GRADES] if read else None,
            "u": ship.followed_up,
            "f": list(ship.families.values()) if read else None,
            "a": list(ship.actions.values()),
            "e": ship.states["not_evaluated"],
            "b": Path(ship.path).name,
            "href": page_link(relative(ship.path, self.folder)),
        }

    def _findings(self, record: FleetRecord, most: int) -> Iterator[dict[str, Any]]:
        for line in record.findings(most):
            if line.rank > MOST_SHIPS:
                continue
            entry = {
                "s": line.rank - 1,
                "d": GRADES.index(line.grade),
                "p": PRIORITIES.index(line.priority),
                "h": self._word(line.sheet),
                "x": line.cell,
                "j": self._word(line.subject),
                "m": line.message,
                "q": self._word(line.source),
                "y": self._word(line.remedy),
                "l": self._word(line.rule),
                "k": line.id,
            }
            yield entry | _said(w=line.person, z=line.follow_up, u=int(line.followed_up))

    def _lapses(self, record: FleetRecord, most: int) -> Iterator[dict[str, Any]]:
        for line in record.lapses(most):
            if line.rank > MOST_SHIPS:
                continue
            entry = {
                "s": line.rank - 1,
                "d": line.day,
                "n": line.days_left,
                "k": line.kind,
                "m": self._word(line.what),
                "j": self._word(line.where),
                "h": self._word(line.sheet),
                "x": line.cell,
            }
            yield entry | _said(w=line.person)

    def text(self) -> str:
        """The data as JSON that can stand within a page: nothing in it looks like a tag."""
        data = {
            "grades": GRADES,
            "priorities": PRIORITIES,
            "marks": [MARKS[grade].strip() for grade in GRADES],
            "families": list(CHECKED.items()),
            "followed_up": FOLLOWED_UP,
            "kinds": LAPSE_KINDS,
            "words": list(self._words),
            "ships": self.ships,
            "findings": self.findings,
            "lapses": self.lapses,
        }
        text = json.dumps(data, ensure_ascii=False, separators=(",", ":")).encode("utf-8", "replace").decode()
        return text.translate({ord(letter): f"\\u{ord(letter):04x}" for letter in "<>&\u2028\u2029"})


def _said(**values: Any) -> dict[str, Any]:
    """The values that say something: the others are left out of the page."""
    return {name: value for name, value in values.items() if value}


# ---- figures and charts ------------------------------------------------------------------------------------------


def _figures(record: FleetRecord) -> str:
    totals = record.totals()
    figures = [
        ("", record.books, "books"),
        ("action", record.unread_count(), "not read"),
        ("action", record.action_ships(), "with action required"),
        *(
            ("action" if grade == "action" else "due" if grade == "due" else "", totals[grade], grade)
            for grade in GRADES
        ),
    ]
    return "".join(
        f'<li class="{look}"><strong data-figure="{_text(words)}">{number:,}</strong>{_text(words)}</li>'
        for look, number, words in figures
    )


def _charts(record: FleetRecord) -> str:
    worst = [ship for ship in record.ships(readable=True, most=_CHART_SHIPS) if sum(ship.grades.values())]
    families = record.family_totals()
    by_month, months = record.lapses_by_month(), record.months()
    kinds = [
        charts.Series(key, words, fill) for (key, words), fill in zip(LAPSE_KINDS.items(), charts.KINDS, strict=True)
    ]
    month_rows = [(month, {kind: by_month.get((month, kind), 0) for kind in LAPSE_KINDS}) for month in months]
    drawn = [
        (
            f"Findings of the {counted(len(worst), 'ship')} that need most",
            charts.bars(
                "worst",
                "Findings by ship",
                [(ship.title, ship.grades) for ship in worst],
                charts.GRADES,
                "Lying bars; the same figures stand in the list of ships.",
            ),
        ),
        (
            "Findings of each family",
            charts.bars(
                "families",
                "Findings by family",
                [(words, families[key]) for key, words in CHECKED.items()],
                charts.GRADES,
                _spoken((words, families[key]) for key, words in CHECKED.items()),
            ),
        ),
        (
            "What lapses in each month",
            charts.columns("months", "Lapses by month", month_rows, kinds, _spoken(month_rows)),
        ),
    ]
    return "".join(f"<figure><figcaption>{_text(words)}</figcaption>{chart}</figure>" for words, chart in drawn)


def _spoken(rows: Iterable[tuple[str, dict[str, int]]]) -> str:
    """The sums of a chart's rows, for those who hear the page."""
    return "; ".join(f"{words}: {sum(counts.values())}" for words, counts in rows)


# ---- lists that the script fills ---------------------------------------------------------------------------------


def _options(pairs: Iterable[tuple[object, str]]) -> str:
    return "".join(f'<option value="{_text(value)}">{_text(words)}</option>' for value, words in pairs)


def _select(name: str, label: str, pairs: Iterable[tuple[object, str]], every: str) -> str:
    options = _options([("", every), *pairs])
    return f'<label>{_text(label)}<select name="{name}">{options}</select></label>'


def _widths(widths: Sequence[int]) -> str:
    """The columns of a table by their widths in percent, as the style sheet knows them; 0: a share of what is left."""
    return "<colgroup>" + "".join(f'<col class="w{width}">' for width in widths) + "</colgroup>"


def _list(
    caption: str, headings: Sequence[str], numbers: Iterable[int], widths: Sequence[int], filters: str, look: str
) -> str:
    """Controls, status, an empty table with its headings, and the buttons that turn its pages."""
    right = set(numbers)
    heads = "".join(
        f'<th scope="col" role="columnheader" aria-sort="none" data-name="{_text(heading)}"'
        f"{' class=number' if index in right else ''}>"
        f'<button type="button" title="Sort by this">{_text(heading)}</button></th>'
        for index, heading in enumerate(headings)
    )
    return (
        f'<form class="controls" role="search" aria-label="{_text(caption)}: search and filters">'
        f'<label>Search<input type="search" name="search" autocomplete="off"></label>{filters}'
        '<button type="button" data-do="clear">Show all, worst first</button></form>'
        '<p class="status" role="status" aria-live="polite"></p>'
        f'<table class="wide {look}" role="table"><caption>{_text(caption)}</caption>{_widths(widths)}'
        f'<thead role="rowgroup"><tr role="row">{heads}</tr></thead><tbody role="rowgroup"></tbody></table>'
        '<div class="pager"><button type="button" data-do="back">Previous 100</button>'
        '<button type="button" data-do="next">Next 100</button></div>'
    )


def _ships_table() -> str:
    verdicts = [("action", "action required"), ("clear", "no action required"), ("unread", "not read")]
    headings = [
        *("Place", "Ship", "Verdict", *GRADES, FOLLOWED_UP),
        *(f"{key} {words}" for key, words in CHECKED.items()),
        *("not evaluated", "Workbook"),
    ]
    numbers = [0, *range(3, len(headings) - 1)]
    filters = _select("verdict", "Verdict", verdicts, "every verdict")
    return _list("Ships", headings, numbers, [3, 12, 0, *[3] * len(numbers[1:]), 12], filters, "ships")


def _findings_table() -> str:
    filters = (
        _select("grade", "Grade", enumerate(GRADES), "every grade")
        + _select("priority", "Priority", enumerate(PRIORITIES), "every priority")
        + _select("family", "Family", ((key, f"{key} {words}") for key, words in CHECKED.items()), "every family")
        + _select("ship", "Ship", (), "every ship")
        + '<label class="tick"><input type="checkbox" name="open">Without those being followed up</label>'
    )
    headings = ("Grade", "Ship", "Subject and cell", "What is wrong", "What to do", "Finding")
    return _list("Findings", headings, (), [9, 9, 12, 0, 0, 9], filters, "findings")


def _due_table() -> str:
    days = ((14, "within 14 days"), (30, "within 30 days"), (90, "within 90 days"))
    filters = (
        _select("kind", "Kind", LAPSE_KINDS.items(), "every kind")
        + _select("days", "When", days, "any day")
        + _select("ship", "Ship", (), "every ship")
    )
    headings = ("Last day", "Days left", "Ship", "Kind", "What", "Where", "Cell")
    return _list("What lapses", headings, (1,), [7, 7, 12, 12, 0, 0, 12], filters, "lapses")


# ---- lists that stand in the page as they are --------------------------------------------------------------------


def _table(
    caption: str,
    headings: Sequence[str],
    rows: Iterable[Sequence[str]],
    widths: Sequence[int],
    numbers: Sequence[int] = (),
) -> str:
    """A table of cells that are markup already."""
    looks = [' class="number"' if index in numbers else "" for index in range(len(headings))]
    heads = "".join(
        f'<th scope="col" role="columnheader"{look}>{_text(heading)}</th>'
        for heading, look in zip(headings, looks, strict=True)
    )
    body = "".join(
        '<tr role="row">'
        + "".join(
            f'<td role="cell" data-label="{_text(heading)}"{look}>{cell}</td>'
            for heading, look, cell in zip(headings, looks, row, strict=True)
        )
        + "</tr>"
        for row in rows
    )
    return (
        f'<table class="wide fixed" role="table"><caption>{_text(caption)}</caption>{_widths(widths)}'
        f'<thead role="rowgroup"><tr role="row">'
        f'{heads}</tr></thead><tbody role="rowgroup">{body}</tbody></table>'
    )


def _repeated(record: FleetRecord) -> str:
    lines = list(record.repeated(MOST_REPEATED + 1))
    if not lines:
        return "<p>No fault stands on more than one ship.</p>"
    more = "" if len(lines) <= MOST_REPEATED else f"<p>Only the {MOST_REPEATED} widest spread are shown.</p>"
    rows = []
    for line in lines[:MOST_REPEATED]:
        others = line.ship_count - len(line.ships)
        named = ", ".join(line.ships) + (f" and {counted(others, 'other')}" if others > 0 else "")
        mark = f'<span class="mark {line.grade}">{_text(MARKS[line.grade])} {line.grade}</span>'
        fault = f"{_text(line.code)} {_text(line.name)}<div class=small>{_text(line.rule)}</div>"
        by = f"<p class=small>By: {_text(line.source)}</p>" if line.source else ""
        example = f"<p>{_text(line.example)}</p>{by}"
        rows.append(
            [
                *(f"{line.ship_count:,}", f"{line.finding_count:,}", mark, fault, example),
                *(_text(line.remedy), _text(named)),
            ]
        )
    headings = ("Ships", "Findings", "Worst grade", "Fault", "For example", "What to do", "Ships, worst first")
    return more + _table("Repeated faults", headings, rows, [5, 5, 7, 16, 0, 0, 16], (0, 1))


def _unreadable(record: FleetRecord, folder: Path) -> str:
    unread = list(record.ships(readable=False, most=MOST_SHIPS))
    if not unread:
        return "<p>Every book could be read.</p>"
    rows = (
        [
            f'<a href="{_text(page_link(relative(ship.path, folder)))}">{_text(Path(ship.path).name)}</a>',
            _text(ship.reason),
            _text(Path(ship.path).parent),
        ]
        for ship in unread
    )
    words = f"<p>{counted(len(unread), 'book')} of {record.books:,}: nothing is known of these ships.</p>"
    return words + _table("Books not read", ("Workbook", "Why, and what to do", "Folder"), rows, [16, 0, 0])


def _basis(record: FleetRecord) -> str:
    rows = [
        [_text(entry.about), _text(entry.words), f"{entry.books:,}" if entry.books else "all"]
        for entry in basis(record)
    ]
    cited = [
        [
            *(_text(text) for text in (line.rule_set, line.rule, line.paragraph, line.status, line.compared_on)),
            f"{line.findings:,}",
        ]
        for line in sources(record)
    ]
    headings = ("Rule set", "Rule", "Paragraph", "How sure the figure is", "Compared on", "Findings")
    return (
        _table("What this page rests on", ("About", "What", "Books"), rows, [16, 0, 5], (2,))
        + f"<details><summary>{counted(len(cited), 'rule')} that findings cite</summary>"
        + _table("Rules that findings cite", headings, cited, [5, 0, 0, 0, 9, 5], (5,))
        + "</details>"
    )
