"""Water over the pins, what to pour, what the whole weighs."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from nejime.basis.sayings import Words
from nejime.forms.holder import holder
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.vessel import vessel
from nejime.standing.masses import Body
from nejime.standing.water import carried, water

RULE = packaged()["width-plus-height"]
DISH = vessel("round", 30, 6, mass_g=1800)
PLANNED = piece(DISH, RULE, "upright", held=holder(7, mass_g=475))
BODIES = {
    "first": Body("leafy-branch", 8, weighed_g=60),
    "second": Body("leafy-branch", 7, weighed_g=40),
    "third": Body("firm-stem", 6, 15, weighed_g=25),
}


@pytest.mark.source(
    "hand", "round 30 × 3 cm: π·15²·3 = 2120.6 ml; less 475/9.5 = 50 ml of the holder, and stems"
)
def test_the_water_to_pour() -> None:
    # Stems, from 1.5 cm above the floor up to 3 cm: π/4·d²·1.5/cos of each lean.
    leans = [stem.stands_deg for stem in PLANNED.stems]
    up = 3.0 - (2.2 - 0.7)
    in_water = sum(
        math.pi / 4 * (mm / 10) ** 2 * up / math.cos(math.radians(lean))
        for mm, lean in zip((8, 7, 6), leans, strict=True)
    )
    found = water(PLANNED, BODIES)
    assert found.pour_ml == pytest.approx(2120.6 - 50 - in_water, abs=0.2)
    # Vessel, holder, 125 g of stems, water.
    assert found.total_g == pytest.approx(1800 + 475 + 125 + found.pour_ml)
    assert found.heavy


@pytest.mark.source("hand", "holder of 9.5 g/cm³ under water: 1 − 1/9.5 = 0.8947 of its weight")
def test_water_carries_a_part_of_the_holder() -> None:
    held = holder(7)
    assert carried(held, 3.0) == pytest.approx(0.8947, abs=1e-4)
    assert carried(held, held.height_cm / 2) == pytest.approx(1 - 0.5 / 9.5)
    assert carried(held, 0.0) == 1.0


@pytest.mark.source("practice", "half a centimetre of water over the pins, 2.2 + 0.5 cm")
def test_pins_that_are_bare_are_noticed() -> None:
    assert water(PLANNED, BODIES).covers
    low = water(replace(PLANNED, water_cm=2.0), BODIES)
    assert not low.covers
    assert "standing.more-water" in {said.key for said in low.remarks}
    assert low.cover_cm == pytest.approx(2.7)


def test_a_vessel_too_shallow_for_the_pins_is_named() -> None:
    tray = piece(vessel("round", 30, 3), RULE, "upright", held=holder(7))
    assert "standing.pins-stay-dry" in {said.key for said in water(tray, {}).remarks}


def test_a_small_bowl_can_be_carried() -> None:
    small = water(piece(vessel("bowl", 15, 5.5), RULE, "upright"), {})
    assert not small.heavy


def test_a_tall_vase_has_no_pins_to_cover() -> None:
    found = water(piece(vessel("vase", 10, 28), RULE, "upright"), {})
    assert found.cover_cm == 0
    assert found.covers
    assert 0 < found.lowest_cm < found.level_cm


def test_it_is_said_in_plain_words() -> None:
    said = [Words().say(each) for each in water(PLANNED, BODIES).remarks]
    assert said[0] == "Pour in about 2100 ml of water."
