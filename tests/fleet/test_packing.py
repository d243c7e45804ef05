"""Results survive the way into bytes and back; bytes of another making run nothing."""

from __future__ import annotations

import os
import pickle
from datetime import date
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.workbooks import ON, clean
from workbook_tools.findings import BookResult, Finding, FollowUp, Lapse, Persons, PlacesAfterLoss, State
from workbook_tools.fleet.packing import pack, unpack, unpack_result

TEXT = st.text(max_size=20)
FOLLOW_UPS = st.builds(FollowUp, TEXT, TEXT, st.none() | st.dates(), TEXT, TEXT, st.booleans())
FINDINGS = st.builds(
    Finding, TEXT, TEXT, TEXT, TEXT, TEXT, TEXT, TEXT, TEXT, TEXT,
    required=st.none() | st.floats(allow_nan=False), follow_up=st.none() | FOLLOW_UPS,
)  # fmt: skip
RESULTS = st.builds(
    BookResult,
    TEXT,
    readable=st.booleans(),
    states=st.lists(st.builds(State, TEXT, TEXT, TEXT, TEXT), max_size=3),
    findings=st.lists(FINDINGS, max_size=3),
    persons=st.builds(Persons, losses=st.tuples(st.builds(PlacesAfterLoss, TEXT, st.integers(), st.integers()))),
    lapses=st.lists(st.builds(Lapse, st.dates(), TEXT, TEXT, TEXT, TEXT, TEXT), max_size=2),
)


@given(RESULTS)
def test_a_result_comes_back_as_it_was(result: BookResult) -> None:
    assert unpack_result(pack(result)) == result


def test_the_result_of_an_audit_comes_back_as_it_was() -> None:
    book = clean()
    book.lot("bucket")["quantity"] = 1
    result = book.audit(ON)
    assert unpack_result(pack(result)) == result


def test_plain_values_come_back_as_they_were() -> None:
    values: dict[str, Any] = {"lots": [("bucket", 2.0, date(2027, 1, 1), None)], "count": 3, "raw": b"x"}
    assert unpack(pack(values)) == values


class _Harm:
    def __reduce__(self) -> Any:
        return os.system, ("true",)


@pytest.mark.parametrize(
    "data", [pickle.dumps(_Harm()), pickle.dumps(("\0object", "Counter", 1)), b"", b"junk", pickle.dumps(("\0object",))]
)
def test_bytes_of_another_making_are_refused(data: bytes) -> None:
    with pytest.raises(ValueError, match="not a packed result"):
        unpack_result(data)


def test_what_is_no_plain_value_is_not_packed() -> None:
    with pytest.raises(TypeError, match="cannot be packed"):
        pack(object())
