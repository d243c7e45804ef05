"""A register of extinguishers whose kind stands only in the title, hoses under it, and a record of services."""

from datetime import date
from typing import Any

from tests.adopt.layouts.layout import Layout, put

D = date


def draw(book: Any) -> None:
    day = book.add_format({"num_format": "dd mmm yyyy"})
    fire = book.add_worksheet("FFE")
    put(fire, "A1", [["PORTABLE FIRE EXTINGUISHERS"]])
    put(fire, "A3", [["Ext. No.", "Medium", "Cap.", "Location", "Last annual service", "Last HP test"]])
    put(
        fire,
        "A4",
        [
            ["FE1", "CO2", "5 kg", "Bridge", D(2026, 2, 10), D(2021, 2, 5)],
            ["FE2", "Foam", "9 L", "Engine room", D(2026, 2, 10), D(2022, 3, 1)],
            ["FE3", "Powder", "6 kg", "Galley", D(2026, 2, 10), D(2020, 9, 15)],
            ["FE4", "Foam", "9 L", "Poop deck", D(2026, 2, 10), D(2022, 3, 1)],
        ],
        day,
    )
    work = book.add_worksheet("Services")
    put(work, "A1", [["Equipment", "Work", "Last carried out", "Done by", "Firm", "Next due"]])
    put(
        work,
        "A2",
        [
            ["Lifeboat 1", "Falls renewed", D(2023, 4, 1), "Authorised service provider", "Stanmark", D(2028, 4, 1)],
            ["Lifeboat 1", "Davit annual", D(2026, 3, 3), "Authorised service provider", "Stanmark", D(2027, 3, 3)],
            ["Lifeboat 2", "Hook overhaul", D(2024, 5, 6), "Maker", "Hollin", D(2029, 5, 6)],
            ["EPIRB", "EPIRB annual test", D(2026, 6, 7), "Shore technician", "Radwell", D(2027, 6, 7)],
        ],
        day,
    )


LAYOUT = Layout(
    about=__doc__ or "",
    draw=draw,
    columns={
        ("FFE", "A3"): "fire.number",
        ("FFE", "B3"): "fire.agent",
        ("FFE", "C3"): "fire.size",
        ("FFE", "D3"): "fire.place",
        ("FFE", "E3"): "fire.serviced",
        ("FFE", "F3"): "fire.pressure_tested",
        ("Services", "A1"): "servicing.appliance",
        ("Services", "B1"): "servicing.service",
        ("Services", "C1"): "servicing.done",
        ("Services", "D1"): "servicing.done_by",
        ("Services", "E1"): "servicing.firm",
        ("Services", "F1"): "servicing.next_due",
    },
    counts={"fire": 4, "servicing": 4},
)
