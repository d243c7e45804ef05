"""The check digit of an IMO ship identification number."""

import re

_FORM = re.compile(r"\s*(?:imo)?\s*(?:no\.?|number)?\s*(\d{7})\s*", re.IGNORECASE)


def read_imo_number(text: str) -> str | None:
    """The seven digits of 'IMO 9074729' or '9074729', or None when the text is not of that form."""
    match = _FORM.fullmatch(text)
    return match[1] if match else None


def imo_number_ok(number: str) -> bool:
    """Whether seven digits carry the right check digit.

    The first six times 7, 6, 5, 4, 3, 2 are added up; the last digit of the sum is the seventh digit.
    Source: resolution A.1117(30), IMO ship identification number scheme.
    """
    if not re.fullmatch(r"[0-9]{7}", number):
        return False
    total = sum(int(digit) * weight for digit, weight in zip(number, range(7, 1, -1), strict=False))
    return total % 10 == int(number[6])
