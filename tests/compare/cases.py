"""For each code what trips it, with the cell it must name, and innocent look-alikes that must stay silent.

Each case changes a pair of returns that are alike in all but the record date and one line of the routine.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from tests.compare.pairs import BEFORE
from tests.workbooks import ON, Line, Workbook

Place = tuple[str, str]  # sheet and cell of the newer return
Trips = Callable[[Workbook, Workbook], Place]
Silent = Callable[[Workbook, Workbook], None]

LATER = date(2031, 6, 30)


def _flares(book: Workbook, place: str = "Lifeboat 1") -> Line:
    return book.lot("hand flare", place)


def _service(book: Workbook, service: str, appliance: str = "Lifeboat 1") -> Line:
    return book.find("servicing", appliance=appliance, service=service)


def _raft(book: Workbook) -> Line:
    return book.find("craft", name="Raft P")


# ---- CP01


def _expiry_moved(old: Workbook, new: Workbook) -> Place:
    _flares(new)["expires"] = LATER
    return "Inventory", new.cell("inventory", _flares(new), "expires")


def _expiry_moved_and_the_lines_sorted(old: Workbook, new: Workbook) -> Place:
    new.rows["inventory"].reverse()
    new.title_rows = 3
    return _expiry_moved(old, new)


def _expiry_moved_with_the_batch_written_otherwise(old: Workbook, new: Workbook) -> Place:
    _flares(new)["batch"] = "h-6"
    return _expiry_moved(old, new)


def _expiry_moved_while_the_lot_was_carried_elsewhere(old: Workbook, new: Workbook) -> Place:
    for book in (old, new):
        _flares(book)["batch"] = "H9"
    line = _flares(new)
    line["place"], line["expires"] = "Pyrotechnics locker", LATER
    return "Inventory", new.cell("inventory", line, "expires")


def _pack_moved(old: Workbook, new: Workbook) -> Place:
    _raft(old)["earliest_content"], _raft(new)["earliest_content"] = date(2027, 3, 31), date(2029, 3, 31)
    return "Craft", new.cell("craft", _raft(new), "earliest_content")


def _new_batch(old: Workbook, new: Workbook) -> None:
    _flares(new).update(expires=LATER, batch="K2")


def _earlier(old: Workbook, new: Workbook) -> None:
    _flares(new)["expires"] = date(2028, 6, 30)


def _month_written_out(old: Workbook, new: Workbook) -> None:
    _flares(old)["expires"], _flares(new)["expires"] = date(2029, 3, 15), "03/2029"


def _no_batch(old: Workbook, new: Workbook) -> None:
    new.lot("rocket parachute flare")["expires"] = LATER


def _batch_given_at_last(old: Workbook, new: Workbook) -> None:
    new.lot("rocket parachute flare").update(expires=LATER, batch="R9")


def _nil_batch(old: Workbook, new: Workbook) -> None:
    for book in (old, new):
        _flares(book)["batch"] = "n/a"
    _flares(new)["expires"] = LATER


def _unclear_before(old: Workbook, new: Workbook) -> None:
    _flares(old)["expires"], _flares(new)["expires"] = "03/04/2029", LATER


def _same_batch_bought_again(old: Workbook, new: Workbook) -> None:
    new.add("inventory", place="Lifeboat 1", item="hand flare", quantity=6, expires=LATER, batch="H6")


def _battery_of_a_numbered_appliance(old: Workbook, new: Workbook) -> None:
    for book, day in ((old, date(2027, 1, 31)), (new, date(2031, 1, 31))):
        book.add("inventory", place="Bridge", item="survival-craft SART", quantity=1, batch="SA-5", expires=day)


def _battery_by_the_number_of_its_epirb(old: Workbook, new: Workbook) -> None:
    for book, day in ((old, date(2027, 1, 31)), (new, date(2031, 1, 31))):
        book.add("inventory", place="Bridge wing", item="EPIRB", quantity=1, batch="Q-77")
        book.add("inventory", place="Bridge wing", item="EPIRB battery", quantity=1, batch="Q-77", expires=day)


def _pack_of_an_exchanged_raft(old: Workbook, new: Workbook) -> None:
    _raft(old).update(earliest_content=date(2027, 3, 31), serial="LR-1")
    _raft(new).update(earliest_content=date(2029, 3, 31), serial="LR-8")


def _pack_of_a_serviced_raft(old: Workbook, new: Workbook) -> None:
    _raft(old)["earliest_content"] = date(2027, 3, 31)
    _raft(new).update(earliest_content=date(2029, 3, 31), certificate="S-90", serviced=ON)


def _pack_of_a_raft_without_papers(old: Workbook, new: Workbook) -> None:
    for book, day in ((old, date(2027, 3, 31)), (new, date(2029, 3, 31))):
        _raft(book).update(earliest_content=day, serial="", certificate="", serviced="")


# ---- CP02


def _restored(old: Workbook, new: Workbook) -> Place:
    for book in (old, new):
        _flares(book)["batch"] = "H9"
    _flares(old)["quantity"] = 4
    return "Inventory", new.cell("inventory", _flares(new), "quantity")


def _restored_to_two_lines(old: Workbook, new: Workbook) -> Place:
    _restored(old, new)
    _flares(new)["quantity"] = 4
    more = new.add("inventory", **{**_flares(new), "quantity": 5})
    return "Inventory", new.cell("inventory", more, "quantity")


def _from_the_locker(old: Workbook, new: Workbook) -> None:
    for book, in_boat, in_locker in ((old, 4, 3), (new, 6, 1)):
        _flares(book).update(quantity=in_boat, batch="H9")
        book.add(
            "inventory", place="Bridge", item="hand flare", quantity=in_locker, batch="H9", expires=date(2029, 6, 30)
        )


def _two_lines_become_one(old: Workbook, new: Workbook) -> None:
    _restored(old, new)
    old.add("inventory", **{**_flares(old), "quantity": 2})


def _back_from_ashore(old: Workbook, new: Workbook) -> None:
    _restored(old, new)
    old.add("inventory", **{**_flares(old), "quantity": 2, "condition": "ashore"})


def _same_batch_for_the_other_boat(old: Workbook, new: Workbook) -> None:
    _flares(old, "Lifeboat 2")["batch"] = "H1"


def _other_batch_brought_in(old: Workbook, new: Workbook) -> None:
    _restored(old, new)
    _flares(new)["quantity"] = 4
    new.add("inventory", **{**_flares(new), "quantity": 2, "batch": "K2"})


def _loose_gear_bought(old: Workbook, new: Workbook) -> None:
    old.lot("bucket")["quantity"] = 1


def _dated_without_batch(old: Workbook, new: Workbook) -> None:
    old.lot("rocket parachute flare")["quantity"] = 3


def _not_counted_before(old: Workbook, new: Workbook) -> None:
    _restored(old, new)
    _flares(old)["quantity"] = ""


def _unclear_quantity_before(old: Workbook, new: Workbook) -> None:
    _restored(old, new)
    _flares(old)["quantity"] = "4 or so"


def _smaller_sachets(old: Workbook, new: Workbook) -> None:
    for book, number, content in ((old, 120, 500), (new, 480, 125)):
        book.lot("fresh water").update(quantity=number, content=content, batch="W1")


def _used_up(old: Workbook, new: Workbook) -> None:
    _flares(new)["quantity"] = 5


# ---- CP03


def _same_report(old: Workbook, new: Workbook) -> Place:
    line = _service(new, "release gear annual examination")
    line["done"] = ON
    return "Servicing", new.cell("servicing", line, "done")


def _report_taken_out(old: Workbook, new: Workbook) -> Place:
    _service(new, "release gear annual examination")["certificate"] = ""
    return _same_report(old, new)


def _added_below_the_old_line(old: Workbook, new: Workbook) -> Place:
    line = new.add("servicing", **{**_service(new, "release gear annual examination"), "done": ON})
    return "Servicing", new.cell("servicing", line, "done")


def _raft_on_the_same_certificate(old: Workbook, new: Workbook) -> Place:
    _raft(new)["serviced"] = date(2026, 11, 20)
    return "Craft", new.cell("craft", _raft(new), "serviced")


def _new_report(old: Workbook, new: Workbook) -> None:
    _service(new, "release gear annual examination").update(done=ON, certificate="D-8")


def _new_line_with_a_new_report(old: Workbook, new: Workbook) -> None:
    new.add("servicing", **{**_service(new, "release gear annual examination"), "done": ON, "certificate": "D-8"})


def _one_new_report_for_both_boats(old: Workbook, new: Workbook) -> None:
    for boat in ("Lifeboat 1", "Lifeboat 2"):
        _service(new, "release gear annual examination", boat).update(done=ON, certificate="D-8")


def _done_by_the_crew(old: Workbook, new: Workbook) -> None:
    _service(new, "falls renewed")["done"] = ON


def _corrected_to_an_earlier_day(old: Workbook, new: Workbook) -> None:
    _service(new, "release gear annual examination")["done"] = date(2026, 10, 19)


def _certificates_not_recorded(old: Workbook, new: Workbook) -> None:
    _service(new, "EPIRB annual test", "EPIRB")["done"] = ON


def _first_certificate(old: Workbook, new: Workbook) -> None:
    _service(new, "EPIRB annual test", "EPIRB").update(done=ON, certificate="E-1")


def _exchanged_raft(old: Workbook, new: Workbook) -> None:
    _raft(old)["serial"] = "LR-1"
    _raft(new).update(serial="LR-8", certificate="S-90", serviced=date(2026, 11, 20))


# ---- CP04


def _copied(old: Workbook, new: Workbook) -> Place:
    new.rows["routine"].pop()
    return "Ship", new.cell("ship", None, "record_date")


def _copied_and_sorted(old: Workbook, new: Workbook) -> Place:
    new.rows["inventory"].reverse()
    new.rows["crew"].reverse()
    return _copied(old, new)


def _copied_without_routine(old: Workbook, new: Workbook) -> Place:
    for book in (old, new):
        del book.rows["routine"]
    return "Ship", new.cell("ship", None, "record_date")


def _one_line_of_routine(old: Workbook, new: Workbook) -> None:
    pass  # the pair as it is


def _one_cell(old: Workbook, new: Workbook) -> None:
    new.rows["routine"].pop()
    new.lot("bucket")["remarks"] = "new lanyard"


def _sent_twice(old: Workbook, new: Workbook) -> None:
    new.rows["routine"].pop()
    new.ship["record_date"] = BEFORE


def _no_record_date(old: Workbook, new: Workbook) -> None:
    new.rows["routine"].pop()
    del old.ship["record_date"]


def _older_date(old: Workbook, new: Workbook) -> None:
    new.rows["routine"].pop()
    new.ship["record_date"] = date(2026, 10, 1)


def _one_person_relieved(old: Workbook, new: Workbook) -> None:
    new.rows["routine"].pop()
    for book, name in ((old, "Ferrant Quill"), (new, "Osk Marrendel")):
        book.find("crew", number="3")["name"] = name


# ---- CP05


def _larger(old: Workbook, new: Workbook) -> Place:
    new.rows["craft"][0]["persons"] = 24
    return "Craft", new.cell("craft", new.rows["craft"][0], "persons")


def _smaller_with_its_serial(old: Workbook, new: Workbook) -> Place:
    for book, persons in ((old, 20), (new, 16)):
        _raft(book).update(serial="LR-1", persons=persons)
    return "Craft", new.cell("craft", _raft(new), "persons")


def _renamed(old: Workbook, new: Workbook) -> Place:
    for book in (old, new):
        _raft(book)["serial"] = "LR-1"
    line = _raft(new)
    line.update(persons=25, name="Raft port")
    return "Craft", new.cell("craft", line, "persons")


def _exchanged(old: Workbook, new: Workbook) -> None:
    _raft(old)["serial"] = "LR-1"
    _raft(new).update(serial="LR-8", persons=25)


def _marked_anew(old: Workbook, new: Workbook) -> None:
    for book, persons, mass in ((old, 20, 75), (new, 18, 82.5)):
        book.rows["craft"][0].update(persons=persons, person_mass_kg=mass)


def _newly_built(old: Workbook, new: Workbook) -> None:
    for book, persons, made in ((old, 20, date(2012, 5, 1)), (new, 24, date(2026, 5, 1))):
        book.rows["craft"][0].update(persons=persons, made=made)


def _perhaps_exchanged(old: Workbook, new: Workbook) -> None:
    _raft(new).update(persons=25, certificate="S-90", serviced=date(2026, 11, 20))


def _unclear_persons_before(old: Workbook, new: Workbook) -> None:
    old.rows["craft"][0]["persons"] = "20?"


def _one_craft_more(old: Workbook, new: Workbook) -> None:
    new.add("craft", **{**_raft(new), "name": "Raft P2", "persons": 25, "certificate": "S-13"})


CASES: dict[str, tuple[list[Trips], list[Silent]]] = {
    "CP01": (
        [
            _expiry_moved,
            _expiry_moved_and_the_lines_sorted,
            _expiry_moved_with_the_batch_written_otherwise,
            _expiry_moved_while_the_lot_was_carried_elsewhere,
            _pack_moved,
        ],
        [
            _new_batch,
            _earlier,
            _month_written_out,
            _no_batch,
            _batch_given_at_last,
            _nil_batch,
            _unclear_before,
            _same_batch_bought_again,
            _battery_of_a_numbered_appliance,
            _battery_by_the_number_of_its_epirb,
            _pack_of_an_exchanged_raft,
            _pack_of_a_serviced_raft,
            _pack_of_a_raft_without_papers,
        ],
    ),
    "CP02": (
        [_restored, _restored_to_two_lines],
        [
            _from_the_locker,
            _two_lines_become_one,
            _back_from_ashore,
            _same_batch_for_the_other_boat,
            _other_batch_brought_in,
            _loose_gear_bought,
            _dated_without_batch,
            _not_counted_before,
            _unclear_quantity_before,
            _smaller_sachets,
            _used_up,
        ],
    ),
    "CP03": (
        [_same_report, _report_taken_out, _added_below_the_old_line, _raft_on_the_same_certificate],
        [
            _new_report,
            _new_line_with_a_new_report,
            _one_new_report_for_both_boats,
            _done_by_the_crew,
            _corrected_to_an_earlier_day,
            _certificates_not_recorded,
            _first_certificate,
            _exchanged_raft,
        ],
    ),
    "CP04": (
        [_copied, _copied_and_sorted, _copied_without_routine],
        [_one_line_of_routine, _one_cell, _sent_twice, _no_record_date, _older_date, _one_person_relieved],
    ),
    "CP05": (
        [_larger, _smaller_with_its_serial, _renamed],
        [
            _exchanged,
            _marked_anew,
            _newly_built,
            _perhaps_exchanged,
            _unclear_persons_before,
            _one_craft_more,
        ],
    ),
}

# What is said instead to be not compared, for look-alikes in which evidence is missing.
NOT_COMPARED: dict[Silent, str] = {
    _no_batch: "lots whose expiry moved later",
    _nil_batch: "lots whose expiry moved later",
    _pack_of_a_raft_without_papers: "rafts whose earliest content moved later",
    _dated_without_batch: "dated lots whose quantity rose",
    _not_counted_before: "batches whose quantity is empty",
    _unclear_quantity_before: "batches whose quantity is empty",
    _smaller_sachets: "measured otherwise",
    _certificates_not_recorded: "services with a later date",
    _no_record_date: "returns without a record date",
    _perhaps_exchanged: "rafts of another capacity",
}
