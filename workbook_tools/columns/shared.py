"""What several sheets share: yes and no, remarks."""

from workbook_tools.columns.model import Column

YES_NO = ("yes", "no")
YES_NO_NAMES = (("yes", ("y", "true", "x", "1")), ("no", ("n", "false", "0")))

REMARKS = Column(
    "remarks", "Remarks", "text", "Anything else.", other_headings=("Remark", "Notes", "Comments"), width=40
)


def yes_no(key: str, heading: str, help: str, *other_headings: str) -> Column:
    return Column(
        key,
        heading,
        "choice",
        help,
        choices=YES_NO,
        choice_names=YES_NO_NAMES,
        other_headings=other_headings,
        width=11,
        example="no",
    )
