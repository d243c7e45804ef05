"""The Exemptions sheet."""

from workbook_tools.columns.model import Column, Sheet

EXEMPTIONS = Sheet(
    key="exemptions",
    name="Exemptions",
    layout="table",
    help="What the Administration has waived or exempted, with its reference.",
    other_names=("Exemption", "Waivers", "Dispensations"),
    row_name="exemption",
    columns=(
        Column(
            "rule",
            "Rule or paragraph",
            "text",
            "Key of the rule (lifeboat.food-ration) or its paragraph (LSA Code 4.4.8.12), as the audit prints it.",
            required=True,
            other_headings=("Rule", "Paragraph", "Rule key", "Requirement"),
            width=26,
            example="lifeboat.food-ration",
        ),
        Column(
            "subject",
            "Craft",
            "text",
            "Which craft; empty: every one.",
            other_headings=("For", "Craft name", "Applies to"),
            width=16,
        ),
        Column(
            "authority",
            "Issued by",
            "text",
            "The Administration or organisation.",
            other_headings=("Authority", "Administration"),
            width=20,
        ),
        Column(
            "reference",
            "Reference",
            "text",
            "Number of the letter or certificate: without it the exemption does not count.",
            other_headings=("Letter", "Certificate", "Reference no"),
            width=20,
        ),
        Column(
            "until",
            "Valid until",
            "date",
            "Last day on which it holds.",
            other_headings=("Expires", "Valid to", "Expiry"),
            width=12,
        ),
        Column(
            "condition",
            "Condition",
            "text",
            "What must be done or avoided meanwhile.",
            other_headings=("Conditions",),
            width=32,
        ),
    ),
)
