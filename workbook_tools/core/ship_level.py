"""Ship-level appliances: what one record of a thing says beside another, and who is left without a fitting one."""

import re
from collections.abc import Mapping
from functools import lru_cache

PASSED = "passed"
FINDING = "finding"
OPEN = "not_evaluated"

# Sizes go by several names; what is marked as one of these fits everyone.
UNIVERSAL = "universal"
_SIZES = {
    "s": "S",
    "small": "S",
    "m": "M",
    "medium": "M",
    "l": "L",
    "large": "L",
    "xl": "XL",
    "x large": "XL",
    "extra large": "XL",
    "xxl": "XXL",
    "2xl": "XXL",
    "universal": UNIVERSAL,
    "adult universal": UNIVERSAL,
    "universal adult": UNIVERSAL,
    "uni": UNIVERSAL,
    "u": UNIVERSAL,
    "one size": UNIVERSAL,
}
KNOWN_SIZES = frozenset(_SIZES.values()) - {UNIVERSAL}


def judge(sure: float, at_best: float, least: float, most: float) -> str:
    """How a demand of between `least` and `most` pieces ends when `sure`, or `at_best` pieces, are there.

    Passed when what is sure reaches the most that may be asked; a finding when even the most that the record can mean
    stays below the least; otherwise the record does not decide.
    """
    if sure >= most:
        return PASSED
    return FINDING if at_best < least else OPEN


def lighted(buoys: float, lights: float, dead: float) -> float:
    """Lifebuoys with a working light, where the buoys are recorded by kind and their lights as dated units.

    Either record is enough; units that have expired take as many buoys out. Our choice: the text (SOLAS III/7.1.3)
    tells nothing about records.

    >>> lighted(buoys=4, lights=2, dead=2)
    2
    """
    return max(lights, buoys - dead)


def lighted_at_best(buoys: float, lights: float, dead: float) -> float:
    """The most lifebuoys with a working light that the same record can mean.

    As many units as buoys of the kind are taken to be theirs. Where the numbers differ and no unit has expired, units
    recorded apart may belong to other buoys.
    """
    return lighted(buoys, lights, dead) if dead or buoys == lights else buoys + lights


@lru_cache(maxsize=2_000)
def size_name(text: str) -> str:
    """The size a text means: S, M, L, XL, XXL, universal, or the text itself in small letters.

    >>> size_name(" Extra-large ")
    'XL'
    """
    folded = " ".join(re.sub(r"[^0-9a-z]+", " ", text.casefold()).split())
    return _SIZES.get(folded, folded)


def sizes_short(wanted: Mapping[str, int], held: Mapping[str, float], anyone: float) -> dict[str, float]:
    """Pieces missing of each size, when even those that fit anyone (or whose size is not known) cannot fill the gaps.

    wanted: persons of each size; held: pieces of each size; anyone: pieces that fit, or may fit, anyone.
    Empty when everybody can be fitted.

    >>> sizes_short({"L": 3, "M": 1}, {"L": 1, "M": 4}, anyone=1)
    {'L': 2}
    """
    gaps = {size: count - held.get(size, 0.0) for size, count in wanted.items() if count > held.get(size, 0.0)}
    return {size: gap for size, gap in gaps.items() if sum(gaps.values()) > anyone}
