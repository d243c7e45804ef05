"""Every sheet of the workbook, in the order of the book. Each is declared in a module of its own."""

from workbook_tools.columns.certificates import CERTIFICATES
from workbook_tools.columns.craft import CRAFT
from workbook_tools.columns.crew import CREW
from workbook_tools.columns.defects import DEFECTS
from workbook_tools.columns.equipment_record import EQUIPMENT_RECORD
from workbook_tools.columns.exemptions import EXEMPTIONS
from workbook_tools.columns.fire import FIRE
from workbook_tools.columns.follow_up import FOLLOW_UP
from workbook_tools.columns.inventory import INVENTORY
from workbook_tools.columns.model import Sheet
from workbook_tools.columns.ports import PORTS
from workbook_tools.columns.routine import ROUTINE
from workbook_tools.columns.servicing import SERVICING
from workbook_tools.columns.ship import SHIP

SHEETS: tuple[Sheet, ...] = (
    SHIP,
    CRAFT,
    CREW,
    INVENTORY,
    SERVICING,
    ROUTINE,
    FIRE,
    DEFECTS,
    FOLLOW_UP,
    PORTS,
    CERTIFICATES,
    EQUIPMENT_RECORD,
    EXEMPTIONS,
)
_BY_KEY = {entry.key: entry for entry in SHEETS}


def sheet(key: str) -> Sheet:
    """The sheet of this key. Raises KeyError."""
    return _BY_KEY[key]
