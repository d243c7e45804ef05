"""How much a rule asks."""

import math

from workbook_tools.rules.model import Rule


def percent_of_persons(percent: float, persons: int) -> int:
    """A percentage of persons, rounded up to whole pieces (the texts state no rounding: our choice)."""
    return math.ceil(round(percent * persons / 100, 9))


def required(rule: Rule, persons: int | None, height_m: float | None = None) -> float | None:
    """The quantity a rule asks, in the rule's unit.

    persons: the number the craft is PERMITTED to accommodate, never the number on board.
    height_m: height of the stowage above the lightest waterline, for lengths that follow it.
    None when the rule needs a figure that is not given.
    """
    amount = rule.fixed
    if rule.per_person or rule.percent or rule.threshold is not None:  # needs_persons, without a call
        if persons is None:
            return None
        amount += rule.per_person * persons + percent_of_persons(rule.percent, persons)
        if rule.threshold is not None and persons >= rule.threshold:
            amount += rule.extra
    if rule.per_height:
        if height_m is None:
            return None
        amount += rule.per_height * height_m
    return round(max(rule.minimum, amount), 9)


def in_band(rule: Rule, size: float | None) -> bool | None:
    """Whether a rule's band holds a size (band_from counts, band_until does not); None when the size is unknown."""
    if not rule.band_by:
        return True
    if size is None:
        return None
    return (rule.band_from is None or size >= rule.band_from) and (rule.band_until is None or size < rule.band_until)


def amount(value: float, unit: str) -> str:
    """A quantity with its unit as printed: '90 L', '20 x 48 h supply'; pieces, sets and pairs carry none."""
    number = f"{value:,.1f}".rstrip("0").rstrip(".") if value != int(value) else f"{int(value):,}"
    if unit in ("each", "set", "pair"):
        return number
    return f"{number} x {unit}" if unit[0].isdigit() else f"{number} {unit}"
