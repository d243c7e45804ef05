"""Hidden: every rule of every craft, what it asks, what counts for it, how it ends, and when it will no longer be met.

The same three values of evidence as in checks/equipment.py: sure passes, too little even at best is a finding, and
anything between is not evaluated.
"""

from __future__ import annotations

from itertools import groupby
from typing import Any

from workbook_tools.book.calculated.grid import Figured, write_grid
from workbook_tools.book.calculated.lists import answered_here
from workbook_tools.book.calculated.lots import DATED_KEY, KEY, NEVER
from workbook_tools.book.calculated.rule_rows import most_standings, rule_rows, standings
from workbook_tools.book.calculated.substitutes import held
from workbook_tools.book.calculated.writer import MOST_ROWS, CalculatedBook
from workbook_tools.book.layout import FIRST_ROW
from workbook_tools.catalogue import items
from workbook_tools.columns.calculated import BY_CERTIFICATE, ENOUGH, EXPIRED, LAPSES, OPEN, SEE_CHECK, SHORT
from workbook_tools.rules import warning_days
from workbook_tools.rules.loader import rule_set_names

# How a line ends, the stricter the higher: of two like rules for one boat the stricter stands.
NOT_APPLICABLE, PASSED, NOT_EVALUATED, FINDING, CHECK = range(5)


def most_lines_a_craft() -> int:
    """The most rules that one craft can have: a lifeboat that is the rescue boat too, or a raft with her pack."""
    counts = []
    for name in rule_set_names():
        own = [rule for owner, rule in rule_rows() if owner == name and answered_here(rule)]
        number = {subject: sum(rule.subject == subject for rule in own) for subject in {r.subject for r in own}}
        counts.append(number.get("lifeboat", 0) + number.get("rescue-boat", 0))
        counts.append(number.get("liferaft", 0) + max(number.get("liferaft-a", 0), number.get("liferaft-b", 0)))
    return max(counts)


def line_rows(craft: int) -> int:
    """Lines made ready for so many craft: enough whatever their kinds."""
    return craft * most_lines_a_craft()


def _rule(column: str) -> str:
    return f"INDEX([rules.{column}],[rule])"


def _craft(column: str) -> str:
    return f"INDEX([craft.{column}],[craft])"


_FIGURE = f"INDEX([craft.figures],[craft],{_rule('figure')})"


def _lots(amount: str, conditions: str) -> str:
    """A sum over the lots of the rule's own item."""
    return f"SUMIFS([lots.{amount}],[lots.key],[key],{conditions})"


def _wide(amount: str, conditions: str) -> str:
    """A sum over the lots that count as the rule's item without being it."""
    return "+".join(f"SUMIFS([lots.{amount}],[lots.{key}],[key],{conditions})" for key in ("key1", "key2"))


def _number(conditions: str) -> str:
    return f"COUNTIFS([lots.key],[key],{conditions})"


_GOOD = '[lots.date],">="&[ship.asked]'
_ANY_GOOD = f'[lots.class],">0",{_GOOD}'
_GONE = '[lots.date],"<"&[ship.asked]'
_LONG = ',[lots.length],">="&[asked]*[factor]'
_TOO_SHORT = ',[lots.length],"<"&[asked]*[factor]'
_MEASURED = ',[lots.length],">=0"'
_COUNTED = "OR([kind]=1,[kind]=2)"


def _sum(amount: str, conditions: str) -> str:
    """What counts for a rule, in its unit."""
    wide = f"IF([wide]=1,{_wide(amount, conditions)},0)"
    return f"IF(OR([lots]=0,[kind]=3),0,({_lots(amount, conditions)}+{wide})/[factor])"


def _of_lines(count: str) -> str:
    """What is counted only for a rule on the length of lines."""
    return f"IF(AND([kind]=3,[lots]>0),{count},0)"


def _stand_in(function: str, column: str) -> str:
    """A sum or a maximum over what may stand in the place of the rule's item: these stand side by side."""
    most = max(len(list(own)) for _, own in groupby(standings(), key=lambda entry: (entry.rule_set, entry.row)))
    terms = [f"INDEX([subs.{column}],[stand_first])"] + [
        f"IF([stand_last]-[stand_first]>={more},INDEX([subs.{column}],[stand_first]+{more}),0)"
        for more in range(1, most)
    ]
    return f"IF([stand_first]=0,0,{function}({','.join(terms)}))"


def _enough(amount: str) -> str:
    return f"{amount}>=[need]"


_FORCE = (
    f"IF([rule]=0,0,IF(OR([ship.asked]<{_rule('from')},AND({_rule('until')}>0,[ship.asked]>{_rule('until')})),0,"
    f'IF(AND({_rule("keel_from")}=0,{_rule("keel_until")}=0),1,IF([ship.keel]="",3,'
    f"IF(OR([ship.keel]<{_rule('keel_from')},AND({_rule('keel_until')}>0,[ship.keel]>{_rule('keel_until')})),0,1)))))"
)
_BAND = (
    f"IF([force]<>1,[force],IF(AND({_rule('band_from')}=0,{_rule('band_until')}=0),1,"
    f'IF([persons]="",IF({_rule("first")}=1,3,0),'
    f"IF(OR([persons]<{_rule('band_from')},AND({_rule('band_until')}>0,"
    f"[persons]>={_rule('band_until')})),0,1))))"
)
# 0 no, 1 yes, 2 a fact that the condition asks is not recorded, 3 nor is what decides which row is in force
_APPLIES = "IF([band]<>1,[band],IF(OR([clause1]=0,[clause2]=0),0,MAX([clause1],[clause2])))"
_ASKED = (
    'IF(OR([rule]=0,[applies]=0,[applies]=3),"",'
    f'IF(OR(AND({_rule("needs_persons")}=1,[persons]=""),'
    f'AND(N({_rule("per_height")})>0,[height]="")),"",'
    f"ROUND(MAX(N({_rule('minimum')}),N({_rule('fixed')})+N({_rule('per_person')})*N([persons])"
    f"+ROUNDUP(ROUND(N({_rule('percent')})*N([persons])/100,9),0)"
    f'+IF({_rule("threshold")}="",0,IF(N([persons])>={_rule("threshold")},N({_rule("extra")}),0))'
    f"+N({_rule('per_height')})*N([height])),9)))"
)

_INVENTORY = (
    f"IF({_enough('[sure]')},{PASSED},"
    f"IF([unread]>0,{CHECK},IF({_craft('lots')}=0,{NOT_EVALUATED},"
    f"IF({_enough('[best]')},{NOT_EVALUATED},IF([kind]=2,{NOT_EVALUATED},{FINDING})))))"
)
_NEEDED = (
    f"IF({_rule('needed')}=0,1,"
    f"MAX(N(INDEX([rules.minimum],{_rule('needed')})),N(INDEX([rules.fixed],{_rule('needed')}))))"
)
_LENGTH = (
    f"IF([long]>={_NEEDED},{PASSED},IF([unread]>0,{CHECK},"
    f"IF(AND([short]>0,[long]+[unknown]<{_NEEDED},[doubtful]=0),{FINDING},{NOT_EVALUATED})))"
)
_SEALED = (
    f"IF({_craft('certificate')}=0,IF({_craft('elsewhere')}+[unread]>0,{CHECK},{NOT_EVALUATED}),"
    f'IF({_rule("sealed")}=0,{PASSED},IF({_craft("earliest")}="",IF([unread]>0,{CHECK},{NOT_EVALUATED}),'
    f"IF({_craft('earliest')}<[ship.asked],{NOT_EVALUATED},{PASSED}))))"
)
_PACK = (
    f'IF({_craft("pack")}="A",{PASSED},IF({_craft("pack")}="B",{FINDING},'
    f'IF({_craft("pack")}="",{NOT_EVALUATED},{CHECK})))'
)
_LIMIT = (
    f'IF({_FIGURE}="",IF([unread]>0,{CHECK},{NOT_EVALUATED}),'
    f"IF(IF({_rule('at_most')}=1,{_FIGURE}<=[asked],{_FIGURE}>=[asked]),{PASSED},{FINDING}))"
)
_FIRST_STATE = (
    f"IF([rule]=0,{NOT_APPLICABLE},"
    f"IF({_craft('doubts')}>0,IF({_rule('first')}=1,{CHECK},{NOT_APPLICABLE}),"
    f"IF({_craft('clear')}=0,IF({_rule('first')}=1,{NOT_EVALUATED},{NOT_APPLICABLE}),"
    f'IF([applies]=0,{NOT_APPLICABLE},IF(OR([applies]=3,[asked]=""),{NOT_EVALUATED},[judged])))))'
)
_JUDGED = (
    f'IF(OR([rule]=0,[asked]=""),{NOT_APPLICABLE},IF({_COUNTED},{_INVENTORY},IF([kind]=3,{_LENGTH},IF([kind]=4,{_SEALED},'
    f"IF([kind]=5,{_PACK},{_LIMIT})))))"
)
# a condition that asks a fact which is not recorded cannot make a fault
_DOUBTED = f"IF(AND([applies]=2,[first state]={FINDING}),IF([unread]>0,{CHECK},{NOT_EVALUATED}),[first state])"

# A lifeboat that is the rescue boat too carries what the larger of two like rules asks (LSA Code 5.1.1.1).
_TWIN = (
    "IF([rule]=0,0,"
    f'IF(OR({_rule("twin")}=0,{_craft("second")}<>"rescue-boat"),0,'
    f"IF([place]<{_craft('count1')},{_craft('start')}+{_craft('count1')}+1+{_rule('twin')}-{_craft('first2')},"
    f"{_craft('start')}+1+{_rule('twin')}-{_craft('first1')})))"
)
_TWIN_STATE = "INDEX([doubted:],[twin])"


_OWN, _OTHER = f"MIN([doubted],{FINDING})", f"MIN({_TWIN_STATE},{FINDING})"
_TWIN_ASKED = "N(INDEX([asked:],[twin]))"
_STATE = (
    f"IF([twin]=0,[doubted],IF(OR([doubted]={NOT_APPLICABLE},{_TWIN_STATE}={NOT_APPLICABLE}),[doubted],"
    f"IF(N([asked])<>{_TWIN_ASKED},IF(N([asked])>{_TWIN_ASKED},[doubted],{NOT_APPLICABLE}),"
    f"IF({_OWN}<>{_OTHER},IF({_OWN}>{_OTHER},[doubted],{NOT_APPLICABLE}),"
    f"IF([number]<[twin],[doubted],{NOT_APPLICABLE})))))"
)


def longest_lead() -> int:
    """The longest lead time of any item, in days."""
    return max(int(warning_days(item.group).value) for item in items().values())


def steps() -> list[int]:
    """Powers of two that reach every day of the longest lead time, the largest first."""
    return [2**power for power in reversed(range((longest_lead() + 1).bit_length()))]


# Today's stock that has no date and counts besides the rule's own item stays; where such a lot has one, the day on
# which too little is left is for davitbook check.
_WIDE_DATED = "+".join(
    f'COUNTIFS([lots.{key}],[key],[lots.class],">0",[lots.date],"<{NEVER}")' for key in ("key1", "key2")
)
_WIDE_LAPSING = "+".join(
    f'COUNTIFS([lots.{key}],[key],{_ANY_GOOD},[lots.date],"<="&([ship.asked]+[lead]))' for key in ("key1", "key2")
)


_END = '[lots.date],">="&([ship.asked]+[lead]+1)'
_ENOUGH_AT_END = (
    f"({_lots('at_best', _END)}+IF([wide]=1,{_wide('at_best', _END)},0))/[factor]+{_stand_in('MAX', 'at_end')}>=[need]"
)


def _still_enough(days: str) -> str:
    """Whether what is carried suffices, at best, so many days after the day asked."""
    return f'SUMIFS([lots.at_best],[lots.key],[key],[lots.date],">="&([ship.asked]+{days}))/[factor]+[besides]>=[need]'


_LAPSING = (
    f"IF(AND([state]={PASSED},{_COUNTED},[lots]>0),"
    + _number(_ANY_GOOD + ',[lots.date],"<="&([ship.asked]+[lead])')
    + ",0)"
)


def _bits() -> list[Figured]:
    """The largest number of days for which it still suffices, found bit by bit."""
    found: list[Figured] = []
    for index, step in enumerate(steps(), start=1):
        before = f"[day{index - 1}]" if found else "0"
        found.append(
            Figured(
                f"day{index}",
                f"days {index}",
                f"IF([watch]=0,0,IF({before}+{step}>[lead],{before},"
                f"IF({_still_enough(f'{before}+{step}')},{before}+{step},{before})))",
                6,
            )
        )
    return found


# 3 action required, 2 due, 1 a note, 0 nothing to say
_GRADE = "IF(AND([words]>=4,[words]<=8),IF([extra]=1,1,3),IF([words]=3,IF([extra]=1,1,2),0))"

# Which words of WORDS a line has on the Required sheet.
WORDS = (
    (ENOUGH, ""),
    (BY_CERTIFICATE, ""),
    (LAPSES, "order, so that it is on board before the day in 'Enough until'"),
    (EXPIRED, "replace what has expired, and take it out of the craft"),
    (SHORT, "put the missing quantity on board, or correct the line"),
    (SHORT, "renew the line at the length asked, or correct the length"),
    (SHORT, "have an A pack fitted at an approved servicing station, or correct the column"),
    (SHORT, "correct the figure if it is misread; otherwise ask the maker or the servicing station"),
    (SEE_CHECK, "a cell of this craft cannot be read here: davitbook check names it"),
    (OPEN, "the service certificate or its earliest dated content is not recorded, or has run out"),
    (OPEN, "persons permitted, stowage height or another fact of the craft is not recorded"),
    (OPEN, "nothing of the kind is recorded here"),
    (OPEN, "the quantity, date or content of a lot is not recorded"),
)
_ONLY_EXPIRED = "[sure]+[expired]>=[need]"
_WORDS = (
    f"IF([state]={NOT_APPLICABLE},0,"
    f"IF([state]={PASSED},IF([lapse]=1,IF([unread]>0,9,3),IF([kind]=4,2,1)),"
    f"IF([state]={FINDING},IF({_COUNTED},IF({_ONLY_EXPIRED},4,5),IF([kind]=3,6,[kind]+2)),"
    f'IF([state]={CHECK},9,IF([kind]=4,10,IF([asked]="",11,IF([lots]=0,12,13)))))))'
)


def _columns() -> tuple[Figured, ...]:
    last_bit = f"[day{len(steps())}]"
    return (
        Figured("number", "no", f"ROW()-{FIRST_ROW}", 6),
        Figured("craft", "craft", "IF([number]>[ship.lines],0,MATCH([number]-1,[craft.start],1))", 6),
        Figured("place", "place", f"IF([craft]=0,0,[number]-1-{_craft('start')})", 6),
        Figured(
            "rule",
            "rule",
            f"IF([craft]=0,0,IF([place]<{_craft('count1')},{_craft('first1')}+[place],"
            f"{_craft('first2')}+[place]-{_craft('count1')}))",
            6,
        ),
        Figured("kind", "kind", f"IF([rule]=0,0,{_rule('ev')})", 6),
        Figured("force", "force", _FORCE, 6),
        Figured("band", "band", _BAND, 6),
        Figured("clause1", "clause", f"IF([band]<>1,0,{held(_rule('fact1'), _rule('values1'))})", 6),
        Figured("clause2", "clause", f"IF([band]<>1,0,{held(_rule('fact2'), _rule('values2'))})", 6),
        Figured("applies", "applies", _APPLIES, 6),
        Figured("persons", "persons", f'IF([craft]=0,"",{_craft("persons")})', 6),
        Figured("height", "height", f'IF([craft]=0,"",{_craft("stowage_height_m")})', 6),
        Figured("unread", "unread", f"IF([craft]=0,0,{_craft('unread')})", 6),
        Figured("asked", "asked", _ASKED),
        Figured("factor", "factor", f"IF([rule]=0,1,{_rule('factor')})", 6),
        Figured("wide", "wide", f"IF([rule]=0,0,{_rule('counted')})", 6),
        Figured("key", "key", f'IF(OR([kind]=0,[kind]>3,[asked]=""),0,[craft]*{KEY}+{_rule("item_no")})'),
        Figured(
            "lots",
            "lots",
            "IF([key]=0,0,COUNTIFS([lots.key],[key])+IF([wide]=1,COUNTIFS([lots.key1],[key])+COUNTIFS([lots.key2],[key]),0))",
            6,
        ),
        # the least that is enough: marked contents are rounded
        Figured("need", "need", "IF(N([asked])=0,0,[asked]*(1-[lists.rounding_share]))"),
        Figured(
            "stand_first",
            "stands in",
            "IF(OR([key]=0,[kind]=3),0,IF("
            f"{_rule('subs_count')}=0,0,([craft]-1)*{most_standings()}+{_rule('subs_first')}))",
            6,
        ),
        Figured("stand_last", "stands in", f"IF([stand_first]=0,0,[stand_first]+{_rule('subs_count')}-1)", 6),
        Figured("own", "own", _sum("surely", _GOOD)),
        Figured("own_best", "own at best", _sum("at_best", _GOOD)),
        Figured("expired", "expired", _sum("fit_amount", _GONE)),
        Figured("sure", "sure", f"[own]+{_stand_in('MAX', 'sure')}"),
        Figured("best", "at best", f"[own_best]+{_stand_in('MAX', 'at_best')}"),
        Figured("long", "long", _of_lines(_lots("quantity", _ANY_GOOD + _LONG)), 6),
        Figured("short", "short", _of_lines(_number(_ANY_GOOD + _TOO_SHORT)), 6),
        Figured(
            "unknown",
            "unknown",
            _of_lines(f"{_lots('quantity', _ANY_GOOD)}-{_lots('quantity', _ANY_GOOD + _MEASURED)}"),
            6,
        ),
        Figured("doubtful", "doubtful", _of_lines(_number("[lots.class],2," + _GOOD)), 6),
        Figured("judged", "judged", _JUDGED, 12),
        Figured("first state", "first state", _FIRST_STATE, 12),
        Figured("doubted", "doubted", _DOUBTED, 12),
        Figured("urgency", "urgency", f"IF([rule]=0,9,{_rule('urgency')})", 6),
        Figured("twin", "twin", _TWIN, 6),
        Figured("state", "state", _STATE, 12),
        Figured("lead", "lead", f"IF([rule]=0,0,{_rule('lead')})", 6),
        Figured("lapsing", "lapsing", _LAPSING, 6),
        # what stands in, and what counts besides with a date of its own, is beyond these formulas; a fact never lapses
        Figured(
            "lapsing_all",
            "lapsing in all",
            f"IF(OR([state]<>{PASSED},[kind]>2),0,"
            f"[lapsing]+{_stand_in('SUM', 'lapsing')}+IF([wide]=1,{_WIDE_LAPSING},0))",
            6,
        ),
        Figured(
            "beyond",
            "beyond",
            f"IF([lapsing_all]=0,0,{_stand_in('SUM', 'lots')}+IF([wide]=1,{_WIDE_DATED},0))",
            6,
        ),
        Figured("by_fact", "by fact", f"IF([state]={PASSED},{_stand_in('SUM', 'fact')},0)", 6),
        # whether too little is left when the lead time has ended
        Figured("lapse", "lapse", f"IF(OR([lapsing_all]=0,[by_fact]>0),0,IF({_ENOUGH_AT_END},0,1))", 6),
        Figured("besides", "besides", f"IF(AND([wide]=1,[lapsing]>0),({_wide('at_best', _GOOD)})/[factor],0)", 6),
        # looked at day by day only where something lapses within the lead time and too little is left at its end
        Figured(
            "watch",
            "watch",
            "IF(AND([lapse]=1,[beyond]=0),1,0)",
            6,
        ),
        *_bits(),
        Figured(
            "lapses",
            "lapses",
            f'IF(AND([watch]=1,[unread]=0),[ship.asked]+{last_bit},"")',
            12,
        ),
        Figured(
            "earliest",
            "earliest",
            f'IF(OR([key]=0,[kind]=3),"",IF(COUNTIFS([lots.dated_key],">="&([key]*{DATED_KEY}+[ship.asked]),'
            f'[lots.dated_key],"<"&([key]+1)*{DATED_KEY})=0,"",SMALL([lots.dated_key],'
            f'COUNTIFS([lots.dated_key],"<"&([key]*{DATED_KEY}+[ship.asked]))+1)-[key]*{DATED_KEY}))',
            12,
        ),
        Figured("words", "words", _WORDS, 6),
        # what is carried beyond the rule is worth a note, and no more
        Figured("extra", "extra", f'IF([craft]=0,0,N({_craft("purpose")}="extra"))', 6),
        Figured("grade", "grade", _GRADE, 6),
        # the worst first: what stops the ship, then what lapses, the earliest first
        Figured(
            "rank",
            "rank",
            f'IF([grade]=3,[urgency]*1E+10+[number],IF([grade]=2,9E+10+IF([lapses]="",99999,[lapses])*{MOST_ROWS}+[number],""))',
            14,
        ),
        Figured("shown", "shown", f"N([shown^])+IF([state]={NOT_APPLICABLE},0,1)", 6),
    )


COLUMNS = _columns()


def write_lines(calc: CalculatedBook, page: Any) -> None:
    """Write the sheet; a row of noughts stands above the first line, for the running count."""
    write_grid(calc, page, "lines", COLUMNS, FIRST_ROW, line_rows(calc.room["craft"]), heading_row=FIRST_ROW - 2)
    page.write(FIRST_ROW - 1, len(COLUMNS) - 1, 0)
    page.protect("")
