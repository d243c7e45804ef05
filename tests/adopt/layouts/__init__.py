"""Foreign workbooks as different people make them, each with its truth stated by hand beside its builder.

The truth names what each heading and each item is, and every lot that a careful reader would write down. It uses none
of the matcher's tables.
"""

from __future__ import annotations

import importlib
import pkgutil

from tests.adopt.layouts.layout import Layout

_NOT_LAYOUTS = ("layout",)


def _all() -> dict[str, Layout]:
    names = sorted(module.name for module in pkgutil.iter_modules(__path__) if module.name not in _NOT_LAYOUTS)
    return {name: importlib.import_module(f"tests.adopt.layouts.{name}").LAYOUT for name in names}


LAYOUTS = _all()
TUNED = {name: layout for name, layout in LAYOUTS.items() if not layout.held_out}
HELD_OUT = {name: layout for name, layout in LAYOUTS.items() if layout.held_out}
