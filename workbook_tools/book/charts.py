"""The Charts sheet: what lapses when, what each craft lacks, and who fits where, to be seen at a glance.

The figures behind the charts are formulas on the same sheet, below them, over the calculated sheets. The words are
put together by hand where a date is in them: the letters that TEXT wants differ from one language to the next.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from itertools import count
from typing import Any

from workbook_tools.book.calculated.grid import resolve
from workbook_tools.book.calculated.writer import CalculatedBook, block
from workbook_tools.book.formats import INK, set_up_page
from workbook_tools.columns.calculated import CHARTS, OPEN
from workbook_tools.core.caution import CAUTION
from workbook_tools.reading.address import column_letters

NUMBER = 3  # of charts
MONTHS = 24  # shown ahead
MOST_CRAFT = 12  # bars that can be told apart; the craft with most to put right come first
MOST_SCENARIOS = 12

# The charts stand above, their figures below: rows counted from 0.
_FIRST_CHART, _CHART_ROWS = 3, 17
_FIGURES = _FIRST_CHART + NUMBER * _CHART_ROWS + 2
MONTH_ROW = _FIGURES + 2
BAR_ROW = MONTH_ROW + MONTHS + 1 + 3
SCENARIO_ROW = BAR_ROW + MOST_CRAFT + 3
_CRAFT_ROW = SCENARIO_ROW + MOST_SCENARIOS + 3

# Dark orange, striped orange, dotted white and pale blue: four shades of grey on paper, two colours for every eye.
BLUE, ORANGE, LIGHT, GREY = "#9DC3E6", "#C55A11", "#F4B183", "#7F7F7F"


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the bars: the column of its figures, its words, and how it is told apart in colour and in grey."""

    column: str
    words: str
    colour: str
    pattern: str = ""  # '': filled


PARTS = (
    Part("short", "short or expired", ORANGE),
    Part("lapses", "enough, but some lapse soon", LIGHT, "narrow_horizontal"),
    Part("open", "not evaluated", GREY, "percent_5"),
    Part("enough", "enough", BLUE),
)

# What stands at the head of the Required sheet's column Says, for each part.
SAYS = {"short": ("■",), "lapses": ("▲",), "open": ("○", "◇"), "enough": ("●",)}


def _iso_month(day: str) -> str:
    return f'YEAR({day})&"-"&RIGHT("0"&MONTH({day}),2)'


_IN_COUNT = '[lots.class],">0"'
_FROM = "EDATE([date asked]-DAY([date asked])+1,<ahead>)"


@dataclass(frozen=True, slots=True)
class Figure:
    """A column of figures: <key> in a formula is the cell of that column in the same line, [name] a place elsewhere.

    shown: whether a reader wants it; what only other figures count with stands aside, on hidden columns.
    """

    key: str
    heading: str
    formula: str
    format: str = "number"
    shown: bool = True


# One line for what is past already, then one for each month from that of the day asked.
_MONTH_FIGURES = (
    Figure("ahead", "Months ahead", f"ROW()-{MONTH_ROW + 2}", shown=False),
    Figure("label", "Month", f'IF(<ahead><0,"past",{_iso_month(_FROM)})', "plain"),
    Figure("past", "Lots expired", f'IF(<ahead><0,COUNTIFS([lots.date],"<"&[date asked],{_IN_COUNT}),0)'),
    Figure(
        "lots",
        "Lots that expire",
        f'IF(<ahead><0,0,COUNTIFS([lots.date],">="&MAX([date asked],{_FROM}),[lots.date],"<"&EDATE({_FROM},1),'
        f"{_IN_COUNT}))",
    ),
)


def _says(part: str) -> str:
    return "+".join(f'COUNTIFS([required.craft_no],<number>,[required.says],"{sign}*")' for sign in SAYS[part])


# Every craft with the number of its rules that end in each way, and its place: most short first.
_CRAFT_FIGURES = (
    Figure("number", "Line", f"ROW()-{_CRAFT_ROW}", shown=False),
    Figure("name", "Craft", "INDEX([craft.shown],<number>)", "plain"),
    *(Figure(part.column, part.words, f'IF(<name>="",0,{_says(part.column)})') for part in PARTS),
    Figure(
        "score",
        "Order",
        'IF(<name>="",-1,<short>*1000000+<lapses>*10000+<open>*100+<enough>)-ROW()/10000',
        shown=False,
    ),
)
_LINE = "MATCH(LARGE([charted.score],<place>),[charted.score],0)"
_BAR_FIGURES = (
    Figure("place", "Place", f"ROW()-{BAR_ROW}", shown=False),
    Figure("name", "Craft", f'INDEX([charted.name],{_LINE})&""', "plain"),
    *(Figure(part.column, part.words, f"INDEX([charted.{part.column}],{_LINE})") for part in PARTS),
)
# Who has a place in each scenario of the Coverage sheet, in persons.
_OPEN = f'LEFT(INDEX([coverage.says],<number>),1)="{OPEN[0]}"'
_NONE = '<name>=""'
_SCENARIO_FIGURES = (
    Figure("number", "Line", f"ROW()-{SCENARIO_ROW}", shown=False),
    Figure("name", "What is lost", 'INDEX([coverage.scenario],<number>)&""', "plain"),
    Figure("left", "persons left out", f"IF(OR({_NONE},{_OPEN}),0,N(INDEX([coverage.left_out],<number>)))"),
    Figure("open", "not evaluated", f"IF({_NONE},0,IF({_OPEN},N(INDEX([coverage.persons],<number>)),0))"),
    Figure("placed", "with a place", f"IF({_NONE},0,N(INDEX([coverage.persons],<number>))-<left>-<open>)"),
)
_WIDTHS = (2, 34, 13, 13, 13, 13, 13)  # the charts reach over one column more
_ASIDE = len(_WIDTHS) + 1  # the first hidden column


def _write_figures(
    calc: CalculatedBook, page: Any, name: str, title: str, figures: Sequence[Figure], first: int, rows: int
) -> None:
    """Write a block of figures under a line that says what they are, and make its columns known as name.key."""
    page.write(first - 2, 0, title, calc.formats.help)
    page.set_row(first - 1, 48)
    shown, aside = count(1), count(_ASIDE)
    columns = [next(shown if figure.shown else aside) for figure in figures]
    for index, figure in zip(columns, figures, strict=True):
        calc.names[f"{name}.{figure.key}"] = block(CHARTS, index, first, first + rows - 1)
        page.write(first - 1, index, figure.heading, calc.formats.optional)
    places = {figure.key: f"${column_letters(index)}" for index, figure in zip(columns, figures, strict=True)}
    for index, figure in zip(columns, figures, strict=True):
        formula = resolve(calc, figure.formula)
        for row in range(first, first + rows):
            own = _OWN.sub(partial(_own_cell, places, row), formula)
            calc.formula(page, row, index, own, getattr(calc.formats, figure.format))
    if "name" in places:
        empty = {"type": "formula", "criteria": f'={places["name"]}{first + 1}=""', "format": calc.formats.unseen}
        page.conditional_format(first, 1, first + rows - 1, _ASIDE - 1, empty)


_OWN = re.compile(r"<([a-z]+)>")


def _own_cell(places: Mapping[str, str], row: int, match: re.Match[str]) -> str:
    return f"{places[match[1]]}{row + 1}"


def write_charts(calc: CalculatedBook, page: Any) -> None:
    """Write the sheet; the sheets that it counts on must be known by name."""
    formats = calc.formats
    bars = min(MOST_CRAFT, calc.room["craft"])
    for index, width in enumerate(_WIDTHS):
        page.set_column(index, index, width)
    page.set_column(_ASIDE, _ASIDE + 1, 10, None, {"hidden": True})
    title = '"Charts"&IF(ship_name="","","   "&ship_name)&"   on "&' + _iso_month("[date asked]")
    title += '&"-"&RIGHT("0"&DAY([date asked]),2)'
    calc.formula(page, 0, 0, resolve(calc, title), formats.title)
    page.write(1, 0, CAUTION, formats.help)
    page.write(_FIGURES - 1, 0, "The figures behind the charts", formats.bold)
    months = "Dated lots that count or may count, by the month in which they expire"
    _write_figures(calc, page, "months", months, _MONTH_FIGURES, MONTH_ROW, MONTHS + 1)
    craft = "Each craft: how its lines on the Required sheet end"
    _write_figures(calc, page, "charted", craft, _CRAFT_FIGURES, _CRAFT_ROW, calc.room["craft"])
    _write_figures(calc, page, "bars", f"The {bars} craft with most to put right", _BAR_FIGURES, BAR_ROW, bars)
    scenarios = min(MOST_SCENARIOS, calc.room["craft"])
    lost = "Who has a place, by what is lost: persons, from the Coverage sheet"
    _write_figures(calc, page, "scenarios", lost, _SCENARIO_FIGURES, SCENARIO_ROW, scenarios)
    calc.formula(page, 2, 0, resolve(calc, _remark(bars)), formats.bold)
    _place(page, _expiry_chart(calc), 0)
    _place(page, _craft_chart(calc, bars), 1)
    _place(page, _coverage_chart(calc, scenarios), 2)
    set_up_page(page, calc.ship, landscape=False)
    page.set_h_pagebreaks([_FIGURES - 1])
    page.repeat_rows(0, 1)
    page.print_area(0, 0, _CRAFT_ROW + calc.room["craft"] - 1, _ASIDE - 1)
    calc.protect(page)


def _remark(bars: int) -> str:
    """What must be said where a chart shows nothing, or not everything."""
    craft, lots = 'SUMPRODUCT(--([charted.name]<>""))', "SUM([months.past])+SUM([months.lots])"
    return (
        f'IF(AND({craft}=0,{lots}=0),"Nothing to show yet: fill in Craft, then Inventory",'
        f'IF({craft}>{bars},"Only {bars} of "&{craft}&" craft are drawn: all stand below.",""))'
    )


def _place(page: Any, chart: Any, number: int) -> None:
    page.insert_chart(_FIRST_CHART + number * _CHART_ROWS, 0, chart, {"object_position": 3})


def _chart(calc: CalculatedBook, kind: str, title: str) -> Any:
    chart = calc.book.add_chart({"type": kind, "subtype": "stacked"})
    chart.set_size({"width": 790, "height": 325})
    chart.set_title({"name": title, "name_font": {"size": 13, "color": INK}, "overlay": False})
    chart.set_legend({"position": "bottom", "font": {"size": 10, "color": INK}})
    chart.set_chartarea({"border": {"color": "#8EA9C8"}})
    return chart


def _fill(colour: str, pattern: str) -> dict[str, Any]:
    """A fill that is told apart in grey print too, by its pattern."""
    border = {"color": INK, "width": 0.75}
    if not pattern:
        return {"fill": {"color": colour}, "border": border}
    return {"pattern": {"pattern": pattern, "fg_color": colour, "bg_color": "#FFFFFF"}, "border": border}


def _labels(colour: str, position: str) -> dict[str, Any]:
    """The figure on each bar; a bar of nothing has none."""
    ink = "#FFFFFF" if colour == ORANGE else INK
    return {
        "value": True,
        "num_format": "0;;;",
        "font": {"size": 10, "color": ink, "bold": True},
        "position": position,
    }


def _expiry_chart(calc: CalculatedBook) -> Any:
    chart = _chart(calc, "column", f"Lots that expire: past, and in the next {MONTHS} months")
    title, last = CHARTS, MONTH_ROW + MONTHS
    for index, words, colour, pattern in (
        (2, "expired", ORANGE, ""),
        (3, "to expire in the month", BLUE, ""),
    ):
        chart.add_series(
            {
                "name": words,
                "categories": "=" + block(title, 1, MONTH_ROW, last),
                "values": "=" + block(title, index, MONTH_ROW, last),
                "gap": 40,
                "overlap": 100,
                "data_labels": _labels(colour, "inside_end"),
                **_fill(colour, pattern),
            }
        )
    chart.set_x_axis({"num_font": {"rotation": -90, "size": 9, "color": INK}})
    chart.set_y_axis({"name": "lots", "num_format": "0", "min": 0, "major_gridlines": _GRID, "name_font": {"size": 10}})
    return chart


_GRID = {"visible": True, "line": {"color": "#D9D9D9", "width": 0.5}}


def _craft_chart(calc: CalculatedBook, bars: int) -> Any:
    return _bars(calc, "Required against carried: how many rules each craft meets", PARTS, BAR_ROW, bars)


PLACES = (
    Part("left", "persons left out", ORANGE),
    Part("open", "not evaluated", GREY, "percent_5"),
    Part("placed", "persons with a place", BLUE),
)


def _coverage_chart(calc: CalculatedBook, scenarios: int) -> Any:
    return _bars(calc, "Who has a place when craft are lost, in persons", PLACES, SCENARIO_ROW, scenarios)


def _bars(calc: CalculatedBook, title: str, parts: Sequence[Part], first: int, lines: int) -> Any:
    """Lying bars, the first line on top, each part with its figure on it."""
    chart = _chart(calc, "bar", title)
    last = first + lines - 1
    for index, part in enumerate(parts, start=2):
        chart.add_series(
            {
                "name": part.words,
                "categories": "=" + block(CHARTS, 1, first, last),
                "values": "=" + block(CHARTS, index, first, last),
                "gap": 35,
                "overlap": 100,
                "data_labels": _labels(part.colour, "center"),
                **_fill(part.colour, part.pattern),
            }
        )
    chart.set_y_axis({"reverse": True, "num_font": {"size": 10, "color": INK}})
    chart.set_x_axis({"visible": False, "min": 0, "major_gridlines": {"visible": False}})
    return chart
