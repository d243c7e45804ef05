"""The Certificates sheet."""

from workbook_tools.columns.model import Column, Sheet
from workbook_tools.columns.shared import REMARKS

CERTIFICATES = Sheet(
    key="certificates",
    name="Certificates",
    layout="table",
    help="The ship's certificates that an inspector asks for, with their dates.",
    other_names=("Ship certificates", "Documents"),
    row_name="certificate",
    columns=(
        Column(
            "certificate",
            "Certificate",
            "text",
            "Its name.",
            required=True,
            other_headings=("Document", "Name"),
            width=40,
            example="Safety Equipment Certificate",
        ),
        Column("number", "Number", "text", "Its number.", other_headings=("No", "Certificate no"), width=18),
        Column("issued", "Issued", "date", "Day of issue.", other_headings=("Issued on", "Date of issue"), width=12),
        Column(
            "until",
            "Valid until",
            "date",
            "Last day; empty where it has none.",
            other_headings=("Expires", "Valid to", "Expiry"),
            width=12,
        ),
        Column("place", "Kept at", "text", "Where it is kept.", other_headings=("Location", "File"), width=20),
        REMARKS,
    ),
)
