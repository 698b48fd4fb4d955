"""Colours of plants go with the seasons as the plants do."""

import colorsys

import pytest

from nejime.drawings.skeleton.table import habit
from nejime.drawings.tints import SEASONS, organ_tints


def hue_deg(colour):
    red, green, blue = (int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))
    return 360 * colorsys.rgb_to_hsv(red, green, blue)[0]


def leaf(plant, season):
    return organ_tints(plant, habit(plant).leaf, season)["leaf"]


def berry(plant, season):
    return organ_tints(plant, f"{habit(plant).bud}-bud", season)["dark"]


@pytest.mark.source("memory", "these are green in summer, and red or copper in autumn")
@pytest.mark.parametrize("plant", ["maple", "enkianthus", "flowering-dogwood", "thunberg-spiraea"])
def test_leaves_redden_in_autumn(plant):
    assert all(70 < hue_deg(each) < 150 for each in leaf(plant, "summer"))
    assert all(hue_deg(each) < 40 or hue_deg(each) > 330 for each in leaf(plant, "autumn"))


@pytest.mark.source("memory", "berries of winterberry and nandina ripen red, beautyberry violet")
@pytest.mark.parametrize(
    ("plant", "low", "high"),
    [("winterberry", -20, 15), ("nandina", -20, 15), ("beautyberry", 270, 320)],
)
def test_berries_ripen(plant, low, high):
    assert 60 < hue_deg(berry(plant, "summer")) < 110
    ripe = hue_deg(berry(plant, "autumn"))
    assert low <= (ripe - 360 if ripe > 330 else ripe) <= high


@pytest.mark.source("memory", "pine, camellia and aspidistra are evergreen")
@pytest.mark.parametrize("plant", ["pine", "camellia", "aspidistra", "box", "sakaki"])
def test_evergreens_do_not_change(plant):
    tints = [organ_tints(plant, habit(plant).leaf, season) for season in SEASONS]
    assert all(each == tints[0] for each in tints)
