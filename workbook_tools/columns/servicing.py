"""The Servicing sheet."""

from workbook_tools import catalogue
from workbook_tools.columns.model import Column, Sheet
from workbook_tools.columns.shared import REMARKS
from workbook_tools.rules.model import DONE_BY

# Ranks under which a ship's own officers and ratings sign a service.
OWN_CREW = (
    *("ship", "ship's crew", "ship crew", "own crew", "on board", "ship staff", "ship's staff", "crew members"),
    *("master", "captain", "chief officer", "chief mate", "C/O", "Ch. Off", "Ch. Officer", "C/M", "mate"),
    *("first officer", "second officer", "third officer", "1/O", "2/O", "3/O", "1st officer", "2nd officer"),
    *("3rd officer", "second mate", "third mate", "2nd mate", "3rd mate", "safety officer", "deck officer"),
    *("chief engineer", "C/E", "Ch. Eng", "Ch. Engineer", "first engineer", "second engineer", "third engineer"),
    *("fourth engineer", "1/E", "2/E", "3/E", "4/E", "1st engineer", "2nd engineer", "3rd engineer", "4th engineer"),
    *("engineer officer", "electrician", "ETO", "electro-technical officer", "bosun", "boatswain", "AB", "OS"),
    *("fitter", "motorman", "oiler", "cadet", "deck cadet", "engine cadet", "deck crew", "engine crew"),
)

SERVICING = Sheet(
    key="servicing",
    name="Servicing",
    layout="table",
    help="One line for each appliance and kind of service: the last one done.",
    other_names=("Service", "Services", "Service record", "Maintenance"),
    row_name="service",
    columns=(
        Column(
            "appliance",
            "Appliance",
            "text",
            "Name of the craft as on the Craft sheet, or what was serviced (CO2 system, EPIRB, Suit 14).",
            required=True,
            other_headings=("Craft", "Equipment", "What was serviced", "Unit"),
            width=20,
            example="Lifeboat 1",
        ),
        Column(
            "service",
            "Service",
            "choice",
            "Kind of service.",
            required=True,
            choices=tuple(catalogue.services()),
            choice_names=tuple((service.key, service.other_names) for service in catalogue.services().values()),
            other_headings=("Task", "Kind of service", "Work", "What"),
            width=34,
            example="falls renewed",
        ),
        Column(
            "done",
            "Last done",
            "date",
            "Day on which it was last done.",
            other_headings=("Date", "Done on", "Last", "Date done", "Last serviced"),
            width=12,
        ),
        Column(
            "done_by",
            "Done by",
            "choice",
            "Who did it.",
            choices=DONE_BY,
            choice_names=(
                ("crew", OWN_CREW),
                ("maker", ("manufacturer", "maker's technician", "OEM")),
                (
                    "authorized provider",
                    ("authorized service provider", "authorised service provider", "ASP", "provider"),
                ),
                ("servicing station", ("approved servicing station", "approved service station", "station")),
                ("competent person", ("shore", "shore technician", "shore firm", "technician", "service engineer")),
            ),
            other_headings=("By", "By whom", "Carried out by"),
            width=18,
        ),
        Column("firm", "Firm", "text", "Name of the firm.", other_headings=("Company", "Service firm"), width=20),
        Column(
            "certificate",
            "Certificate",
            "text",
            "Number of the certificate or report.",
            other_headings=("Certificate no", "Report", "Cert no"),
            width=16,
        ),
        Column(
            "next_due",
            "Next due",
            "date",
            "As written on the certificate; the audit works it out as well.",
            other_headings=("Due", "Due date", "Next service"),
            width=12,
        ),
        Column(
            "interval",
            "Maker's interval",
            "interval",
            "Only where the maker asks for a shorter one: 12M, 5Y, 2W, 30D.",
            other_headings=("Interval", "Period"),
            width=10,
        ),
        Column(
            "granted_until",
            "Put off until",
            "date",
            "Only where the Administration has granted it in writing.",
            other_headings=("Extension until", "Extended until", "Extension granted"),
            width=12,
        ),
        Column(
            "grant_reference",
            "Grant",
            "text",
            "Reference of the Administration's letter.",
            other_headings=("Extension reference", "Grant reference"),
            width=16,
        ),
        Column("serial", "Serial number", "text", "Maker's number.", other_headings=("Serial no", "Serial"), width=14),
        REMARKS,
    ),
)
