"""Cases in numbers are read, or refused with the number of the case and its field."""

from __future__ import annotations

import json
from typing import Any

import pytest

from nejime.basis.errors import InputError
from nejime.reading.cases import read_cases

CASE: dict[str, Any] = {
    "holder_radius_cm": 3.5,
    "holder_height_cm": 1.2,
    "holder_g": 300,
    "holder_offset_cm": [1.0, 0.0],
    "vessel_foot_radius_cm": 10,
    "vessel_g": 900,
    "water_g": 1500,
    "stems": [
        {
            "foot_cm": [0, 0.5],
            "foot_height_cm": 1.2,
            "tip_cm": [-20, 10, 40],
            "stem_g": 20,
            "head_g": 0,
        }
    ],
    "simulated": "stands",
    "who measured it": "nobody yet",
}


def told(value: Any) -> list[tuple[str, str]]:
    with pytest.raises(InputError) as caught:
        read_cases("cases.json", json.dumps(value).encode())
    return [(fault.field, fault.says.key) for fault in caught.value.faults]


@pytest.mark.parametrize("wrapped", [{"note": "mine", "cases": [CASE]}, [CASE]])
def test_a_list_is_read_bare_or_in_its_wrapping_without_strange_keys(wrapped: Any) -> None:
    (found,) = read_cases("cases.json", json.dumps(wrapped).encode())
    assert json.loads(json.dumps(found)) == {
        key: value for key, value in CASE.items() if key != "who measured it"
    }


def test_the_outcome_may_be_unknown() -> None:
    bare = {key: value for key, value in CASE.items() if key != "simulated"}
    (found,) = read_cases("cases.json", json.dumps([bare]).encode())
    assert "simulated" not in found


def test_faults_name_the_case_the_stem_and_the_field() -> None:
    stem = {**CASE["stems"][0], "tip_cm": [1, 2], "head_g": -1, "stem_g": float("inf")}
    second = {**CASE, "holder_g": 0, "water_g": "much", "vessel_g": float("nan"), "stems": [stem]}
    del second["vessel_foot_radius_cm"]
    assert sorted(told([CASE, second])) == [
        ("cases[2].holder_g", "reading.number-outside"),
        ("cases[2].stems[1].head_g", "reading.number-outside"),
        ("cases[2].stems[1].stem_g", "reading.number-outside"),
        ("cases[2].stems[1].tip_cm", "reading.not-a-point"),
        ("cases[2].vessel_foot_radius_cm", "reading.missing"),
        ("cases[2].vessel_g", "reading.number-outside"),
        ("cases[2].water_g", "reading.not-a-number"),
    ]


@pytest.mark.parametrize("value", [[], {}, {"cases": []}, 7, "text", None])
def test_a_file_without_cases_is_refused(value: Any) -> None:
    assert told(value) == [("", "reading.json.no-cases")]


@pytest.mark.parametrize(
    "data", [b"[", b"{'cases': []}", b"[" * 100_000, b"[1" + b"0" * 5000 + b"]"]
)
def test_what_is_no_json_is_refused(data: bytes) -> None:
    with pytest.raises(InputError):
        read_cases("cases.json", data)
