"""The functions on what a craft must carry: LSA_REQUIRED and its kin. The rules are read on the first call."""

from __future__ import annotations

from functools import cache
from typing import TYPE_CHECKING

from workbook_tools.cells.arguments import number_of, whole_of
from workbook_tools.cells.declare import cell_function
from workbook_tools.cells.registry import Argument, Scalar, Table, Value

if TYPE_CHECKING:
    from types import ModuleType

ITEM = Argument(
    "item",
    "What is to be carried, by its trade name or another of its names: hand flare, red hand flare.",
    "text",
    zero_is_blank=True,
)
CRAFT = Argument(
    "craft_type",
    "Kind of craft: lifeboat, free-fall lifeboat, lifeboat and rescue boat, liferaft, davit-launched liferaft, rescue "
    "boat, fast rescue boat; the construction may stand before it (inflated rescue boat).",
    "text",
    zero_is_blank=True,
)
PERSONS = Argument(
    "persons",
    "Number of persons the craft is PERMITTED to carry, not the number on board. 0 reads as blank.",
    "whole",
    zero_is_blank=True,
)
PACK = Argument("pack", "Pack of a liferaft, A or B. Default: A.", "text", optional=True, zero_is_blank=True)
OPTION = Argument(
    "option",
    "Text such as on=2026-11-25; construction=inflated; rules=us. Keys: on, keel, rules (solas, us), construction, "
    "purpose, self_bailing, voyage, ship_type. Default: the solas rules on the day of the edition.",
    "text",
    optional=True,
    zero_is_blank=True,
)
HEIGHT = Argument(
    "stowage_height_m",
    "Height of the stowage above the lightest seagoing waterline, in metres. 0 reads as blank.",
    "number",
    zero_is_blank=True,
)
_EQUIPMENT = "LSA Code 4.4.8 (lifeboats), 4.1.5 (liferafts), 5.1.2 (rescue boats); rules=us: 46 CFR 199.175"


@cache
def _asked() -> ModuleType:
    from workbook_tools.cells import asked

    return asked


def _number(item: Scalar, craft_type: Scalar, persons: Scalar, pack: Scalar, option: Scalar) -> float:
    asked = _asked()
    found: float = asked.number_asked(asked.question(item, craft_type, pack, option), whole_of(persons, "persons"))
    return found


@cell_function(
    "How many, or how much, of an item a craft must carry, in the unit that LSA_UNIT gives; 0 where it need not.",
    (ITEM, CRAFT, PERSONS, PACK, OPTION),
    "number",
    (
        ('=LSA_REQUIRED("hand flare","lifeboat",36)', 6.0),
        ('=LSA_REQUIRED("red hand flare","liferaft",25,"B")', 3.0),
        ('=LSA_REQUIRED("sponge","rescue boat",6,"","construction=inflated")', 2.0),
    ),
    _EQUIPMENT,
)
def LSA_REQUIRED(
    item: Scalar, craft_type: Scalar, persons: Scalar, pack: Scalar = None, option: Scalar = None
) -> Value:
    """The quantity the rules ask.

    #N/A: an item or craft that is not known; an item that is asked only on a fact that the option does not give
    (LSA_CONDITION tells it), without a number, or as something else.
    """
    return _number(item, craft_type, persons, pack, option)


@cell_function(
    "How many, or how much, of an item is missing: what is required less what is carried, never below 0.",
    (
        ITEM,
        CRAFT,
        PERSONS,
        Argument("carried", "What is there, fit and in date, in the unit that LSA_UNIT gives.", "number"),
        PACK,
        OPTION,
    ),
    "number",
    (('=LSA_SHORT("hand flare","lifeboat",36,4)', 2.0), ('=LSA_SHORT("fresh water","lifeboat",36,108)', 0.0)),
    _EQUIPMENT,
)
def LSA_SHORT(
    item: Scalar,
    craft_type: Scalar,
    persons: Scalar,
    carried: Scalar,
    pack: Scalar = None,
    option: Scalar = None,
) -> Value:
    """The quantity that is missing; errors as LSA_REQUIRED."""
    missing = _number(item, craft_type, persons, pack, option) - number_of(carried, "carried")
    return round(max(0.0, missing), 9)


@cell_function(
    "The paragraph that asks an item of a craft.",
    (ITEM, CRAFT, PACK),
    "text",
    (('=LSA_SOURCE("hand flare","lifeboat")', "LSA Code 4.4.8.14"),),
    _EQUIPMENT,
)
def LSA_SOURCE(item: Scalar, craft_type: Scalar, pack: Scalar = None) -> Value:
    """The paragraph, or several parted by semicolons. #N/A: not known, or asked by no rule."""
    asked = _asked()
    found: str = asked.reference(asked.question(item, craft_type, pack, None))
    return found


@cell_function(
    "How the figure of LSA_REQUIRED was seen: in the rule's text, on a page that restates it, or from memory.",
    (ITEM, CRAFT, PACK, OPTION),
    "text",
    (('=LSA_SOURCE_STATUS("hand flare","lifeboat")', "read on a page that restates the rule"),),
    "status of the rule rows",
)
def LSA_SOURCE_STATUS(item: Scalar, craft_type: Scalar, pack: Scalar = None, option: Scalar = None) -> Value:
    """How sure the least sure of the rows is. #N/A: not known, or asked by no rule."""
    asked = _asked()
    found: str = asked.sureness(asked.question(item, craft_type, pack, option))
    return found


@cell_function(
    "The unit of LSA_REQUIRED for an item and craft: each, set, L, kJ and so on.",
    (ITEM, CRAFT, PACK, OPTION),
    "text",
    (('=LSA_UNIT("fresh water","lifeboat")', "L"), ('=LSA_UNIT("food ration","liferaft")', "kJ")),
    _EQUIPMENT,
)
def LSA_UNIT(item: Scalar, craft_type: Scalar, pack: Scalar = None, option: Scalar = None) -> Value:
    """The unit. #N/A: not known, or asked by no rule."""
    asked = _asked()
    found: str = asked.unit(asked.question(item, craft_type, pack, option))
    return found


@cell_function(
    "What LSA_REQUIRED hangs on and was not told, in words; blank where nothing is open.",
    (ITEM, CRAFT, PACK, OPTION),
    "text",
    (
        ('=LSA_CONDITION("sponge","rescue boat")', "construction is not recorded"),
        ('=LSA_CONDITION("hand flare","lifeboat")', ""),
    ),
    _EQUIPMENT,
)
def LSA_CONDITION(item: Scalar, craft_type: Scalar, pack: Scalar = None, option: Scalar = None) -> Value:
    """The fact to add to the option. #N/A: not known, or asked by no rule."""
    asked = _asked()
    found: str = asked.conditions(asked.question(item, craft_type, pack, option))
    return found


@cell_function(
    "The list of equipment of a craft: item, what is asked, paragraph. Fills three columns downwards.",
    (CRAFT, PACK),
    "table",
    (('=INDEX(LSA_ITEMS("lifeboat"),2,1)', "boat-hook"),),
    _EQUIPMENT,
)
def LSA_ITEMS(craft_type: Scalar, pack: Scalar = None) -> Value | Table:
    """The checklist of a craft, in the order of the rules; what hangs on a fact says on which."""
    found: Table = _asked().checklist(craft_type, pack, None)
    return found


@cell_function(
    "Fresh water a craft must carry, in litres.",
    (PERSONS, CRAFT, PACK, OPTION),
    "number",
    (('=LSA_WATER_L(36,"lifeboat")', 108.0), ('=LSA_WATER_L(25,"liferaft")', 37.5)),
    "LSA Code 4.4.8.9, 4.1.5.1.19; 46 CFR 199.175(b)(40)",
)
def LSA_WATER_L(persons: Scalar, craft_type: Scalar, pack: Scalar = None, option: Scalar = None) -> Value:
    """Litres of fresh water, before what a desalting apparatus or a desalinator may replace; 0 where none is asked."""
    return _number("fresh water", craft_type, persons, pack, option)


@cell_function(
    "Food ration a craft must carry, in kilojoules.",
    (PERSONS, CRAFT, PACK),
    "number",
    (('=LSA_FOOD_KJ(25,"liferaft")', 250000.0), ('=LSA_FOOD_KJ(25,"liferaft","B")', 0.0)),
    "LSA Code 4.4.8.12, 4.1.5.1.18",
)
def LSA_FOOD_KJ(persons: Scalar, craft_type: Scalar, pack: Scalar = None) -> Value:
    """Kilojoules of food; 0 where none is asked."""
    return _number("food ration", craft_type, persons, pack, None)


@cell_function(
    "Thermal protective aids of a lifeboat, liferaft or rescue boat for so many persons.",
    (PERSONS,),
    "number",
    (("=LSA_TPA(21)", 3.0), ("=LSA_TPA(6)", 2.0)),
    "LSA Code 4.4.8.31, 4.1.5.1.24, 5.1.2.2.13 (rounded up: our choice)",
)
def LSA_TPA(persons: Scalar) -> Value:
    """Thermal protective aids: a share of the persons, rounded up, with a least number."""
    return _number("thermal protective aid", "lifeboat", persons, None, None)


@cell_function(
    "Length of each painter of a craft, in metres.",
    (HEIGHT, CRAFT),
    "number",
    (('=LSA_PAINTER_M(12,"lifeboat")', 24.0), ('=LSA_PAINTER_M(12,"liferaft")', 22.0)),
    "LSA Code 4.4.8.7, 4.1.3.2",
)
def LSA_PAINTER_M(stowage_height_m: Scalar, craft_type: Scalar) -> Value:
    """Metres of painter. #N/A: a craft whose painter has no length in the rules (rescue boats)."""
    return _length("painter", craft_type, stowage_height_m, None)


@cell_function(
    "Length that the rules ask of a line of a craft, in metres: painter, rescue quoit, buoyant towing line.",
    (ITEM, CRAFT, HEIGHT, OPTION),
    "number",
    (
        ('=LSA_LINE_M("rescue quoit","lifeboat",12)', 30.0),
        ('=LSA_LINE_M("painter","liferaft",12,"rules=us; construction=rigid")', 32.0),
    ),
    "LSA Code 4.4.8.7, 4.4.8.24, 4.1.3.2, 5.1.2.2; 46 CFR 199.175(b)(14), (21), (39)",
)
def LSA_LINE_M(item: Scalar, craft_type: Scalar, stowage_height_m: Scalar, option: Scalar = None) -> Value:
    """Metres of line. #N/A: no length in the rules, or a fact not given decides."""
    return _length(item, craft_type, stowage_height_m, option)


def _length(item: Scalar, craft_type: Scalar, height: Scalar, option: Scalar) -> float:
    asked = _asked()
    metres = number_of(height, "stowage_height_m")
    found: float = asked.length_asked(asked.question(item, craft_type, None, option), metres)
    return found
