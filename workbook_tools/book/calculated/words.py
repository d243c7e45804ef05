"""Formulas that several sheets share: texts, days in a form that no language of the program changes, lists of words."""

from __future__ import annotations

from collections.abc import Sequence

LONGEST_TEXT = 90  # characters shown of a remark; what is cut ends in dots, and the line tells where the whole stands


def text_of(expression: str) -> str:
    """What a cell holds as text, without spaces about it; '' for an empty one."""
    return f'TRIM({expression}&"")'


def iso(expression: str) -> str:
    """A day as 2026-11-25. TEXT() would need the letters of the program's own language."""
    return f'YEAR({expression})&"-"&RIGHT("0"&MONTH({expression}),2)&"-"&RIGHT("0"&DAY({expression}),2)'


def day_text(expression: str, none: str = "-") -> str:
    """A cell with a day as 2026-11-25; what is no day as it stands there; `none` for an empty one."""
    return f'IF(ISNUMBER({expression}),{iso(expression)},IF({expression}="","{none}",TRIM({expression}&"")))'


def said(expression: str, none: str = "-") -> str:
    """What a cell holds, or `none`."""
    return f'IF({expression}="","{none}",TRIM({expression}&""))'


def cut(expression: str) -> str:
    """A text no longer than LONGEST_TEXT."""
    return f'IF(LEN({expression})>{LONGEST_TEXT},LEFT({expression},{LONGEST_TEXT - 4})&" ...",TRIM({expression}&""))'


def plural(number: str, one: str, many: str) -> str:
    """'1 line' or '3 lines'."""
    return f'{number}&IF({number}=1," {one}"," {many}")'


def first_that_holds(cases: Sequence[tuple[str, str]], otherwise: str) -> str:
    """The value of the first condition that is true."""
    formula = otherwise
    for condition, value in reversed(cases):
        formula = f"IF({condition},{value},{formula})"
    return formula
