"""What `davitbook doctor` looks at: this installation, its dependencies and rules, the spreadsheet programs, trials."""

from __future__ import annotations

import json
import platform
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from importlib import metadata
from pathlib import Path

from workbook_tools import __version__
from workbook_tools.cli import doctor_programs
from workbook_tools.cli.common import ACTION_REQUIRED, CLEAR
from workbook_tools.cli.installed import EXTRAS, install_words, needs
from workbook_tools.rules import load_rule_set, rule_set_names
from workbook_tools.rules.model import STATUS_WORDS

STATES = ("ok", "missing", "fault", "note")
_TRIAL_S = 300


@dataclass(frozen=True, slots=True)
class Fact:
    """One thing looked at: its state, what was seen, and what to do where something is to be done.

    state: ok; missing (optional, and not here); fault (an audit needs it); note.
    """

    section: str
    name: str
    state: str
    seen: str
    remedy: str = ""


def gather(trials: bool) -> list[Fact]:
    """Everything there is to say of this machine; trials: try the audit, a plan and the extension as well."""
    return [*_this(), *_dependencies(), *_extras(), *_rules(), *_programs(), *(_trials() if trials else ())]


def _this() -> Iterator[Fact]:
    section = "This machine"
    yield Fact(section, "davitbook", "ok", f"{__version__}, in {Path(__file__).parents[2]}")
    good = sys.version_info >= doctor_programs.OLDEST_PYTHON
    asked = ".".join(map(str, doctor_programs.OLDEST_PYTHON))
    remedy = "" if good else f"Install Python {asked} or later"
    yield Fact(section, "Python", "ok" if good else "fault", f"{platform.python_version()}, {sys.executable}", remedy)
    yield Fact(section, "system", "note", f"{platform.system()} {platform.release()}, {platform.machine()}")


def _dependencies() -> Iterator[Fact]:
    section = "Needed"
    found = [need for need in needs() if not need.extra]
    if not found:
        yield Fact(section, "installation", "note", "run from a folder: what it declares to need cannot be read")
    for need in found:
        if need.found is None:
            yield Fact(section, need.name, "fault", "not installed", install_words())
        elif not need.fits:
            yield Fact(section, need.name, "fault", f"{need.found}, but {need.asked} is needed", install_words())
        else:
            yield Fact(section, need.name, "ok", need.found)


def _extras() -> Iterator[Fact]:
    for extra, purpose in EXTRAS.items():
        for need in (need for need in needs() if need.extra == extra):
            state = "ok" if need.fits else "missing"
            seen = f"{need.found or 'not installed'}; for {purpose}"
            yield Fact("Optional", need.name, state, seen, "" if need.fits else install_words(extra))


def _rules() -> Iterator[Fact]:
    for name, title in rule_set_names().items():
        rule_set = load_rule_set(name)
        sure = Counter(rule.status for rule in rule_set.rules)
        counts = "; ".join(f"{sure[status]} {words}" for status, words in STATUS_WORDS.items() if sure[status])
        yield Fact("Rules", name, "ok", f"{title}, edition {rule_set.edition}: {len(rule_set.rules)} rows ({counts})")


# ---- spreadsheet programs


def _programs() -> Iterator[Fact]:
    office = doctor_programs.find_office()
    if office is None:
        seen = "not found; only needed to keep the book in it, or for functions in its cells"
        yield Fact("Spreadsheets", "LibreOffice", "missing", seen)
    else:
        yield _office(office)
        yield _extension(office)
    yield from _excel()


def _office(office: doctor_programs.Office) -> Fact:
    asked = ".".join(map(str, doctor_programs.OLDEST_OFFICE))
    seen = f"{office.version or 'no version told'}, {office.program}"
    if office.python:
        seen += f", with Python {office.python}"
    if office.version and office.numbers[:2] < doctor_programs.OLDEST_OFFICE:
        return Fact("Spreadsheets", "LibreOffice", "note", seen, f"The cell functions were tried from {asked} on")
    if not office.python_fits:
        python = ".".join(map(str, doctor_programs.OLDEST_PYTHON))
        remedy = f"The cell functions need one whose Python is {python} or later; the workbook needs nothing"
        return Fact("Spreadsheets", "LibreOffice", "note", seen, remedy)
    return Fact("Spreadsheets", "LibreOffice", "ok", seen)


def _extension(office: doctor_programs.Office) -> Fact:
    places = [*doctor_programs.office_profiles(), doctor_programs.shared_packages(office)]
    version = doctor_programs.extension_version(places)
    name, make = "Calc extension", "davitbook addin calc --out DIR makes it, the Extension Manager adds it"
    if version is None:
        return Fact("Spreadsheets", name, "missing", "not installed for this user", make)
    if version != __version__:
        return Fact("Spreadsheets", name, "note", f"{version}; this davitbook is {__version__}", f"To renew it: {make}")
    return Fact("Spreadsheets", name, "ok", version)


def _excel() -> Iterator[Fact]:
    if not doctor_programs.on_windows():
        yield Fact("Spreadsheets", "Excel", "note", "looked for on Windows only; workbooks for Excel are made anywhere")
        return
    version = doctor_programs.find_excel()
    if version is None:
        yield Fact("Spreadsheets", "Excel", "missing", "not in the registry; only needed to keep the book in it")
        return
    seen = f"version {version}" + (" (16 is 2016 to 365: =LAMBDA(x,x)(1) gives 1 in 365)" if version == "16" else "")
    yield Fact("Spreadsheets", "Excel", "ok", seen)
    addin = doctor_programs.excel_addin()
    seen = str(addin) if addin else "not in Excel's own add-in folders; it may lie elsewhere"
    yield Fact("Spreadsheets", "Excel add-in", "ok" if addin else "missing", seen, "" if addin else "docs/install.md")


# ---- trials


def _trials() -> Iterator[Fact]:
    yield _trial("make and audit a book", _book_trial)
    yield _trial("solve a plan", _plan_trial)
    yield _trial("make the Calc extension", _extension_trial)


def _trial(name: str, run: Callable[[], str]) -> Fact:
    try:
        return Fact("Tried just now", name, "ok", run())
    except Exception as error:  # whatever stands in the way is what the user asked to know
        return Fact("Tried just now", name, "fault", f"{type(error).__name__}: {str(error)[:300]}", install_words())


def _book_trial() -> str:
    """A new book, audited by the command as a user would run it, in a process of its own."""
    from workbook_tools.book import build

    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder) / "trial.xlsx"
        book.write_bytes(build("Trial"))
        command = [sys.executable, "-m", "workbook_tools", "check", str(book), "--format", "json"]
        done = subprocess.run(command, capture_output=True, text=True, timeout=_TRIAL_S, check=False)
    if done.returncode not in (CLEAR, ACTION_REQUIRED):
        raise RuntimeError(done.stderr.strip()[-300:] or f"the audit ended with status {done.returncode}")
    audited = json.loads(done.stdout)["books"][0]
    if not audited["readable"]:
        raise RuntimeError(audited["reason"])
    return "an empty book was made, read back and audited"


def _plan_trial() -> str:
    from workbook_tools.planning.program import Model

    model = Model()
    dear, cheap = model.add(1, cost=2), model.add(1, cost=1)
    model.at_least([(dear, 1), (cheap, 1)], 1)
    if [round(value) for value in model.solve()] != [0, 1]:
        raise RuntimeError("the solver's answer is wrong")
    return f"HiGHS {metadata.version('highspy')}"


def _extension_trial() -> str:
    from workbook_tools.addins.calc import build

    with tempfile.TemporaryDirectory() as folder:
        size = build(Path(folder)).stat().st_size
    return f"{size // 1000} KB"
