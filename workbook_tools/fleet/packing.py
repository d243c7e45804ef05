"""Puts results into bytes and back, for the way between processes and for the journal.

Plain tuples go five times as fast as the objects themselves, and reading them back can run no code: the reader knows
no class but the day's.
"""

from __future__ import annotations

import io
import pickle
from dataclasses import fields, is_dataclass
from datetime import date
from functools import cache
from operator import attrgetter
from typing import Any

from workbook_tools import findings
from workbook_tools.findings import BookResult

# Stands before the fields of one of our objects.
_MARK = "\0object"


def pack(value: Any) -> bytes:
    """Objects of workbook_tools.findings, days, texts, numbers, and lists, tuples, dictionaries of them, as bytes."""
    return pickle.dumps(_flat(value), protocol=5)


def unpack(data: bytes) -> Any:
    """What pack was given. Raises ValueError for bytes that are not of its making."""
    try:
        return _whole(_PlainReader(io.BytesIO(data)).load())
    except (pickle.UnpicklingError, EOFError, TypeError, AttributeError, LookupError) as error:
        raise ValueError(f"not a packed result: {error}") from error


def unpack_result(data: bytes) -> BookResult:
    """A result that was packed. Raises ValueError."""
    result = unpack(data)
    if not isinstance(result, BookResult):
        raise ValueError("not a packed result")
    return result


class _PlainReader(pickle.Unpickler):
    def find_class(self, module: str, name: str) -> Any:
        if (module, name) == ("datetime", "date"):
            return date
        raise pickle.UnpicklingError(f"{module}.{name} has no place here")


@cache
def _getter(kind: type) -> Any:
    return attrgetter(*(entry.name for entry in fields(kind)))


def _flat(value: Any) -> Any:
    if value is None or isinstance(value, str | int | float | bytes | date):
        return value
    if isinstance(value, list | tuple):
        flat = [_flat(entry) for entry in value]
        return tuple(flat) if isinstance(value, tuple) else flat
    if isinstance(value, dict):
        return {key: _flat(entry) for key, entry in value.items()}
    if is_dataclass(value) and type(value).__module__ == findings.__name__:
        kind: Any = type(value)
        values = _getter(kind)(value)
        if kind is not findings.State:  # four texts: there are hundreds of them
            values = tuple(_flat(entry) for entry in values)
        return (_MARK, kind.__name__, *values)
    raise TypeError(f"{type(value).__name__} cannot be packed")


@cache
def _kind(name: str) -> Any:
    kind = getattr(findings, name)
    if not is_dataclass(kind):
        raise LookupError(name)
    return kind


def _whole(value: Any) -> Any:
    if isinstance(value, tuple):
        if value and value[0] == _MARK:
            kind = _kind(value[1])
            return kind(*value[2:]) if kind is findings.State else kind(*map(_whole, value[2:]))
        return tuple(map(_whole, value))
    if isinstance(value, list):
        return list(map(_whole, value))
    if isinstance(value, dict):
        return {key: _whole(entry) for key, entry in value.items()}
    return value
