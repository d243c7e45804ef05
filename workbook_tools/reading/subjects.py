"""What a finding is about: the names of rows, and findings on cells."""

from workbook_tools.findings import Finding
from workbook_tools.reading.book import Row, Table
from workbook_tools.reading.cells import as_text, shortened

# A cell can hold 32,000 characters; a subject is one line of a report.
SUBJECT_LENGTH = 100


def record_finding(
    code: str, grade: str, table: Table, cell: str, message: str, remedy: str, subject: str = ""
) -> Finding:
    return Finding(
        code=code,
        rule=f"record.{code.lower()}",
        grade=grade,
        priority="plan" if grade == "note" else "at next port",
        sheet=table.name,
        cell=cell,
        subject=shortened(subject, SUBJECT_LENGTH) or f"{table.name}!{cell}",
        message=message,
        remedy=remedy,
    )


def lot_name(row: Row) -> str:
    """A lot by place, item and what tells it from others there: its batch, or the date on it. '' when nothing is read.

    The row's number is no part of it, so that a finding keeps its id when lines are sorted or taken out.
    """
    own = row.values.get("batch") or row.values.get("expires") or row.unclear.get("expires")
    parts = (row.values.get("place"), row.values.get("item"), own)
    return shortened(", ".join(as_text(part) for part in parts if part is not None), SUBJECT_LENGTH)


def row_subject(row: Row, table: Table) -> str:
    """What a row is about, for the reader and for the finding's identity: it must not hold the row number."""
    keys = {
        "craft": ("name",),
        "crew": ("number",),
        "servicing": ("appliance", "service"),
        "routine": ("task", "subject"),
        "fire": ("number", "kind"),
        "defects": ("subject", "fitting"),
        "follow_up": ("finding",),
        "ports": ("port", "arrival"),
        "certificates": ("certificate",),
        "record_of_equipment": ("entry",),
        "exemptions": ("rule", "subject"),
    }.get(table.sheet.key, ())
    parts = [as_text(row.values[key]) for key in keys if row.values.get(key) is not None]
    if table.sheet.key == "inventory":
        return lot_name(row) or "lot without a name"
    if table.sheet.key == "crew":  # a number or a rank stands for a person, never the name
        rank = row.values.get("rank")
        return (
            shortened(f"crew number {parts[0]}", SUBJECT_LENGTH)
            if parts
            else shortened(as_text(rank), SUBJECT_LENGTH)
            if rank
            else "person without a number"
        )
    return shortened(", ".join(parts), SUBJECT_LENGTH) or (
        table.name if table.sheet.layout == "form" else f"{table.sheet.row_name} without a name"
    )
