"""Lines of sight meet where they must, and an ellipse's normals stand square on it."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from photo.made_up import camera

from nejime.photo.camera import imaged, straightened
from nejime.photo.ellipse import Ellipse, right_round
from nejime.photo.sight import nearest_equations, on_level

SPOTS = np.array([[3.0, -2.0, 40.0], [-11.0, 6.0, 18.0], [0.0, 0.0, 2.5]])


def rays_from(centre: tuple[float, float, float]) -> tuple[np.ndarray, np.ndarray]:
    step = SPOTS - np.array(centre)
    return np.array(centre), step / np.linalg.norm(step, axis=-1, keepdims=True)


@pytest.mark.source("hand", "rays that are drawn from two places to one point meet in it")
def test_rays_to_one_point_meet_in_it() -> None:
    whole, told = nearest_equations([rays_from((0, -90, 40)), rays_from((80, -30, 60))])
    assert np.linalg.solve(whole, told[..., None])[..., 0] == pytest.approx(SPOTS, abs=1e-9)


@pytest.mark.source("hand", "rays one over the other, level and square: half way between them")
def test_rays_that_miss_each_other_are_nearest_half_way() -> None:
    one = np.array([0.0, -50.0, 10.0]), np.array([[0.0, 1.0, 0.0]])
    other = np.array([50.0, 0.0, 14.0]), np.array([[-1.0, 0.0, 0.0]])
    whole, told = nearest_equations([one, other])
    assert np.linalg.solve(whole[0], told[0]) == pytest.approx([0.0, 0.0, 12.0])


@pytest.mark.source("hand", "the rays were drawn to points at these heights")
def test_rays_meet_the_levels_of_their_points() -> None:
    assert on_level(rays_from((0, -90, 70)), SPOTS[:, 2]) == pytest.approx(SPOTS, abs=1e-9)


@given(st.floats(-0.06, 0.06), st.floats(-0.5, 0.5), st.floats(-0.4, 0.4))
@pytest.mark.source("hand", "there and back again")
def test_what_is_bent_is_straightened(k1: float, x: float, y: float) -> None:
    """0.5 focal lengths off the axis is the edge of a telephone's picture; 0.1 px is nothing."""
    marks = imaged(np.array([[x, y, 1.0]]), 3000.0, k1)
    assert straightened(marks, 3000.0, k1)[0] == pytest.approx([x, y], abs=0.1 / 3000.0)


@pytest.mark.source("hand", "one point alone, and many, have the shapes that they had")
def test_points_keep_their_shape_in_a_picture() -> None:
    seen = camera()
    assert seen.project((0.0, 0.0, 20.0)).shape == (2,)
    assert seen.project(SPOTS).shape == (3, 2)
    assert seen.project(np.stack([SPOTS, SPOTS])).shape == (2, 3, 2)


@pytest.mark.source("hand", "a normal is square to the way to the next point, and goes outwards")
def test_normals_stand_square_on_an_ellipse() -> None:
    rim, angle, step = Ellipse(40.0, 30.0, 22.0, 9.0, 0.4), right_round(36), 1e-4
    along = rim.at(angle + step) - rim.at(angle - step)
    along /= np.linalg.norm(along, axis=-1, keepdims=True)
    normal = rim.normals(angle)
    assert np.abs(np.sum(normal * along, axis=-1)).max() < 1e-6
    assert np.sum(normal * (rim.at(angle) - [40.0, 30.0]), axis=-1).min() > 0.0
    assert np.linalg.norm(normal, axis=-1) == pytest.approx(np.ones(36))
