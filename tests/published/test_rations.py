"""The ration figures of the training texts, worked by hand. Source: worked_examples.csv of the standards folder.

Rows: 'Survival-craft course text' (nothing in the first 24 h, the injured excepted; the full complement of a raft then
lasts 4 days), 'School nautical text' (0.5 L a day after that), 'Own arithmetic, Raft A pack' (1.5 L: 4 days) and 'Own
arithmetic, Lifeboat' (3.0 L: 7 days); 'Exam notes' (three issues a day).
"""

from __future__ import annotations

import pytest

from tests.planning.books import audited
from tests.workbooks import clean
from workbook_tools.core.rations import Issue, days_lasting, plan
from workbook_tools.planning.rations import FULL, Ask, ration_plan
from workbook_tools.rules.loader import policies

RAFT, LIFEBOAT = "Own arithmetic, Raft A pack", "Own arithmetic, Lifeboat"


@pytest.mark.parametrize(
    ("row", "litres_each", "lasts"), [(RAFT, 1.5, 4), (LIFEBOAT, 3.0, 7)], ids=["raft", "lifeboat"]
)
@pytest.mark.parametrize("persons", [6, 20, 25, 36, 150])
def test_litres_for_each_person_last_the_days_of_the_texts(
    row: str, litres_each: float, lasts: int, persons: int
) -> None:
    assert days_lasting(litres_each * persons, Issue(persons, 0.5, 1)) == lasts, row
    days = list(plan(litres_each * persons, Issue(persons, 0.5, 1), lasts + 1))
    assert [day.issued for day in days] == [0] + [0.5 * persons] * (lasts - 1) + [0], row
    assert days[lasts - 1].left == 0


def test_the_practice_of_the_texts_is_the_policy() -> None:
    found = {key: policies()[key].value for key in policies() if key.startswith("ration.")}
    assert found["ration.dry-days"] == 1  # course text: nothing in the first 24 h
    assert found["ration.litres-per-day"] == 0.5  # school nautical text
    assert found["ration.issues-a-day"] == 3  # exam notes: morning, midday, sunset
    assert found["ration.no-cut-before"] == 4  # course text
    assert found["ration.no-protein-below"] == 1  # school nautical text


def test_a_book_whose_craft_carry_what_the_rules_ask_lasts_as_long_when_full() -> None:
    """Raft: an A pack with a valid certificate; lifeboat: 3 L for each of 20 persons (LSA Code 4.4.8.9)."""
    found = ration_plan(audited(clean()), Ask())
    lasting = {
        entry.craft.name: case.lasting for entry in found.crafts for case in entry.cases if case.scenario == FULL
    }
    assert lasting == {"Lifeboat 1": 7, "Lifeboat 2": 7, "Raft P": 4, "Raft S": 4}
