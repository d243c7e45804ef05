"""The books of the fleet's benchmark: invented ships of some 42 KB, clean and with faulty cells.

A book has every sheet, 220 lots, 25 persons and 120 routine lines. The same number gives the same book.
"""

from __future__ import annotations

import random
import shutil
import subprocess
import tempfile
from collections.abc import Iterable
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from tests.workbooks import ON, Workbook, boat_lots, clean
from workbook_tools import catalogue
from workbook_tools.columns import Column, sheet

LOTS, CREW, ROUTINE_LINES = 220, 25, 120
FAULTY_SHARE = 0.05
SPARES = ("hand flare", "rocket parachute flare", "torch battery set", "torch bulb", "first-aid outfit", "bucket")


def ship(number: int, faulty: float = 0.0) -> Workbook:
    """The book of one ship of the invented fleet; faulty is the share of its filled cells that are spoilt."""
    book = clean()
    choose = random.Random(number)
    book.ship["name"] = f"Invented Ship {number:05}"
    _vary(book, choose)
    _fill_craft(book)
    _fill_lots(book, choose)
    _fill_crew(book)
    _fill_routine(book, choose)
    _fill_remarks(book, choose)
    if faulty:
        _spoil(book, faulty, choose)
    return book


def _vary(book: Workbook, choose: random.Random) -> None:
    """No two ships are alike: what rules ask of them differs, and a store of answers found before is of little use."""
    book.ship["gross_tonnage"] = choose.randrange(3_000, 30_000)
    book.ship["length_m"] = choose.randrange(90, 220)
    book.ship["keel_laid"] = date(choose.randrange(2006, 2020), choose.randrange(1, 13), 5)
    persons, height = choose.randrange(30, 60), choose.randrange(9, 18)
    for craft in book.rows["craft"]:
        craft["persons"] = persons if "boat" in craft["kind"] else craft["persons"]
        craft["stowage_height_m"] = height


def _fill_craft(book: Workbook) -> None:
    for name, side in (("Lifeboat 3", "port"), ("Lifeboat 4", "starboard")):
        book.rows["craft"].append({**book.find("craft", name="Lifeboat 1"), "name": name, "side": side})
        book.rows["inventory"] += boat_lots(name)
    for lot in [*book.rows["servicing"]]:
        if lot.get("appliance") == "Lifeboat 1":
            book.rows["servicing"] += [{**lot, "appliance": name} for name in ("Lifeboat 3", "Lifeboat 4")]


def _fill_lots(book: Workbook, choose: random.Random) -> None:
    lots = book.rows["inventory"]
    while len(lots) < LOTS:
        item = SPARES[len(lots) % len(SPARES)]
        spare = {"place": "Store, upper deck", "item": item, "quantity": 1 + len(lots) % 5, "condition": "spare"}
        dated = catalogue.items()[item].dated
        lots.append(spare | ({"expires": ON + timedelta(days=choose.randrange(100, 1000))} if dated else {}))
    for line, lot in enumerate(lots):
        lot.setdefault("batch", f"B{choose.randrange(10_000):04}-{line:03}")
        lot.setdefault("made", date(2024, 1, 1) + timedelta(days=choose.randrange(600)))
        lot.setdefault("remarks", _remark(choose))
        if lot.get("expires"):
            lot["expires"] += timedelta(days=choose.randrange(-60, 400))


_WORDS = (
    *("seen", "counted", "shelf", "locker", "port", "starboard", "forward", "aft", "seal"),
    *("intact", "renewed", "moved", "dry", "clean", "checked", "by", "watch"),
)


def _remark(choose: random.Random) -> str:
    return f"{' '.join(choose.choice(_WORDS) for _ in range(12))} {choose.randrange(10_000)}"


def _fill_remarks(book: Workbook, choose: random.Random) -> None:
    for key in ("crew", "servicing", "fire"):
        for line in book.rows[key]:
            line.setdefault("remarks", _remark(choose))


def _fill_crew(book: Workbook) -> None:
    crew = book.rows["crew"]
    while len(crew) < CREW:
        number = len(crew) + 1
        crew.append({**crew[number % 6], "number": str(number), "duty": "member", "muster_duty": "none"})
        crew[-1].pop("substitute_for", None)
        crew[-1]["rank"] = "rating"
    book.ship.update(persons_on_board=CREW, persons_certified=30)


def _fill_routine(book: Workbook, choose: random.Random) -> None:
    lines = sorted(book.rows["routine"], key=lambda line: line["day"])[-ROUTINE_LINES:]
    day = lines[0]["day"]
    while len(lines) < ROUTINE_LINES:
        day -= timedelta(days=1)
        lines.insert(0, {"day": day, "task": "visual inspection"})
    for line in lines:
        line.setdefault("remarks", _remark(choose))
    book.rows["routine"] = lines


def _spoil(book: Workbook, share: float, choose: random.Random) -> None:
    """Spoil a share of the filled cells of the tables, as officers do: a slip in a word, a date to be guessed."""
    for key, lines in book.rows.items():
        for line in lines:
            for name in [name for name, value in line.items() if value not in ("", None)]:
                if choose.random() < share:
                    line[name] = _spoilt(sheet(key).column(name), line[name], choose)


def _spoilt(column: Column, value: Any, choose: random.Random) -> Any:
    if column.kind in ("date", "expiry", "made"):
        return choose.choice(["03/04/2027", "soon", "30.02.2027", 46146.0])
    if column.kind in ("number", "whole", "content", "year"):
        return choose.choice(["about six", "1,500", -5.0])
    if isinstance(value, str) and len(value) > 4:
        at = choose.randrange(1, len(value) - 1)
        return value[:at] + value[at + 1 :]
    return ""


def write_books(folder: Path, count: int, faulty: float = 0.0, office_share: float = 0.0) -> list[Path]:
    """Write books by XlsxWriter, every so many of them saved anew by LibreOffice. Returns their paths in order."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = [ship(number, faulty).save(folder / f"ship-{number:05}.xlsx") for number in range(count)]
    if office_share:
        _save_anew(paths[:: round(1 / office_share)])
    return paths


def _save_anew(paths: Iterable[Path]) -> None:
    with tempfile.TemporaryDirectory() as scratch:
        command = ["soffice", f"-env:UserInstallation=file://{scratch}/profile", "--headless", "--convert-to"]
        command += ["xlsx:Calc MS Excel 2007 XML", "--outdir", f"{scratch}/out", *map(str, paths)]
        subprocess.run(command, check=True, capture_output=True, timeout=600)
        for path in paths:
            shutil.copyfile(Path(scratch) / "out" / path.name, path)


def multiply(paths: list[Path], folder: Path, count: int) -> list[Path]:
    """So many books made of fewer: other names of the same files."""
    folder.mkdir(parents=True, exist_ok=True)
    links = [folder / f"return-{number:06}.xlsx" for number in range(count)]
    for number, link in enumerate(links):
        link.hardlink_to(paths[number % len(paths)])
    return links
