"""The usual cautions, each beside the words that bring it with them."""

from __future__ import annotations

from workbook_tools.checks.cautions import CO2_CAUTION

_CAUTIONS = (
    (
        ("flare", "smoke signal", "pyrotechnic", "rocket", "smoke"),
        "Pyrotechnics: expired ones are not for testing or drills; keep them apart until landed.",
    ),
    (
        ("release gear", "hook", "davit", "falls", "winch", "launch"),
        "Release gear and launching appliances: work only by those certified for it, by the maker's manual; nobody in "
        "a boat that hangs on its falls for maintenance without the hanging-off gear.",
    ),
    (("co2",), CO2_CAUTION),
    (
        ("medicine", "medical outfit", "medical oxygen", "first-aid", "first aid"),
        "Medicines: given as the ship's medical guide and radio medical advice say; only dates and numbers are judged "
        "here.",
    ),
)


def cautions_for(text: str) -> list[str]:
    """The cautions that a text brings with it, in a fixed order."""
    folded = text.casefold()
    return [caution for words, caution in _CAUTIONS if any(word in folded for word in words)]
