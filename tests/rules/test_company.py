"""A company's file tightens, adds and lengthens; it never loosens in silence."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.workbooks import ON, clean
from workbook_tools.core.quantity import required
from workbook_tools.rules import load_rule_set
from workbook_tools.rules.company import Company, CompanyError, read_company

HEAD = 'name = "Fleet instruction 12"\n'


def read(tmp_path: Path, text: str, name: str = "fleet.toml") -> Company:
    path = tmp_path / name
    path.write_text(HEAD + text, encoding="utf-8")
    return read_company(path, required)


def tighten(rule: str, values: str, reference: str = "FI 12.3") -> str:
    return f'[[rule]]\ntightens = "{rule}"\n{values}\nreference = "{reference}"\n'


WATER = tighten("lifeboat.fresh-water", "per_person = 4")
BLANKETS = """
[[rule]]
key = "company.blankets"
item = "Blankets"
subject = "lifeboat"
evidence = "inventory"
fixed = 2
reference = "FI 12.4"
priority = "plan"
"""


def test_a_tightened_figure_takes_the_place_of_the_published_one(tmp_path: Path) -> None:
    company = read(tmp_path, WATER)
    findings = clean().findings(company=company)
    assert [(finding.rule, finding.required) for finding in findings] == [("lifeboat.fresh-water", 80)] * 2
    assert findings[0].source == "LSA Code 4.4.8.9; company rule: FI 12.3"
    assert "company rule: 4 for each person, published: 3 for each person" in findings[0].message


def test_without_the_file_nothing_is_changed(tmp_path: Path) -> None:
    published = load_rule_set("solas")
    read(tmp_path, WATER).applied(published)
    assert clean().findings() == []


def test_a_rule_of_its_own_is_asked_and_cited(tmp_path: Path) -> None:
    company = read(tmp_path, BLANKETS)
    findings = clean().findings(company=company)
    assert [(finding.rule, finding.priority) for finding in findings] == [("company.blankets", "plan")] * 2
    assert findings[0].source == "company rule: FI 12.4"
    book = clean()
    for boat in ("Lifeboat 1", "Lifeboat 2"):
        book.add("inventory", place=boat, item="blanket", quantity=2)
    assert book.findings(company=company) == []


def test_a_rule_of_its_own_has_a_state_for_each_boat(tmp_path: Path) -> None:
    company = read(tmp_path, BLANKETS.replace("fixed = 2", 'fixed = 2\napplies_to = "kind=free-fall lifeboat"'))
    result = clean().audit(company=company)
    states = {state.subject: state.state for state in result.states if state.rule == "company.blankets"}
    assert states == {"Lifeboat 1": "not_applicable", "Lifeboat 2": "not_applicable"}


def test_a_rule_of_the_whole_ship_is_counted_wherever_it_lies(tmp_path: Path) -> None:
    stock = BLANKETS.replace('"lifeboat"', '"ship"').replace('"inventory"', '"stock"').replace("fixed", "per_person")
    company = read(tmp_path, stock)
    book = clean()
    book.add("inventory", place="Safety locker", item="blanket", quantity=24)
    states = {
        state.subject: state.state for state in book.audit(company=company).states if state.rule[:8] == "company."
    }
    assert states == {"ship": "passed"}
    book.rows["inventory"][-1]["quantity"] = 23
    assert [finding.rule for finding in book.findings(company=company)] == ["company.blankets"]


def test_longer_lead_times_make_things_due_earlier(tmp_path: Path) -> None:
    company = read(tmp_path, "[warn]\npyrotechnic = 120\n")
    book = clean()
    book.lot("hand flare")["expires"] = date(2027, 3, 25)  # 120 days ahead
    assert [finding.code for finding in book.findings(company=company)] == ["EX03"]
    assert book.findings() == []
    assert book.findings(company=company, warn_days=30) == []


def test_the_lead_time_for_others_leaves_named_groups_alone(tmp_path: Path) -> None:
    company = read(tmp_path, "[warn]\nother = 45\n")
    assert (company.warning_days("ration"), company.warning_days("pyrotechnic")) == (45, None)


@pytest.mark.parametrize(
    ("rule", "values"),
    [
        ("lifeboat.fresh-water", "per_person = 2.9"),
        ("lifeboat.fresh-water", "per_person = 0\nfixed = 449"),  # enough for 149 persons, not for 150
        ("lifeboat.thermal-protective-aids", "percent = 0\nminimum = 14"),  # as many as 140 persons are asked
        ("lifeboat.painter-length", "per_height = 1.9"),
        ("liferaft.service", "fixed = 13"),
        ("lifeboat.buckets", 'priority = "plan"'),
        ("us-lifeboat.water", "per_person = 2"),
    ],
)
def test_a_looser_figure_is_refused_and_allowed_only_on_the_administrations_word(
    tmp_path: Path, rule: str, values: str
) -> None:
    with pytest.raises(CompanyError, match=r"fleet\.toml, rule 1 .*looser than the published rule"):
        read(tmp_path, tighten(rule, values))
    company = read(tmp_path, tighten(rule, f'{values}\nadministration_reference = "MN 4/2026"'))
    assert len(company.looser) == 1
    assert rule in company.looser[0]
    assert "MN 4/2026" in company.looser[0]
    rows = [row for row in company.applied(load_rule_set(rule_set(rule))).rules if row.key == rule]
    assert all("Administration: MN 4/2026" in row.reference for row in rows)


def rule_set(key: str) -> str:
    return "us" if key.startswith("us-") else "solas"


@pytest.mark.parametrize(
    ("rule", "values"),
    [
        ("lifeboat.fresh-water", "per_person = 3"),
        ("lifeboat.fresh-water", "per_person = 0\nfixed = 450"),
        ("lifeboat.thermal-protective-aids", "percent = 0\nminimum = 15"),
        ("liferaft.service", "fixed = 12"),
        ("liferaft.service", "fixed = 6"),
        ("lifeboat.buckets", "fixed = 3"),
        ("lifeboat.buckets", 'priority = "before sailing"'),
    ],
)
def test_a_figure_that_asks_as_much_everywhere_is_accepted(tmp_path: Path, rule: str, values: str) -> None:
    assert read(tmp_path, tighten(rule, values)).looser == ()


@given(st.floats(0, 6).map(lambda figure: round(figure, 2)))
@settings(max_examples=40, deadline=None)
def test_accepted_in_silence_means_never_less_water_for_anybody(
    tmp_path_factory: pytest.TempPathFactory, figure: float
) -> None:
    path = tmp_path_factory.mktemp("company")
    try:
        company = read(path, tighten("lifeboat.fresh-water", f"per_person = {figure}"))
    except CompanyError:
        assert figure < 3
        return
    [own] = [row for row in company.applied(load_rule_set("solas")).rules if row.key == "lifeboat.fresh-water"]
    [published] = [row for row in load_rule_set("solas").rules if row.key == "lifeboat.fresh-water"]
    assert all((required(own, persons) or 0) >= (required(published, persons) or 0) for persons in range(1, 151))


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("rules = 3\n", "there is no key 'rules'; did you mean 'rule'?"),
        ("rule = 3\n", r"\[\[rule\]\]"),
        (
            tighten("lifeboat.fresh-watr", "per_person = 4"),
            "there is no rule 'lifeboat.fresh-watr'; did you mean 'lifeb",
        ),
        (
            tighten("lifeboat.fresh-water", "per_persons = 4"),
            "there is no key 'per_persons'; did you mean 'per_person'?",
        ),
        (tighten("lifeboat.fresh-water", 'per_person = "4"'), "per_person must be a number"),
        (tighten("lifeboat.fresh-water", "per_person = true"), "per_person must be a number"),
        (tighten("lifeboat.fresh-water", "per_person = -1"), "per_person must be a number"),
        (tighten("lifeboat.fresh-water", "per_person = inf"), "per_person must be a number"),
        (tighten("lifeboat.fresh-water", ""), "it changes nothing"),
        (tighten("lifeboat.fresh-water", "extra = 3"), "threshold and extra go together"),
        (tighten("lifeboat.fresh-water", "per_person = 4", ""), "reference is missing"),
        (tighten("lifeboat.fresh-water", 'done_by = ["bosun"]'), "done_by cannot be 'bosun'"),
        (tighten("lifeboat.fresh-water", 'priority = "soon"'), "priority cannot be 'soon'"),
        (WATER + WATER, "rule 2: lifeboat.fresh-water stands here a second time"),
        ('[[rule]]\nreference = "x"\n', "give tightens"),
        (BLANKETS.replace("company.blankets", "blankets"), "begins with 'company.'"),
        (BLANKETS.replace('"inventory"', '"certificate"'), "evidence cannot be 'certificate'"),
        (BLANKETS.replace('"lifeboat"', '"ship"'), "the subject is lifeboat or"),
        (BLANKETS.replace('"Blankets"', '"blancket"'), "item 'blancket' is not in the list; did you mean 'blanket'"),
        (BLANKETS.replace("fixed = 2", "fixed = 0"), r"rule 1 \(company.blankets\): no quantity"),
        (BLANKETS.replace("fixed = 2", 'fixed = 2\nunit = "boxen"'), "unit is 'boxen'"),
        (BLANKETS.replace("fixed = 2", 'fixed = 2\napplies_to = "kind=dinghy"'), "kind cannot be 'dinghy'"),
        (BLANKETS.replace("fixed = 2", 'fixed = 2\nin_force_from = "2027"'), "in_force_from must be a day"),
        ("[warn]\npyrotechnics = 120\n", "warn: there is no key 'pyrotechnics'; did you mean 'pyrotechnic'?"),
        ("[warn]\npyrotechnic = 60\n", "shorter than the usual 90 days"),
        ("[warn]\npyrotechnic = 120.5\n", "whole number of days"),
        ("warn = 3\n", r"\[warn\]"),
        ("[[rule]\n", "is no TOML"),
    ],
)
def test_a_slip_is_refused_with_file_entry_and_what_to_do(tmp_path: Path, text: str, says: str) -> None:
    with pytest.raises(CompanyError, match=says) as caught:
        read(tmp_path, text)
    assert str(caught.value).startswith("fleet.toml")


def test_a_shorter_lead_time_needs_the_administrations_word(tmp_path: Path) -> None:
    company = read(tmp_path, '[warn]\npyrotechnic = 60\nadministration_reference = "MN 4/2026"\n')
    assert company.warning_days("pyrotechnic") == 60
    assert "usually 90 (Administration: MN 4/2026)" in company.looser[0]


def test_a_file_without_name_or_that_is_not_there_is_refused(tmp_path: Path) -> None:
    (tmp_path / "no_name.toml").write_text(WATER)
    with pytest.raises(CompanyError, match="name is missing"):
        read_company(tmp_path / "no_name.toml", required)
    with pytest.raises(CompanyError, match="cannot be read"):
        read_company(tmp_path / "nowhere.toml", required)
    (tmp_path / "latin.toml").write_bytes(b'name = "M\xfcller"')
    with pytest.raises(CompanyError, match="UTF-8"):
        read_company(tmp_path / "latin.toml", required)


def test_the_day_from_which_an_own_rule_holds(tmp_path: Path) -> None:
    company = read(tmp_path, BLANKETS.replace("fixed = 2", "fixed = 2\nin_force_from = 2026-11-26"))
    assert clean().findings(ON, company=company) == []
    assert len(clean().findings(date(2026, 11, 26), company=company)) == 2


def test_every_published_rule_tightened_to_itself_is_accepted(tmp_path: Path) -> None:
    """No rule is called looser than itself: naming its own priority changes nothing."""
    entries = {}
    for name in ("solas", "us"):
        for rows in load_rule_set(name).by_key().values():
            if len({row.priority for row in rows}) == 1:
                entries[rows[0].key] = tighten(rows[0].key, f'priority = "{rows[0].priority}"')
    company = read(tmp_path, "".join(entries.values()))
    assert company.looser == ()
    assert len(company.tightenings) == len(entries) > 150
