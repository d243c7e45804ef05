"""Equipment, expiry, first coverage checks, crew and the record itself."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from tests.checks.cases.common import Cases, Trip, at, change, lot, quiet
from tests.workbooks import FAR, ON, Workbook
from workbook_tools.reading.address import address


def add_lot(column: str, **values: Any) -> Trip:
    def edit(book: Workbook) -> tuple[str, str]:
        return at(book, "inventory", book.add("inventory", **values), column)

    return edit


def _remove_lots(book: Workbook, place: str, item: str | None = None) -> None:
    book.rows["inventory"] = [
        line for line in book.rows["inventory"] if line["place"] != place or item not in (None, line["item"])
    ]


def _eq01_missing(book: Workbook) -> tuple[str, str]:
    _remove_lots(book, "Lifeboat 1", "whistle")
    return at(book, "craft", book.find("craft", name="Lifeboat 1"), "name")


def _water_by_desalinator(book: Workbook) -> None:
    book.lot("fresh water").update(quantity=40)  # 20 L; 40 L more are made in two days: 2 L for each of 20 persons
    book.add(
        "inventory",
        place="Lifeboat 1",
        item="manual reverse-osmosis desalinator",
        quantity=1,
        content=40,
        content_unit="L",
    )


def _spare_short_painter(book: Workbook) -> None:
    book.add("inventory", place="Lifeboat 1", item="painter", quantity=1, content=10, content_unit="m")


def _b_pack_ferry(book: Workbook) -> None:
    book.ship.update(ship_type="passenger ship", voyage="short international")
    for name in ("Raft P", "Raft S"):
        book.find("craft", name=name)["pack"] = "B"


def _heavy_raft_under_a_davit(book: Workbook) -> None:
    book.find("craft", name="Raft P").update(kind="davit-launched liferaft", transferable="no", mass_kg=320)


def _raft_without_lines(book: Workbook) -> None:
    book.add("craft", **{**book.find("craft", name="Raft P"), "name": "Raft F", "purpose": "remote"})


def _boat_not_inventoried(book: Workbook) -> tuple[str, str]:
    _remove_lots(book, "Lifeboat 1")
    return at(book, "craft", book.find("craft", name="Lifeboat 1"), "name")


def _old_flares(condition: str, **values: Any) -> Callable[[Workbook], tuple[str, str]]:
    return add_lot(
        "expires",
        **{
            "place": "Lifeboat 1",
            "item": "hand flare",
            "quantity": 6,
            "expires": date(2026, 8, 31),
            "condition": condition,
            **values,
        },
    )


def _split_flares(expires: date) -> Callable[[Workbook], tuple[str, str]]:
    def edit(book: Workbook) -> tuple[str, str]:
        line = book.add("inventory", place="Lifeboat 1", item="hand flare", quantity=2, expires=expires)
        return at(book, "inventory", line, "expires")

    return edit


def _exempt_whistle(reference: str | None, until: date, rule: str = "LSA 4.4.8.19") -> Callable[[Workbook], Any]:
    def edit(book: Workbook) -> tuple[str, str]:
        _remove_lots(book, "Lifeboat 1", "whistle")
        line = book.add("exemptions", rule=rule, authority="Flag", reference=reference or "", until=until)
        return at(book, "exemptions", line, "until" if until < ON else "reference")

    return edit


def _lapsed_but_met(book: Workbook) -> None:
    book.add("exemptions", rule="lifeboat.whistle", authority="Flag", reference="X 1", until=date(2026, 1, 31))


def _exemption(rule: str) -> Callable[[Workbook], tuple[str, str]]:
    def edit(book: Workbook) -> tuple[str, str]:
        line = book.add("exemptions", rule=rule, authority="Flag", reference="X 1", until=FAR)
        return at(book, "exemptions", line, "rule")

    return edit


def _exemption_of(subject: str) -> Callable[[Workbook], tuple[str, str]]:
    def edit(book: Workbook) -> tuple[str, str]:
        line = book.add("exemptions", rule="4.4.8.12", subject=subject, reference="X 1", until=FAR)
        return at(book, "exemptions", line, "subject")

    return edit


def _exempt_water(book: Workbook) -> tuple[str, str]:
    book.lot("fresh water")["quantity"] = 40
    line = book.add("exemptions", rule="lifeboat.fresh-water", authority="Flag", reference="X 1", until=FAR)
    return at(book, "exemptions", line, "rule")


def _error(column: str) -> Callable[[Workbook], tuple[str, str]]:
    def edit(book: Workbook) -> tuple[str, str]:
        line = book.lot("bucket")
        line[column] = ""
        row = book.rows["inventory"].index(line) + 1
        book.errors = {"Inventory": {(row, book.order("inventory").index(column)): "#REF!"}}
        return at(book, "inventory", line, column)

    return edit


def _error_elsewhere(book: Workbook) -> None:
    book.errors = {"Inventory": {(1, 40): "#REF!"}, "Sheet7": {(0, 0): "#N/A"}}


def _checklist_line(book: Workbook) -> None:
    book.lot("whistle").update(asked=1, quantity="")


def _two_of_a_name(book: Workbook) -> tuple[str, str]:
    line = book.find("craft", name="Raft S")
    line["name"] = "raft p"
    _remove_lots(book, "Raft S")
    return at(book, "craft", line, "name")


def _same_batch_twice(book: Workbook) -> None:
    for line in book.rows["inventory"]:
        if line["item"] == "hand flare":
            line["batch"] = "H6-2026"


def _place(text: str) -> Callable[[Workbook], tuple[str, str]]:
    return lot("bucket", place=text)


def _heading_twice(book: Workbook) -> tuple[str, str]:
    book.columns["inventory"] = [*book.order("inventory"), "expires"]
    return "Inventory", address(0, len(book.order("inventory")) - 1)


def _headings_printed_again(book: Workbook) -> None:
    titles = dict(zip(book.order("inventory"), book.grids()["Inventory"][0], strict=True))
    book.rows["inventory"].insert(20, titles)


def _unknown_column(book: Workbook) -> tuple[str, str]:
    book.headings[("inventory", "remarks")] = "Supplier"
    return "Inventory", address(0, book.order("inventory").index("remarks"))


def _dotted_function(book: Workbook) -> tuple[str, str]:
    book.dotted = {"Inventory": [(4, 20), (5, 20)]}
    return "Inventory", "U5"


def _function_named_in_a_text(book: Workbook) -> None:
    book.lot("bucket")["remarks"] = "see LSA.WATER_L(25)"


def _sheet_without_headings(book: Workbook) -> tuple[str, str]:
    book.rows["crew"] = []
    book.headings[("crew", "number")] = book.headings[("crew", "craft")] = "?"
    book.columns["crew"] = ["number", "craft"]
    return "Crew", "A1"


def _own_sheet(book: Workbook) -> None:
    book.rows["exemptions"] = []


def _known_by_another_name(book: Workbook) -> None:
    book.headings[("inventory", "expires")] = "Exp date"
    book.headings[("inventory", "quantity")] = "QTY"


CASES: Cases = {
    "EQ01": (
        [lot("fresh water", quantity=119), _eq01_missing, lot("bucket", quantity=1)],
        [
            _water_by_desalinator,
            quiet(lot("fresh water", quantity=120, content=0.132086, content_unit="US gal")),
            quiet(lot("food ration", quantity=20, content=2390.1, content_unit="kcal")),
            quiet(lot("bucket", item="Buckets with lanyard", quantity=2)),
        ],
    ),
    "EQ02": ([lot("painter", content=23)], [_spare_short_painter, quiet(lot("painter", content=24))]),
    "EQ03": ([change("craft", {"name": "Raft P"}, pack="B")], [_b_pack_ferry]),
    "EQ04": (
        [
            change("craft", {"name": "Raft P"}, mass_kg=210),
            change("craft", {"name": "Raft P"}, painter_m=19),
            change("craft", {"name": "Raft P"}, persons=5),
        ],
        [_heavy_raft_under_a_davit, quiet(change("craft", {"name": "Raft P"}, painter_m=20))],
    ),
    "EQ05": ([_boat_not_inventoried], [_raft_without_lines]),
    "EX01": (
        [lot("hand flare", expires=date(2026, 11, 24))],
        [quiet(lot("hand flare", expires=ON)), quiet(_old_flares(""))],
    ),
    "EX02": (
        [_old_flares(""), _old_flares("", place="Bridge", item="line-throwing rocket")],
        [quiet(_old_flares("awaiting landing")), quiet(_old_flares("to be landed", place="Pyrotechnics locker"))],
    ),
    "EX03": ([lot("hand flare", expires=date(2027, 2, 23))], [quiet(lot("hand flare", expires=date(2027, 2, 24)))]),
    "EX04": ([_split_flares(date(2027, 1, 4))], [quiet(_split_flares(date(2027, 2, 24)))]),
    "SH01": ([_exemption("lifeboat.food")], [quiet(_exemption("4.4.8.12")), quiet(_exemption("lsa code 4.4.8.26"))]),
    "SH03": ([_exemption_of("Lifebaot 1")], [quiet(_exemption_of("lifeboat 1")), quiet(_exemption_of("ship"))]),
    "SH02": (
        [_exempt_whistle(None, FAR), _exempt_whistle("X 1", date(2026, 11, 24)), _exempt_water],
        [quiet(_exempt_whistle("X 1", ON)), _lapsed_but_met],
    ),
    "WB01": ([_error("quantity")], [_error_elsewhere]),
    "WB02": (
        [lot("bucket", quantity="about 2"), lot("food ration", content="10,000")],
        [quiet(lot("bucket", quantity="2")), quiet(lot("food ration", content="10 000", content_unit="kJ"))],
    ),
    "WB03": (
        [
            lot("hand flare", expires="12/03/2029"),
            lot("hand flare", expires=47000.0),
            lot("hand flare", expires="03/29"),
        ],
        [quiet(lot("hand flare", expires="25/03/2029")), quiet(lot("hand flare", expires="03/2029"))],
    ),
    "WB04": ([lot("hand flare", quantity="")], [_checklist_line, quiet(lot("hand flare", batch=""))]),
    "WB05": (
        [change("craft", {"name": "Raft P"}, kind="liferaff"), lot("fresh water", content_unit="mm")],
        [quiet(change("craft", {"name": "Raft P"}, kind="Life Raft", side="PS")), quiet(lot("bucket", unit="Pcs"))],
    ),
    "WB06": (
        [lot("bucket", quantity=0), lot("bucket", quantity=-2), change("craft", {"name": "Raft P"}, persons=0)],
        [quiet(lot("fresh water", quantity=60.5, unit="L", content="", content_unit=""))],
    ),
    "WB07": ([_two_of_a_name, change("crew", {"number": "6"}, number="5")], [_same_batch_twice]),
    "WB08": (
        [_place("Lifebaot 1"), _place("Lifeboat 3")],
        [
            quiet(_place("LIFEBOAT 1")),
            quiet(add_lot("place", place="Bridge, port wing", item="lifebuoy", quantity=1)),
        ],
    ),
    "WB09": (
        [lot("hand flare", item="hand flair"), add_lot("item", place="Bridge", item="brass sextant", quantity=1)],
        [
            quiet(lot("thermal protective aid", item="TPA")),
            quiet(lot("rocket parachute flare", item="Parachute Rockets")),
        ],
    ),
    "WB10": (
        [lot("hand flare", expires=date(2029, 6, 30), made=date(2030, 1, 1))],
        [quiet(lot("hand flare", made="06/2029", expires="06/2029"))],
    ),
    "WB11": (
        [lot("hand flare", expires=date(2206, 5, 1)), change("crew", {"number": "5"}, joined=date(1926, 11, 2))],
        [
            quiet(lot("hand flare", expires=date(2036, 11, 25))),
            quiet(change("ship", {}, keel_laid=date(1998, 7, 1))),
        ],
    ),
    "WB12": ([_heading_twice], [_headings_printed_again]),
    "WB13": ([_unknown_column], [_known_by_another_name]),
    "WB24": ([_dotted_function], [_function_named_in_a_text]),
    "WB18": ([_sheet_without_headings], [_own_sheet]),
    "WB14": (
        [lot("fresh water", content="", content_unit="")],
        [quiet(lot("fresh water", quantity=60, unit="L", content="", content_unit=""))],
    ),
    "WB15": (
        [lot("hand flare", expires="")],
        [
            quiet(lot("bucket", expires="")),
            quiet(lot("fresh water", item="fresh water in a tank", quantity=60, unit="L", expires="")),
        ],
    ),
    "WB16": (
        [lot("hand flare", unit="L"), lot("fresh water", content_unit="kg")],
        [quiet(lot("fresh water", quantity=60_000, unit="mL", content="", content_unit=""))],
    ),
    "WB17": (
        [change("ship", {}, imo_number="3100091")],
        [quiet(change("ship", {}, imo_number="IMO 3100019")), quiet(change("ship", {}, imo_number=""))],
    ),
}

# A trip whose cause is told by two codes: the second is what follows from it.
FOLLOWS: dict[str, set[str]] = {
    "SH02": {"EQ01"},
}
