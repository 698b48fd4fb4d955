"""From where one looks: apparent leans, the teacher's half turn, mirrored pieces."""

import math

import pytest

from nejime.basis.angles import Point
from nejime.drawings.scene import Look, scene
from nejime.drawings.views import (
    FROM_THE_RIGHT,
    FRONT,
    PLAN,
    PLAN_TEACHER,
    TEACHER,
    Projection,
    apparent,
)
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel

DISH = vessel("round", 30, 6)
LOOKS = {"first": Look("branch", 8, 2, "blossom-branch"), "third": Look("flower", 6, 5, "cup")}


def planned(opens):
    bare = piece(DISH, packaged()["width-plus-height"], "upright", opens=opens)
    return with_supporting(bare, helpers=2, hearts=1, leaves=2)


@pytest.mark.source(
    "hand",
    "front view of tilt t, bearing b: across sin t sin b, up cos t. 45 at 225: across -0.5, up "
    "0.7071: atan 0.7071 = 35.3 to the left, length sqrt(0.25 + 0.5) = 0.866. 75 at 135: 0.6830, "
    "0.2588: 69.2 to the right, 0.730. 15 at 225: -0.1830, 0.9659: 10.7, 0.983",
)
@pytest.mark.parametrize(
    ("tilt", "bearing", "seen", "ratio"),
    [(45, 225, -35.3, 0.866), (75, 135, 69.2, 0.730), (15, 225, -10.7, 0.983)],
)
def test_a_stem_that_comes_forward_looks_steeper_and_shorter(tilt, bearing, seen, ratio):
    angle, length = apparent(FRONT, tilt, bearing)
    assert angle == pytest.approx(seen, abs=0.05)
    assert length == pytest.approx(ratio, abs=0.0005)


@pytest.mark.source(
    "hand",
    "from the right one faces left, so away is to one's right: a stem straight away at 30 leans 30 "
    "to the right; one straight to the right points at the eye, upright, cos 30 = 0.866 long",
)
def test_from_the_right_away_is_to_the_right():
    assert apparent(FROM_THE_RIGHT, 30, 0) == pytest.approx((30.0, 1.0))
    assert apparent(FROM_THE_RIGHT, 30, 90) == pytest.approx((0.0, 0.866), abs=0.0005)


@pytest.mark.source("hand", "half a turn: right becomes left, front becomes back, up stays up")
def test_the_teacher_sees_half_a_turn_and_no_mirror():
    front_left = Point(-3.0, -2.0, 5.0)
    assert Projection(TEACHER).at(front_left) == (3.0, -5.0)
    assert Projection(PLAN).at(front_left) == (-3.0, 2.0)
    assert Projection(PLAN_TEACHER).at(front_left) == (3.0, -2.0)


def handedness(view, points):
    """Twice the area of a triangle on paper, its sign telling the way round."""
    (ax, ay), (bx, by), (cx, cy) = (Projection(view).at(point) for point in points)
    return (bx - ax) * (cy - ay) - (cx - ax) * (by - ay)


def test_the_teachers_plan_goes_round_the_same_way():
    corners = [Point(0, 0), Point(1, 0), Point(0, 1)]
    assert handedness(PLAN, corners) == handedness(PLAN_TEACHER, corners) == -1.0


def test_a_piece_that_opens_left_is_the_mirror_of_one_that_opens_right():
    right, left = scene(planned("right"), LOOKS), scene(planned("left"), LOOKS)
    for one, other in zip(right.stems, left.stems, strict=True):
        for point, mirror in zip(one.curve, other.curve, strict=True):
            assert mirror == pytest.approx((-point.x_cm, point.y_cm, point.z_cm), abs=1e-9)


@pytest.mark.source(
    "hand", "a parabola over its chord is highest in the middle: its bow, square to the chord"
)
def test_a_stem_bows_out_by_its_bow_and_ends_where_the_line_ends():
    for standing in scene(planned("right")).stems:
        stem = standing.stem
        assert standing.curve[0] == pytest.approx(stem.foot, abs=1e-9)
        assert standing.curve[-1] == pytest.approx(stem.end, abs=1e-9)
        half_way = [(low + high) / 2 for low, high in zip(stem.start, stem.end, strict=True)]
        middle = standing.curve[len(standing.curve) // 2]
        assert math.dist(middle, half_way) == pytest.approx(stem.bow_cm, abs=1e-9)
