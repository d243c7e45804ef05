"""LibreOffice Calc follows the links of a report to the cell of the ship's workbook."""

from __future__ import annotations

import json
import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.addins.calc.office import SYSTEM_PYTHON, TIMEOUT_S, need_office
from tests.reports.fleet.fleets import OPTIONS, finding, record_of, result
from tests.workbooks import clean
from workbook_tools.reports.fleet.followups import follow_up_list
from workbook_tools.reports.fleet.workbook import fleet_workbook

pytestmark = pytest.mark.office

# Where a book may lie, seen from the report, and how its sheet may be called.
BOOKS = {
    "returns/plain.xlsx": "Inventory",
    "returns/my books/Ørsta 50% #1.xlsx": "Inventory",
}


@pytest.fixture(scope="module")
def followed(tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[dict[str, Any]]]:
    """What Calc shows of each report: the cells with links, and where each link lands."""
    folder = tmp_path_factory.mktemp("links")
    results = []
    for number, (way, sheet) in enumerate(BOOKS.items()):
        path = folder / way
        path.parent.mkdir(parents=True, exist_ok=True)
        clean().save(path)
        results.append(result(str(path), finding(sheet=sheet, cell=f"C{7 + number}"), imo_number=f"310001{number}"))
    report = folder / "fleet.xlsx"
    report.write_bytes(fleet_workbook(record_of(*results), folder))
    back = folder / "returns" / "list.xlsx"
    back.write_bytes(follow_up_list(results[0], OPTIONS))
    need_office()
    script = Path(__file__).with_name("link_follower.py")
    run = subprocess.run(
        [SYSTEM_PYTHON, str(script), str(folder / "profile"), str(report), str(back)],
        capture_output=True,
        text=True,
        timeout=TIMEOUT_S,
        check=False,
    )
    if run.returncode:
        pytest.fail(f"the office did not follow the links:\n{run.stderr}", pytrace=False)
    shown: dict[str, list[dict[str, Any]]] = json.loads(run.stdout)
    return {Path(path).name: links for path, links in shown.items()}


def test_a_link_of_the_fleets_report_opens_the_book_at_the_cell(followed: dict[str, list[dict[str, Any]]]) -> None:
    landed = {(link["text"], Path(link["opened"]).name, link["at"]) for link in followed["fleet.xlsx"] if link["at"]}
    assert {
        ("Inventory!C7", "plain.xlsx", "$Inventory.$C$7"),
        ("Inventory!C8", "Ørsta 50% #1.xlsx", "$Inventory.$C$8"),
    } <= landed


def test_a_link_of_a_ships_list_opens_the_book_beside_it_at_the_cell(followed: dict[str, list[dict[str, Any]]]) -> None:
    (link,) = followed["list.xlsx"]
    assert (link["text"], Path(link["opened"]).name, link["at"]) == ("Inventory!C7", "plain.xlsx", "$Inventory.$C$7")


def test_calc_sees_texts_where_links_are_and_no_formula(followed: dict[str, list[dict[str, Any]]]) -> None:
    assert {link["kind"] for links in followed.values() for link in links} == {"TEXT"}
