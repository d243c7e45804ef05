"""The functions as typed into a running Calc: scalar, range and array form, blanks, errors, dates, wizard texts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from tests.addins.calc.office import Office
from workbook_tools.cells import FUNCTIONS

pytestmark = pytest.mark.office

SHEET = "Sheet1"
EXAMPLES = [(formula, value) for function in FUNCTIONS.values() for formula, value in function.examples]


@pytest.fixture(name="sheet")
def _sheet(office: Office) -> Iterator[Sheet]:
    with office.document() as document:
        yield Sheet(office, document)


class Sheet:
    """The first sheet of a new document. Its column A holds numbers, a blank and a text."""

    def __init__(self, office: Office, document: int) -> None:
        self._office, self._document = office, document
        office.ask("fill", document, SHEET, "A1", [[6], [20], [21], [None], ["many"], [600]])

    def fill(self, corner: str, rows: list[list[Any]]) -> None:
        """Numbers, texts and blanks, from a cell on."""
        self._office.ask("fill", self._document, SHEET, corner, rows)

    def answer(self, formula: str) -> Any:
        """What a cell says when the formula is typed into it."""
        self._office.ask("formulas", self._document, SHEET, "Z1", [[formula]])
        return self._office.ask("read", self._document, SHEET, "Z1")[0][0]

    def array(self, place: str, formula: str) -> list[list[Any]]:
        """What the cells of an array formula say."""
        self._office.ask("array_formula", self._document, SHEET, place, formula)
        return self.read(place)

    def read(self, place: str) -> list[list[Any]]:
        """What cells say."""
        rows: list[list[Any]] = self._office.ask("read", self._document, SHEET, place)
        return rows

    def count_from_1904(self) -> None:
        """Make the document count its days from 1 January 1904."""
        self._office.ask("null_date", self._document, 1904, 1, 1)


def _semicolons(formula: str) -> str:
    """A formula as Calc's interface takes it: arguments are separated by ';' there in every language."""
    parts = formula.split('"')
    return '"'.join(part.replace(",", ";") if number % 2 == 0 else part for number, part in enumerate(parts))


@pytest.mark.parametrize(("formula", "value"), EXAMPLES, ids=lambda part: str(part)[:60])
def test_every_example_of_the_documentation_answers_as_it_says(sheet: Sheet, formula: str, value: Any) -> None:
    got = sheet.answer(_semicolons(formula))
    assert got == (pytest.approx(value) if isinstance(value, float) else value)


def test_names_may_be_typed_in_lower_case(sheet: Sheet) -> None:
    assert sheet.answer("=lsa_tpa(36)+1") == 5


@pytest.mark.parametrize(
    ("formula", "error"),
    [
        ('=LSA_TPA("many")', "#VALUE!"),
        ("=LSA_TPA(-1)", "#VALUE!"),
        ("=LSA_TPA()", "#VALUE!"),
        ('=LSA_REQUIRED("no such thing";"lifeboat";36)', "#N/A"),
        ('=LSA_REQUIRED("hand flare";"no such craft";36)', "#N/A"),
        ('=LSA_REQUIRED("hand flare";"lifeboat";36;;"nonsense=1")', "#VALUE!"),
        ('=LSA_NEXT_DUE(2958000;"50Y")', "#NUM!"),
        ("=LSA_TPA(NA())", "#N/A"),
        ("=LSA_TPA(1/0)", "#DIV/0!"),
        ("=LSA_TPA(1;2)", "Err:504"),
    ],
)
def test_an_error_shows_its_kind(sheet: Sheet, formula: str, error: str) -> None:
    assert sheet.answer(formula) == {"error": error}


def test_arguments_may_be_left_out_in_the_middle_and_at_the_end(sheet: Sheet) -> None:
    whole = sheet.answer('=LSA_REQUIRED("sponge";"rescue boat";6;"";"construction=inflated")')
    assert whole == 2
    assert sheet.answer('=LSA_REQUIRED("sponge";"rescue boat";6;;"construction=inflated")') == whole
    assert sheet.answer('=LSA_REQUIRED("hand flare";"lifeboat";36;;)') == 6


@pytest.mark.parametrize("formula", ["=LSA_TPA(A4)", '=LSA_TPA("")', "=LSA_STATUS(A4;46351)", '=LSA_ITEMS("")'])
def test_blank_in_is_blank_out(sheet: Sheet, formula: str) -> None:
    assert sheet.answer(formula) == ""


def test_a_blank_cell_is_0_where_0_is_a_value(sheet: Sheet) -> None:
    # the named exception: Calc hands a blank cell over as 0
    assert sheet.answer('=LSA_SHORT("hand flare";"lifeboat";36;A4)') == 6


def test_a_range_fills_an_array_formula(sheet: Sheet) -> None:
    assert sheet.array("C1:C6", "=LSA_TPA(A1:A6)") == [[2], [2], [3], [""], [{"error": "#VALUE!"}], [60]]


def test_a_list_in_braces_is_a_range(sheet: Sheet) -> None:
    assert sheet.array("C1:C3", "=LSA_TPA({6|30|600})") == [[2], [3], [60]]


def test_two_ranges_are_answered_row_by_row(sheet: Sheet) -> None:
    sheet.fill("E1", [["hand flare", "lifeboat"], ["compass", "liferaft"], ["no such thing", "lifeboat"]])
    assert sheet.array("G1:G3", "=LSA_REQUIRED(E1:E3;F1:F3;36)") == [[6], [0], [{"error": "#N/A"}]]


def test_a_formula_in_a_single_cell_shows_the_first_answer_of_a_range(sheet: Sheet) -> None:
    assert sheet.answer("=LSA_TPA(A2:A3)") == 2


def test_the_answers_of_a_range_can_be_summed_in_one_cell(sheet: Sheet) -> None:
    assert sheet.answer("=SUMPRODUCT(LSA_TPA(A1:A3))") == 7


def test_a_range_holding_an_error_is_err_504(sheet: Sheet) -> None:
    # the named exception: Calc does not call the function at all
    assert sheet.answer("=1/0") == {"error": "#DIV/0!"}
    assert sheet.array("C1:C2", "=LSA_TPA(Z1:Z2)") == [[{"error": "Err:504"}], [{"error": "Err:504"}]]


def test_a_whole_column_is_cut_at_its_last_filled_cell(sheet: Sheet) -> None:
    sheet.fill("E1", [[50], [None], [25]])
    assert sheet.answer("=LSA_COVER_PCT(75;E:E)") == 100
    assert sheet.array("C1:C3", "=LSA_TPA(E:E)") == [[5], [""], [3]]


def test_a_table_spills_into_an_array_formula(sheet: Sheet) -> None:
    assert sheet.array("C1:F3", "=LSA_RATION_PLAN(6;6;3)") == [[1, 0, 0, 6], [2, 0.5, 3, 3], [3, 0.5, 3, 0]]


TEXT_CHECKS = [
    ('=IF({}="in date";1;0)', 1),
    ('=EXACT({};"in date")', 1),
    ('=({}="IN DATE")+({}<>"due")', 1),
    ("=({}=H1)*1", 1),
]


@pytest.mark.parametrize(("check", "value"), TEXT_CHECKS)
def test_a_text_answer_can_be_compared_with_a_text(sheet: Sheet, check: str, value: float) -> None:
    # In a table of mixed type a text equals nothing in Calc: why a single answer goes back as a single value.
    sheet.fill("H1", [["in date"]])
    assert sheet.answer(check.replace("{}", "LSA_STATUS(46460;46351)")) == value


def test_the_texts_of_an_array_can_be_counted_and_looked_up(sheet: Sheet) -> None:
    sheet.fill("E1", [[46300, 1], [46360, 2], [46460, 3], [None, 4], ["x", 5]])
    shown = [["expired"], ["due"], ["in date"], [""], ["#VALUE!"]]
    assert sheet.array("G1:G5", "=LSA_STATUS(E1:E5;46351)") == shown
    assert sheet.answer('=COUNTIF(G1:G5;"due")') == 1
    assert sheet.answer('=MATCH("in date";G1:G5;0)') == 3
    assert sheet.answer('=SUMIF(G1:G5;"in date";F1:F5)') == 3
    assert sheet.answer('=SUMPRODUCT((G1:G5="expired")*F1:F5)') == 1
    assert sheet.answer('=IF(G4="";1;0)') == 1


def test_numbers_of_an_array_can_be_summed_past_a_blank(sheet: Sheet) -> None:
    sheet.array("C1:C4", "=LSA_TPA(A1:A4)")
    assert sheet.answer("=SUM(C1:C4)") == 7
    assert sheet.answer("=COUNT(C1:C4)") == 3
    assert sheet.answer("=MIN(C1:C4)") == 2
    assert sheet.answer("=LEN(C4)") == 0


def test_an_array_follows_its_range(sheet: Sheet) -> None:
    sheet.array("C1:C3", "=LSA_TPA(A1:A3)")
    for persons in (300, 30, 300):
        sheet.fill("A1", [[persons]])
        assert sheet.read("C1:C3") == [[persons / 10], [2], [3]]


def test_dates_come_as_numbers_texts_and_results_of_date_functions(sheet: Sheet) -> None:
    for day in ("46053", "DATE(2026;1;31)", '"2026-01-31"', '"31 Jan 2026"'):
        assert sheet.answer(f'=LSA_NEXT_DUE({day};"1M")') == 46081
    assert sheet.answer('=LSA_NEXT_DUE("03/04/2026";"1M")') == {"error": "#VALUE!"}


def test_a_document_that_counts_from_1904_gives_the_same_day(sheet: Sheet) -> None:
    sheet.count_from_1904()
    assert sheet.answer('=LSA_NEXT_DUE(DATE(2026;1;31);"1M")=DATE(2026;2;28)') == 1
    assert sheet.answer('=LSA_NEXT_DUE(DATE(2024;2;29);"1Y")=EDATE(DATE(2024;2;29);12)') == 1
    assert sheet.answer('=LSA_STATUS(DATE(2026;12;5);"2026-11-25")') == "due"
    assert sheet.answer('=LSA_DAYS_LEFT("2026-12-31";DATE(2026;11;25))') == 36


def test_next_due_agrees_with_calcs_own_edate(sheet: Sheet) -> None:
    # EDATE of the OpenDocument formula standard, as Calc computes it
    days = [[45321 + 29 * step] for step in range(60)]
    sheet.fill("J1", days)
    for months in (1, 3, 12, 30):
        assert sheet.array("L1:L60", f'=LSA_NEXT_DUE(J1:J60;"{months}M")-EDATE(J1:J60;{months})') == [[0]] * 60


def test_the_wizard_tells_help_and_arguments_of_every_function(office: Office) -> None:
    told = office.ask("described")
    for name, function in FUNCTIONS.items():
        description, arguments = told[name]
        assert description == function.help
        assert arguments == [[argument.name, argument.help] for argument in function.arguments]


def test_the_extension_manager_names_the_extension(office: Office) -> None:
    assert office.ask("installed") == ["org.davitbook.calc", "davitbook cell functions"]
