"""Ration card of a craft: water and food in date, the daily issue, what is left day by day, and how long it lasts.

Common practice of the survival-craft training texts, no rule; the same computation as core/rations.py. Its figures are
the rows ration.* of rules/policy.csv.
"""

from __future__ import annotations

from workbook_tools import catalogue
from workbook_tools.book.calculated.lots import KEY
from workbook_tools.book.formats import FILLED
from workbook_tools.book.printed.chosen import write_chosen
from workbook_tools.book.printed.helper_sheet import HelperSheet
from workbook_tools.book.printed.paper import LINE_HEIGHT, Paper, PaperFormats, craft_choice
from workbook_tools.book.printed.tables import policy, policy_figures
from workbook_tools.columns.calculated import RATIONS
from workbook_tools.core.rations import LONGEST_PLAN

WATER, FOOD = "fresh water", "food ration"
DAYS_SHOWN = 30
_EXACT = 9  # decimals kept of a litre, as in core/rations.py

# The three numbers of persons of a card: key, words.
CASES = (
    ("card", "Persons of this card"),
    ("assigned", "As assigned on the Crew sheet"),
    ("full", "Full: persons permitted"),
)
_PARTS = ("Morning", "Midday", "Sunset")

_WIDTHS = (2.5, 5, 9, 9, 9, 9, 9, 11, 11, 11, 7)
_LAST = len(_WIDTHS) - 1
_CHOICE_ROW, _SAYS_ROW, _TYPED_ROW, _STORE_ROW, _CASES_ROW, _TABLE_ROW = 2, 3, 4, 9, 13, 18
_BREAK_ROW = _TABLE_ROW + DAYS_SHOWN + 2
_CHART_ROW = _BREAK_ROW + 2
_WORDS_ROW = _CHART_ROW + 18
MEDICAL = (
    "Health: the injured and the sick get water on the first day as well, and more if they need it. Nothing by mouth "
    "to anyone unconscious. Seawater and urine are never drunk. Seasickness medicine early: vomiting loses more water "
    "than an issue gives. Medicines only as the ship's medical guide and radio medical advice say; the survival manual "
    "in the craft and the person in charge decide."
)


def write_rations(helpers: HelperSheet, formats: PaperFormats) -> None:
    """Write the page. The crew must stand on the helper sheet already."""
    paper = Paper(helpers.calc, formats, RATIONS, _WIDTHS)
    paper.head("Ration card of a craft")
    choice = paper.choose_across(_CHOICE_ROW, 3, 5, "Craft", craft_choice())
    write_chosen(helpers, "ration", choice)
    paper.formula_across(_SAYS_ROW, 1, _LAST, "[ration.says]", formats.warning)
    _typed(helpers, paper)
    _stores(helpers)
    _cases(helpers)
    _days(helpers)
    _show_stores(paper)
    _show_cases(paper)
    _chart(helpers, paper)
    _practice(paper)
    _table(paper)
    paper.finish(_WORDS_ROW + 9, [_BREAK_ROW], [MEDICAL])


# ---- what is typed -------------------------------------------------------------------------------------------------


def _typed(helpers: HelperSheet, paper: Paper) -> None:
    """The cells to fill in, each with its usual value where it is left empty."""
    lines = (
        ("persons", "Persons in the craft", "as assigned; where nobody is, full", "integer", 500),
        ("litres", "Water for each person and day (L)", "the practice below", "decimal", 10),
        ("injured", "Injured who get water on the first day too", "none", "integer", 500),
        (
            "water",
            "Water in the craft, if counted now (L)",
            "what the Inventory or the certificate shows",
            "decimal",
            100_000,
        ),
    )
    for offset, (key, label, usual, kind, most) in enumerate(lines):
        row = _TYPED_ROW + offset
        paper.page.set_row(row, LINE_HEIGHT)
        paper.page.merge_range(row, 1, row, 4, label, paper.formats.line)
        rule = {
            "validate": kind,
            "criteria": "between",
            "minimum": 0,
            "maximum": most,
            "input_title": label[:32],
            "input_message": f"Empty: {usual}.",
            "error_title": "Not a number that fits",
            "error_message": f"Type a number from 0 to {most:,}, or leave the cell empty: {usual}.",
        }
        helpers.name(f"typed.{key}", paper.choose(row, 5, "", rule, label_column=0))
        paper.page.merge_range(row, 6, row, _LAST, f"empty: {usual}", paper.formats.help)


# ---- what is in it -------------------------------------------------------------------------------------------------


def _in_date(item: str) -> tuple[str, str]:
    """Formulas for how much of an item is surely in date in the craft, and how many lots of it there are."""
    number = list(catalogue.items()).index(item) + 1
    key = f"(INDEX([craft.number],[ration.place])*{KEY}+{number})"
    good = '[lots.class],1,[lots.date],">="&[date asked]'
    columns = ("key", "key1", "key2")  # its own lots, and those of items that count as it
    amount = "+".join(f"SUMIFS([lots.amount],[lots.{column}],{key},{good})" for column in columns)
    lots = "+".join(f"COUNTIF([lots.{column}],{key})" for column in columns)
    return f"({amount})", f"({lots})"


def _stores(helpers: HelperSheet) -> None:
    """Water in L and food in kJ; '' where nothing can be said. A sealed raft by her service certificate."""
    helpers.block(
        "ration_lines",
        {
            "key": 'IF([ration.place]=0,"",IF(INDEX([required.craft_no],[#])=[ration.place],'
            'INDEX([required.item],[#])&"",""))'
        },
        helpers.rows("required.craft_no"),
    )
    none, place = "[ration.place]=0", "[ration.place]"
    found: dict[str, str] = {
        "raft": f'IF({none},0,N(INDEX([craft.family],{place})="liferaft"))',
        "sealed": f"IF({none},0,IF(INDEX([craft.certificate],{place})<>1,0,"
        f'IF(INDEX([craft.earliest],{place})="",1,IF(INDEX([craft.earliest],{place})<[date asked],0,1))))',
    }
    for name, item in (("water", WATER), ("food", FOOD)):
        amount, lots = _in_date(item)
        asked = f'MATCH("{item}",[ration_lines.key],0)'
        found |= {
            f"{name}_lots": f"IF({none},0,{lots})",
            # what the pack must hold by the rules; 0 for a pack that needs hold none
            f"{name}_pack": f"IF([store.raft]=0,0,IFERROR(N(INDEX([required.asked],{asked})),0))",
            f"{name}_found": f'IF({none},"",IF(AND([store.raft]=1,[store.{name}_lots]=0),'
            f'IF([store.sealed]=1,[store.{name}_pack],""),IF(INDEX([craft.lots],{place})=0,"",{amount})))',
            f"{name}_says": f'IF({none},"",IF(AND([store.raft]=1,[store.{name}_lots]=0),'
            'IF([store.sealed]=1,"what the sealed pack must hold: the service certificate is in date",'
            '"not known: no service certificate in date, or its contents have run out"),'
            f'IF(INDEX([craft.lots],{place})=0,"not known: the Inventory has no line for this craft",'
            f"IF(INDEX([craft.unread],{place})>0,"
            '"in date on the Inventory; a line there cannot be read: see Status","in date on the Inventory sheet"))))',
        }
    found |= {
        "water": "IF(ISNUMBER([typed.water]),[typed.water],[store.water_found])",
        "food": "[store.food_found]",
        "litres": f"IF(ISNUMBER([typed.litres]),IF([typed.litres]>0,[typed.litres],{policy('ration.litres-per-day')}),"
        f"{policy('ration.litres-per-day')})",
        "dry": policy("ration.dry-days"),
        "injured": "IF(ISNUMBER([typed.injured]),MAX(0,INT([typed.injured])),0)",
    }
    helpers.facts("store", found)


# ---- how long it lasts ---------------------------------------------------------------------------------------------


def _cases(helpers: HelperSheet) -> None:
    """Persons of each case, and the days until the water ends; '' where nothing can be said."""
    found: dict[str, str] = {
        "assigned_persons": 'IF([ration.place]=0,"",IF(COUNTIFS([crew.place],">0",[crew.aboard],1)=0,"",'
        "COUNTIFS([crew.place],[ration.place],[crew.aboard],1)))",
        "full_persons": 'IF([ration.place]=0,"",INDEX([craft.persons],[ration.place]))',
        "card_persons": "IF(N([typed.persons])>0,INT([typed.persons]),"
        "IF(N([case.assigned_persons])>0,[case.assigned_persons],[case.full_persons]))",
    }
    for key, _ in CASES:
        persons, injured = f"[case.{key}_persons]", f"MIN([store.injured],[case.{key}_persons])"
        dry_issue = f"{injured}*[store.litres]*[store.dry]"
        lasting = (
            f"IF({injured}=0,[store.dry]+[store.water]/({persons}*[store.litres]),"
            f"IF([store.water]<{dry_issue},[store.water]/({injured}*[store.litres]),"
            f"[store.dry]+([store.water]-{dry_issue})/({persons}*[store.litres])))"
        )
        known = f'OR(N({persons})=0,[store.water]="")'
        issued = f"MAX(0,MIN(ROUNDUP([case.{key}_days],0),{LONGEST_PLAN})-[store.dry])"
        found |= {
            f"{key}_days": f'IF({known},"",ROUND({lasting},{_EXACT}))',
            f"{key}_food": f'IF(OR({known},[store.food]=""),"",IF({issued}=0,0,[store.food]/({persons}*{issued})))',
        }
    helpers.facts("case", found)


def _days(helpers: HelperSheet) -> None:
    """What is asked, issued and left on each day from the day 0 on, in each case."""
    columns = {"day": "[#]-1"}
    for key, _ in CASES:
        persons = f"N([case.{key}_persons])"
        columns |= {
            f"{key}_asked": "IF([day]=0,0,"
            f"IF([day]>[store.dry],{persons},MIN([store.injured],{persons}))*[store.litres])",
            f"{key}_issued": f"IF([day]=0,0,MIN([{key}_left^],[{key}_asked]))",
            f"{key}_left": f"IF([day]=0,N([store.water]),ROUND([{key}_left^]-[{key}_issued],{_EXACT}))",
        }
    helpers.block("ration_days", columns, DAYS_SHOWN + 1)
    helpers.facts(
        "legend",
        {
            key: f'IF([case.{key}_days]="","{words}: not known","{words}: "&[case.{key}_persons])'
            for key, words in CASES
        },
    )


# ---- the page ------------------------------------------------------------------------------------------------------


def _show_stores(paper: Paper) -> None:
    formats, row = paper.formats, _STORE_ROW
    paper.page.merge_range(row, 1, row, 4, "In date in the craft on the day asked", formats.heading)
    paper.page.merge_range(row, 5, row, _LAST, "How it is known", formats.heading)
    for offset, (name, item, unit) in enumerate((("water", "Water", "L"), ("food", "Food", "kJ")), start=1):
        paper.page.merge_range(row + offset, 1, row + offset, 2, item, formats.line)
        paper.formula(row + offset, 3, f'IF([store.{name}]="","not known",ROUND([store.{name}],2))', formats.figure)
        paper.write(row + offset, 4, unit, formats.unit)
        says = f"[store.{name}_says]"
        if name == "water":
            says = f'IF(ISNUMBER([typed.water]),"as typed above",{says})'
        paper.formula_across(row + offset, 5, _LAST, says, formats.line)


def _show_cases(paper: Paper) -> None:
    formats, row = paper.formats, _CASES_ROW
    paper.page.merge_range(row, 1, row, 4, "", formats.heading)
    spans = ((5, 5), (6, 7), (8, _LAST))
    for (first, last), words in zip(spans, ("Persons", "Water lasts (days)", "Food each a day (kJ)"), strict=True):
        if first == last:
            paper.write(row, first, words, formats.heading)
        else:
            paper.page.merge_range(row, first, row, last, words, formats.heading)
    for offset, (key, words) in enumerate(CASES, start=1):
        own = row + offset
        paper.page.merge_range(own, 1, own, 4, words, formats.line)
        paper.formula(own, 5, f'IF([case.{key}_persons]="","not known",[case.{key}_persons])', formats.figure)
        longest = f"AND([store.injured]>0,N([case.{key}_days])>{LONGEST_PLAN})"
        paper.formula_across(
            own,
            6,
            7,
            f'IF([case.{key}_days]="","not known",IF({longest},"over {LONGEST_PLAN}",ROUND([case.{key}_days],2)))',
            formats.figure,
        )
        paper.formula_across(
            own, 8, _LAST, f'IF([case.{key}_food]="","not known",ROUND([case.{key}_food],0))', formats.figure
        )


def _chart(helpers: HelperSheet, paper: Paper) -> None:
    """Litres left in the evening of each day, from the hidden figures; what is not known lies on the zero line."""
    chart = helpers.calc.book.add_chart({"type": "line"})
    looks = ((FILLED, "solid", 2.5), ("#C55A11", "dash", 2), ("#7F7F7F", "round_dot", 2))
    for (key, _), (colour, dash, width) in zip(CASES, looks, strict=True):
        chart.add_series(
            {
                "name": "=" + helpers.place(f"legend.{key}"),
                "categories": "=" + helpers.place("ration_days.day"),
                "values": "=" + helpers.place(f"ration_days.{key}_left"),
                "line": {"color": colour, "dash_type": dash, "width": width},
            }
        )
    chart.set_title({"name": "Litres left in the evening of each day", "name_font": {"size": 11}})
    chart.set_x_axis({"name": "Day", "interval_unit": 5, "interval_tick": 5})
    chart.set_y_axis({"name": "L", "min": 0, "major_gridlines": {"visible": True, "line": {"color": "#D9D9D9"}}})
    chart.set_legend({"position": "bottom"})
    chart.show_hidden_data()
    chart.set_size({"width": 640, "height": 330})
    paper.page.insert_chart(_CHART_ROW, 1, chart, {"object_position": 2})


def _practice(paper: Paper) -> None:
    """The common practice, in its own figures."""
    lines = (
        f'"The first "&{policy("ration.dry-days")}*24&" h: no water but to the injured. After that the same issue to '
        f'each person every day: "&[store.litres]&" L here; usual: "&{policy("ration.litres-per-day")}&" L."',
        f'"The issue of a day is given in "&{policy("ration.issues-a-day")}&" parts. Do not cut it before day "'
        f'&{policy("ration.no-cut-before")}&"; below "&{policy("ration.no-protein-below")}&" L a day eat no fish."',
        '"Rain and desalinators are not counted here: davitbook ration does, and shows each side of the ship lost."',
        '"Common practice of the survival-craft training texts, no rule."',
    )
    for offset, formula in enumerate(lines):
        paper.page.set_row(_WORDS_ROW + offset * 2, LINE_HEIGHT)
        paper.formula_across(_WORDS_ROW + offset * 2, 1, _LAST, formula, paper.formats.plain)


def _parts() -> tuple[str, ...]:
    """A name for each part of a day's issue."""
    number = int(policy_figures()["ration.issues-a-day"])
    return _PARTS if number == len(_PARTS) else tuple(f"Part {part}" for part in range(1, number + 1))


def _table(paper: Paper) -> None:
    """Day by day: the issue of each person in parts, the issue of all, what is left in each case, a box to tick."""
    formats, parts = paper.formats, _parts()
    headings = (
        *("Day", "Each person (L)"),
        *(f"{part} (mL)" for part in parts),
        *("All (L)", "Left: this card (L)", "Left: as assigned (L)", "Left: full (L)", "Given"),
    )
    paper.page.set_row(_TABLE_ROW, 2 * LINE_HEIGHT)
    for column, words in enumerate(headings, start=1):
        paper.write(_TABLE_ROW, column, words, formats.wrapped_heading)
    for day in range(1, DAYS_SHOWN + 1):
        row = _TABLE_ROW + day
        paper.page.set_row(row, 13.5)

        def of(column: str, line: int = day + 1) -> str:
            return f"INDEX([ration_days.{column}],{line})"

        known = '[case.card_days]=""'
        each = f"{of('card_issued')}/[case.card_persons]"
        short = f"{of('card_issued')}<{of('card_asked')}-10^-{_EXACT}"
        paper.formula(row, 0, f'IF({known},"",IF({short},"■",""))', formats.mark)
        paper.write(row, 1, str(day), formats.box)
        on_dry = f"[store.dry]>={day}"
        # beside the mark a word: what is left is less than asked, or there is none
        less = f'IF({of("card_issued")}=0,"water out",IF({on_dry},"too little",ROUND({each},3)&" short"))'
        enough = f'IF({on_dry},"injured only",ROUND({each},3))'
        paper.formula(row, 2, f'IF({known},"",IF({short},{less},{enough}))', formats.figure)
        for index in range(len(parts)):
            paper.formula(
                row,
                3 + index,
                f'IF(OR({known},{on_dry}),"",ROUND({each}*1000/{policy("ration.issues-a-day")},0))',
                formats.figure,
            )
        paper.formula(row, 3 + len(parts), f'IF({known},"",ROUND({of("card_issued")},2))', formats.figure)
        for index, (key, _) in enumerate(CASES, start=4 + len(parts)):
            paper.formula(row, index, f'IF([case.{key}_days]="","",ROUND({of(f"{key}_left")},2))', formats.figure)
        paper.page.write_blank(row, 4 + len(parts) + len(CASES), None, formats.blank)
