"""How many spare charges, hoses and outfits a ship carries, and from when an extinguisher's tests count.

Standard library only. Every figure is an argument: it comes from a row of the rules.
"""

import math
from datetime import date

from workbook_tools.core.servicing import months_after


def spare_charges(extinguishers: int, full: int, percent: float, most: int) -> int:
    """Spare charges asked for so many extinguishers: all of the first `full`, `percent` of the rest, `most` at most.

    A part of a charge counts as one: the text states no rounding, it is our choice. Source: SOLAS II-2/10.3.3.

    >>> spare_charges(11, 10, 50, 60)
    11
    """
    if extinguishers <= full:
        return min(extinguishers, most)
    rest = math.ceil(round(percent * (extinguishers - full) / 100, 9))
    return min(full + rest, most)


def hoses(length_m: float, each_m: float, spare: float, minimum: float) -> tuple[float, float]:
    """Fire hoses asked of a ship of a length in metres: (part lengths left out, part lengths counted as whole).

    One for each `each_m` metres and the spare, never fewer than the minimum. Whether a part of 30 m counts is not
    stated (SOLAS II-2/10.2.3), so both readings are given.
    """
    lengths = round(length_m / each_m, 9)
    return max(minimum, math.floor(lengths) + spare), max(minimum, math.ceil(lengths) + spare)


def passenger_outfits(length_m: float, basic: float, pair: float, each_m: float) -> float:
    """Fire-fighter's outfits of a passenger ship: the basic number and a pair for each 80 m of spaces or part of it.

    Source: SOLAS II-2/10.10.2.
    """
    return basic + pair * math.ceil(round(length_m / each_m, 9))


def age_reached(made_year: int, months: int) -> date:
    """The last day on which a thing made in a year may still be younger than so many months.

    Only the year is marked, so the last day of the year is taken: our choice, the reading that asks latest.
    """
    return months_after(date(min(made_year, 9999), 12, 31), months)
