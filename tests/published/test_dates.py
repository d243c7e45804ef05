"""Interval arithmetic and month expiry against two independent calculators: python-dateutil and LibreOffice Calc.

What is compared: the corresponding-date rule (same day number in the due month, else its last day), which case law and
EDATE of the OpenDocument formula standard share; no IMO text says how short months count.
"""

import re
import zipfile
from datetime import date, timedelta
from pathlib import Path

import pytest
import xlsxwriter
from dateutil.relativedelta import relativedelta
from hypothesis import given
from hypothesis import strategies as st

from tests.published._soffice import recalculated
from workbook_tools.core.expiry import month_expiry
from workbook_tools.core.interval import add_months, next_due, parse_interval

# Every day of seven years: two leap years (one of them 2000, a leap century) and all the month ends between.
DAYS = [date(1999, 1, 1) + timedelta(days=number) for number in range((date(2006, 1, 1) - date(1999, 1, 1)).days)]
MONTHS = (1, 2, 3, 6, 11, 12, 13, 17, 24, 30, 36, 60, 120, 0, -1, -3, -12, -13)


@pytest.mark.parametrize("months", MONTHS)
def test_months_are_added_as_dateutil_adds_them_on_every_day_of_1999_to_2005(months: int) -> None:
    assert len(DAYS) == 2557
    assert [add_months(day, months) for day in DAYS] == [day + relativedelta(months=months) for day in DAYS]


@pytest.mark.parametrize(
    ("text", "delta"),
    [
        ("12M", relativedelta(months=12)),
        ("17 months", relativedelta(months=17)),
        ("5Y", relativedelta(years=5)),
        ("10 years", relativedelta(years=10)),
        ("2W", relativedelta(weeks=2)),
        ("30D", relativedelta(days=30)),
        ("1 day", relativedelta(days=1)),
    ],
)
def test_a_due_date_is_the_one_dateutil_finds(text: str, delta: relativedelta) -> None:
    interval = parse_interval(text)
    assert [next_due(day, interval) for day in DAYS] == [day + delta for day in DAYS]


@given(st.dates(), st.integers(-3000, 3000))
def test_months_are_added_as_dateutil_adds_them_anywhere_in_the_calendar(start: date, months: int) -> None:
    try:
        expected = start + relativedelta(months=months)
    except (OverflowError, ValueError):
        with pytest.raises(OverflowError):
            add_months(start, months)
    else:
        assert add_months(start, months) == expected


# Worked by hand. The third: month-end does not stick (House of Lords 1981, English law on notices, as restated).
@pytest.mark.parametrize(
    ("start", "months", "due"),
    [
        (date(2026, 1, 31), 1, date(2026, 2, 28)),
        (date(2028, 1, 31), 1, date(2028, 2, 29)),
        (date(2026, 9, 30), 4, date(2027, 1, 30)),
        (date(2024, 2, 29), 12, date(2025, 2, 28)),
        (date(2024, 2, 29), 48, date(2028, 2, 29)),
        (date(2096, 2, 29), 48, date(2100, 2, 28)),  # 2100 is no leap year
    ],
)
def test_a_short_month_gives_its_last_day_and_month_end_does_not_stick(start: date, months: int, due: date) -> None:
    assert add_months(start, months) == due


# ---- LibreOffice Calc ----------------------------------------------------------------------------------------------

# Month ends, the days around them, leap days, and years in which the century decides; Calc counts days from 1899-12-30.
_EDGES = [day for day in DAYS if day.day == 1 or day.day >= 28]
_CENTURY = [
    date(year, month, day)
    for year in (1904, 1972, 2024, 2028, 2096, 2099, 2100, 2104)
    for month, day in ((1, 29), (1, 31), (2, 28), (3, 1), (8, 31), (12, 31))
]
_LEAP_DAYS = [date(year, 2, 29) for year in (1904, 1972, 2024, 2028, 2096, 2104)]
CALC_STARTS = _EDGES + _CENTURY + _LEAP_DAYS
CALC_MONTHS = (1, 3, 6, 12, 13, 17, 60, -1, -12)
CALC_ROWS = [(start, months) for start in CALC_STARTS for months in CALC_MONTHS]

# Columns: start, months, then the formulas.
FORMULAS = ("=EDATE(A{row},B{row})", "=EOMONTH(A{row},0)", "=EOMONTH(A{row},-1)+1")


@pytest.fixture(scope="module")
def workbook(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A workbook of EDATE and EOMONTH formulas, each with the stored result 0."""
    path = tmp_path_factory.mktemp("dates") / "dates.xlsx"
    book = xlsxwriter.Workbook(path)
    sheet = book.add_worksheet()
    day_format = book.add_format({"num_format": "yyyy-mm-dd"})
    sheet.set_column(0, 1 + len(FORMULAS), 12)
    for index, (start, months) in enumerate(CALC_ROWS):
        sheet.write_datetime(index, 0, start, day_format)
        sheet.write_number(index, 1, months)
        for column, formula in enumerate(FORMULAS, start=2):
            sheet.write_formula(index, column, formula.format(row=index + 1), day_format, 0)
    book.close()
    return path


@pytest.fixture(scope="module")
def calc(workbook: Path, tmp_path_factory: pytest.TempPathFactory) -> list[list[str]]:
    """The same workbook as LibreOffice Calc computes it."""
    return recalculated(workbook, tmp_path_factory.mktemp("calc"))


def test_the_workbook_given_to_calc_holds_thousands_of_formulas_and_no_answer(workbook: Path) -> None:
    xml = zipfile.ZipFile(workbook).read("xl/worksheets/sheet1.xml").decode()
    stored = re.findall(r"<f>[^<]*</f><v>([^<]*)</v>", xml)
    assert len(stored) == xml.count("<f>") == len(FORMULAS) * len(CALC_ROWS) > 9000
    assert set(stored) == {"0"}


@pytest.mark.office
def test_calc_read_the_dates_and_months_that_were_written(calc: list[list[str]]) -> None:
    assert [(row[0], row[1]) for row in calc] == [(start.isoformat(), str(months)) for start, months in CALC_ROWS]


@pytest.mark.office
def test_months_are_added_as_calcs_edate_adds_them(calc: list[list[str]]) -> None:
    assert [row[2] for row in calc] == [add_months(start, months).isoformat() for start, months in CALC_ROWS]


@pytest.mark.office
def test_a_month_mark_expires_on_the_day_that_calcs_eomonth_gives(calc: list[list[str]]) -> None:
    assert [row[3] for row in calc] == [month_expiry(start.year, start.month).isoformat() for start, _ in CALC_ROWS]


@pytest.mark.office
def test_a_month_mark_read_as_its_first_day_follows_calcs_month_end_before(calc: list[list[str]]) -> None:
    assert [row[4] for row in calc] == [
        month_expiry(start.year, start.month, first_day=True).isoformat() for start, _ in CALC_ROWS
    ]


@pytest.mark.parametrize("year", [1999, 2000, 2004, 2100])
def test_the_last_day_of_a_month_is_followed_by_the_first_of_the_next(year: int) -> None:
    for month in range(1, 13):
        last = month_expiry(year, month)
        assert (last + timedelta(days=1)).day == 1
        assert last.month == month
