"""The `solas` rows against a copy by hand of LSA Code 4.4.8, 4.1.5 (A and B pack) and 5.1.2, both ways.

data/lsa_code.csv holds, line by line, the figure of each paragraph and how sure it is: confirmed (read in the text or a
copy of it), confirmed-secondary (read on a page that restates it), partly from memory. It was taken from notes on
those texts, not from the rules. The paragraphs of 5.1.2.4 were read in the UK rules of 1992 for inflated rescue boats
(SI 1992/2359, schedule 2, part III), the same list.
"""

from collections.abc import Iterator

import pytest

from tests.published._crafts import ON, of_equipment_table
from tests.published._tables import Line, read_table
from workbook_tools.rules import Rule, load_rule_set
from workbook_tools.rules.model import Facts

LSA = load_rule_set("solas")
IN_FORCE = [rule for rule in LSA.rules if rule.in_force(ON)]  # an amendment of another day has a test of its own
REMEDY = "the rules in force differ from tests/published/data/lsa_code.csv"
TABLE = read_table("lsa_code.csv")
SUBJECTS = ("lifeboat", "liferaft-a", "liferaft-b", "rescue-boat")
PARAGRAPHS = sorted({(line["subject"], line["paragraph"]) for line in TABLE})

# (subject, paragraph, item, what is asked, figure, unit)
Figure = tuple[str, str, str, str, float, str]


def _figures_of_rule(rule: Rule) -> Iterator[Figure]:
    length = rule.evidence == "length"
    asked = {
        "length" if length else "number": rule.fixed,
        "per person": rule.per_person,
        "percent of persons": rule.percent,
        "length at least" if length else "at least": rule.minimum,
        "length per metre of height": rule.per_height,
        f"more from {rule.threshold or 0:g} persons": rule.extra,
    }
    paragraph = rule.reference.removeprefix("LSA Code ")
    for words, number in asked.items():
        if number:
            yield rule.subject, paragraph, rule.item, words, number, rule.unit


def _figure_of_line(line: Line) -> Figure:
    return line["subject"], line["paragraph"], line["item"], line["asks"], float(line["figure"]), line["unit"]


def _rule_of_line(line: Line) -> Rule:
    (rule,) = [rule for rule in IN_FORCE if _figure_of_line(line) in set(_figures_of_rule(rule))]
    return rule


def _line_name(line: Line) -> str:
    return f"{line['subject']}-{line['paragraph']}-{line['item']}-{line['asks']}".replace(" ", "-")


ALL_LINES = pytest.mark.parametrize("line", TABLE, ids=_line_name)


@pytest.mark.parametrize(("subject", "paragraph"), PARAGRAPHS)
def test_a_paragraph_has_rules_with_its_figures_and_no_others(subject: str, paragraph: str) -> None:
    printed = [_figure_of_line(line) for line in TABLE if (line["subject"], line["paragraph"]) == (subject, paragraph)]
    rules = [rule for rule in IN_FORCE if rule.subject == subject]
    held = [found for rule in rules for found in _figures_of_rule(rule) if found[1] == paragraph]
    assert sorted(held) == sorted(printed), REMEDY


@pytest.mark.parametrize("subject", SUBJECTS)
def test_no_rule_of_a_subject_is_outside_the_table(subject: str) -> None:
    known = {_figure_of_line(line) for line in TABLE}
    rules = [rule for rule in IN_FORCE if rule.subject == subject and of_equipment_table(rule)]
    outside = {rule.key for rule in rules if not set(_figures_of_rule(rule)) <= known}
    assert outside == set(), REMEDY


@pytest.mark.parametrize(
    ("subject", "start", "last"),
    [("lifeboat", "4.4.8", 31), ("liferaft-a", "4.1.5.1", 24), ("rescue-boat", "5.1.2.2", 14)],
)
def test_the_table_skips_no_paragraph(subject: str, start: str, last: int) -> None:
    numbers = {line["paragraph"] for line in TABLE if line["subject"] == subject}
    assert {f"{start}.{number}" for number in range(1, last + 1)} <= numbers


def test_a_b_pack_is_the_paragraphs_that_4_1_5_3_selects() -> None:
    # LSA Code 4.1.5.3 (partly from memory): all but .7 and .17 to .20
    held = {line["paragraph"].partition(";")[0] for line in TABLE if line["subject"] == "liferaft-b"}
    assert held == {f"4.1.5.1.{number}" for number in range(1, 25) if number not in {7, 17, 18, 19, 20}}


# How sure a figure may at most be called, by how it was seen.
SURENESS = {"memory": 0, "secondary": 1, "confirmed": 2}
AT_MOST = {"confirmed": "confirmed", "confirmed-secondary": "secondary", "partly from memory": "memory"}


@ALL_LINES
def test_a_row_is_called_no_surer_than_the_figure_was_seen(line: Line) -> None:
    assert SURENESS[_rule_of_line(line).status] <= SURENESS[AT_MOST[line["standards_status"]]]


# Which craft a line is for: (facts of one that is asked, facts of one that is not).
ASKED_OF: dict[str, tuple[list[Facts], list[Facts]]] = {
    "all": ([{}], []),
    "not free-fall boats": (
        [{"kind": "lifeboat"}, {"kind": "lifeboat and rescue boat"}],
        [{"kind": "free-fall lifeboat"}],
    ),
    "not self-bailing boats": ([{"self_bailing": "no"}], [{"self_bailing": "yes"}]),
    "rigid boats": ([{"construction": "rigid"}], [{"construction": "inflated"}]),
    "inflated boats": ([{"construction": "inflated"}], [{"construction": "rigid"}]),
}


@ALL_LINES
def test_a_row_is_asked_of_the_craft_that_its_paragraph_names(line: Line) -> None:
    condition = _rule_of_line(line).condition
    asked, not_asked = ASKED_OF[line["asked_of"]]
    assert [condition.holds(facts)[0] for facts in asked] == [True] * len(asked)
    assert [condition.holds(facts)[0] for facts in not_asked] == [False] * len(not_asked)


def test_only_a_lifeboats_food_and_fishing_tackle_may_be_waived() -> None:
    # LSA Code 4.4.8.32: nothing else, water stays
    equipment = [rule for rule in LSA.rules if rule.evidence == "inventory"]
    waivable = {(rule.subject, rule.item): rule.waivable for rule in equipment if rule.waivable}
    assert waivable == {
        ("lifeboat", "food ration"): "LSA Code 4.4.8.32",
        ("lifeboat", "fishing tackle"): "LSA Code 4.4.8.32",
        ("lifeboat", "fresh water"): "never: LSA Code 4.4.8.32",
    }


@ALL_LINES
def test_a_row_is_in_force_on_the_day_of_the_comparison(line: Line) -> None:
    assert _rule_of_line(line).in_force(ON)
