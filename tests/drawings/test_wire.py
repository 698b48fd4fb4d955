"""What goes to the browser: all of the scene, mirrored where the piece is, and its keys."""

import json
import math
from dataclasses import replace

import pytest

from nejime.basis.angles import line, mirrored
from nejime.drawings import tints
from nejime.drawings.ink.pose import held, pose, stance
from nejime.drawings.scene import Look, scene
from nejime.drawings.skeleton.growing import skeleton
from nejime.drawings.skeleton.organs import Body, Thread
from nejime.drawings.skeleton.stem import Stance
from nejime.drawings.skeleton.surface import Blade
from nejime.drawings.wire import (
    GLAZES,
    MATERIAL,
    STEP_DEG,
    look,
    look_key,
    look_wire,
    table_version,
    wire,
)
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel
from nejime.plants.table import plants

RULE = packaged()["width-plus-height"]
PLANTS = {"main": "forsythia", "helper": "flowering-quince", "heart": "tulip", "leaf": "aspidistra"}
EVERY = [each.id for each in plants()]


def shown(opens="right", ware=None, form="upright"):
    bare = piece(ware or vessel("round", 30, 6), RULE, form, opens=opens)
    made = with_supporting(bare, helpers=2, hearts=1, leaves=2)
    looks = {
        each.id: Look("branch", 7.0, 5.0, "bare-twig", PLANTS[each.role], index + 1)
        for index, each in enumerate(made.stems)
    }
    return scene(made, looks)


def test_every_stem_is_sent_where_it_stands():
    there = shown()
    sent = wire(there)
    assert [each["id"] for each in sent["stems"]] == [each.stem.id for each in there.stems]
    for told, standing in zip(sent["stems"], there.stems, strict=True):
        at = told["pose"]
        way = line(at["tilt"], at["bearing"])
        end = [foot + at["chord"] * each for foot, each in zip(at["foot"], way, strict=True)]
        assert end == pytest.approx(standing.end, abs=0.03)  # sent to 0.1 mm and 0.01 degrees
        assert told["plant"] == standing.look.plant


def test_the_vessel_its_water_and_its_pin_holder_are_sent():
    there = shown()
    sent = wire(there, glaze="iron")
    assert sent["vessel"]["glaze"] == "iron"
    assert sent["vessel"]["outside"][-1] == pytest.approx(
        (there.vessel.rim.z_cm, there.vessel.rim.half_x_cm, there.vessel.rim.half_y_cm)
    )
    assert sent["water_cm"] == pytest.approx(there.water_z_cm, abs=0.01)
    assert sent["holder"]["at"][:2] == pytest.approx(
        (there.holder.x_cm, there.holder.y_cm), abs=0.001
    )
    assert sent["holder"]["pins"] > 100
    assert wire(shown(ware=vessel("vase", 12, 28), form="upright"))["holder"] is None


def test_all_of_it_survives_being_written_and_read():
    sent = wire(shown())
    assert json.loads(json.dumps(sent)) == sent
    for told in sent["stems"]:
        grown = look(told["look"])
        assert json.loads(json.dumps(grown, allow_nan=False)) == grown


def test_a_piece_that_opens_left_is_sent_as_the_mirror_of_its_twin():
    ours, theirs = wire(shown("right")), wire(shown("left"))
    for one, other in zip(ours["stems"], theirs["stems"], strict=True):
        a, b = one["pose"], other["pose"]
        assert b["foot"] == pytest.approx((-a["foot"][0], *a["foot"][1:]), abs=0.011)
        assert math.cos(math.radians(b["bearing"] - mirrored(a["bearing"]))) == pytest.approx(1)
        assert (a["tilt"], a["chord"], a["mirror"], b["mirror"]) == (
            b["tilt"],
            b["chord"],
            False,
            True,
        )
        # The plant itself is the same; the stage turns it over.
        assert look(one["look"])["placed"] == look(other["look"])["placed"]


def test_a_key_means_the_stem_that_the_papers_draw():
    for standing in shown().stems:
        seen = stance(standing, pose(standing))
        stem, its = standing.stem, standing.look
        exact = skeleton(
            its.plant, round(stem.length_cm, 1), its.thickness_mm, its.seed, seen, its.stage
        )
        told = look(look_key(standing))
        assert len(told["axes"]) == len(exact.axes)
        assert set(told["organs"]) == set(exact.organs)
        for name, flat in told["placed"].items():
            places = [each for each in exact.placed if each.organ == name]
            assert len(flat) == 10 * len(places)
            for index, each in enumerate(places):
                # Lean and direction are rounded to half a step, as light turns a leaf.
                at = flat[10 * index : 10 * index + 3]
                assert math.dist(at, each.frame.at) < 0.1 * stem.length_cm
                x = flat[10 * index + 3 : 10 * index + 6]
                turn = sum(a * b for a, b in zip(x, each.frame.x, strict=True))
                assert turn > math.cos(math.radians(4 * STEP_DEG)), name


def test_what_changes_a_look_changes_its_key_and_nothing_else_does():
    first = shown().stems[0]
    key = look_key(first)
    assert look_key(replace(first, look=replace(first.look, head_cm=9.0))) == key
    moved = replace(first.stem, bearing_deg=first.stem.bearing_deg + STEP_DEG / 4)
    assert look_key(replace(first, stem=moved)) == key
    for change in ({"seed": 99}, {"stage": 0.2}, {"plant": "plum"}, {"thickness_mm": 9.0}):
        assert look_key(replace(first, look=replace(first.look, **change))) != key
    longer = replace(first.stem, length_cm=first.stem.length_cm + 1)
    assert look_key(replace(first, stem=longer)) != key
    assert look_key(first, "autumn") != key


def test_a_key_may_stand_in_an_address():
    for standing in shown("left").stems:
        assert look_key(standing).replace("_", "").replace("-", "").isalnum()


@pytest.mark.parametrize("key", ["", "tulip", "../x", "tulip_1_2_3", "nothing" + "_0" * 11])
def test_an_unknown_key_is_refused(key):
    with pytest.raises(KeyError):
        look(key)


def test_a_key_of_an_older_table_is_refused():
    key = look_key(shown().stems[0])
    with pytest.raises(KeyError):
        look(key.replace(table_version(), "00000000"))
    with pytest.raises(KeyError):
        look(key.replace("forsythia", "no-such-plant"))


def test_poses_by_angles_are_the_poses_of_stems():
    for standing in shown("left").stems:
        stem = standing.stem
        by_angles = held(stem.stands_deg, stem.bearing_deg, standing.look.roll_deg, -1.0)
        assert by_angles == pose(standing)


@pytest.mark.parametrize("plant", EVERY)
def test_every_plant_has_colours_and_can_be_sent(plant):
    grown = skeleton(plant, 45.0, 6.0, 3, Stance())
    for season in ("", *tints.SEASONS):
        sent = look_wire(grown, plant, season)
        colours = [sent["tints"]] + [each["tints"] for each in sent["organs"].values()]
        for tint in colours:
            for value in tint.values():
                for each in value if isinstance(value, list) else [value]:
                    assert isinstance(each, float) or (each[0] == "#" and len(each) == 7)
                    assert isinstance(each, float) or int(each[1:], 16) >= 0


def test_every_part_of_an_organ_is_sent_with_all_its_numbers():
    grown = skeleton("trumpet-daffodil", 40.0, 6.0, 3, Stance())
    sent = look_wire(grown, "trumpet-daffodil")
    for name, organ in grown.organs.items():
        for row, part in zip(sent["organs"][name]["parts"], organ.parts, strict=True):
            form = part.form
            if isinstance(form, Blade):
                assert (row[0], row[5], len(row)) == ("sheet", form.shape, 16)
                assert row[6:8] == pytest.approx([form.length_cm, form.width_cm], abs=5e-4)
            elif isinstance(form, Body):
                assert (row[0], row[4], len(row)) == ("body", form.mark, 8)
            else:
                assert isinstance(form, Thread)
                assert (row[0], len(row[6])) == ("thread", 3 * len(form.points))


def test_maples_are_red_in_autumn():
    spring, autumn = (
        tints.organ_tints("maple", "maple", each)["leaf"][0] for each in ("", "autumn")
    )
    red, green, _ = (int(autumn[at : at + 2], 16) for at in (1, 3, 5))
    assert red > green
    assert int(spring[3:5], 16) > int(spring[1:3], 16)


def test_material_that_nobody_chose_is_a_plant_of_the_table():
    assert set(MATERIAL.values()) <= set(EVERY)
    assert wire(scene(piece(vessel("round", 30, 6), RULE, "upright")))["stems"][0]["plant"]
    assert "celadon" in GLAZES
