"""The marker card: its geometry, and that it is found where it lies, and nowhere else."""

from __future__ import annotations

import io
from collections.abc import Callable
from functools import cache

import cv2
import numpy as np
import pytest
from photo.scenes import (
    marker_corners,
    photographed,
    printed_card,
    truth,
    view_of,
)
from PIL import Image

from nejime.photo.asked import Asked, Rim, StemMarks, View
from nejime.photo.card import CARD_MM, PATTERNS, SIDE_MM, corner_points_cm, rows_of
from nejime.photo.markers import card_of, find_card
from nejime.photo.measuring import measure
from nejime.photo.picture import opened

SCENE = "c04_round_card_twoviews"
LYING = np.array([[420.0, 300.0], [760.0, 330.0], [800.0, 600.0], [360.0, 560.0]])


@cache
def wood(wide: int = 1200, high: int = 900) -> np.ndarray:
    """A table with grain, leaves' shadows and a striped cloth."""
    lot = np.random.default_rng(11)
    y, x = np.mgrid[0:high, 0:wide]
    table = 130 + 30 * np.sin(y / 9.0 + 3 * np.sin(x / 170.0)) + lot.normal(0, 9, (high, wide))
    table[:200, (x[0] // 14) % 2 == 0] = 30
    for _ in range(60):
        at, size = lot.uniform((0, 0), (wide, high)), lot.uniform(8, 40, 2)
        leaf = ((x - at[0]) / size[0]) ** 2 + ((y - at[1]) / size[1]) ** 2 < 1
        table[leaf] = lot.uniform(20, 90)
    return np.clip(table, 0, 255).astype(np.uint8)


def worst(found: tuple, corners: np.ndarray) -> float:
    """The largest distance of a corner from where it is, in pixels."""
    gaps = [
        np.linalg.norm(np.array(each.corners) - marker_corners(corners, each.id), axis=-1)
        for each in found
    ]
    return float(np.max(gaps))


@pytest.mark.source("bradski2000", "DICT_4X4_50, drawn by generateImageMarker, 1 is white")
@pytest.mark.parametrize("marker", range(4))
def test_patterns_are_those_of_the_open_dictionary(marker: int) -> None:
    cells = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    drawn = cv2.aruco.generateImageMarker(cells, marker, 6)
    told = ["".join("1" if cell else "0" for cell in row) for row in drawn]
    assert list(rows_of(marker)) == told
    assert len(PATTERNS) == 4


@pytest.mark.source("hand", "12 mm from the edges: 105 - 12 = 93 and 74 - 12 = 62; 158 - 105 = 53")
def test_corners_are_told_from_the_cards_middle() -> None:
    assert CARD_MM == (210.0, 148.0)
    assert corner_points_cm(0) == ((-9.3, 6.2), (-5.3, 6.2), (-5.3, 2.2), (-9.3, 2.2))
    assert corner_points_cm(2)[0] == pytest.approx((5.3, -2.2))
    for marker in range(4):
        top_left, top_right, low_right, low_left = corner_points_cm(marker)
        assert top_right[0] - top_left[0] == pytest.approx(SIDE_MM / 10)
        assert top_left[1] - low_left[1] == pytest.approx(SIDE_MM / 10)
        assert low_right == pytest.approx((top_right[0], low_left[1]))


@pytest.mark.source("own", "rendered scene c04: card_world_cm; a turn and a shift, no stretch")
def test_corners_agree_with_the_card_of_the_scene() -> None:
    placed = truth(SCENE)["card_world_cm"]
    there = np.concatenate([np.array(placed[str(each)])[:, :2] for each in range(4)])
    own = np.concatenate([corner_points_cm(each) for each in range(4)])
    there, own = there - there.mean(axis=0), own - own.mean(axis=0)
    left, _, right = np.linalg.svd(own.T @ there)
    turn = left @ right
    assert np.linalg.det(turn) == pytest.approx(1.0)
    assert own @ turn == pytest.approx(there, abs=1e-6)


@pytest.mark.source("own", "rendered scene c04: card_px of both pictures")
@pytest.mark.parametrize("number", [0, 1])
def test_all_four_are_found_in_the_scene_to_half_a_pixel(number: int) -> None:
    view = truth(SCENE)["views"][number]
    found = find_card(view_of(view["file"]))
    assert [each.id for each in found.markers] == [0, 1, 2, 3]
    assert not found.mirrored
    gaps = np.array(
        [np.array(each.corners) - view["card_px"][str(each.id)] for each in found.markers]
    )
    assert np.sqrt(np.mean(np.sum(gaps**2, axis=-1))) < 0.5
    assert np.abs(gaps.mean(axis=(0, 1))).max() < 0.1
    assert np.linalg.norm(gaps, axis=-1).max() < 1.0


def sharpened(grey: np.ndarray) -> np.ndarray:
    return np.clip(2.5 * grey - 1.5 * cv2.GaussianBlur(grey, (0, 0), 1.2), 0, 255)


def in_more_contrast(grey: np.ndarray) -> np.ndarray:
    return 127.5 - 127.5 * np.cos(np.pi * grey / 255.0)


@pytest.mark.source("own", "rendered scene c04: card_px of both pictures")
@pytest.mark.parametrize("as_telephones_do", [sharpened, in_more_contrast])
@pytest.mark.parametrize("number", [0, 1])
def test_corners_stay_where_they_are_in_a_picture_made_prettier(
    number: int, as_telephones_do: Callable[[np.ndarray], np.ndarray]
) -> None:
    view = truth(SCENE)["views"][number]
    picture = as_telephones_do(view_of(view["file"]).astype(np.float32))
    found = find_card(np.rint(picture).astype(np.uint8)).markers
    gaps = np.array([np.array(each.corners) - view["card_px"][str(each.id)] for each in found])
    assert len(found) == 4
    assert np.sqrt(np.mean(np.sum(gaps**2, axis=-1))) < 0.5


@pytest.mark.source("own", "the camera that drew the picture")
@pytest.mark.parametrize("turn", range(0, 360, 72))
def test_a_card_is_found_however_it_lies(turn: int) -> None:
    angle = np.radians(turn)
    turned = np.array([[np.cos(angle), -np.sin(angle)], [np.sin(angle), np.cos(angle)]])
    corners = (LYING - (590, 450)) @ turned.T + (590, 450)
    found = find_card(photographed(printed_card(), wood(), corners))
    assert [each.id for each in found.markers] == [0, 1, 2, 3]
    assert worst(found.markers, corners) < 0.5


@pytest.mark.source("own", "the camera that drew the picture")
@pytest.mark.parametrize("exposure", [0.15, 0.4, 1.0])
def test_a_card_is_found_in_little_light(exposure: float) -> None:
    picture = photographed(printed_card(), wood(), LYING, exposure=exposure)
    found = find_card(picture)
    assert len(found.markers) == 4
    assert worst(found.markers, LYING) < 0.8


@pytest.mark.source("own", "the camera that drew the picture; a cell is 11 px, the blur 2")
def test_a_card_is_found_when_blurred_and_small() -> None:
    small = (LYING - (590, 450)) * 0.45 + (590, 450)
    picture = photographed(printed_card(), wood(), small)
    assert len(find_card(picture).markers) == 4
    soft = cv2.GaussianBlur(photographed(printed_card(), wood(), LYING), (0, 0), 2.0)
    found = find_card(soft)
    assert len(found.markers) == 4
    assert worst(found.markers, LYING) < 2.0


def test_a_mirrored_print_is_told_and_not_used() -> None:
    mirrored = printed_card()[:, ::-1]
    found = find_card(photographed(mirrored, wood(), LYING))
    assert found.mirrored
    assert found.markers == ()


def test_no_card_is_found_where_none_lies() -> None:
    for file in ("c01_round_front_a.jpg",):
        assert find_card(view_of(file)).markers == ()
        assert not find_card(view_of(file)).mirrored
    empty = find_card(wood())
    assert (empty.markers, empty.mirrored) == ((), False)


def test_other_markers_are_left_alone_and_each_number_counts_once() -> None:
    """A poster with other numbers, and a small second card beside the large one."""
    picture = photographed(
        printed_card({0: 7, 1: 12, 2: 33, 3: 49}),
        wood(),
        np.array([[40.0, 40], [330, 40], [330, 250], [40, 250]]),
    )
    assert find_card(picture).markers == ()
    small = np.array([[880.0, 60], [1180, 60], [1180, 270], [880, 270]])
    picture = photographed(printed_card(), picture, small)
    picture = photographed(printed_card(), picture, LYING)
    found = find_card(picture)
    assert [each.id for each in found.markers] == [0, 1, 2, 3]
    assert worst(found.markers, LYING) < 0.5


def test_a_marker_under_a_leaf_is_missing_and_the_others_count() -> None:
    picture = photographed(printed_card(), wood(), LYING).copy()
    at = marker_corners(LYING, 2).mean(axis=0)
    cv2.ellipse(picture, (int(at[0]), int(at[1])), (60, 25), 30, 0, 360, 60, -1)
    found = find_card(picture)
    assert [each.id for each in found.markers] == [0, 1, 3]


@pytest.mark.source("own", "the camera that drew the picture; stored at 3 times the size")
def test_corners_are_told_in_pixels_of_the_full_picture() -> None:
    picture = photographed(printed_card(), wood(), LYING)
    large = cv2.resize(picture, None, fx=3, fy=3, interpolation=cv2.INTER_CUBIC)
    made = io.BytesIO()
    Image.fromarray(large).save(made, "PNG", compress_level=1)
    found = card_of(opened(made.getvalue()))
    assert worst(found.markers, (LYING + 0.5) * 3 - 0.5) < 1.5


@pytest.mark.source("own", "rendered scene c04: f_px_true, 1201.85 px; rim_px, tip_px as marks")
def test_the_card_tells_how_wide_the_camera_sees() -> None:
    """Without what the camera wrote: to a hundredth from the card, more than the rim can tell."""
    scene = truth(SCENE)
    views = []
    for view in scene["views"]:
        wide, high = view["image_size"]
        rim = tuple((float(x), float(y)) for x, y in view["rim_px"][::9])
        stems = tuple(
            StemMarks(stem["name"], tuple(tip), tuple(base))
            for stem, tip, base in zip(scene["stems"], view["tip_px"], view["base_px"], strict=True)
        )
        card = find_card(view_of(view["file"])).markers
        views.append(View(wide, high, None, rim, stems, card))
    across = scene["vessel"]["rim_diameter"]
    rim = Rim("round", across, across, scene["vessel"]["height"])
    found = measure(Asked(rim, tuple(views)))
    for camera, view in zip(found.cameras, scene["views"], strict=True):
        assert camera.focal_px == pytest.approx(view["f_px_true"], rel=0.01)
