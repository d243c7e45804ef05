"""The amendment of 14 December 2022 (87 FR 68308): a knife beside the jackknife in a lifeboat, and note 11."""

from datetime import date

import pytest

from tests.published._crafts import LIFEBOAT, asked
from tests.published._us_table import US_ITEMS
from workbook_tools.core.stock import Lot, credited
from workbook_tools.rules import load_rule_set

US = load_rule_set("us")
DAY_BEFORE, FIRST_DAY = date(2022, 12, 13), date(2022, 12, 14)

JACKKNIFE = Lot("jack-knife", 1)
OPENERS = Lot("tin-opener", 2)


@pytest.mark.parametrize(("on", "knives"), [(DAY_BEFORE, 0), (FIRST_DAY, 1)], ids=["the-day-before", "the-first-day"])
def test_a_lifeboat_is_asked_for_a_knife_from_14_december_2022(on: date, knives: int) -> None:
    # 46 CFR 199.175(b)(17), 87 FR 68308; the 2015 edition had the jackknife only
    assert asked(US, "safety knife", LIFEBOAT, 25, on) == knives


def test_the_knife_is_the_only_figure_of_a_lifeboat_that_the_amendment_changed() -> None:
    # 46 CFR 199.175(b), editions of 2015 and 2022 compared
    changed = {
        item
        for item in US_ITEMS.values()
        if asked(US, item, LIFEBOAT, 25, DAY_BEFORE) != asked(US, item, LIFEBOAT, 25, FIRST_DAY)
    }
    assert changed == {"safety knife"}


@pytest.mark.parametrize("on", [DAY_BEFORE, FIRST_DAY], ids=["the-day-before", "the-first-day"])
def test_the_jackknife_itself_is_asked_before_and_after(on: date) -> None:
    # 46 CFR 199.175(b)(16)
    assert asked(US, "jack-knife", LIFEBOAT, 25, on) == 1


# 46 CFR 199.175 note 11 (new in 2022): one jackknife may stand for one can opener and one knife.
@pytest.mark.parametrize(
    ("key", "lots", "counted"),
    [
        ("us-lifeboat.can-opener", [OPENERS, JACKKNIFE], 3),
        ("us-lifeboat.can-opener", [OPENERS], 2),
        ("us-lifeboat.can-opener", [Lot("tin-opener", 1), Lot("jack-knife", 2)], 2),  # for one opener, never for two
        ("us-lifeboat.knife", [JACKKNIFE], 1),
        ("us-lifeboat.knife", [], 0),
    ],
)
def test_one_jackknife_may_stand_for_one_can_opener_and_one_knife(key: str, lots: list[Lot], counted: int) -> None:
    (rule,) = US.by_key()[key]
    assert credited(rule, US.substitutes[key], lots, LIFEBOAT.facts, 25, FIRST_DAY).sure == counted


def test_a_jackknife_stands_for_no_can_opener_before_note_11_was_written() -> None:
    # 46 CFR 199.175 note 11 came with 87 FR 68308, in force on 14 December 2022
    key = "us-lifeboat.can-opener"
    (rule,) = US.by_key()[key]
    assert credited(rule, US.substitutes[key], [OPENERS, JACKKNIFE], LIFEBOAT.facts, 25, DAY_BEFORE).sure == 2
