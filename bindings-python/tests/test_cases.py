"""Runs the shared cases in Python."""

from __future__ import annotations

import pytest

import neckwright
from cases import FOLDER, Case, read
from operations import OPERATIONS

FILES = sorted(FOLDER.glob("*.cases"))
CASES = [case for path in FILES for case in read(path)]


def test_there_are_cases() -> None:
    assert CASES


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case.where} {case.title}")
def test_shared_case(case: Case) -> None:
    perform = OPERATIONS[case.operation]
    if case.faults:
        with pytest.raises(neckwright.NeckwrightError) as caught:
            perform(case)
        told = [(fault.kind, fault.path, fault.message) for fault in caught.value.faults]
        assert told == case.faults
        assert str(caught.value) == "\n".join(message for _, _, message in case.faults)
        return
    results = perform(case)
    for name, expected in case.expected.items():
        values = results[name]
        assert values.shape == (len(expected.values),)
        for value, wanted in zip(values, expected.values, strict=True):
            assert abs(value - wanted) <= expected.tolerance
        assert expected.bits is not None, f"no bits of {name}"
        assert [f"{bits:016x}" for bits in values.view("u8").tolist()] == expected.bits
