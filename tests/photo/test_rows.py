"""Closed forms of circles, rectangles and cameras, by hand and against OpenCV."""

from __future__ import annotations

import math

import cv2
import numpy as np
import numpy.typing as npt
import pytest

from nejime.forms.leaning import curve_cm
from nejime.photo.camera import Camera, focal_px, straightened
from nejime.photo.circle import circle_poses
from nejime.photo.ellipse import fitted_ellipse
from nejime.photo.plane import plane_poses
from nejime.photo.problem import State, projected
from nejime.photo.single import sphere_depth

Floats = npt.NDArray[np.float64]
F = 3000.0
MIDDLE = np.array([2015.5, 1511.5])
MATRIX = np.array([[F, 0.0, MIDDLE[0]], [0.0, F, MIDDLE[1]], [0.0, 0.0, 1.0]])
NO_TURN, NO_BEND = np.zeros(3), np.zeros(4)


def seen(points: Floats) -> Floats:
    """Pixels of points in the camera's frame, by OpenCV."""
    pixels, _ = cv2.projectPoints(points, NO_TURN, NO_TURN, MATRIX, NO_BEND)
    return pixels.reshape(-1, 2)


def circle(centre: Floats, normal: Floats, radius: float, count: int = 24) -> Floats:
    """Points right round a circle in space."""
    normal = normal / np.linalg.norm(normal)
    across = np.cross(normal, [1.0, 0.0, 0.0])
    across /= np.linalg.norm(across)
    along = np.cross(normal, across)
    angle = np.arange(count) * 2 * math.pi / count
    return centre + radius * (np.outer(np.cos(angle), across) + np.outer(np.sin(angle), along))


@pytest.mark.source(
    "hand",
    "r 15, d 100, f 3000, elevation e: k = d² - r²cos²e; a = fr/√k; b = frd sin e/k;"
    " offset = fr² sin e cos e/k",
)
@pytest.mark.parametrize(
    ("elevation", "semi_major", "semi_minor", "offset"),
    [
        (20.0, 454.538, 157.029, 22.134),
        (30.0, 453.846, 228.862, 29.730),
        (45.0, 452.553, 321.819, 34.134),
    ],
)
def test_a_circle_on_the_axis_has_the_ellipse_of_the_hand_calculation(
    elevation: float, semi_major: float, semi_minor: float, offset: float
) -> None:
    lean = math.radians(elevation)
    rim = circle(np.array([0, 0, 100.0]), np.array([0, -math.cos(lean), -math.sin(lean)]), 15.0)
    found = fitted_ellipse(seen(rim))
    assert found.semi_major == pytest.approx(semi_major, abs=0.002)
    assert found.semi_minor == pytest.approx(semi_minor, abs=0.002)
    assert found.x == pytest.approx(MIDDLE[0], abs=0.002)
    assert found.y - MIDDLE[1] == pytest.approx(offset, abs=0.002)  # towards the near side


def test_an_ellipse_is_the_one_that_opencv_fits() -> None:
    chance = np.random.default_rng(5)
    for _ in range(20):
        rim = circle(chance.uniform([-20, -20, 80], [20, 20, 140]), chance.normal(0, 1, 3), 15.0, 9)
        marks = seen(rim) + chance.normal(0, 3.0, (9, 2))
        (x, y), axes, _ = cv2.fitEllipseDirect(marks.astype(np.float32))
        found = fitted_ellipse(marks)
        assert (found.x, found.y) == pytest.approx((x, y), abs=0.5)
        told = sorted((2 * found.semi_minor, 2 * found.semi_major))
        assert told == pytest.approx(sorted(axes), abs=1.0)


@pytest.mark.parametrize(
    ("centre", "normal"),
    [
        ((2.0, -3.0, 100.0), (0.0, -0.5, -0.8660254)),
        ((2.0, -3.0, 100.0), (0.3, -0.4, -0.8660254)),
        ((-14.0, 9.0, 70.0), (0.1, -0.9, -0.4)),
    ],
)
def test_both_circles_of_an_ellipse_look_like_it_and_one_is_true(
    centre: tuple[float, float, float], normal: tuple[float, float, float]
) -> None:
    """OpenCV takes a picture of the circle and of both answers; all three must agree."""
    true = np.array(centre), np.array(normal) / np.linalg.norm(normal)
    marks = seen(circle(*true, 15.0))
    poses = circle_poses(fitted_ellipse(marks), F, MIDDLE, 15.0)
    off = [np.linalg.norm(where - true[0]) + np.linalg.norm(up - true[1]) for where, up in poses]
    assert min(off) < 0.01
    assert max(off) > 0.1
    for where, up in poses:
        assert where @ up < 0  # both are seen from above
        again = fitted_ellipse(seen(circle(where, up, 15.0)))
        (x, y), axes, _ = cv2.fitEllipseDirect(marks.astype(np.float32))
        assert (again.x, again.y) == pytest.approx((x, y), abs=0.05)
        told = sorted((2 * again.semi_minor, 2 * again.semi_major))
        assert told == pytest.approx(sorted(axes), abs=0.1)


@pytest.mark.source(
    "hand", "26·√(4032² + 3024²)/√(36² + 24²) = 26·5040/43.2666 = 3028.7; half: 1514.3"
)
def test_a_focal_length_goes_by_the_diagonal() -> None:
    assert focal_px(26.0, 4032, 3024) == pytest.approx(3028.7, abs=0.05)
    assert focal_px(26.0, 2016, 1512) == pytest.approx(1514.33, abs=0.05)
    assert focal_px(26.0, 3024, 4032) == focal_px(26.0, 4032, 3024)


@pytest.mark.source(
    "hand",
    "from (0, -100, 40) to (0, 0, 20): 101.98 cm away; 10 cm across are 1514.33·10/101.98 = 148.49"
    " px; of 10 cm up 9.806 are across the axis and 1.961 nearer: 1514.33·9.806/100.02 = 148.46 px",
)
def test_a_camera_sees_what_a_renderer_sees() -> None:
    ahead = np.array([0.0, 100.0, -20.0])
    ahead /= np.linalg.norm(ahead)
    right = np.array([1.0, 0.0, 0.0])
    rows = (right, np.cross(ahead, right), ahead)
    rotation = tuple((float(row[0]), float(row[1]), float(row[2])) for row in rows)
    camera = Camera(2016, 1512, 1514.33, (0.0, -100.0, 40.0), rotation)
    told = camera.project([(0, 0, 20), (10, 0, 20), (0, 0, 30)])
    wanted = [(1007.5, 755.5), (1155.99, 755.5), (1007.5, 607.04)]
    assert told == pytest.approx(np.array(wanted), abs=0.02)


@pytest.mark.parametrize("k1", [0.0, -0.05, 0.04])
def test_a_camera_sees_what_opencv_sees(k1: float) -> None:
    chance = np.random.default_rng(2)
    turn = np.array([1.9, 0.2, -0.1])
    rotation, _ = cv2.Rodrigues(turn)
    centre = np.array([10.0, -90.0, 50.0])
    rows = tuple((float(row[0]), float(row[1]), float(row[2])) for row in rotation)
    camera = Camera(4032, 3024, F, (10.0, -90.0, 50.0), rows, k1)
    points = centre + (chance.uniform([-40, -40, 80], [40, 40, 160], (30, 3))) @ rotation
    told, _ = cv2.projectPoints(
        points, turn, -rotation @ centre, MATRIX, np.array([k1, 0.0, 0.0, 0.0])
    )
    assert camera.project(points) == pytest.approx(told.reshape(-1, 2), abs=1e-6)
    none = np.zeros(0)
    state = State(rotation[None], centre[None], np.array([F]), np.array(k1), *(none,) * 5)
    fitted = projected(state, 0, points) + MATRIX[:2, 2]
    assert fitted == pytest.approx(told.reshape(-1, 2), abs=1e-6)


@pytest.mark.source("hand", "±√(40² - 39²) = ±√79 = ±8.888")
def test_a_length_cuts_the_line_of_sight_twice_or_not_at_all() -> None:
    depth = sphere_depth(np.array([39.0**2, 41.0**2, 40.0**2]), 40.0)
    assert depth[0] == pytest.approx(8.888, abs=0.001)
    assert math.isnan(depth[1])
    assert depth[2] == 0.0


@pytest.mark.source("hand", "arc over chord of a parabola to second order, 1 + 8b²/3")
@pytest.mark.parametrize(("bow", "longer"), [(0.07, 1.0131), (0.05, 1.0067), (0.03, 1.0024)])
def test_a_bowed_stem_is_longer_than_its_line_by_the_parabola(bow: float, longer: float) -> None:
    assert 45.0 + curve_cm(45.0, bow * 45.0) == pytest.approx(45.0 * longer, abs=0.003)
    across = np.linspace(-0.5, 0.5, 20_001)
    height = bow * (1.0 - 4.0 * across**2)
    arc = float(np.sum(np.hypot(np.diff(across), np.diff(height))))
    assert arc == pytest.approx(longer, abs=0.0003)


def flat(height_cm: float) -> Floats:
    """Sixteen points of a plane at a height."""
    x, y = np.meshgrid(np.linspace(-15, 15, 4), np.linspace(-10, 10, 4))
    return np.stack([x.ravel(), y.ravel(), np.full(16, height_cm)], axis=-1)


def test_a_plane_over_the_table_has_the_camera_that_it_has_on_it() -> None:
    """OpenCV's IPPE wants its points in z = 0: at 6 cm it is wrong by hundreds of pixels.

    So the plane is moved before it is asked; our own poses must be the camera that IPPE then finds.
    """
    turn, shift = np.array([2.1, 0.15, -0.1]), np.array([3.0, 4.0, 95.0])
    raised = flat(6.0)
    marks, _ = cv2.projectPoints(raised, turn, shift, MATRIX, NO_BEND)
    pixels = marks.reshape(-1, 2)
    lowered = flat(0.0)
    count, turns, shifts, errors = cv2.solvePnPGeneric(
        lowered, pixels, MATRIX, NO_BEND, flags=cv2.SOLVEPNP_IPPE
    )
    assert count >= 1
    assert float(np.ravel(errors)[0]) < 0.01
    rotation, _ = cv2.Rodrigues(turns[0])
    centre = -rotation.T @ shifts[0].ravel() + (0.0, 0.0, 6.0)
    true, _ = cv2.Rodrigues(turn)
    assert centre == pytest.approx(-true.T @ shift, abs=0.01)
    best, *others = plane_poses(raised[:, :2], pixels, F, MIDDLE)
    assert best.misfit_px < 0.01
    assert best.rotation == pytest.approx(rotation, abs=1e-4)
    mine = -best.rotation.T @ best.origin + (0.0, 0.0, 6.0)
    assert mine == pytest.approx(centre, abs=0.01)
    for other in others:
        assert other.misfit_px >= best.misfit_px


def test_the_other_pose_of_a_plane_is_opencvs() -> None:
    """Both solutions of marks with noise, a plane seen from far and low."""
    chance = np.random.default_rng(9)
    turn, shift = np.array([2.0, 0.3, -0.2]), np.array([3.0, 4.0, 240.0])
    plane = flat(0.0)[[0, 3, 15, 12]]
    marks, _ = cv2.projectPoints(plane, turn, shift, MATRIX, NO_BEND)
    pixels = marks.reshape(-1, 2) + chance.normal(0, 1.0, (4, 2))
    _, turns, shifts, errors = cv2.solvePnPGeneric(
        plane, pixels, MATRIX, NO_BEND, flags=cv2.SOLVEPNP_IPPE
    )
    poses = plane_poses(plane[:, :2], pixels, F, MIDDLE)
    assert len(poses) == len(turns) == 2
    for pose, one, where in zip(poses, turns, shifts, strict=True):
        rotation, _ = cv2.Rodrigues(one)
        cosine = (np.trace(rotation.T @ pose.rotation) - 1.0) / 2.0
        assert math.degrees(math.acos(min(cosine, 1.0))) < 1.5
        assert pose.origin == pytest.approx(where.ravel(), rel=0.03, abs=0.5)
    assert poses[0].misfit_px <= float(np.ravel(errors)[0]) * math.sqrt(2.0) + 0.01


@pytest.mark.parametrize("k1", [-0.05, 0.05])
def test_marks_are_straightened_as_opencv_straightens_them(k1: float) -> None:
    marks = np.array([[900.0, -600.0], [-1500.0, 200.0], [40.0, 700.0]])
    matrix = np.diag([3000.0, 3000.0, 1.0])
    straight = cv2.undistortPoints(marks[:, None], matrix, np.array([k1, 0, 0, 0]))[:, 0]
    ours = straightened(marks, np.array(3000.0), np.array(k1))
    assert np.max(np.abs(ours - straight)) < 1e-5
    assert np.max(np.abs(straight - marks / 3000.0)) > 1e-3
