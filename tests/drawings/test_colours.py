"""Colours of plants: every plant has some, and the seasons change what they change."""

import colorsys
import re

import pytest

from nejime.drawings.skeleton.colours import SEASONS, colours, rows, tint_of
from nejime.drawings.skeleton.foliage import bud, leaf
from nejime.drawings.skeleton.heads import head
from nejime.drawings.skeleton.organs import Body, Thread
from nejime.plants.table import plants

EVERY = [each.id for each in plants()]
HEX = re.compile(r"#[0-9a-f]{6}")


def hue_deg(colour):
    red, green, blue = (int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5))
    return 360 * colorsys.rgb_to_hsv(red, green, blue)[0]


@pytest.mark.parametrize("plant", EVERY)
def test_every_plant_has_colours_in_every_season(plant):
    for season in ("", *SEASONS):
        found = colours(plant, season)
        for name in found.__slots__:
            assert all(HEX.fullmatch(each) for each in getattr(found, name)), (plant, season, name)


def test_every_row_belongs_to_a_plant():
    assert set(rows()) <= set(EVERY)


@pytest.mark.source("memory", "maple, enkianthus and dogwood are green in summer, red in autumn")
@pytest.mark.parametrize("plant", ["maple", "enkianthus", "flowering-dogwood", "wax-tree"])
def test_leaves_redden_in_autumn(plant):
    assert all(70 < hue_deg(each) < 150 for each in colours(plant, "summer").leaf)
    assert all(hue_deg(each) < 25 or hue_deg(each) > 340 for each in colours(plant, "autumn").leaf)


@pytest.mark.source("memory", "berries of winterberry and beautyberry are green before they ripen")
@pytest.mark.parametrize(
    ("plant", "low", "high"), [("winterberry", 0, 12), ("beautyberry", 275, 300)]
)
def test_berries_ripen(plant, low, high):
    assert 60 < hue_deg(colours(plant, "summer").bud[1]) < 110
    assert low <= hue_deg(colours(plant, "autumn").bud[1]) <= high


@pytest.mark.source("memory", "pine, camellia and aspidistra are evergreen")
@pytest.mark.parametrize("plant", ["pine", "camellia", "aspidistra", "box", "sakaki"])
def test_evergreens_do_not_change(plant):
    assert len({colours(plant, season).leaf for season in SEASONS}) == 1


def test_parts_take_the_tint_of_what_they_are():
    quince = colours("flowering-quince")
    flower = head("quince")
    tints = {type(part.form): tint_of(quince, flower, part) for part in flower.parts}
    assert tints[Thread] == quince.stamen
    assert tints[Body] == quince.calyx
    assert tint_of(quince, flower, flower.parts[0]) == quince.flower
    berries = bud("berries")
    bodies = [part for part in berries.parts if isinstance(part.form, Body)]
    assert {tint_of(quince, berries, part) for part in bodies} == {quince.bud}
    catkin = bud("pussy")
    assert [tint_of(quince, catkin, part) for part in catkin.parts] == [quince.bud, quince.calyx]
    needles = leaf("black-pine")
    assert {tint_of(quince, needles, part) for part in needles.parts} == {quince.leaf}
    eye = head("anemone")
    (dark,) = (part for part in eye.parts if isinstance(part.form, Body))
    assert tint_of(quince, eye, dark) == quince.heart
