"""What the capacity rules need beyond craft and crew: the mass assumed for a person, and when rafts were made."""

from __future__ import annotations

from datetime import date

from tests.workbooks import Workbook


def fill(book: Workbook) -> None:
    """Mark every craft with 82.5 kg, which the keel of 2012 and rafts made in 2020 ask."""
    for craft in book.rows["craft"]:
        craft.setdefault("person_mass_kg", 82.5)
        if craft["kind"] != "liferaft":
            craft.setdefault("hooks_compliant", "yes")
        else:
            craft.setdefault("made", date(2020, 3, 1))
