"""Snapping: marks come nearer to the rim or stay as they were; a rim that is not there is not
found."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from photo.scenes import view_of, views

from nejime.basis.errors import InputError
from nejime.basis.sayings import Words
from nejime.photo.ellipse import Ellipse, fitted_ellipse
from nejime.photo.opened import Opened
from nejime.photo.snapping import Snap, snapped, snapped_in

SCENES = views()
Points = np.ndarray


def off_rim(points: Points, truth: Points) -> float:
    """Root mean square distance of the ellipse through points from the true rim, in % of it.

    First-order distances: a conic's value over the length of its slope.
    """
    conic = fitted_ellipse(points).conic()
    told = np.column_stack([truth, np.ones(len(truth))])
    value = np.einsum("ni,ij,nj->n", told, conic, told)
    slope = 2.0 * (told @ conic)[:, :2]
    distance = value / np.linalg.norm(slope, axis=1)
    across = np.ptp(truth[:, 0]) / 2.0
    return float(100.0 * np.sqrt(np.mean(distance**2)) / across)


def marks(view: dict[str, Any], spread_px: float, lot: np.random.Generator) -> Points:
    """Eight of the true rim points, one in each eighth, off by a spread at 4032 px of width."""
    rim = np.array(view["rim_px"])
    chosen = np.arange(8) * 9 + lot.integers(0, 9)
    scale = view["image_size"][0] / 4032
    return rim[chosen % len(rim)] + lot.normal(0.0, spread_px * scale, (8, 2))


def tries(file: str, view: dict[str, Any], spread_px: float) -> list[tuple[float, float, Snap]]:
    lot = np.random.default_rng(20)
    rim = np.array(view["rim_px"])
    found = []
    for _ in range(12):
        points = marks(view, spread_px, lot)
        snap = snapped(view_of(file), points)
        found.append((off_rim(points, rim), off_rim(np.array(snap.points), rim), snap))
    return found


@pytest.mark.source("own", "rendered scenes: rim_px of three pictures")
@pytest.mark.parametrize(("file", "view"), SCENES)
@pytest.mark.parametrize("spread_px", [3.0, 8.0])
def test_ordinary_marks_come_much_nearer_to_the_rim(
    file: str, view: dict[str, Any], spread_px: float
) -> None:
    found = tries(file, view, spread_px)
    taken = [each for each in found if each[2].refused is None]
    assert len(taken) >= 0.8 * len(found)
    for before, after, snap in taken:
        assert after < before
        assert 0.5 <= snap.support <= 1.0
    assert np.median([after for _, after, _ in taken]) < 0.3


@pytest.mark.source("own", "rendered scenes: rim_px; marks 14 px off are worse than a finger's")
@pytest.mark.parametrize(("file", "view"), SCENES)
def test_wild_marks_are_refused_or_bettered(file: str, view: dict[str, Any]) -> None:
    for before, after, snap in tries(file, view, 14.0):
        if snap.refused is None:
            assert after < before
        else:
            assert after == pytest.approx(before)
            assert Words().say(snap.refused)


@pytest.mark.parametrize(("file", "view"), SCENES)
def test_where_no_rim_is_none_is_found(file: str, view: dict[str, Any]) -> None:
    """The same marks on the table, on the wall, and on nothing but grain."""
    rim = np.array(view["rim_px"])[::9]
    wide = view["image_size"][0]
    grain = np.random.default_rng(3).integers(0, 256, view_of(file).shape, np.uint8)
    plain = np.full_like(grain, 128)
    for picture, shift in ((view_of(file), (-0.22 * wide, -0.3 * wide)), (grain, 0), (plain, 0)):
        snap = snapped(picture, rim + shift)
        assert snap.refused is not None
        assert np.array(snap.points) == pytest.approx(rim + shift)


def drawn(ellipse: Ellipse, shape: tuple[int, int], lip: float = 0.0) -> np.ndarray:
    """A dark disc, with a lip that is brighter inside it, drawn by the ellipse's equation."""
    y, x = np.mgrid[0 : shape[0], 0 : shape[1]]

    def inside(shrunk: float) -> np.ndarray:
        c, s = np.cos(ellipse.angle_rad), np.sin(ellipse.angle_rad)
        u, v = x - ellipse.x, y - ellipse.y
        along, across = (c * u + s * v), (-s * u + c * v)
        a, b = ellipse.semi_major - shrunk, ellipse.semi_minor - shrunk
        level = np.sqrt((along / a) ** 2 + (across / b) ** 2)
        return np.clip((1.0 - level) * b + 0.5, 0.0, 1.0)

    picture = 200.0 - 120.0 * inside(0.0)
    if lip:
        picture += 60.0 * inside(lip)
    return np.rint(picture).astype(np.uint8)


@pytest.mark.source("hand", "drawn from the equation of the ellipse; the lip is 6 px wide")
def test_the_outer_edge_is_taken_and_not_the_inner_one() -> None:
    true = Ellipse(400.0, 300.0, 220.0, 90.0, 0.1)
    picture = drawn(true, (600, 800), lip=6.0)
    rough = Ellipse(401.0, 299.0, 217.0, 87.0, 0.1)
    snap = snapped(picture, rough.points(8))
    assert snap.refused is None
    found = fitted_ellipse(snap.points)
    assert found.semi_major == pytest.approx(220.0, abs=0.6)
    assert found.semi_minor == pytest.approx(90.0, abs=0.6)
    assert snap.support > 0.9


@pytest.mark.source("hand", "a picture in a mirror has its rim in the mirror")
def test_a_mirrored_picture_gives_mirrored_points() -> None:
    true = Ellipse(400.0, 300.0, 220.0, 90.0, 0.1)
    picture, points = drawn(true, (600, 800)), Ellipse(402.0, 301.0, 216.0, 92.0, 0.12).points(8)
    one = np.array(snapped(picture, points).points)
    mirror = np.array(snapped(picture[:, ::-1], points * (-1, 1) + (799, 0)).points)
    assert mirror * (-1, 1) + (799, 0) == pytest.approx(one, abs=0.05)


def test_another_size_is_refused() -> None:
    """The only edge is 4 % smaller than what was marked."""
    true = Ellipse(400.0, 300.0, 220.0, 90.0, 0.0)
    snap = snapped(drawn(true, (600, 800)), Ellipse(400.0, 300.0, 229.0, 93.0, 0.0).points(8))
    assert snap.refused is not None
    assert snap.size_change < -0.03


def test_a_rim_that_leaves_the_picture_does_not_break_anything() -> None:
    picture = drawn(Ellipse(100.0, 80.0, 220.0, 90.0, 0.0), (400, 500))
    for x, y in ((100.0, 80.0), (-300.0, 80.0), (5000.0, 5000.0), (499.0, 399.0)):
        snap = snapped(picture, Ellipse(x, y, 218.0, 91.0, 0.0).points(8))
        assert len(snap.points) == 8
        assert np.all(np.isfinite(snap.points))


def test_points_on_a_line_are_no_rim() -> None:
    with pytest.raises(InputError):
        snapped(np.zeros((400, 400), np.uint8), [(float(x), 5.0) for x in range(8)])


@pytest.mark.source("hand", "a picture of twice the size has twice the pixels")
def test_points_of_the_full_picture_are_moved_in_the_full_picture() -> None:
    true = Ellipse(400.0, 300.0, 220.0, 90.0, 0.1)
    picture = Opened(1600, 1200, None, drawn(true, (600, 800)))
    full = picture.full_pixels(Ellipse(401.0, 299.0, 217.0, 88.0, 0.1).points(8))
    snap = snapped_in(picture, full)
    assert fitted_ellipse(snap.points).semi_major == pytest.approx(440.0, abs=1.2)
