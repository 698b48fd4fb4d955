"""Plants on paper: mirrored pieces, what is behind the wall, tones, sizes, path data."""

import re
from dataclasses import replace

import numpy as np
import pytest

from nejime.basis.sayings import Words
from nejime.drawings.coverage import area_mm2, points_along, points_inside
from nejime.drawings.elevation import USUAL, Wanted, elevation, side_figure
from nejime.drawings.ink.drawn import _organs
from nejime.drawings.ink.outlines import sampled
from nejime.drawings.ink.pose import pose
from nejime.drawings.layout import Sheet, Subject, fitted, text_boxes
from nejime.drawings.material import DARK, FAINT, LIGHT, material_marks
from nejime.drawings.path_data import GRAIN_MM, path_data
from nejime.drawings.scene import scene
from nejime.drawings.skeleton.growing import skeleton
from nejime.drawings.skeleton.organs import Frame
from nejime.drawings.skeleton.stem import Placed, Stance
from nejime.drawings.skeleton.surface import Blade
from nejime.drawings.skeleton.vectors import cross, dot
from nejime.drawings.svg import INK, LINE, WASHED, Sprig
from nejime.drawings.views import FROM_THE_RIGHT, FRONT, TEACHER, Projection
from nejime.forms.piece import piece
from nejime.forms.rules import packaged
from nejime.forms.supporting import with_supporting
from nejime.forms.vessel import vessel
from nejime.papers.looks import look

DISH = vessel("round", 30, 6)
PLANTS = {"main": "plum", "helper": "forsythia", "heart": "tulip", "leaf": "aspidistra"}


def shown(opens="right", ware=DISH, plants=PLANTS):
    bare = piece(ware, packaged()["width-plus-height"], "upright", opens=opens)
    made = with_supporting(bare, helpers=2, hearts=1, leaves=2)
    looks = {each.id: look(plants[each.role], 7.0, each.role, each.id) for each in made.stems}
    return scene(made, looks)


def spots(standing, view, tone=DARK, skip=0):
    (sprig,) = material_marks(standing, standing.look, Projection(view, 1.4), tone, skip)
    return sprig.seen(sprig.growth.outlines[0])


def test_a_piece_that_opens_left_is_drawn_as_the_mirror_of_its_twin():
    for one, other in zip(shown("right").stems, shown("left").stems, strict=True):
        ours, theirs = spots(one, FRONT), spots(other, FRONT)
        # Silhouettes are taken in fixed directions: the box mirrors exactly, corners nearly.
        for ends in (np.min, np.max):
            flip = np.max if ends is np.min else np.min
            assert ends(ours[:, 0]) == pytest.approx(-flip(theirs[:, 0]), abs=0.35)
            assert ends(ours[:, 1]) == pytest.approx(ends(theirs[:, 1]), abs=0.35)


def test_a_mirrored_stem_stands_in_the_mirrored_frame():
    for one, other in zip(shown("right").stems, shown("left").stems, strict=True):
        for ours, theirs in zip(
            (pose(one).x, pose(one).y, pose(one).z),
            (pose(other).x, pose(other).y, pose(other).z),
            strict=True,
        ):
            assert theirs == pytest.approx((-ours[0], ours[1], ours[2]), abs=1e-9)


def test_the_good_side_is_turned_to_the_front_and_roll_turns_it():
    for standing in shown().stems:
        held = pose(standing)
        assert cross(held.x, held.y) == pytest.approx(held.z, abs=1e-9)
        assert dot(held.y, (0.0, -0.94, 0.34)) <= 0
        turned = pose(replace(standing, look=replace(standing.look, roll_deg=90.0)))
        assert dot(turned.y, held.y) == pytest.approx(0, abs=1e-9)
        assert turned.z == held.z


def test_the_teacher_sees_the_same_heights_from_behind():
    for standing in shown().stems:
        ours, theirs = spots(standing, FRONT), spots(standing, TEACHER)
        assert np.min(theirs[:, 1]) == pytest.approx(np.min(ours[:, 1]), abs=0.6)


@pytest.mark.parametrize("view", [FRONT, FROM_THE_RIGHT])
def test_a_branch_reaches_its_own_end_on_paper(view):
    for standing in shown().stems:
        if standing.stem.role == "main":
            end = np.asarray(Projection(view, 1.4).at(standing.end))
            near = np.min(np.linalg.norm(spots(standing, view) - end, axis=1))
            assert near < 1.2


def test_what_is_left_out_of_a_stem_is_its_lower_part():
    standing = shown().stems[1]
    whole, above = spots(standing, FRONT), spots(standing, FRONT, skip=8)
    assert 0 < len(above) < len(whole)
    assert np.max(above[:, 1]) < np.max(whole[:, 1]) - 3


def test_light_and_dark_are_one_growth_in_two_tones():
    standing = shown().stems[0]
    (dark,) = material_marks(standing, standing.look, Projection(FRONT, 1.4), DARK)
    (light,) = material_marks(standing, standing.look, Projection(FRONT, 1.4), LIGHT)
    assert isinstance(dark, Sprig)
    assert dark.growth is light.growth
    assert (dark.line, light.line) == (INK, FAINT)


def test_near_scales_share_a_growth():
    standing = shown().stems[0]
    drawn = {
        material_marks(standing, standing.look, Projection(FRONT, scale))[0].growth
        for scale in (1.40, 1.42, 1.44)
    }
    assert len(drawn) == 1


def test_equal_pieces_give_equal_bytes_and_no_name_of_a_colour_is_left():
    one, other = (elevation(shown(), "front", Words()) for _ in range(2))
    assert one == other
    assert "{" not in one
    assert "nan" not in one


@pytest.mark.parametrize("ware", [DISH, vessel("vase", 10, 26)])
def test_labels_keep_off_the_plants(ware):
    everything = shown(ware=ware)
    names = frozenset(each.stem.id for each in everything.stems if each.stem.role == "main")
    wanted = Wanted({each.stem.id: DARK for each in everything.stems}, names, USUAL["front"], 8.0)
    subject = Subject(
        lambda scale: side_figure(everything, Projection(FRONT, scale), wanted, Words()), "", ""
    )
    marks = fitted(subject, Sheet(100.0, 90.0, 8.0)).marks
    ink = [mark.seen(mark.growth.covered) for mark in marks if isinstance(mark, Sprig)]
    inked = np.concatenate(ink)
    boxes = text_boxes(marks)
    assert len(boxes) > 6
    for left, top, right, bottom in boxes:
        inside = (inked > (left, top)) & (inked < (right, bottom))
        assert np.count_nonzero(inside.all(axis=1)) < 12  # the corner of a leaf, not a branch


def test_a_drawing_of_eight_stems_is_small():
    svg = elevation(shown(), "front", Words(), width_mm=108.0, height_mm=94.0, text_pt=10)
    assert len(svg) < 60_000  # [own] forty of them, packed, are then a few megabytes


# What is seen of a flower


def alone(plant, up, eye, length=40.0):
    """A stem that stands upright, its flower turned to where `eye` lies."""
    grown = skeleton(plant, length, 6.0, 3, Stance(up=up, eye=eye))
    return next(each for each in grown.placed if grown.organs[each.organ].kind == "flower"), grown


def fills(plant, towards):
    """Areas of a flower, as drawn, looked at along its own axis: from before or from behind."""
    placed, grown = alone(plant, (0.0, 0.0, 1.0), (0.0, -0.94, 0.34))
    organ = grown.organs[placed.organ]
    axis, foot = (0.0, -towards, 0.0), (0.0, 0.0, 0.0)
    seat = Placed(organ.name, Frame(foot, axis, (0.0, 0.0, 1.0)), 1.0, 1.0, foot)
    turn = np.asarray([FRONT.right, [-each for each in FRONT.up], FRONT.eye]) * 4.0
    seen = _organs(organ, [seat], turn, 4.0)
    return [shape for each in sorted(seen, key=lambda each: each.order) for shape in each.shapes]


@pytest.mark.source("memory", "from before one sees stamens and no calyx; from behind the reverse")
@pytest.mark.parametrize("plant", ["flowering-quince", "plum", "cherry"])
def test_petals_hide_the_calyx_or_the_stamens(plant):
    def calyxes(shapes):
        return sum(shape.fill == LINE and shape.closed for shape in shapes)

    def threads(shapes):
        return sum(not shape.closed for shape in shapes)

    before, behind = fills(plant, 1.0), fills(plant, -1.0)
    assert calyxes(before) == 0 < threads(before)
    assert threads(behind) == 0 < calyxes(behind)


@pytest.mark.source("memory", "a daffodil's trumpet stands before its six petals, its mouth open")
def test_a_trumpet_is_painted_over_its_petals_and_shows_its_mouth():
    shapes = [shape for shape in fills("trumpet-daffodil", 1.0) if shape.closed]
    mouth = next(index for index, shape in enumerate(shapes) if shape.fill == WASHED)
    assert mouth == len(shapes) - 1
    assert len(shapes) >= 8
    behind = [shape.fill for shape in fills("trumpet-daffodil", -1.0) if shape.closed]
    assert behind.index(WASHED) == 0


def test_a_fringed_petal_has_teeth():
    petal = sampled(Blade(3.0, 2.8, "fringed"), "", 1)
    ways = np.diff(petal.points[3:-2, :2], axis=0)
    turns = np.sign(ways[:-1, 0] * ways[1:, 1] - ways[:-1, 1] * ways[1:, 0])
    assert np.count_nonzero(turns[1:] != turns[:-1]) >= 8  # to and fro, from tooth to tooth


# Path data


def walked(data, steps=1):
    """Points on a path of M, l, q and t, in millimetres: `steps` to each of its pieces."""
    x = y = cx = cy = 0
    found = []
    for letter, body in re.findall(r"([Mlqt])([^Mlqtz]*)", data):
        numbers = [int(each) for each in re.findall(r"-?\d+", body)]
        size = {"M": 2, "l": 2, "q": 4, "t": 2}[letter]
        for start in range(0, len(numbers), size):
            told = numbers[start : start + size]
            if letter == "M":
                x, y = told
                found.append((x, y))
                continue
            if letter == "q":
                cx, cy = x + told[0], y + told[1]
            else:  # t mirrors the last control point; a line may be told as a curve, too
                cx, cy = (2 * x - cx, 2 * y - cy) if letter == "t" else (x, y)
            end_x, end_y = x + told[-2], y + told[-1]
            for step in range(1, steps + 1):
                s = step / steps
                here = [
                    (1 - s) ** 2 * a + 2 * s * (1 - s) * b + s * s * c
                    for a, b, c in ((x, cx, end_x), (y, cy, end_y))
                ]
                found.append(tuple(here))
            x, y = end_x, end_y
    return [(x * GRAIN_MM, y * GRAIN_MM) for x, y in found]


@pytest.mark.source("hand", "every point is written to the nearest grain: at most half of one off")
def test_a_straight_path_goes_through_its_points():
    points = [(index * 0.337, (index * 7 % 5) * 0.61 - 1) for index in range(40)]
    ends = walked(path_data(points, False, False))
    assert len(ends) == len(points)
    for end, point in zip(ends, points, strict=True):
        assert end == pytest.approx(point, abs=GRAIN_MM / 2 + 1e-9)


@pytest.mark.source("hand", "the circle itself: points on it, radius 3 mm")
@pytest.mark.parametrize("count", [7, 9, 14])
def test_a_smooth_path_comes_by_its_points_and_stays_round(count):
    turns = [2 * np.pi * index / count for index in range(count)]
    points = [(3 * np.cos(turn), 3 * np.sin(turn)) for turn in turns]
    seen = np.asarray(walked(path_data(points, True, True), steps=8))
    assert np.abs(np.hypot(seen[:, 0], seen[:, 1]) - 3).max() < 0.22
    for point in points:
        assert np.min(np.linalg.norm(seen - np.asarray(point), axis=1)) < 0.25


@pytest.mark.source("hand", "a row of 200 points: the end is told to the grain, nothing adds up")
def test_a_long_smooth_path_does_not_wander():
    points = [(index * 0.337, np.sin(index * 0.41)) for index in range(200)]
    seen = np.asarray(walked(path_data(points, True, False), steps=4))
    assert seen[-1] == pytest.approx(points[-1], abs=GRAIN_MM / 2 + 1e-9)
    for point in points:
        assert np.min(np.linalg.norm(seen - np.asarray(point), axis=1)) < 0.15


def test_a_corner_stays_sharp_and_a_closed_curve_comes_back():
    points = [(0.0, 0.0), (2.0, 0.0), (2.0, 2.0), (0.0, 2.0)]
    data = path_data(points, True, True, frozenset((2,)))
    assert data.endswith("z")
    seen = walked(data, steps=8)
    assert seen[0] == pytest.approx((2.0, 2.0), abs=GRAIN_MM / 2)
    assert seen[-1] == pytest.approx(seen[0])


# Coverage


@pytest.mark.source("hand", "a square of 4 mm: 16 mm², 64 points on a grid of 0.5 mm")
def test_points_fill_an_area():
    square = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]
    inside = points_inside(np.asarray(square), 0.5)
    assert area_mm2(square) == 16.0
    assert len(inside) == 64
    assert np.all((inside > 0) & (inside < 4))


@pytest.mark.source("hand", "a U of 4 × 4 mm with a bay of 2 × 3: 10 mm², 40 points of 0.5 mm")
def test_a_bay_is_not_inside():
    corners = [(0, 0), (1, 0), (1, 3), (3, 3), (3, 0), (4, 0), (4, 4), (0, 4)]
    inside = points_inside(np.asarray(corners, dtype=float), 0.5)
    assert len(inside) == 40
    assert not np.any((inside[:, 0] > 1) & (inside[:, 0] < 3) & (inside[:, 1] < 3))


def test_points_along_a_line_are_no_farther_apart_than_a_step():
    along = points_along([(0.0, 0.0)], [(3.0, 4.0)], 0.4)
    assert np.max(np.linalg.norm(np.diff(along, axis=0), axis=1)) <= 0.4 + 1e-9
