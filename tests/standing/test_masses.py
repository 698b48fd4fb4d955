"""What a teacher can say of a stem, in grams."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from nejime.forms.holder import holder
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel
from nejime.standing.loads import loads, material
from nejime.standing.masses import (
    THICKNESS_MM,
    Body,
    parts,
    stem_kinds,
    usual_body,
)

RULE = packaged()["width-plus-height"]
PLANNED = piece(vessel("round", 30, 6), RULE, "slanting", held=holder(7))


def test_thickness_words_rise() -> None:
    assert sorted(THICKNESS_MM.values()) == list(THICKNESS_MM.values())


@pytest.mark.source("hand", "0.85 g/cm³ · π/4 · 0.8² cm² · 60 cm = 25.64 g")
def test_a_leafy_branch_by_its_cut_end() -> None:
    assert parts(Body("leafy-branch", 8), 60).stem.g == pytest.approx(25.64, abs=0.01)


@pytest.mark.source("yale519", "21 branches with twigs: 0.33 to 1.07 g per cm³ of full cylinder")
@pytest.mark.parametrize("kind", ["bare-branch", "leafy-branch"])
def test_branches_are_as_heavy_as_branches_that_were_weighed(kind: str) -> None:
    assert 0.33 <= stem_kinds()[kind].g_cm3 <= 1.07


@pytest.mark.source("cannell1987", "0.7 to 4.6 GPa in living branches with bark")
@pytest.mark.parametrize("kind", ["bare-branch", "leafy-branch"])
def test_branches_are_as_stiff_as_living_branches(kind: str) -> None:
    of = stem_kinds()[kind]
    assert 0.7 <= of.stiffness_gpa <= 4.6
    # Two in three of the draws lie within the published range.
    assert of.stiffness_gpa * math.exp(of.stiffness_spread) < 4.6
    assert of.stiffness_gpa * math.exp(-of.stiffness_spread) > 0.7


def test_a_scale_replaces_stem_and_head() -> None:
    weighed = parts(Body("firm-stem", 6, 20.0, weighed_g=42.0), 40)
    assert weighed.stem.g + weighed.head.g == pytest.approx(42.0)
    guessed = parts(Body("firm-stem", 6, 20.0), 40)
    assert weighed.stem.g / weighed.head.g == pytest.approx(guessed.stem.g / guessed.head.g)
    assert weighed.stem.spread < guessed.stem.spread / 5


def test_a_bud_is_lighter_than_the_open_flower() -> None:
    flower = Body("firm-stem", 6, 20.0)
    assert parts(replace(flower, stage="bud"), 40).head.g < parts(flower, 40).head.g


@pytest.mark.source("hand", "half of the foliage's share 0.5 is a quarter of the stem")
def test_thinning_takes_off_its_share_of_the_leaves() -> None:
    full, thin = Body("leafy-branch", 8), Body("leafy-branch", 8, thinned=0.5)
    assert parts(thin, 60).stem.g == pytest.approx(0.75 * parts(full, 60).stem.g)
    drawn = [loads(PLANNED, {"first": body}, drawn=True).g[:, 0] for body in (full, thin)]
    assert drawn[1] == pytest.approx(0.75 * drawn[0])


def test_every_stem_has_a_usual_material() -> None:
    full = with_supporting(PLANNED, helpers=3, hearts=2, leaves=2)
    made_of = material(full, {"first": Body("bare-branch", 9)})
    assert len(made_of) == len(full.stems)
    assert made_of[0] == Body("bare-branch", 9)
    assert not any(body.told for body in made_of[1:])
    assert {usual_body(stem).kind for stem in full.stems if stem.role == "leaf"} == {"leaf-stalk"}


def test_what_nobody_told_is_less_certain() -> None:
    told = Body("leafy-branch", 8)
    assert parts(replace(told, told=False), 60).stem.spread > parts(told, 60).stem.spread


def test_the_draws_have_the_stated_median_and_spread() -> None:
    body = Body("leafy-branch", 8)
    drawn = loads(PLANNED, {"first": body}, drawn=True).g[:, 0]
    stated = parts(body, PLANNED.stem("first").length_cm).stem
    assert float(np.median(drawn)) == pytest.approx(stated.g, rel=0.06)
    assert float(np.std(np.log(drawn))) == pytest.approx(stated.spread, rel=0.1)


def test_a_weighed_branch_is_drawn_as_it_was_weighed() -> None:
    body = Body("leafy-branch", 8, weighed_g=80.0)
    drawn = loads(PLANNED, {"first": body}, drawn=True).g[:, 0]
    assert float(np.median(drawn)) == pytest.approx(80.0, rel=0.005)
    assert float(np.std(np.log(drawn))) == pytest.approx(0.02, rel=0.1)


def test_a_straight_stiff_branch_weighs_where_its_line_is() -> None:
    """hand: a uniform thick branch has its weight near the middle of its line."""
    body = Body("bare-branch", 30, weighed_g=10.0)
    found = loads(PLANNED, {"first": body}, drawn=False)
    stem = PLANNED.stem("first")
    reach = math.dist(found.place_cm[0, 0], stem.start[:2])
    assert 0.25 * stem.reach_cm < reach < 0.5 * stem.reach_cm
    assert math.dist(found.place_cm[0, 0], stem.end[:2]) < stem.reach_cm
