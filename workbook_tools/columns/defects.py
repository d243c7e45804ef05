"""The Defects sheet."""

from workbook_tools import catalogue
from workbook_tools.columns.model import Column, Sheet
from workbook_tools.columns.shared import REMARKS

DEFECTS = Sheet(
    key="defects",
    name="Defects",
    layout="table",
    help="Only what is not satisfactory: one line for each defect.",
    other_names=("Defect list", "Defect", "Deficiencies"),
    row_name="defect",
    columns=(
        Column(
            "subject",
            "Craft or place",
            "text",
            "Name of the craft, or the place on board.",
            required=True,
            other_headings=("Craft", "Place", "Where", "Appliance"),
            width=18,
            example="Lifeboat 1",
        ),
        Column(
            "fitting",
            "Fitting",
            "choice",
            "What is not in order.",
            required=True,
            choices=tuple(catalogue.fittings()),
            choice_names=tuple((fitting.key, fitting.other_names) for fitting in catalogue.fittings().values()),
            other_headings=("Item", "Part", "What"),
            width=32,
            example="limit switches",
        ),
        Column(
            "wrong",
            "What is wrong",
            "text",
            "In a few words.",
            other_headings=("Defect", "Description", "Fault"),
            width=40,
        ),
        Column(
            "since",
            "Since",
            "date",
            "Day on which it was found.",
            other_headings=("Found", "Found on", "Date"),
            width=12,
        ),
        Column("by", "By", "text", "Rank or crew number of who found it.", other_headings=("Found by",), width=14),
        Column(
            "closed",
            "Closed on",
            "date",
            "Day on which it was put right; empty while it stands.",
            other_headings=("Closed", "Put right on", "Repaired on", "Rectified"),
            width=12,
        ),
        REMARKS,
    ),
)
