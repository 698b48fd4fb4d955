"""200 arrangements against what a simulation of rigid bodies with contacts made of them."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from nejime.basis.errors import InputError
from nejime.standing.cases import CaseAnswer, judge_case

CASES = json.loads(
    (Path(__file__).parent.parent / "data" / "standing_cases.json").read_text(encoding="utf-8")
)["cases"]
UNDECIDED = (0.9, 1.2)


def least(answer: CaseAnswer) -> float:
    factors = (answer.load_factor_holder, answer.load_factor_vessel)
    return min((each for each in factors if each is not None), default=float("inf"))


@pytest.mark.source(
    "own", "simulated for this project with contacts between rigid bodies, 200 cases"
)
def test_every_case_that_can_be_decided_is_decided_rightly() -> None:
    answers = [(judge_case(case), case["simulated"]) for case in CASES]
    decided = [
        (answer.falls, simulated)
        for answer, simulated in answers
        if not UNDECIDED[0] <= least(answer) <= UNDECIDED[1]
    ]
    assert len(answers) == 200
    assert len(decided) >= 120
    assert {simulated for _, simulated in decided} == {"stands", "holder", "vessel"}
    wrong = [pair for pair in decided if pair[0] != pair[1]]
    assert not wrong


def one_stem(**changes: Any) -> dict[str, Any]:
    """A branch of 100 g whose end is 40 cm to the right: its middle is 20 cm out."""
    return {
        "holder_radius_cm": 3.5,
        "holder_g": 500.0,
        "holder_offset_cm": [0.0, 0.0],
        "vessel_foot_radius_cm": 8.0,
        "vessel_g": 700.0,
        "water_g": 800.0,
        "stems": [{"foot_cm": [0, 0], "tip_cm": [40, 0, 30], "stem_g": 100.0, "head_g": 0.0}],
    } | changes


@pytest.mark.source("hand", "500·3.5 / (100·(20 − 3.5)) = 1.0606; 2000·8 / (100·(20 − 8)) = 13.333")
def test_a_case_by_hand() -> None:
    answer = judge_case(one_stem())
    assert answer.load_factor_holder == pytest.approx(1750 / 1650)
    assert answer.load_factor_vessel == pytest.approx(16000 / 1200)
    assert answer.falls == "stands"


@pytest.mark.source(
    "hand", "the holder 5 cm to the right: (2000·8 − 500·5) / (100·(25 − 8)) = 7.9412"
)
def test_the_holders_place_counts_for_the_vessel_only() -> None:
    answer = judge_case(one_stem(holder_offset_cm=[5.0, 0.0]))
    assert answer.load_factor_holder == pytest.approx(1750 / 1650)
    assert answer.load_factor_vessel == pytest.approx(13500 / 1700)


@pytest.mark.source("hand", "head of 60 g at 40 cm: 500·3.5 / (100·20 + 60·40 − 160·3.5) = 0.4557")
def test_a_heavy_head_makes_the_holder_fall() -> None:
    case = one_stem()
    case["stems"][0]["head_g"] = 60.0
    answer = judge_case(case)
    assert answer.load_factor_holder == pytest.approx(1750 / 3840)
    assert answer.falls == "holder"


def test_the_level_with_the_smaller_factor_falls() -> None:
    answer = judge_case(one_stem(holder_g=400.0, vessel_foot_radius_cm=2.0, water_g=0.0))
    assert answer.load_factor_holder is not None
    assert answer.load_factor_vessel is not None
    assert answer.falls == "holder" if answer.load_factor_holder < answer.load_factor_vessel else 1


def test_an_upright_stem_overturns_nothing() -> None:
    case = one_stem()
    case["stems"][0]["tip_cm"] = [0.5, 0.0, 40.0]
    answer = judge_case(case)
    assert answer == CaseAnswer(None, None, "stands")


def test_no_stems_stand() -> None:
    assert judge_case(one_stem(stems=[])).falls == "stands"


def test_every_fault_is_named_at_once() -> None:
    case = one_stem(holder_g=0, vessel_g="heavy", holder_offset_cm=[1.0])
    del case["water_g"]
    case["stems"][0]["tip_cm"] = [1, 2]
    case["stems"].append(3)
    with pytest.raises(InputError) as caught:
        judge_case(case, "cases[7]")
    fields = {fault.field for fault in caught.value.faults}
    assert fields >= {
        "cases[7].holder_g",
        "cases[7].vessel_g",
        "cases[7].water_g",
        "cases[7].holder_offset_cm",
        "cases[7].stems[1].tip_cm",
        "cases[7].stems[2].stem_g",
    }
