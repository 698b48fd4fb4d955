"""A piece in two pictures, made by OpenCV's camera with distortion and marked by an unsure hand."""

from __future__ import annotations

import math

import cv2
import numpy as np
from photo.made_up import camera

from nejime.forms.stems import Piece
from nejime.photo.answer import Measured
from nejime.photo.asked import Asked, Pins, Rim, StemMarks, View
from nejime.photo.camera import Camera
from nejime.photo.ghost import rim_line
from nejime.photo.measuring import measure

WALL_CM = 0.6  # of usual ceramic ware
OUTER = Rim("round", 30.0 + 2 * WALL_CM, 30.0 + 2 * WALL_CM, 6.0)


def marked(points: np.ndarray, seen: Camera, chance: np.random.Generator, px: float) -> list:
    """Points in a picture by OpenCV's projection with distortion, and a hand that is not sure."""
    rotation = np.array(seen.rotation)
    turn, _ = cv2.Rodrigues(rotation)
    inner = np.array(
        [
            [seen.focal_px, 0.0, (seen.width_px - 1) / 2],
            [0.0, seen.focal_px, (seen.height_px - 1) / 2],
            [0.0, 0.0, 1.0],
        ]
    )
    bent = np.array([-0.01, 0.0, 0.0, 0.0, 0.0])
    shift = -rotation @ np.array(seen.centre_cm)
    found, _ = cv2.projectPoints(np.asarray(points, float), turn, shift, inner, bent)
    spots = found.reshape(-1, 2) + px * chance.standard_normal((len(points), 2))
    return [(float(x), float(y)) for x, y in spots]


def photographed(piece: Piece, seed: int = 4, click_px: float = 1.2) -> Measured:
    """The piece in two pictures of 1600 × 1200, marked by hand, and measured."""
    chance = np.random.default_rng(seed)
    views = []
    for seen in (camera(), camera(bearing_deg=290.0, high_cm=60.0)):
        rim = marked(rim_line(OUTER, 8), seen, chance, click_px)
        feet = marked(np.array([s.start for s in piece.stems]), seen, chance, 2 * click_px)
        ends = marked(np.array([s.end for s in piece.stems]), seen, chance, click_px)
        stems = tuple(
            StemMarks(stem.id, end, foot)
            for stem, end, foot in zip(piece.stems, ends, feet, strict=True)
        )
        focal_35mm = seen.focal_px * math.hypot(36, 24) / math.hypot(1600, 1200)
        views.append(View(1600, 1200, focal_35mm, tuple(rim), stems))
    place = piece.place
    pins = Pins(place.x_cm, place.y_cm, piece.stems[0].start.z_cm, 4.0)
    return measure(Asked(OUTER, tuple(views), pins))
