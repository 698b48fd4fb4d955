"""Measures of an outline: hand calculation, OpenCV and SciPy."""

from __future__ import annotations

import math

import cv2
import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from photo.made_up import DISH, camera, plan
from scipy.spatial import ConvexHull

from nejime.photo.outline import (
    area,
    composition,
    drawn,
    hull,
    mirror,
    off_centre,
    off_percent,
    silhouettes,
    solidity,
)
from nejime.photo.triangle import radius_ratio, unevenness


def block(rows: slice, columns: slice, shape: tuple[int, int] = (200, 200)) -> np.ndarray:
    found = np.zeros(shape, dtype=bool)
    found[rows, columns] = True
    return found


def of_the_plan() -> np.ndarray:
    lines = [np.array([each.start, each.end]) for each in plan().stems]
    return silhouettes([lines], DISH, camera())[0]


@pytest.mark.source("hubner2016", "a square in the middle of its frame is balanced: distance 0")
def test_a_square_in_the_middle() -> None:
    found = composition(block(slice(50, 150), slice(50, 150)))
    assert (found.off_percent, found.mirror, found.solid) == (0.0, 1.0, 1.0)
    assert found.empty == 0.75


@pytest.mark.source(
    "hand",
    "a square 50 × 50 in the corner of 100 × 100: its centre is 25, 25 off, half the diagonal is"
    " 70.71, so 50 %; half a width to the left, half a height up",
)
def test_a_square_in_a_corner() -> None:
    found = block(slice(0, 50), slice(0, 50), (100, 100))
    assert off_percent(found) == pytest.approx(50.0)
    assert off_centre(found) == pytest.approx((-0.5, 0.5))
    assert mirror(found) == 0.0


@pytest.mark.source("ngo2003", "symmetry does not change when left and right change places")
def test_a_mirrored_outline_has_the_same_measures() -> None:
    shape = silhouettes(
        [[np.array([each.start, each.end]) for each in plan().stems]], DISH, camera()
    )[0]
    one, other = composition(shape), composition(shape[:, ::-1])
    assert (one.mirror, one.solid, one.empty) == pytest.approx(
        (other.mirror, other.solid, other.empty)
    )
    assert one.across == pytest.approx(-other.across)
    assert one.off_percent == pytest.approx(other.off_percent)


@pytest.mark.source("bradski2000", "contourArea and convexHull of the outline, much larger")
def test_solidity_is_as_opencv_has_it() -> None:
    shape = silhouettes(
        [[np.array([each.start, each.end]) for each in plan().stems]], DISH, camera()
    )[0]
    times = 8
    large = np.kron(shape, np.ones((times, times))).astype(np.uint8)
    points = np.column_stack(np.nonzero(large)[::-1]).astype(np.int32)
    theirs = large.sum() / cv2.contourArea(cv2.convexHull(points))
    assert solidity(shape) == pytest.approx(theirs, rel=0.005)


@pytest.mark.source("virtanen2020", "scipy.spatial.ConvexHull: volume is a plane hull's area")
@given(
    st.lists(
        st.tuples(st.integers(-40, 40), st.integers(-40, 40)), min_size=5, max_size=40, unique=True
    )
)
def test_a_hull_has_the_area_that_scipy_finds(points: list[tuple[int, int]]) -> None:
    known = [(float(x), float(y)) for x, y in points]
    found = hull(known)
    if area(found) < 0.5:
        return
    assert area(found) == pytest.approx(ConvexHull(np.array(known)).volume)


@pytest.mark.source(
    "hand",
    "3-4-5: r = area / half round = 6 / 6 = 1, R = 5 / 2, 2r/R = 0.8; equal sides R = 2r, 1",
)
def test_the_radius_ratio_of_known_triangles() -> None:
    assert radius_ratio((0, 0), (3, 0), (0, 4)) == pytest.approx(0.8)
    assert radius_ratio((0, 0), (1, 0), (0.5, math.sqrt(0.75))) == pytest.approx(1.0)
    assert radius_ratio((0, 0), (1, 0), (2, 0)) == pytest.approx(0.0)


@pytest.mark.source("hand", "3-4-5: sides differ by 1, over 5 that is 0.2; two equal sides: 0")
def test_unevenness_of_known_triangles() -> None:
    assert unevenness((0, 0), (3, 0), (0, 4)) == pytest.approx(0.2)
    assert unevenness((0, 0), (2, 0), (1, 5)) == pytest.approx(0.0)


@given(
    st.tuples(*[st.floats(-50, 50) for _ in range(6)]), st.floats(0.2, 5.0), st.floats(0.0, 6.28)
)
def test_a_triangle_may_be_turned_and_scaled(
    six: tuple[float, ...], by: float, turn: float
) -> None:
    corners = [(six[0], six[1]), (six[2], six[3]), (six[4], six[5])]
    if min(math.dist(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)) < 0.1:
        return
    c, s = math.cos(turn), math.sin(turn)
    other = [(by * (c * x - s * y), by * (s * x + c * y)) for x, y in corners]
    assert radius_ratio(*other) == pytest.approx(radius_ratio(*corners), abs=1e-6)
    assert unevenness(*other) == pytest.approx(unevenness(*corners), abs=1e-9)


@pytest.mark.source("bradski2000", "fillPoly and thick lines at eight times the size")
def test_an_outline_covers_what_opencv_covers() -> None:
    rim = np.array([(10.0, 80.0), (60.0, 70.0), (110.0, 80.0), (60.0, 92.0)])
    line = np.array([(60.0, 80.0), (30.0, 10.0)])
    found = drawn([line], rim, (0.0, 0.0, 120.0, 100.0), columns=240)
    times = 16
    large = np.zeros((100 * times, 120 * times), np.uint8)
    cv2.fillPoly(large, [(rim * times).astype(np.int32)], 1)
    thick = 0.012 * math.hypot(120, 100)
    start, stop = ((line[i] * times).astype(int).tolist() for i in (0, 1))
    cv2.line(large, start, stop, 1, max(1, round(thick * times)))
    assert found.mean() == pytest.approx(large.mean(), rel=0.02)


def test_twice_as_many_columns_hardly_change_the_measures() -> None:
    rim = np.array([(10.0, 80.0), (60.0, 70.0), (110.0, 80.0), (60.0, 92.0)])
    line = np.array([(60.0, 80.0), (30.0, 10.0)])
    box = (0.0, 0.0, 120.0, 100.0)
    few, many = (composition(drawn([line], rim, box, columns)) for columns in (240, 480))
    assert few.solid == pytest.approx(many.solid, rel=0.02)
    assert few.off_percent == pytest.approx(many.off_percent, abs=0.5)


def test_an_empty_outline_is_refused() -> None:
    with pytest.raises(ValueError, match="empty"):
        composition(np.zeros((3, 3), dtype=bool))
