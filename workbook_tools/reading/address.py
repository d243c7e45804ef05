"""Cell addresses."""

import re
from functools import cache


@cache
def column_letters(index: int) -> str:
    """The letters of a column counted from 0: 0 is A, 26 is AA."""
    letters = ""
    index += 1
    while index:
        index, remainder = divmod(index - 1, 26)
        letters = chr(65 + remainder) + letters
    return letters


def address(row: int, column: int) -> str:
    """The address of a cell, both counted from 0: address(0, 0) is A1."""
    return f"{column_letters(column)}{row + 1}"


def column_index(letters: str) -> int:
    """The inverse of column_letters."""
    index = 0
    for letter in letters:
        index = index * 26 + ord(letter) - 64
    return index - 1


def split(reference: str) -> tuple[int, int] | None:
    """Row and column, counted from 0, of an address such as B7; None when it is none."""
    match = re.fullmatch(r"([A-Z]{1,3})([0-9]{1,7})", reference)
    return (int(match[2]) - 1, column_index(match[1])) if match else None
