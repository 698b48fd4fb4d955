"""Marks round a rim: the gap that they leave, and the one that is not on it."""

from __future__ import annotations

import math

import numpy as np
import pytest

from nejime.photo.rim_marks import odd_mark, widest_gap_deg


def around(degrees: list[float], flat: float = 0.4, turn_deg: float = 12.0) -> np.ndarray:
    """Points of an ellipse, the picture of a circle at these degrees."""
    angle = np.radians(degrees)
    own = np.stack([300.0 * np.cos(angle), 300.0 * flat * np.sin(angle)], axis=-1)
    turn = math.radians(turn_deg)
    turned = [[math.cos(turn), math.sin(turn)], [-math.sin(turn), math.cos(turn)]]
    return own @ np.array(turned) + [1000.0, 800.0]


@pytest.mark.source("hand", "the widest step between neighbours of the list, round the circle")
@pytest.mark.parametrize(
    ("degrees", "gap"),
    [([0, 45, 90, 135, 180, 225, 270, 315], 45.0), ([0, 30, 60, 100, 150, 200, 240], 120.0)],
)
def test_the_gap_is_counted_round_the_rim_and_not_along_the_picture(
    degrees: list[float], gap: float
) -> None:
    assert widest_gap_deg(around(degrees)) == pytest.approx(gap, abs=0.01)


@pytest.mark.source("hand", "one of eight points of an exact ellipse moved off it")
@pytest.mark.parametrize("moved", range(8))
@pytest.mark.parametrize("by", [(14.0, 9.0), (-40.0, 55.0), (150.0, -120.0)])
def test_the_mark_that_was_moved_is_the_odd_one(moved: int, by: tuple[float, float]) -> None:
    marks = around([0, 45, 90, 135, 180, 225, 270, 315])
    marks[moved] += by
    found = odd_mark(marks)
    assert found is not None
    assert found[0] == moved
    assert found[1] <= math.hypot(*by) / 300.0 + 0.001


def test_of_six_marks_none_is_called_odd() -> None:
    assert odd_mark(around([0, 60, 120, 180, 240, 300])) is None
