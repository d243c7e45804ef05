"""An American log of drills with month-first dates in text, defects under it, and certificates."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date


def draw(book: Any) -> None:
    page = book.add_worksheet("Drill Log")
    put(
        page,
        "A1",
        [["DRILLS AND WEEKLY CHECKS"], ["Date held", "Type of drill", "Craft", "Result", "Held by", "Remarks"]],
    )
    put(
        page,
        "A3",
        [
            ["09/06/2026", "Abandon ship drill", None, "Satisfactory", "Chief Mate", None],
            ["09/06/2026", "Fire drill", None, "Satisfactory", "Chief Mate", "paint locker"],
            ["09/13/2026", "Weekly inspection", None, "Satisfactory", "3rd Mate", None],
            ["09/13/2026", "Engine run", "Lifeboat 1", "Satisfactory", "3rd Engineer", None],
            ["10/04/2026", "Lifeboat launched", "Lifeboat 2", "Satisfactory", "Chief Mate", None],
        ],
    )
    put(page, "A10", [["OPEN DEFECTS"], ["Craft", "Part", "What is wrong", "Found on"]])
    put(page, "A12", [["Lifeboat 1", "Limit switch", "does not cut out", "09/13/2026"]])
    papers = book.add_worksheet("Certificates")
    day = book.add_format({"num_format": "m/d/yyyy"})
    put(papers, "A1", [["Certificate", "Number", "Issue date", "Expiry date"]])
    put(
        papers,
        "A2",
        [
            ["Safety Equipment Certificate", "SE-101", D(2023, 8, 1), D(2028, 7, 31)],
            ["Safety Management Certificate", "SM-77", D(2024, 2, 1), D(2029, 1, 31)],
            ["Safety Radio Certificate", "SR-3", D(2023, 8, 1), D(2028, 7, 31)],
        ],
        day,
    )


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    columns={
        ("Drill Log", "A2"): "routine.day",
        ("Drill Log", "B2"): "routine.task",
        ("Drill Log", "C2"): "routine.subject",
        ("Drill Log", "D2"): "routine.result",
        ("Drill Log", "E2"): "routine.by",
        ("Drill Log", "F2"): "routine.remarks",
        ("Drill Log", "A11"): "defects.subject",
        ("Drill Log", "B11"): "defects.fitting",
        ("Drill Log", "C11"): "defects.wrong",
        ("Drill Log", "D11"): "defects.since",
        ("Certificates", "A1"): "certificates.certificate",
        ("Certificates", "B1"): "certificates.number",
        ("Certificates", "C1"): "certificates.issued",
        ("Certificates", "D1"): "certificates.until",
    },
    counts={"routine": 5, "defects": 1, "certificates": 3},
)
