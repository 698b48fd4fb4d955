"""Remedies: each judged again, in order, and none where none is needed."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from nejime.basis.angles import apart
from nejime.basis.sayings import Words
from nejime.forms.holder import fits, holder
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.stems import Piece
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel
from nejime.standing.masses import Body, parts
from nejime.standing.remedies import Remedy, remedies
from nejime.standing.verdict import judge

RULE = packaged()["width-plus-height"]
DISH = vessel("round", 30, 6, mass_g=2000)
ORDER = (
    "turn foot",
    "raise",
    "thin",
    "shorten",
    "second holder",
    "bigger holder",
    "more water",
    "another vessel",
    "weight",
    "putty",
)


def bodies(first_g: float) -> dict[str, Body]:
    return {
        "first": Body("leafy-branch", 8, weighed_g=first_g),
        "second": Body("leafy-branch", 7, weighed_g=15),
        "third": Body("firm-stem", 6, 15, weighed_g=20),
    }


def slanting(holder_cm: float = 5.0) -> Piece:
    return piece(DISH, RULE, "slanting", held=holder(holder_cm, mass_g=13 * holder_cm**2 * 0.785))


def kinds(found: tuple[Remedy, ...]) -> list[str]:
    return [remedy.kind for remedy in found]


def counted(found: tuple[Remedy, ...]) -> list[Remedy]:
    return [remedy for remedy in found if remedy.verdict is not None]


def test_what_stands_needs_no_remedy() -> None:
    assert remedies(slanting(9), bodies(20)) == ()


@pytest.mark.parametrize("first_g", [45.0, 60.0, 80.0])
def test_every_counted_remedy_makes_it_stand_when_judged_again(first_g: float) -> None:
    planned, known = slanting(), bodies(first_g)
    assert judge(planned, known).word != "stands"
    found = remedies(planned, known)
    assert counted(found)
    for remedy in counted(found):
        assert remedy.makes_it_stand
        again = judge(remedy.piece, remedy.known, extras=remedy.extras)
        assert again.word == "stands"
        assert again.load_factor == remedy.verdict.load_factor
    assert kinds(found) == sorted(kinds(found), key=ORDER.index)
    assert all(Words().say(remedy.says) for remedy in found)


def test_putty_is_named_last_and_not_counted() -> None:
    found = remedies(slanting(), bodies(60))
    assert found[-1].kind == "putty"
    assert found[-1].verdict is None
    assert not found[-1].makes_it_stand


def test_a_second_holder_lies_on_the_side_away_from_the_fall() -> None:
    planned, known = slanting(), bodies(60)
    before = judge(planned, known)
    found = next(r for r in remedies(planned, known) if r.kind == "second holder")
    extra = found.extras[0]
    step = (extra.x_cm - planned.place.x_cm, extra.y_cm - planned.place.y_cm)
    assert math.hypot(*step) == pytest.approx(2.5)
    away = math.degrees(math.atan2(step[0], step[1])) % 360
    assert apart(away, before.bearing_deg) == pytest.approx(180)


def test_the_bigger_holder_is_the_smallest_that_helps_and_lies_flat() -> None:
    planned, known = slanting(), bodies(60)
    found = next(r for r in remedies(planned, known) if r.kind == "bigger holder")
    held = found.piece.holder
    assert held is not None
    assert fits(held, DISH)
    own = [holder(12, name="large"), holder(6, name="middle"), holder(9, name="wide")]
    mine = next(r for r in remedies(planned, known, at_hand=own) if r.kind == "bigger holder")
    assert mine.piece.holder in own
    smaller = [one for one in own if one.width_cm < mine.piece.holder.width_cm]
    assert all(
        not any(r.piece.holder == one for r in remedies(planned, known, at_hand=[one]))
        for one in smaller
    )


@pytest.mark.source("hand", "cut to a share, the stem weighs that share and the head stays")
def test_shortening_keeps_the_proportions_and_names_the_length() -> None:
    planned, known = slanting(), bodies(45)
    found = next(r for r in remedies(planned, known) if r.kind == "shorten")
    shares = [
        new.length_cm / old.length_cm
        for new, old in zip(found.piece.stems, planned.stems, strict=True)
    ]
    assert shares == pytest.approx([shares[0]] * 3)
    assert found.says.quantities["first_cm"] == pytest.approx(found.piece.stems[0].length_cm)
    assert found.known["first"].weighed_g == pytest.approx(45 * shares[0])
    flower = parts(known["third"], planned.stem("third").length_cm)
    assert found.known["third"].weighed_g == pytest.approx(
        flower.stem.g * shares[0] + flower.head.g
    )


def test_raising_stays_within_what_the_form_allows() -> None:
    planned = slanting(6)
    for first_g in (50, 55, 60, 65, 70, 75):
        for remedy in remedies(planned, bodies(first_g)):
            if remedy.kind == "raise":
                for new, old in zip(remedy.piece.stems, planned.stems, strict=True):
                    assert new.stands_deg >= min(old.tilt.least, old.stands_deg) - 1e-9


def test_the_foot_on_the_far_side_is_offered_where_it_is_enough() -> None:
    planned = slanting(6)
    offered = [
        remedy
        for first_g in range(20, 90, 5)
        for remedy in remedies(planned, bodies(first_g))
        if remedy.kind == "turn foot"
    ]
    assert offered
    stem = planned.stem("first")
    moved = offered[0].piece.stem("first").start
    shift = (moved.x_cm - stem.start.x_cm, moved.y_cm - stem.start.y_cm)
    against = math.degrees(math.atan2(shift[0], shift[1])) % 360
    assert apart(against, stem.bearing_deg) > 150


def bough(first_g: float) -> dict[str, Body]:
    return bodies(15) | {"first": Body("leafy-branch", 14, weighed_g=first_g)}


def test_more_water_and_another_vessel_help_a_light_bowl() -> None:
    light = vessel("bowl", 24, 9, mass_g=150, foot_width_cm=6, floor_width_cm=12, ware="plastic")
    planned = piece(light, RULE, "slanting", held=holder(10, mass_g=1000), water_cm=2.8)
    assert judge(planned, bough(250)).level == "vessel"
    wide_foot = vessel("round", 24, 5, mass_g=1500)
    found = remedies(planned, bough(250), at_hand=[wide_foot])
    assert {"more water", "another vessel"} <= set(kinds(found))
    assert all(remedy.makes_it_stand for remedy in counted(found))


@pytest.mark.source("memory", "stone of 2.6 g/cm³ displaces 1/2.6 of its mass of water")
def test_pebbles_help_a_light_vase() -> None:
    planned = piece(vessel("vase", 9, 28, ware="glass", mass_g=300), RULE, "slanting")
    found = remedies(planned, bough(500))
    pebbles = next(remedy for remedy in found if remedy.kind == "weight")
    said = pebbles.says.quantities["weight_g"]
    assert isinstance(said, float)
    assert pebbles.extras[0].mass.g == pytest.approx(said * (1 - 1 / 2.6))
    assert not {"second holder", "bigger holder", "turn foot", "putty"} & set(kinds(found))


def test_helper_stems_come_along_into_another_vessel_and_onto_another_holder() -> None:
    full = with_supporting(slanting(), helpers=2, hearts=1, leaves=2)
    known = bodies(60) | {
        stem.id: Body("leafy-branch", 4, weighed_g=3) for stem in full.stems if stem.role != "main"
    }
    large = vessel("round", 34, 7, mass_g=2500)
    found = remedies(full, known, at_hand=[large, holder(9)])
    assert counted(found)
    for remedy in counted(found):
        assert [stem.id for stem in remedy.piece.stems] == [stem.id for stem in full.stems]


def test_where_nothing_makes_it_stand_only_betterments_are_named() -> None:
    tiny = replace(slanting(4), vessel=vessel("round", 30, 6, mass_g=2000, floor_width_cm=5))
    for remedy in counted(remedies(tiny, bodies(400), at_hand=[holder(4.2)])):
        assert remedy.verdict is not None
        assert remedy.verdict.word != "falls"
