"""Every module here that is not `common` holds cases; they are gathered into one table."""

import importlib
import pkgutil

from tests.checks.cases.common import Cases

CASES: Cases = {}
FOLLOWS: dict[str, set[str]] = {}
for _module in pkgutil.iter_modules(__path__):
    if _module.name == "common":
        continue
    _loaded = importlib.import_module(f"{__name__}.{_module.name}")
    _twice = CASES.keys() & _loaded.CASES.keys()
    if _twice:
        raise ValueError(f"{_module.name}: {_twice} have cases already")
    CASES.update(_loaded.CASES)
    for _code, _others in getattr(_loaded, "FOLLOWS", {}).items():
        FOLLOWS[_code] = FOLLOWS.get(_code, set()) | _others
