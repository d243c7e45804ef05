"""What the reports of a fleet cost, beside writing the same findings with XlsxWriter alone and with json.dumps.

    python -m tests.benchmarks.fleet_reports [SHIPS ...]

For each number of ships (some 33 findings and 50 lapses each) it prints seconds, megabytes of memory at the peak of a
process of its own, and megabytes of the file; then how long Chromium takes over the page, where Chromium is there.
Asserts nothing, for machines differ and are noisy.
"""

from __future__ import annotations

import io
import json
import multiprocessing
import resource
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import asdict
from datetime import timedelta
from pathlib import Path

from workbook_tools.checks import Options
from workbook_tools.findings import GRADES, LAPSE_KINDS, BookResult, Finding, Lapse, State
from workbook_tools.reports.fleet.followups import FollowUpLists
from workbook_tools.reports.fleet.page import fleet_page
from workbook_tools.reports.fleet.record import FleetRecord
from workbook_tools.reports.fleet.workbook import fleet_workbook
from workbook_tools.rules.model import PRIORITIES

FINDINGS, LAPSES = 33, 50
_LETTERS = "abcdefghijklmnopqrstuvwxyz"


def ship(number: int, options: Options) -> BookResult:
    """One ship's result, of the size of a real one."""
    findings = [
        Finding(
            code=f"EQ{place % 7 + 1:02}",
            rule=f"lifeboat.rule-{place}",
            grade=GRADES[(number + place) % 4],
            priority=PRIORITIES[place % 4],
            sheet="Inventory",
            cell=f"C{place + 2}",
            subject=f"Lifeboat {place % 4}",
            message=f"hand flare: 6 asked, {place} in date; expired: {number} at Inventory!F{place} (2026-08-31)",
            remedy="replace the expired lot; keep expired pyrotechnics apart until landed",
            source=f"LSA Code 4.4.8.{place}",
            id=f"EQ01-{_LETTERS[number % 26]}{_LETTERS[place % 26] * 5}",
        )
        for place in range(FINDINGS)
    ]
    kinds = list(LAPSE_KINDS)
    lapses = [
        Lapse(
            options.on + timedelta(days=(number * 7 + place * 11) % 360),
            kinds[place % len(kinds)],
            f"{place} x hand flare, batch H{number}-{place}",
            f"Lifeboat {place % 4}",
            "Inventory",
            f"F{place + 2}",
        )
        for place in range(LAPSES)
    ]
    states = [State(f"lifeboat.rule-{place}", "Lifeboat 1", "passed") for place in range(200)]
    return BookResult(
        f"returns/{number}.xlsx",
        ship=f"Ship {number}",
        imo_number=f"{3000000 + number}",
        rules="solas",
        findings=findings,
        lapses=lapses,
        states=states,
    )


def _ships(count: int, options: Options) -> Iterator[BookResult]:
    return (ship(number, options) for number in range(count))


def _recorded(count: int, options: Options) -> FleetRecord:
    record = FleetRecord(options)
    for result in _ships(count, options):
        record.add(result)
    return record


def _results_alone(count: int, options: Options) -> int:
    return sum(len(result.findings) for result in _ships(count, options)) and 0


def _record_alone(count: int, options: Options) -> int:
    return _recorded(count, options).finding_count() and 0


def _our_workbook(count: int, options: Options) -> int:
    return len(fleet_workbook(_recorded(count, options), Path(".")))


def _our_page(count: int, options: Options) -> int:
    return len(fleet_page(_recorded(count, options), Path(".")).encode())


def _our_lists(count: int, options: Options) -> int:
    with tempfile.TemporaryDirectory() as folder:
        lists = FollowUpLists(Path(folder) / "lists", options)
        for result in _ships(count, options):
            lists.add(result)
        lists.finish()
        return sum(path.stat().st_size for path in (Path(folder) / "lists").iterdir())


def _plain_workbook(count: int, options: Options) -> int:
    """The same findings and lapses, cell by cell, with nothing else: no order, looks, links or tables."""
    import xlsxwriter

    target = io.BytesIO()
    with xlsxwriter.Workbook(target) as book:
        findings, lapses = book.add_worksheet("Findings"), book.add_worksheet("Lapses")
        row = due = 0
        for result in _ships(count, options):
            for finding in result.findings:
                texts = (result.ship, finding.priority, finding.grade, f"{finding.sheet}!{finding.cell}")
                more = (finding.subject, finding.message, finding.remedy, finding.source, finding.id, finding.rule)
                for column, text in enumerate((*texts, *more, result.book)):
                    findings.write_string(row, column, text)
                row += 1
            for lapse in result.lapses:
                said = (result.ship, str(lapse.day), lapse.kind, lapse.what, lapse.where, lapse.sheet, lapse.cell)
                for column, text in enumerate(said):
                    lapses.write_string(due, column, text)
                due += 1
    return len(target.getvalue())


def _plain_json(count: int, options: Options) -> int:
    lines = [asdict(finding) for result in _ships(count, options) for finding in result.findings]
    return len(json.dumps(lines, default=str).encode())


WORKS: dict[str, Callable[[int, Options], int]] = {
    "making the results (in all below)": _results_alone,
    "record alone": _record_alone,
    "baseline: XlsxWriter, cells only": _plain_workbook,
    "fleet.xlsx": _our_workbook,
    "baseline: json.dumps": _plain_json,
    "fleet.html": _our_page,
    "follow-up lists": _our_lists,
}


def _measure(name: str, count: int, answer: object) -> None:
    from datetime import date

    options = Options(date(2026, 11, 25), lapses=True)
    start = time.perf_counter()
    size = WORKS[name](count, options)
    seconds = time.perf_counter() - start
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    answer.send((seconds, peak, size / 1e6))  # type: ignore[attr-defined]


def _in_a_process_of_its_own(name: str, count: int) -> tuple[float, float, float]:
    context = multiprocessing.get_context("spawn")
    ours, theirs = context.Pipe(duplex=False)
    process = context.Process(target=_measure, args=(name, count, theirs))
    process.start()
    answer: tuple[float, float, float] = ours.recv()
    process.join()
    return answer


def _in_chromium(count: int) -> None:
    """Seconds until the page is ready, and until a filter, a search and a sort have drawn their lines."""
    from datetime import date

    from tests.reports.fleet import browser

    options = Options(date(2026, 11, 25), lapses=True)
    with tempfile.TemporaryDirectory() as folder, browser.running() as running:
        file = Path(folder) / "fleet.html"
        file.write_text(fleet_page(_recorded(count, options), Path(folder)), encoding="utf-8")
        start = time.perf_counter()
        with browser.shown(running, file) as opened:
            ready = time.perf_counter() - start
            times = opened.page.evaluate(
                """() => {
                    const timed = work => { const start = performance.now(); work(); document.body.offsetHeight;
                        return performance.now() - start };
                    const form = document.querySelector("#findings form");
                    const sent = () => form.dispatchEvent(new Event("submit", {cancelable: true}));
                    return {
                        filter: timed(() => { form.elements.grade.value = "0"; sent(); }),
                        "first search": timed(() => { form.reset(); form.elements.search.value = "flare 17"; sent(); }),
                        "next search": timed(() => { form.elements.search.value = "flare 18"; sent(); }),
                        "sort all": timed(() => { form.reset(); sent();
                            document.querySelectorAll("#findings thead button")[3].click(); }),
                    };
                }"""
            )
    print(f"  Chromium: ready in {ready:.2f} s; " + ", ".join(f"{name} {ms:.0f} ms" for name, ms in times.items()))


def main(counts: list[int]) -> None:
    """Measure each report for each size of fleet."""
    for count in counts:
        print(f"{count:,} ships, {count * FINDINGS:,} findings, {count * LAPSES:,} lapses")
        measured = {name: _in_a_process_of_its_own(name, count) for name in WORKS}
        for name, (seconds, peak, size) in measured.items():
            print(f"  {name:<34} {seconds:8.2f} s {peak:7.0f} MB peak {size:8.2f} MB file")
        for ours, baseline in (
            ("fleet.xlsx", "baseline: XlsxWriter, cells only"),
            ("fleet.html", "baseline: json.dumps"),
        ):
            print(f"  {ours} / {baseline}: {measured[ours][0] / measured[baseline][0]:.2f} of the time")
        try:
            _in_chromium(count)
        except BaseException as error:
            print(f"  Chromium: not measured ({str(error).splitlines()[0]})")


if __name__ == "__main__":
    main([int(argument) for argument in sys.argv[1:]] or [30, 300, 3000])
