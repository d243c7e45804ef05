"""The functions on the ship: lifebuoys, spare charges, the IMO number."""

from __future__ import annotations

from functools import lru_cache

from workbook_tools.cells.arguments import number_of, text_of, unknown, whole_of
from workbook_tools.cells.declare import cell_function
from workbook_tools.cells.registry import NOT_AVAILABLE, VALUE_ERROR, Argument, CellError, Scalar, Value

CATALOGUE_LIFEBUOY = "lifebuoy"


@lru_cache(maxsize=256, typed=True)
def _lifebuoy_bands(ship_type: Scalar) -> tuple[tuple[float, float, float], ...] | None:
    """(from, until, number) by length in metres for the family of a ship type, or None when it is not known."""
    from workbook_tools import catalogue
    from workbook_tools.cells.edition import EDITION, RULES
    from workbook_tools.rules import load_rule_set

    text = text_of(ship_type)
    name = catalogue.ship_type_names().find(text)
    family = catalogue.ship_types()[name].family if name else catalogue.normalise(text)
    found = [
        (rule.band_from or 0.0, rule.band_until or float("inf"), rule.fixed)
        for rule in load_rule_set(RULES).of_subject("ship")
        if rule.item == CATALOGUE_LIFEBUOY
        and rule.evidence == "stock"
        and rule.band_by == "length_m"
        and rule.in_force(EDITION)
        and rule.condition.clauses == (("ship_family", (family,)),)
    ]
    return tuple(found) or None


@cell_function(
    "Number of lifebuoys a ship must carry, by its length.",
    (
        Argument("length_m", "Length of the ship in metres. 0 reads as blank.", "number", zero_is_blank=True),
        Argument(
            "ship_type",
            "Type of ship: cargo, passenger, or a finer type such as bulk carrier, oil tanker, ro-ro passenger ship.",
            "text",
            zero_is_blank=True,
        ),
    ),
    "number",
    (('=LSA_LIFEBUOYS(120,"cargo")', 10.0), ('=LSA_LIFEBUOYS(120,"passenger")', 18.0)),
    "SOLAS III/32.1.1, III/22.1.1",
)
def LSA_LIFEBUOYS(length_m: Scalar, ship_type: Scalar) -> Value:
    """Lifebuoys. #N/A: a type of ship that is not known."""
    length = number_of(length_m, "length_m")
    bands = _lifebuoy_bands(ship_type)
    if bands is None:
        raise unknown("type of ship", str(ship_type))
    for first, until, number in bands:
        if first <= length < until:
            return float(number)
    raise CellError(NOT_AVAILABLE, f"no row holds a ship of {length:g} m")


@lru_cache(maxsize=1)
def _charge_rows() -> tuple[int, float, int]:
    from workbook_tools.cells.edition import EDITION, RULES
    from workbook_tools.rules import load_rule_set

    rows = load_rule_set(RULES).by_key()
    share = next(rule for rule in rows["fire.spare-charges"] if rule.in_force(EDITION))
    most = next(rule for rule in rows["fire.spare-charges-most"] if rule.in_force(EDITION))
    return int(share.threshold or 0), share.percent, int(most.fixed)


@cell_function(
    "Spare charges for so many portable fire extinguishers of one type and size that can be recharged on board.",
    (Argument("extinguishers", "Number of extinguishers. 0 reads as blank.", "whole", zero_is_blank=True),),
    "number",
    (("=FFA_SPARE_CHARGES(11)", 11.0), ("=FFA_SPARE_CHARGES(30)", 20.0)),
    "SOLAS II-2/10.3.3 (a part of a charge counts as one: our choice)",
    category="Fire-fighting appliances",
)
def FFA_SPARE_CHARGES(extinguishers: Scalar) -> Value:
    """All of the first ten, half of the rest rounded up, 60 at most."""
    from workbook_tools.core.fire import spare_charges

    return float(spare_charges(whole_of(extinguishers, "extinguishers"), *_charge_rows()))


@cell_function(
    "1 where the check digit of an IMO number is right, 0 where it is not or the number has not seven digits.",
    (Argument("imo_number", "The number, with or without IMO before it.", "text", zero_is_blank=True),),
    "number",
    (("=LSA_IMO_OK(9074729)", 1.0), ('=LSA_IMO_OK("IMO 9074720")', 0.0)),
    "IMO resolution A.1117(30), the ship identification number scheme",
    category="Ship",
)
def LSA_IMO_OK(imo_number: Scalar) -> Value:
    """1 or 0. #VALUE!: true or false instead of a number."""
    if isinstance(imo_number, bool):
        raise CellError(VALUE_ERROR, "imo_number: no number")
    return _imo_ok(imo_number)


@lru_cache(maxsize=4096, typed=True)
def _imo_ok(imo_number: Scalar) -> float:
    from workbook_tools.core.imo_number import imo_number_ok, read_imo_number

    number = read_imo_number(text_of(imo_number))
    return 1.0 if number is not None and imo_number_ok(number) else 0.0
