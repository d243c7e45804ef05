"""The functions on places in the craft: what share of the persons is covered, with all craft and after a loss."""

from __future__ import annotations

from workbook_tools.cells.arguments import cells_of, is_blank, text_of, whole_of, yes_of
from workbook_tools.cells.declare import cell_function
from workbook_tools.cells.registry import VALUE_ERROR, Argument, CellError, Range, Scalar, Value

ON_BOARD = Argument("persons", "Number of persons on board. 0 reads as blank.", "whole", zero_is_blank=True)
CAPACITIES = Argument(
    "capacities", "Range with the persons each craft is permitted to carry; blank cells are left out.", "numbers"
)
_SIDE_WORDS = {
    "port": ("port",),
    "p": ("port",),
    "starboard": ("starboard",),
    "stbd": ("starboard",),
    "s": ("starboard",),
    "aft": (),
    "stern": (),
    "a": (),
}


@cell_function(
    "Percent of the persons on board for whom the craft together have a place.",
    (ON_BOARD, CAPACITIES),
    "number",
    (("=LSA_COVER_PCT(25,50)", 200.0),),
    "arithmetic; what is asked stands in SOLAS III/21 and III/31",
)
def LSA_COVER_PCT(persons: Scalar, capacities: Scalar | Range) -> Value:
    """100 x places / persons. Leave remote liferafts out: they do not count (SOLAS III/31.1.4)."""
    from workbook_tools.core.coverage import share_covered

    places = sum(float(whole_of(cell, "capacities")) for cell in cells_of(capacities) if not is_blank(cell))
    return round(share_covered(whole_of(persons, "persons"), places), 9)


@cell_function(
    "Percent of the persons with a place when the worst happens: one side is lost, or any one craft. "
    "It informs; it is no rule.",
    (
        ON_BOARD,
        CAPACITIES,
        Argument("sides", "Range of the same size with the side of each craft: port, starboard or aft.", "texts"),
        Argument(
            "transferable",
            "Range of the same size, or one value for all: yes where the craft is easily moved from side to side. "
            "Default: no.",
            "texts",
            optional=True,
        ),
    ),
    "number",
    (('=LSA_COVER_WORST_PCT(25,{25;25},{"port";"starboard"})', 100.0),),
    "arithmetic of core.coverage; SOLAS III/31.1.1, 31.1.2 on sides",
)
def LSA_COVER_WORST_PCT(
    persons: Scalar, capacities: Scalar | Range, sides: Scalar | Range, transferable: Scalar | Range = None
) -> Value:
    """The least share over all craft usable, either side lost (with it the craft usable there only; those over the
    stern are not counted on), and each craft lost. #VALUE!: ranges of different size, a craft without side or capacity.
    """
    from workbook_tools.core.coverage import BOTH, exact, scenarios, share_covered

    everyone = whole_of(persons, "persons")
    numbers, words = cells_of(capacities), cells_of(sides)
    moved = cells_of(transferable)
    moved = moved * len(numbers) if len(moved) == 1 else moved
    if not len(numbers) == len(words) == len(moved):
        raise CellError(VALUE_ERROR, "capacities, sides and transferable differ in size")
    places = []
    for cell, word, easily in zip(numbers, words, moved, strict=True):
        if is_blank(cell) and is_blank(word):
            continue
        if is_blank(cell) or is_blank(word):
            raise CellError(VALUE_ERROR, "a craft has no capacity or no side")
        lies = BOTH if yes_of(easily, "transferable") else _sides(text_of(word))
        places.append(exact("craft", whole_of(cell, "capacities"), lies))
    return round(min(share_covered(everyone, case.places.least) for case in scenarios(places, everyone)), 9)


def _sides(word: str) -> frozenset[str]:
    found = _SIDE_WORDS.get(word.casefold())
    if found is None:
        raise CellError(VALUE_ERROR, f"sides: {word!r} is neither port, starboard nor aft")
    return frozenset(found)
