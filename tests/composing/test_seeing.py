"""What hides what: shadows that can be worked out by hand."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import linear_sum_assignment

from nejime.composing.lines import Blades
from nejime.composing.matching import partners
from nejime.composing.seeing import behind_balls, behind_blades, disc, over_the_wall, square

EYE = np.array([0.0, 0.0, 100.0])


def flat_leaf(height_cm: float, half_cm: float) -> Blades:
    """A round leaf, level, over the middle."""
    return Blades(
        np.array([[0.0, 0.0, height_cm]]),
        np.array([[1.0, 0.0, 0.0]]),
        np.array([[0.0, 1.0, 0.0]]),
        np.array([half_cm]),
        np.array([half_cm]),
    )


@pytest.mark.source(
    "hand",
    "eye 100 over the middle of a disc of 10 cm, a level round leaf of k × 10 × 0.8 at 20 cm: its "
    "shadow on the disc has the radius k × 10, so it hides k² of it",
)
@pytest.mark.parametrize("share", [0.09, 0.25, 0.64])
def test_a_leaf_hides_its_shadow(share):
    points = np.concatenate([disc() * 10.0, np.zeros((len(disc()), 1))], axis=-1)
    hidden = behind_blades(points, EYE, flat_leaf(20.0, np.sqrt(share) * 10.0 * 0.8))
    # Eight rings of equal weight: to within half a ring.
    assert np.mean(hidden) == pytest.approx(share, abs=1 / 16)


@pytest.mark.source(
    "hand",
    "a ball of 4 cm at 50 of 100 cm: rays at asin(4 / 50) = 4.59 degrees touch it and meet the "
    "disc at 100 × tan 4.59 = 8.03 cm",
)
def test_a_ball_hides_what_is_within_its_cone():
    ball = np.array([[0.0, 0.0, 50.0]])
    points = np.array([[8.0, 0.0, 0.0], [8.1, 0.0, 0.0]])
    assert behind_balls(points, EYE, ball, np.array([4.0])).tolist() == [[True, False]]


@pytest.mark.source(
    "hand",
    "dish of 30 by 6, eye 40 in front and 26 up: the ray over the front rim (y = -15, z = 6) falls "
    "20 cm in 25, so it reaches 2 cm of height 5 cm further in, at y = -10",
)
def test_the_wall_hides_the_water_next_to_it():
    eye = np.array([0.0, -40.0, 26.0])
    points = np.array([[0.0, -10.1, 2.0], [0.0, -9.9, 2.0]])
    assert over_the_wall(points, eye, 6.0, (15.0, 15.0), round_plan=True).tolist() == [False, True]


@pytest.mark.source("hand", "the second moment of a unit disc is 1/4, of the square 1/3")
def test_samples_weigh_equally_and_are_alike_on_all_sides():
    for points, moment in ((disc(), 1 / 4), (square(), 1 / 3)):
        assert np.mean(points, axis=0) == pytest.approx([0, 0], abs=1e-12)
        assert np.mean(points[:, 0] ** 2) == pytest.approx(moment, rel=0.02)
        assert np.mean(points[:, 0] * points[:, 1]) == pytest.approx(0, abs=1e-12)
        mirrored = {tuple(at) for at in np.round(points * [-1, 1], 9) + 0.0}
        assert mirrored == {tuple(at) for at in np.round(points, 9) + 0.0}


def test_ends_are_paired_as_cheaply_as_scipy_can():
    drawn = np.random.default_rng(3)
    for rows, columns in ((1, 1), (3, 3), (4, 7), (8, 8)):
        cost = drawn.random((rows, columns))
        ours = cost[np.arange(rows), partners(cost)].sum()
        assert ours == pytest.approx(cost[linear_sum_assignment(cost)].sum())
        assert len(set(partners(cost))) == rows
