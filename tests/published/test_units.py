"""Conversion factors against their definitions, and through catalogue.convert."""

import pytest

from workbook_tools.catalogue import convert, units

# (unit, in base units, source). Exact by definition.
FACTORS = [
    ("US gal", 3.785411784, "231 cubic inches of 16.387064 mL: NIST SP 811, appendix B"),
    ("kcal", 4.184, "thermochemical kilocalorie, kJ: NIST SP 811, appendix B"),
    ("ft", 0.3048, "international foot, m: international yard and pound agreement of 1959; NIST SP 811"),
    ("fathom", 1.8288, "6 international feet, m"),
    ("mL", 0.001, "SI prefix"),
    ("MJ", 1000.0, "SI prefix"),
]


@pytest.mark.parametrize(("unit", "factor"), [case[:2] for case in FACTORS], ids=[case[0] for case in FACTORS])
def test_a_unit_has_the_factor_of_its_definition(unit: str, factor: float) -> None:
    assert units()[unit].factor == factor


def test_a_us_gallon_is_231_cubic_inches() -> None:
    # NIST SP 811, appendix B; an inch is 2.54 cm
    assert units()["US gal"].factor == pytest.approx(231 * 2.54**3 / 1000, rel=1e-12)


# Marked contents as they are met on packs, worked by hand from the definitions above.
CONVERSIONS = [
    (1, "US gal", "L", 3.785411784),
    (10, "US gal", "L", 37.85411784),  # 25 persons in an A raft: 37.5 L are asked
    (500, "mL", "L", 0.5),
    (2400, "kcal", "kJ", 10041.6),  # a ration marked 2,400 kcal is one person's 10,000 kJ
    (10_000, "kJ", "kcal", 2390.057361376673),
    (2.5, "MJ", "kJ", 2500),
    (100, "ft", "m", 30.48),  # a heaving line of 100 ft is 30 m long
    (50, "ft", "m", 15.24),
    (8, "fathom", "m", 14.6304),  # a painter of 8 fathoms is not 15 m long
    (15, "m", "ft", 49.21259842519685),
    (96, "h", "48 h supply", 2),  # seasickness medicine for four days
]


@pytest.mark.parametrize(("amount", "unit", "into", "result"), CONVERSIONS)
def test_an_amount_is_converted(amount: float, unit: str, into: str, result: float) -> None:
    assert convert(amount, unit, into) == pytest.approx(result, rel=1e-12)


@pytest.mark.parametrize("unit", units())
@pytest.mark.parametrize("into", units())
def test_a_conversion_and_its_return_give_the_amount_back_or_neither_exists(unit: str, into: str) -> None:
    there = convert(25.0, unit, into)
    if units()[unit].dimension != units()[into].dimension:
        assert there is None
    else:
        assert there is not None
        assert convert(there, into, unit) == pytest.approx(25.0, rel=1e-12)


# A month is no number of days, and a kilogram is no force.
DIFFERENT_THINGS = [("L", "kJ"), ("m", "L"), ("kg", "kN"), ("each", "L"), ("months", "days")]


@pytest.mark.parametrize(("unit", "into"), DIFFERENT_THINGS)
def test_units_of_different_things_do_not_convert(unit: str, into: str) -> None:
    assert convert(1, unit, into) is None
