"""The Routine sheet."""

from workbook_tools import catalogue
from workbook_tools.columns.model import Column, Sheet
from workbook_tools.columns.shared import REMARKS

ROUTINE = Sheet(
    key="routine",
    name="Routine",
    layout="table",
    help="One line for each inspection, test, drill or training that was held.",
    other_names=("Drills", "Log", "Inspections and drills", "Routine log", "Drills and inspections"),
    row_name="entry",
    columns=(
        Column(
            "day",
            "Date",
            "date",
            "Day on which it was held.",
            required=True,
            other_headings=("Day", "Held on", "Done on"),
            width=12,
        ),
        Column(
            "task",
            "Task",
            "choice",
            "What was done.",
            required=True,
            choices=tuple(catalogue.tasks()),
            choice_names=tuple((task.key, task.other_names) for task in catalogue.tasks().values()),
            other_headings=("Drill", "Inspection", "What", "Activity"),
            width=34,
            example="abandon ship drill",
        ),
        Column(
            "subject",
            "Craft or place",
            "text",
            "Name of the craft, for work on one; empty: the ship.",
            other_headings=("Craft", "Place", "Subject", "Boat"),
            width=16,
        ),
        Column(
            "result",
            "Result",
            "choice",
            "Satisfactory, defect (then a line on Defects), or not held (say why in Remarks).",
            choices=("satisfactory", "defect", "not held"),
            choice_names=(
                ("satisfactory", ("ok", "good", "done", "sat")),
                ("defect", ("defective", "unsatisfactory", "fault")),
                ("not held", ("postponed", "cancelled", "not done")),
            ),
            other_headings=("Outcome",),
            width=14,
        ),
        Column(
            "present",
            "Taking part",
            "text",
            "Crew numbers: 'all', '1-8, 12', 'all except 4, 7'.",
            other_headings=("Present", "Participants", "Attended by", "Attendance"),
            width=20,
        ),
        Column(
            "by",
            "By",
            "text",
            "Rank or crew number of who was in charge.",
            other_headings=("Held by", "Officer"),
            width=14,
        ),
        REMARKS,
    ),
)
