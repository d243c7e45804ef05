"""The cell functions as LAMBDA names of Excel 365: no macros, no Python. Written into a small workbook to copy from,
and into a new book of a ship where that is asked for.

The names are made from the rule rows: a sheet of data holds the figures, the formulas only look up. Formulas are
written here as they are typed, with one convention: lower-case words are parameters, [word] is one that may be left
out. `stored` gives them the prefixes of the file format.

What cannot be said so is left out (NOT_EXPRESSED); what is said differently is listed in DIFFERENCES, and gives an
error where the others give a value, never another value.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

import xlsxwriter

from workbook_tools import catalogue
from workbook_tools.catalogue import normalise
from workbook_tools.cells import FUNCTIONS, CellError, asked
from workbook_tools.cells.edition import EDITION, RULES
from workbook_tools.cells.registry import Argument, Function
from workbook_tools.cells.spread import TAKEN_WHOLE
from workbook_tools.core.caution import CAUTION
from workbook_tools.core.quantity import required
from workbook_tools.output import write_whole
from workbook_tools.rules import Rule, load_rule_set, warning_days
from workbook_tools.rules.loader import policies

FILE_NAME = "davitbook-functions.xlsx"
DATA_SHEET = "LSA_Data"
NOT_EXPRESSED = ("LSA_LINE_M", "LSA_CONDITION", "LSA_SOURCE_STATUS")
DIFFERENCES = (
    "An option gives #N/A: these names hold the solas rules on the day of the edition only.",
    "Numbers and dates written as text give #VALUE!.",
    "A construction before the kind of craft (inflated rescue boat) gives #N/A.",
    "An error in an argument passes through as it is (#REF! stays #REF!).",
    "LSA_COVER_WORST_PCT wants its ranges in one shape.",
)
MOST = 1_000_000_000
FIRST_SERIAL, AFTER_LAST_SERIAL = 61, 2_958_466

# Functions younger than the file format, which a file names with a prefix.
_PREFIXES = {
    **dict.fromkeys(
        ("LAMBDA", "LET", "MAKEARRAY", "MAP", "REDUCE", "TEXTSPLIT", "HSTACK", "ISOMITTED", "SEQUENCE"), "_xlfn."
    ),
    "FILTER": "_xlfn._xlws.",
}
_TOKEN = re.compile(r'"(?:[^"]|"")*"|\[[a-z][a-z_]*\]|#[A-Z/0!?]+[!?A]?|[A-Za-z_][A-Za-z0-9_.]*(\()?|.', re.DOTALL)


def stored(formula: str) -> str:
    """A formula as the file holds it: _xlfn. before younger functions, _xlpm. before parameters, _xlop. where one that
    may be left out is declared.
    """
    return "".join(_stored(found[0]) for found in _TOKEN.finditer(formula))


def _stored(token: str) -> str:
    if token.startswith("["):
        return f"_xlop.{token[1:-1]}"
    name = token.removesuffix("(")
    if re.fullmatch(r"[a-z][a-z_]*", name):
        return f"_xlpm.{token}"
    return _PREFIXES.get(name, "") + token if token.endswith("(") else token


# ---- the data --------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Column:
    """A column of the data sheet: its defined name, heading and cells."""

    name: str
    heading: str
    cells: tuple[str | float, ...]


@dataclass(frozen=True, slots=True)
class _Craft:
    """A kind of craft with its pack, and the key it has on the sheet."""

    kind: str
    pack: str

    @property
    def key(self) -> str:
        return f"{self.kind}|{self.pack}"


def _crafts() -> Iterator[_Craft]:
    for kind in catalogue.craft_kinds().values():
        for pack in asked.PACKS if "liferaft" in kind.families else ("",):
            yield _Craft(kind.key, pack)


def _names(entries: Iterable[tuple[str, Sequence[str]]]) -> list[tuple[str, str]]:
    """(name folded, entry) for every name, each once."""
    found = {normalise(name): key for key, others in entries for name in (key, *others)}
    return sorted(found.items())


def columns() -> list[Column]:
    """The data that the formulas look up, made from catalogue and rule rows."""
    items = _names((item.name, item.other_names) for item in catalogue.items().values())
    crafts = _names((kind.key, kind.other_names) for kind in catalogue.craft_kinds().values())
    return [
        Column("LSA_DATA_ITEM", "item folded", tuple(name for name, _ in items)),
        Column("LSA_DATA_ITEM_NAME", "item", tuple(entry for _, entry in items)),
        Column("LSA_DATA_CRAFT", "craft folded", tuple(name for name, _ in crafts)),
        Column("LSA_DATA_KIND", "kind of craft", tuple(entry for _, entry in crafts)),
        *_quantity_columns(),
        *_line_columns(),
        *_list_columns(),
        *_lifebuoy_columns(),
    ]


def _quantity_columns() -> list[Column]:
    rows = [row for craft in _crafts() for item in catalogue.items() for row in _quantity(craft, item)]
    headings = (
        ("LSA_DATA_KEY", "kind, pack, item"),
        ("LSA_DATA_KNOWN", "1: a number is known"),
        ("LSA_DATA_FIXED", "fixed"),
        ("LSA_DATA_PERSON", "for each person"),
        ("LSA_DATA_PERCENT", "percent of persons"),
        ("LSA_DATA_LEAST", "at least"),
        ("LSA_DATA_FROM", "more from persons"),
        ("LSA_DATA_MORE", "so many more"),
        ("LSA_DATA_UNIT", "unit"),
        ("LSA_DATA_PARAGRAPH", "paragraph"),
    )
    return [
        Column(name, heading, tuple(row[number] for row in rows)) for number, (name, heading) in enumerate(headings)
    ]


def _quantity(craft: _Craft, item: str) -> Iterator[tuple[str | float, ...]]:
    """The row of an item in a craft; none where nothing is asked."""
    found = asked.question(item, craft.kind, craft.pack, None)
    key = f"{craft.key}|{item}"
    if found.counted or found.lengths or found.others:
        unit, paragraph = asked.unit(found), asked.reference(found)
    elif found.stands_for:
        unit = paragraph = ""
    else:
        return
    rule = _ruling(found)
    if rule is None:
        yield (key, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, unit, paragraph)
        return
    figures = (rule.fixed, rule.per_person, rule.percent, rule.minimum, rule.threshold or 0.0, rule.extra)
    yield (key, 1.0, *figures, unit, paragraph)


def _ruling(found: asked.Question) -> Rule | None:
    """The row that decides for every number of persons, or None where a fact not given decides."""
    persons = range(1, 401)
    for entry in found.counted:
        if entry.sure and all(required(entry.rule, number) == _answer_or_none(found, number) for number in persons):
            return entry.rule
    return None


def _answer_or_none(found: asked.Question, persons: int) -> float | None:
    try:
        return asked.number_asked(found, persons)
    except CellError:
        return None


def _line_columns() -> list[Column]:
    rows: list[tuple[str, float, float, float]] = []
    for kind in catalogue.craft_kinds():
        found = asked.question("painter", kind, None, None)
        if len(found.lengths) == 1 and found.lengths[0].sure:
            rule = found.lengths[0].rule
            rows.append((kind, rule.fixed, rule.per_height, rule.minimum))
    return [
        Column("LSA_DATA_LINE_KIND", "painter of", tuple(row[0] for row in rows)),
        Column("LSA_DATA_LINE_FIXED", "metres", tuple(row[1] for row in rows)),
        Column("LSA_DATA_LINE_TIMES", "times the height", tuple(row[2] for row in rows)),
        Column("LSA_DATA_LINE_LEAST", "at least", tuple(row[3] for row in rows)),
    ]


def _list_columns() -> list[Column]:
    rows = [(craft.key, *line) for craft in _crafts() for line in asked.checklist(craft.kind, craft.pack, None)]
    return [
        Column("LSA_DATA_LIST_KEY", "list of", tuple(row[0] for row in rows)),
        Column("LSA_DATA_LIST_ITEM", "item", tuple(row[1] for row in rows)),
        Column("LSA_DATA_LIST_ASKED", "asked", tuple(row[2] for row in rows)),
        Column("LSA_DATA_LIST_PARAGRAPH", "paragraph", tuple(row[3] for row in rows)),
    ]


def _lifebuoy_columns() -> list[Column]:
    ships = _names((ship.key, ship.other_names) for ship in catalogue.ship_types().values())
    families = {name: catalogue.ship_types()[key].family for name, key in ships}
    families = {**{family: family for family in sorted(set(families.values()))}, **families}
    bands = sorted(
        (rule.condition.clauses[0][1][0], rule.band_from or 0.0, rule.fixed)
        for rule in load_rule_set(RULES).of_subject("ship")
        if rule.item == "lifebuoy" and rule.band_by == "length_m" and rule.in_force(EDITION)
    )
    return [
        Column("LSA_DATA_SHIP", "ship folded", tuple(families)),
        Column("LSA_DATA_FAMILY", "family", tuple(families.values())),
        Column("LSA_DATA_BAND_FAMILY", "lifebuoys of", tuple(band[0] for band in bands)),
        Column("LSA_DATA_BAND_FROM", "from metres", tuple(band[1] for band in bands)),
        Column("LSA_DATA_BAND_NUMBER", "lifebuoys", tuple(band[2] for band in bands)),
    ]


# ---- the formulas ----------------------------------------------------------------------------------------------

_MARKS = "-/.,'()_*?~&+:;#!%@=<>|[]{}\\"


def helpers() -> dict[str, str]:
    """Names that the functions share."""
    marks = ",".join(f'"{mark}"' for mark in _MARKS)
    packs = ",".join(f'letter="{pack}"' for pack in asked.PACKS)
    ends = ",".join(f'RIGHT(word,2)<>"{end}"' for end in ("ss", "us", "is"))
    return {
        # as the catalogue folds a name: small letters, no marks, no plain plural
        "LSA_H_FOLD": (
            "=LAMBDA(text,LET("
            f'plain,TRIM(REDUCE(LOWER(text),{{{marks}}},LAMBDA(kept,mark,SUBSTITUTE(kept,mark," ")))),'
            'IF(plain="","",REDUCE("",TEXTSPLIT(plain," "),LAMBDA(kept,word,kept&IF(kept="",""," ")&'
            f'IF(AND(LEN(word)>3,RIGHT(word,1)="s",{ends}),LEFT(word,LEN(word)-1),word))))))'
        ),
        # one cell of a range; a single row or column serves all
        "LSA_H_AT": (
            "=LAMBDA(given,downward,sideward,IF(ROWS(given)*COLUMNS(given)=1,given,"
            "IF(OR(AND(ROWS(given)>1,downward>ROWS(given)),AND(COLUMNS(given)>1,sideward>COLUMNS(given))),NA(),"
            "INDEX(given,IF(ROWS(given)=1,1,downward),IF(COLUMNS(given)=1,1,sideward)))))"
        ),
        "LSA_H_BLANK": '=LAMBDA(value,IF(ISERROR(value),FALSE,TRIM(value)=""))',
        "LSA_H_NONE": (
            '=LAMBDA(value,IF(ISERROR(value),FALSE,IF(TRIM(value)="",TRUE,IF(ISNUMBER(value),value=0,FALSE))))'
        ),
        "LSA_H_NUMBER": (
            "=LAMBDA(number,IF(ISERROR(number),number,IF(NOT(ISNUMBER(number)),#VALUE!,"
            f"IF(number<0,#VALUE!,IF(number>{MOST},#NUM!,number)))))"
        ),
        "LSA_H_WHOLE": (
            "=LAMBDA(number,LET(read,LSA_H_NUMBER(number),IF(ISERROR(read),read,IF(read=INT(read),read,#VALUE!))))"
        ),
        "LSA_H_DAY": (
            "=LAMBDA(day,IF(ISERROR(day),day,IF(NOT(ISNUMBER(day)),#VALUE!,"
            "IF(AND(day>=1900,day<=2200,day=INT(day)),#VALUE!,"
            f"IF(OR(day<{FIRST_SERIAL},day>={AFTER_LAST_SERIAL}),#NUM!,INT(day))))))"
        ),
        "LSA_H_KIND": "=LAMBDA(craft,INDEX(LSA_DATA_KIND,MATCH(LSA_H_FOLD(craft),LSA_DATA_CRAFT,0)))",
        "LSA_H_KEY": (
            "=LAMBDA(craft,pack,option,IF(NOT(LSA_H_BLANK(option)),NA(),LET(kind,LSA_H_KIND(craft),"
            'letter,SUBSTITUTE(SUBSTITUTE(SUBSTITUTE(SUBSTITUTE(UPPER(pack),"SOLAS",""),"PACK",""),"-","")," ",""),'
            "IF(ISERROR(kind),kind,"
            f'IF(NOT(OR(letter="",{packs})),#VALUE!,'
            'kind&"|"&IF(ISNUMBER(SEARCH("liferaft",kind)),IF(letter="","A",letter),""))))))'
        ),
        "LSA_H_ROW": (
            "=LAMBDA(item,craft,pack,option,LET("
            "name,INDEX(LSA_DATA_ITEM_NAME,MATCH(LSA_H_FOLD(item),LSA_DATA_ITEM,0)),"
            "key,LSA_H_KEY(craft,pack,option),"
            'IF(ISERROR(name),name,IF(ISERROR(key),key,IFERROR(MATCH(key&"|"&name,LSA_DATA_KEY,0),0)))))'
        ),
        "LSA_H_QUANTITY": (
            "=LAMBDA(item,craft,pack,option,persons,LET("
            "row_number,LSA_H_ROW(item,craft,pack,option),people,LSA_H_WHOLE(persons),"
            "IF(ISERROR(row_number),row_number,IF(ISERROR(people),people,IF(row_number=0,0,"
            "IF(INDEX(LSA_DATA_KNOWN,row_number)=0,NA(),"
            "MAX(INDEX(LSA_DATA_LEAST,row_number),ROUND("
            "INDEX(LSA_DATA_FIXED,row_number)+INDEX(LSA_DATA_PERSON,row_number)*people"
            "+ROUNDUP(ROUND(INDEX(LSA_DATA_PERCENT,row_number)*people/100,9),0)"
            "+IF(AND(INDEX(LSA_DATA_FROM,row_number)>0,people>=INDEX(LSA_DATA_FROM,row_number)),"
            "INDEX(LSA_DATA_MORE,row_number),0),9))))))))"
        ),
    }


def bodies() -> dict[str, str]:
    """What each function does with one value of each argument, named its_<argument>; blanks and errors are seen to."""
    charges = {rule.key: rule for rule in load_rule_set(RULES).rules if rule.key.startswith("fire.spare-charges")}
    share, most = charges["fire.spare-charges"], charges["fire.spare-charges-most"]
    first = f"{share.threshold or 0:g}"
    practice = {key: f"{policies()[key].value:g}" for key in ("ration.litres-per-day", "ration.dry-days")}
    ration = (
        f"each,IF(LSA_H_NONE(its_litres_per_day),{practice['ration.litres-per-day']},LSA_H_NUMBER(its_litres_per_day)),"
        f"dry,IF(LSA_H_BLANK(its_dry_days),{practice['ration.dry-days']},LSA_H_NUMBER(its_dry_days)),"
        "water,LSA_H_NUMBER(its_litres),people,LSA_H_WHOLE(its_persons),"
    )
    days = "ends,LSA_H_DAY(its_expiry),today,LSA_H_DAY(its_on_date),"
    return {
        "LSA_REQUIRED": "LSA_H_QUANTITY(its_item,its_craft_type,its_pack,its_option,its_persons)",
        "LSA_SHORT": (
            "LET(needed,LSA_H_QUANTITY(its_item,its_craft_type,its_pack,its_option,its_persons),"
            "there,LSA_H_NUMBER(its_carried),"
            "IF(ISERROR(needed),needed,IF(ISERROR(there),there,MAX(0,ROUND(needed-there,9)))))"
        ),
        "LSA_SOURCE": _looked_up("LSA_DATA_PARAGRAPH", '""'),
        "LSA_UNIT": _looked_up("LSA_DATA_UNIT", "its_option"),
        "LSA_ITEMS": (
            'LET(key,LSA_H_KEY(its_craft_type,its_pack,""),IF(ISERROR(key),key,'
            "FILTER(HSTACK(LSA_DATA_LIST_ITEM,LSA_DATA_LIST_ASKED,LSA_DATA_LIST_PARAGRAPH),LSA_DATA_LIST_KEY=key)))"
        ),
        "LSA_WATER_L": 'LSA_H_QUANTITY("fresh water",its_craft_type,its_pack,its_option,its_persons)',
        "LSA_FOOD_KJ": 'LSA_H_QUANTITY("food ration",its_craft_type,its_pack,"",its_persons)',
        "LSA_TPA": 'LSA_H_QUANTITY("thermal protective aid","lifeboat","","",its_persons)',
        "LSA_PAINTER_M": (
            "LET(height,LSA_H_NUMBER(its_stowage_height_m),"
            "line,MATCH(LSA_H_KIND(its_craft_type),LSA_DATA_LINE_KIND,0),"
            "IF(ISERROR(height),height,IF(ISERROR(line),line,MAX(INDEX(LSA_DATA_LINE_LEAST,line),"
            "ROUND(INDEX(LSA_DATA_LINE_FIXED,line)+INDEX(LSA_DATA_LINE_TIMES,line)*height,9)))))"
        ),
        "LSA_LIFEBUOYS": (
            "LET(length,LSA_H_NUMBER(its_length_m),"
            "family,INDEX(LSA_DATA_FAMILY,MATCH(LSA_H_FOLD(its_ship_type),LSA_DATA_SHIP,0)),"
            "IF(ISERROR(length),length,IF(ISERROR(family),family,INDEX(LSA_DATA_BAND_NUMBER,"
            "MATCH(family,LSA_DATA_BAND_FAMILY,0)-1"
            "+SUMPRODUCT((LSA_DATA_BAND_FAMILY=family)*(LSA_DATA_BAND_FROM<=length))))))"
        ),
        "LSA_STATUS": (
            f"LET({days}"
            f"warning,IF(LSA_H_BLANK(its_warn_days),{warning_days('*').value:g},LSA_H_WHOLE(its_warn_days)),"
            "IF(ISERROR(warning),warning,IF(ISERROR(ends),ends,IF(ISERROR(today),today,"
            'IF(ends<today,"expired",IF(ends-today<=warning,"due","in date"))))))'
        ),
        "LSA_DAYS_LEFT": f"LET({days}IF(ISERROR(ends),ends,IF(ISERROR(today),today,ends-today)))",
        "LSA_NEXT_DUE": (
            "LET(begun,LSA_H_DAY(its_last_done),"
            'text,IF(ISTEXT(its_interval),UPPER(SUBSTITUTE(its_interval," ","")),""),'
            'place,MIN(FIND({"D","W","M","Y"},text&"DWMY")),digits,LEFT(text,place-1),word,MID(text,place,9),'
            'strange,REDUCE(digits,{"0","1","2","3","4","5","6","7","8","9"},'
            'LAMBDA(kept,mark,SUBSTITUTE(kept,mark,""))),'
            'letter,IF(ISNUMBER(MATCH(word,{"D","DAY","DAYS","W","WEEK","WEEKS","M","MONTH","MONTHS","Y","YEAR",'
            '"YEARS"},0)),LEFT(word,1),""),'
            'IF(ISERROR(begun),begun,IF(OR(letter="",digits="",strange<>"",LEN(digits)>4),#VALUE!,'
            "LET(count,VALUE(digits),IF(count=0,#VALUE!,"
            'IF(letter="M",EDATE(begun,count),IF(letter="Y",EDATE(begun,12*count),'
            'LET(due,begun+count*IF(letter="W",7,1),'
            f"IF(due>={AFTER_LAST_SERIAL},#NUM!,due)))))))))"
        ),
        "LSA_COVER_PCT": (
            "LET(people,LSA_H_WHOLE(its_persons),"
            f"places,SUM(MAP(its_capacities,LAMBDA(place,{_PLACE}))),"
            "IF(ISERROR(people),people,IF(ISERROR(places),places,ROUND(100*places/people,9))))"
        ),
        "LSA_COVER_WORST_PCT": (
            "LET(people,LSA_H_WHOLE(its_persons),size,ROWS(its_capacities)*COLUMNS(its_capacities),"
            "easily,IF(ROWS(its_transferable)*COLUMNS(its_transferable)=1,"
            "MAP(its_capacities,LAMBDA(place,its_transferable)),its_transferable),"
            "IF(ISERROR(people),people,IF(OR(size<>ROWS(its_sides)*COLUMNS(its_sides),"
            "size<>ROWS(easily)*COLUMNS(easily)),#VALUE!,"
            f"LET(places,MAP(its_capacities,its_sides,LAMBDA(place,side,{_CHECKED_PLACE})),"
            "total,SUM(places),"
            f"without_port,SUM(MAP(places,its_sides,easily,LAMBDA(place,side,moved,{_on('starboard', 'stbd', 's')}))),"
            f"without_starboard,SUM(MAP(places,its_sides,easily,LAMBDA(place,side,moved,{_on('port', 'p')}))),"
            "IF(ISERROR(total),total,IF(ISERROR(without_port),without_port,"
            "ROUND(100*MIN(total-MAX(places),without_port,without_starboard)/people,9)))))))"
        ),
        "LSA_RATION_DAYS": (
            f"LET({ration}"
            "IF(ISERROR(each),each,IF(ISERROR(dry),dry,IF(ISERROR(people),people,IF(ISERROR(water),water,"
            "ROUND(dry+water/(people*each),9))))))"
        ),
        "LSA_RATION_PLAN": (
            f"LET({ration}span,LSA_H_WHOLE(its_days),"
            "IF(ISERROR(each),each,IF(ISERROR(dry),dry,IF(ISERROR(people),people,IF(ISERROR(water),water,"
            "IF(ISERROR(span),span,IF(dry<>INT(dry),#VALUE!,IF(span>366,#NUM!,"
            "LET(rest,LAMBDA(day,ROUND(MAX(0,water-each*people*MAX(0,day-dry)),9)),"
            "MAKEARRAY(span,4,LAMBDA(day,part,IF(part=1,day,IF(part=4,rest(day),"
            "ROUND((rest(day-1)-rest(day))/IF(part=2,people,1),9)))))))))))))"
            ")"
        ),
        "LSA_IMO_OK": (
            "LET(text,UPPER(TRIM(its_imo_number)),digits,RIGHT(text,7),"
            'before,SUBSTITUTE(LEFT(text,LEN(text)-LEN(digits))," ",""),'
            'strange,REDUCE(digits,{"0","1","2","3","4","5","6","7","8","9"},'
            'LAMBDA(kept,mark,SUBSTITUTE(kept,mark,""))),'
            "IF(ISLOGICAL(its_imo_number),#VALUE!,"
            'IF(OR(LEN(digits)<>7,strange<>"",'
            'NOT(ISNUMBER(MATCH("x"&before,{"x","xIMO","xNO","xNO.","xNUMBER","xIMONO","xIMONO.","xIMONUMBER"},0)))),0,'
            "IF(MOD(SUMPRODUCT(MID(digits,{1,2,3,4,5,6},1)*{7,6,5,4,3,2}),10)=VALUE(RIGHT(digits,1)),1,0))))"
        ),
        "FFA_SPARE_CHARGES": (
            "LET(number,LSA_H_WHOLE(its_extinguishers),IF(ISERROR(number),number,"
            f"MIN({most.fixed:g},MIN(number,{first})"
            f"+ROUNDUP(ROUND({share.percent:g}*MAX(0,number-{first})/100,9),0))))"
        ),
    }


_PLACE = 'IF(ISERROR(place),place,IF(TRIM(place)="",0,LSA_H_WHOLE(place)))'
_CHECKED_PLACE = (
    "IF(ISERROR(place),place,IF(ISERROR(side),side,"
    'IF(AND(TRIM(place)="",TRIM(side)=""),0,IF(OR(TRIM(place)="",TRIM(side)=""),#VALUE!,LSA_H_WHOLE(place)))))'
)
_SIDES = "port p starboard stbd s aft stern a"


def _on(*words: str) -> str:
    """The persons of a craft that can be used on a side, 0 where it cannot."""
    known = ",".join(f'"{word}"' for word in _SIDES.split())
    here = ",".join(f'LOWER(TRIM(side))="{word}"' for word in words)
    yes, no = (
        ",".join(f'LOWER(TRIM(moved))="{word}"' for word in group)
        for group in (("yes", "y", "true", "1"), ("", "no", "n", "false", "0"))
    )
    return (
        "IF(ISERROR(place),place,IF(ISERROR(moved),moved,"
        'IF(TRIM(side)="",0,'
        f"IF(OR({yes}),place,IF(NOT(OR({no})),#VALUE!,"
        f"IF(OR({here}),place,IF(ISNUMBER(MATCH(LOWER(TRIM(side)),{{{known}}},0)),0,#VALUE!)))))))"
    )


def _looked_up(column: str, option: str) -> str:
    return (
        f"LET(row_number,LSA_H_ROW(its_item,its_craft_type,its_pack,{option}),"
        "IF(ISERROR(row_number),row_number,IF(row_number=0,NA(),"
        f'IF(INDEX({column},row_number)="",NA(),INDEX({column},row_number)))))'
    )


def formulas() -> dict[str, str]:
    """Every name and its formula as typed, helpers first."""
    return {**helpers(), **{name: _wrapped(FUNCTIONS[name], body) for name, body in bodies().items()}}


def _wrapped(function: Function, body: str) -> str:
    """A function around its body: arguments left out, ranges, errors and blanks.

    Inside, each argument goes by the name its_<argument>.
    """
    arguments = function.arguments
    declared = ",".join(f"[{argument.name}]" if argument.optional else argument.name for argument in arguments)
    own = [f"its_{argument.name}" for argument in arguments]
    given = [
        f'IF(ISOMITTED({argument.name}),"",{argument.name})' if argument.optional else argument.name
        for argument in arguments
    ]
    one = f"LAMBDA({','.join(own)},{_guarded(arguments, body)})"
    whole = function.result == "table" or any(argument.kind in TAKEN_WHOLE for argument in arguments)
    if whole:
        return f"=LAMBDA({declared},LET(one,{one},one({','.join(given)})))"
    lets = "".join(f"all_{argument.name},{value}," for argument, value in zip(arguments, given, strict=True))
    every = [f"all_{argument.name}" for argument in arguments]
    cells = ",".join(f"LSA_H_AT({name},downward,sideward)" for name in every)
    height = f"MAX({','.join(f'ROWS({name})' for name in every)})"
    width = f"MAX({','.join(f'COLUMNS({name})' for name in every)})"
    return (
        f"=LAMBDA({declared},LET({lets}one,{one},height_of_all,{height},width_of_all,{width},"
        f"IF(height_of_all*width_of_all=1,one({','.join(every)}),"
        f"MAKEARRAY(height_of_all,width_of_all,LAMBDA(downward,sideward,one({cells}))))))"
    )


def _guarded(arguments: Sequence[Argument], body: str) -> str:
    """An error passes through; a blank argument that is needed gives blank."""
    blank = ",".join(_blank_test(argument) for argument in arguments if not argument.optional)
    text = f'IF(OR({blank}),"",{body})'
    for argument in reversed(arguments):
        if argument.kind not in TAKEN_WHOLE:
            text = f"IF(ISERROR(its_{argument.name}),its_{argument.name},{text})"
    return text


def _blank_test(argument: Argument) -> str:
    name = f"its_{argument.name}"
    if argument.kind in TAKEN_WHOLE:
        filled = f'SUM(MAP({name},LAMBDA(part,IF(ISERROR(part),1,IF(TRIM(part)="",0,1)))))'
        return f"IF(ROWS({name})*COLUMNS({name})=1,LSA_H_BLANK({name}),{filled}=0)"
    return f"LSA_H_NONE({name})" if argument.zero_is_blank else f"LSA_H_BLANK({name})"


# ---- the workbook ----------------------------------------------------------------------------------------------


def workbook() -> bytes:
    """The functions workbook: a sheet that shows them, a sheet of data, and the names."""
    buffer = io.BytesIO()
    with xlsxwriter.Workbook(buffer, {"in_memory": True}) as book:
        book.set_properties({"created": datetime(EDITION.year, EDITION.month, EDITION.day)})  # the same bytes each time
        shown = book.add_worksheet("Functions")
        data = book.add_worksheet(DATA_SHEET)
        bold = book.add_format({"bold": True})
        write_names(book, data, 0, 0, bold)
        _show(shown, bold, book.add_format({"text_wrap": True, "valign": "top"}))
    return buffer.getvalue()


def write_names(
    book: xlsxwriter.Workbook, data: xlsxwriter.worksheet.Worksheet, row: int, column: int, heading: Any
) -> None:
    """Write every name into a workbook, and the data they look up onto a sheet of it: headings in a row from a column
    on, both counted from 0.
    """
    for number, one in enumerate(columns(), start=column):
        letter = xlsxwriter.utility.xl_col_to_name(number, True)
        data.write_string(row, number, one.heading, heading)
        for line, cell in enumerate(one.cells, start=row + 1):
            data.write(line, number, cell) if isinstance(cell, float) else data.write_string(line, number, cell)
        book.define_name(one.name, f"={data.get_name()}!{letter}${row + 2}:{letter}${row + 1 + len(one.cells)}")
    for name, formula in formulas().items():
        book.define_name(name, stored(formula))


def _show(sheet: xlsxwriter.worksheet.Worksheet, bold: object, wrapped: object) -> None:
    sheet.set_column(0, 0, 62)
    sheet.set_column(1, 2, 24)
    sheet.set_column(3, 3, 90)
    notes = [
        "Functions for Excel 365 without macros and without Python",
        CAUTION,
        f"Rules in force on {EDITION.isoformat()}. To use them in a book of yours: right-click the tab {DATA_SHEET}, "
        "Move or Copy, choose the book, Create a copy: the names go with the sheet.",
        *DIFFERENCES,
        f"Not here: {', '.join(NOT_EXPRESSED)}.",
    ]
    for number, note in enumerate(notes):
        sheet.write_string(number, 0, note, bold if not number else None)
    start = len(notes) + 1
    for number, heading in enumerate(("Formula", "Answer", "Must be", "What it gives")):
        sheet.write_string(start, number, heading, bold)
    line = start
    for name in bodies():
        function = FUNCTIONS[name]
        for formula, value in function.examples:
            if _has_option(formula):
                continue
            line += 1
            sheet.write_string(line, 0, formula)
            sheet.write_dynamic_array_formula(line, 1, line, 1, formula, None, value)
            sheet.write(line, 2, value) if isinstance(value, float) else sheet.write_string(line, 2, value)
            sheet.write_string(line, 3, function.help, wrapped)


def _has_option(formula: str) -> bool:
    """Whether an example uses what these names do not hold."""
    return "=" in formula[1:] or formula.count('"IMO') > 1


def build(out_dir: Path) -> Path:
    """Write the functions workbook into a folder, which is made where it is missing, and return its path."""
    out_dir.mkdir(parents=True, exist_ok=True)
    target = out_dir / FILE_NAME
    write_whole(target, workbook())
    return target
