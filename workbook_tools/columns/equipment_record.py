"""The Record of Equipment sheet."""

from workbook_tools.columns.model import Column, Sheet
from workbook_tools.columns.shared import REMARKS

FORM_ENTRIES = (
    "persons provided for",
    "lifeboats",
    "persons in lifeboats",
    "rescue boats",
    "liferafts",
    "persons in liferafts",
    "lifebuoys",
    "lifejackets",
    "immersion suits",
    "thermal protective aids",
    "two-way VHF",
    "SART",
    "line-throwing appliances",
    "rocket parachute flares, bridge",
)

EQUIPMENT_RECORD = Sheet(
    key="record_of_equipment",
    name="Record of Equipment",
    layout="table",
    help="The figures of Form E (Form P for passenger ships), to compare with the rule and with what is carried.",
    other_names=("Form E", "Form P", "Record of equipment (Form E)"),
    row_name="figure",
    columns=(
        Column(
            "entry",
            "Entry",
            "choice",
            "Line of the form.",
            required=True,
            unique=True,
            choices=FORM_ENTRIES,
            choice_names=(
                (
                    "persons provided for",
                    ("total number of persons", "persons for which life-saving appliances are provided"),
                ),
                ("lifejackets", ("number of lifejackets",)),
                ("immersion suits", ("number of immersion suits",)),
                ("lifebuoys", ("number of lifebuoys",)),
                ("two-way VHF", ("two-way VHF radiotelephone apparatus", "survival craft VHF")),
                ("SART", ("search and rescue locating devices", "SARTs")),
                ("line-throwing appliances", ("line throwing appliances",)),
            ),
            other_headings=("Item", "Line", "What"),
            width=34,
            example="lifejackets",
        ),
        Column(
            "figure",
            "Figure",
            "whole",
            "The number on the form.",
            minimum=0,
            maximum=100_000,
            other_headings=("Number", "On the certificate", "Certificate figure"),
            width=10,
        ),
        REMARKS,
    ),
)
