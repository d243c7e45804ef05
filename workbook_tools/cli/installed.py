"""What this installation declares that it needs, and what of it is there; and, by that, what to install."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from importlib import metadata

DISTRIBUTION = "davitbook"
# What each extra is for. Extras for those who work on davitbook itself are not listed.
EXTRAS = {
    "excel": "the Excel add-in: davitbook addin excel",
    "archive": "trends over many runs: davitbook check --archive",
    "cluster": "checking on many machines: davitbook check --cluster",
}


@dataclass(frozen=True, slots=True)
class Need:
    """One distribution that ours declares: the versions asked, the one that is there (None: missing), and its extra."""

    name: str
    asked: str
    found: str | None
    extra: str

    @property
    def fits(self) -> bool:
        """Whether it is there in a version that will do."""
        from packaging.specifiers import SpecifierSet

        return self.found is not None and SpecifierSet(self.asked).contains(self.found, prereleases=True)


def needs() -> list[Need]:
    """Every declared dependency that this system asks for: those always needed, then those of the extras.

    Empty where davitbook is run from a folder and was never installed.
    """
    try:
        declared = metadata.requires(DISTRIBUTION) or []
    except metadata.PackageNotFoundError:
        return []
    return [*_of_extra(declared, ""), *(need for extra in EXTRAS for need in _of_extra(declared, extra))]


def _of_extra(declared: list[str], extra: str) -> Iterator[Need]:
    from packaging.requirements import Requirement

    for text in declared:
        requirement = Requirement(text)
        marker = requirement.marker
        of_extra = marker is not None and "extra" in str(marker)
        if of_extra == bool(extra) and (marker is None or marker.evaluate({"extra": extra})):
            yield Need(requirement.name, str(requirement.specifier), _version(requirement.name), extra)


def _version(name: str) -> str | None:
    try:
        return metadata.version(name)
    except metadata.PackageNotFoundError:
        return None


def install_words(extra: str = "") -> str:
    """The command that installs davitbook with an extra, or with all it always needs."""
    return f'pip install "{DISTRIBUTION}[{extra}]"' if extra else f"pip install --force-reinstall {DISTRIBUTION}"


def remedy_for(module: str) -> str | None:
    """What to install where an import fails for want of a module; None where it is nothing that we declare."""
    if module.partition(".")[0] == "packaging":
        return install_words()
    for need in needs():
        if _plain(need.name) == _plain(module.partition(".")[0]):
            return install_words(need.extra)
    return None


def _plain(name: str) -> str:
    """A distribution's or module's name, as far as the two are written alike: XlsxWriter and xlsxwriter."""
    return re.sub(r"[-_.]+", "", name).casefold()
