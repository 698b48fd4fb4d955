"""A pixel on a level plane."""

from __future__ import annotations

import pytest

from nejime.photo.camera import Camera
from nejime.photo.level import on_level

LOOKING = ((1.0, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 1.0, 0.0))  # away, level


def camera(k1: float = 0.0) -> Camera:
    return Camera(2001, 1001, 1000.0, (0.0, -100.0, 40.0), LOOKING, k1)


@pytest.mark.source(
    "hand", "36 down over 100 away at a focal length of 1000: 360 px below the middle"
)
def test_a_pixel_is_found_on_the_pins() -> None:
    assert on_level(camera(), (1000.0 + 50.0, 500.0 + 360.0), 4.0) == pytest.approx((5.0, 0.0))


@pytest.mark.source("hand", "what is projected comes back, also through a lens that bends")
@pytest.mark.parametrize("k1", [0.0, -0.05, 0.05])
def test_there_and_back(k1: float) -> None:
    for x, y, z in ((3.0, -2.0, 2.0), (-12.0, 9.0, 0.0), (20.0, 30.0, 6.0)):
        pixel = camera(k1).project([x, y, z])
        assert on_level(camera(k1), tuple(pixel), z) == pytest.approx((x, y), abs=1e-6)


@pytest.mark.source("hand", "a level ray, or one that rises, never comes down")
def test_what_never_comes_down_is_nowhere() -> None:
    assert on_level(camera(), (1000.0, 500.0), 4.0) is None
    assert on_level(camera(), (1000.0, 300.0), 4.0) is None
