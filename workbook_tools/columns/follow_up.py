"""The Follow-up sheet."""

from workbook_tools.columns.model import Column, Sheet
from workbook_tools.columns.shared import REMARKS

FOLLOW_UP = Sheet(
    key="follow_up",
    name="Follow-up",
    layout="table",
    help="What is being done about a finding: one line for each.",
    other_names=("Follow up", "Actions", "Follow-ups"),
    row_name="follow-up",
    columns=(
        Column(
            "finding",
            "Finding",
            "text",
            "Its id, as the audit prints it (EQ01-7lrpes).",
            required=True,
            other_headings=("Finding id", "Id"),
            width=16,
            example="EQ01-7lrpes",
        ),
        Column(
            "order",
            "Order or job",
            "text",
            "Number of the requisition or job.",
            other_headings=("Requisition", "Order", "Job", "Order no"),
            width=18,
        ),
        Column(
            "port",
            "Expected at",
            "text",
            "Port where it will be put right.",
            other_headings=("Port", "Expected port"),
            width=18,
        ),
        Column(
            "expected",
            "Expected on",
            "date",
            "Day by which it will be put right; past it the finding comes back.",
            other_headings=("Expected date", "Due", "By"),
            width=12,
        ),
        Column(
            "reported_to",
            "Reported to",
            "text",
            "Flag, class or port that was told, and when.",
            other_headings=("Reported", "Reported to flag or class"),
            width=24,
        ),
        Column(
            "interim",
            "Meanwhile",
            "text",
            "What is done until then.",
            other_headings=("Interim measure", "Interim"),
            width=34,
        ),
        Column(
            "closed",
            "Closed on",
            "date",
            "Day on which it was put right.",
            other_headings=("Closed", "Done on"),
            width=12,
        ),
        REMARKS,
    ),
)
