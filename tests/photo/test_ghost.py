"""The plan as a camera sees it, beside OpenCV's own projection."""

from __future__ import annotations

import math

import cv2
import numpy as np
import pytest
from photo.made_up import DISH, camera, plan

from nejime.basis.angles import Point
from nejime.photo.asked import Rim
from nejime.photo.camera import Camera
from nejime.photo.ghost import rim_line, rim_outline, traces
from nejime.photo.upright import in_picture_deg


def by_opencv(points: np.ndarray, seen: Camera) -> np.ndarray:
    rotation = np.array(seen.rotation)
    turn, _ = cv2.Rodrigues(rotation)
    shift = -rotation @ np.array(seen.centre_cm)
    inner = np.array(
        [
            [seen.focal_px, 0.0, (seen.width_px - 1) / 2],
            [0.0, seen.focal_px, (seen.height_px - 1) / 2],
            [0.0, 0.0, 1.0],
        ]
    )
    found, _ = cv2.projectPoints(np.asarray(points, float), turn, shift, inner, np.zeros(5))
    return found.reshape(-1, 2)


@pytest.mark.source("bradski2000", "projectPoints, without distortion")
@pytest.mark.parametrize("bearing", [0.0, 60.0, 290.0])
def test_the_ends_and_feet_of_a_plan_are_where_opencv_has_them(bearing: float) -> None:
    seen, planned = camera(bearing_deg=bearing), plan()
    found = traces(planned, seen)
    assert [each.id for each in found] == ["first", "second", "third"]
    for trace, stem in zip(found, planned.stems, strict=True):
        ends = by_opencv(np.array([stem.start, stem.end]), seen)
        assert trace.points_px[0] == pytest.approx(tuple(ends[0]), abs=1e-6)
        assert trace.points_px[-1] == pytest.approx(tuple(ends[1]), abs=1e-6)


@pytest.mark.source("bradski2000", "fitEllipseDirect on the outline; its points lie on it")
def test_a_round_rim_is_an_ellipse() -> None:
    found = np.array(rim_outline(DISH, camera()))
    assert len(found) == 72
    (x, y), (long, short), angle = cv2.fitEllipseDirect(found.astype(np.float32))
    turn = math.radians(angle)
    across = (found - (x, y)) @ np.array(
        [[math.cos(turn), -math.sin(turn)], [math.sin(turn), math.cos(turn)]]
    )
    off = (across[:, 0] / (long / 2)) ** 2 + (across[:, 1] / (short / 2)) ** 2
    assert off == pytest.approx(np.ones(72), abs=2e-3)


@pytest.mark.source("hand", "a rim 40 × 20 has its corners at ±20, ±10 and a way round of 120 cm")
def test_a_rectangular_rim_has_its_corners() -> None:
    found = rim_line(Rim("rectangle", 40.0, 20.0, 5.0))
    corners = {(round(float(x), 6), round(float(y), 6)) for x, y, _ in found}
    assert {(20.0, 10.0), (20.0, -10.0), (-20.0, 10.0), (-20.0, -10.0)} <= corners
    way = sum(math.dist(a, b) for a, b in zip(found, np.roll(found, -1, axis=0), strict=True))
    assert way == pytest.approx(120.0)


def test_what_is_behind_the_camera_is_left_out() -> None:
    planned = plan()
    third = planned.stem("third")
    near = camera(back_cm=third.start.y_cm - third.end.y_cm - 8.0, high_cm=20.0)
    assert len(traces(planned, near)) <= 3
    for each in traces(planned, near):
        assert np.isfinite(np.array(each.points_px)).all()
    away = camera(back_cm=-100.0)
    turned = Camera(away.width_px, away.height_px, away.focal_px, (0.0, 300.0, 20.0), away.rotation)
    back = Camera(
        turned.width_px,
        turned.height_px,
        turned.focal_px,
        turned.centre_cm,
        tuple(tuple(-x for x in row) for row in turned.rotation),  # type: ignore[arg-type]
    )
    assert traces(planned, back) == ()
    assert rim_outline(DISH, back) == ()


@pytest.mark.source(
    "hand",
    "seen level from straight ahead a line leans on paper as in space: tan⁻¹(10/10) = 45° right",
)
def test_a_lean_in_the_picture_is_positive_to_the_right() -> None:
    seen = camera(high_cm=20.0)
    lean = in_picture_deg(Point(0.0, 0.0, 20.0), Point(10.0, 0.0, 30.0), seen)
    assert lean == pytest.approx(45.0, abs=1e-6)
    other = in_picture_deg(Point(0.0, 0.0, 20.0), Point(-10.0, 0.0, 30.0), seen)
    assert other == pytest.approx(-45.0, abs=1e-6)
