"""Planned calls that cannot be as they are written."""

from __future__ import annotations

from datetime import date

from tests.checks.cases.common import Cases, Trip, add, at, quiet
from tests.workbooks import Workbook

TENTH, TWELFTH = date(2027, 5, 10), date(2027, 5, 12)


def two_calls(first: tuple[date, date | None], second: tuple[date, date | None]) -> Trip:
    """Two calls by arrival and departure, written with the later one first; it points at the later one's arrival."""

    def edit(book: Workbook) -> tuple[str, str]:
        late = book.add("ports", port="Kellimar", arrival=second[0], departure=second[1] or "")
        book.add("ports", port="Tarn Haven", arrival=first[0], departure=first[1] or "")
        return at(book, "ports", late, "arrival")

    return edit


CASES: Cases = {
    "SH20": (
        [add("ports", "departure", port="Tarn Haven", arrival=TENTH, departure=date(2027, 5, 9))],
        [
            quiet(add("ports", "departure", port="Tarn Haven", arrival=TENTH, departure=TENTH)),
            quiet(add("ports", "departure", port="Tarn Haven", arrival=TENTH)),
            quiet(add("ports", "departure", port="Tarn Haven", arrival=date(2024, 5, 10), departure=date(2024, 5, 12))),
        ],
    ),
    "SH21": (
        [
            two_calls((TENTH, TWELFTH), (date(2027, 5, 11), date(2027, 5, 14))),
            two_calls((TENTH, date(2027, 5, 20)), (TWELFTH, TWELFTH)),
            two_calls((TENTH, TWELFTH), (date(2027, 5, 11), None)),
        ],
        [
            quiet(two_calls((TENTH, TWELFTH), (TWELFTH, date(2027, 5, 14)))),
            quiet(two_calls((TENTH, None), (TENTH, TWELFTH))),
            # one that cannot be as written is told once, as such
            quiet(two_calls((date(2027, 5, 20), date(2027, 5, 9)), (TENTH, TWELFTH))),
        ],
    ),
}
