"""The rendered scenes with ground truth, and cards drawn into pictures by a known camera.

Cards are drawn without the project's own patterns: OpenCV draws the markers, and its warp puts
them into the picture, in linear light and at several times the size, as a lens would.
"""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import cv2
import numpy as np
from PIL import Image

FOLDER = Path(__file__).parents[2] / "authorities" / "photo"
SCENES = ("c01_round_front", "c04_round_card_twoviews")
DOTS_PER_MM = 5
FINER = 3
PLACES_MM = {0: (12, 12), 1: (158, 12), 2: (158, 96), 3: (12, 96)}


@cache
def truth(scene: str) -> dict[str, Any]:
    read: dict[str, Any] = json.loads((FOLDER / f"{scene}.json").read_text())
    return read


@cache
def view_of(file: str) -> np.ndarray:
    return np.asarray(Image.open(FOLDER / file).convert("L"))


def views() -> list[tuple[str, dict[str, Any]]]:
    return [(view["file"], view) for scene in SCENES for view in truth(scene)["views"]]


def printed_card(numbers: dict[int, int] | None = None) -> np.ndarray:
    """The card as a grey picture, 5 dots a millimetre."""
    card = np.full((148 * DOTS_PER_MM, 210 * DOTS_PER_MM), 255, np.uint8)
    cells = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    for place, (x, y) in PLACES_MM.items():
        number = (numbers or {}).get(place, place)
        drawn = cv2.aruco.generateImageMarker(cells, number, 40 * DOTS_PER_MM)
        rows = slice(y * DOTS_PER_MM, (y + 40) * DOTS_PER_MM)
        card[rows, x * DOTS_PER_MM : (x + 40) * DOTS_PER_MM] = drawn
    return card


def light_of(grey: np.ndarray) -> np.ndarray:
    part = grey / 255.0
    return np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)


def grey_of(light: np.ndarray) -> np.ndarray:
    part = np.clip(light, 0, 1)
    curve = np.where(part <= 0.0031308, 12.92 * part, 1.055 * part ** (1 / 2.4) - 0.055)
    return np.rint(255 * curve).astype(np.uint8)


def photographed(
    card: np.ndarray, behind: np.ndarray, corners: np.ndarray, *, exposure: float = 1.0
) -> np.ndarray:
    """A picture of a card whose corners (4, 2) appear there, on a background."""
    high, wide = behind.shape
    middle = (np.array(card.shape[::-1]) - 1.0) / 2.0
    half = np.array(card.shape[::-1]) / 2.0
    own = middle + half * np.array([[-1, -1], [1, -1], [1, 1], [-1, 1]])
    fine = (np.asarray(corners) + 0.5) * FINER - 0.5
    way = cv2.getPerspectiveTransform(own.astype(np.float32), fine.astype(np.float32))
    size = (wide * FINER, high * FINER)
    seen = cv2.warpPerspective(light_of(card).astype(np.float32), way, size, flags=cv2.INTER_AREA)
    there = cv2.warpPerspective(np.ones(card.shape, np.float32), way, size)
    small = [cv2.resize(part, (wide, high), interpolation=cv2.INTER_AREA) for part in (seen, there)]
    return grey_of(exposure * (small[0] + light_of(behind) * (1 - small[1])))


def marker_corners(corners: np.ndarray, marker: int) -> np.ndarray:
    """Where a marker's corners appear of a card whose corners appear there."""
    sheet = np.array([[0, 0], [210, 0], [210, 148], [0, 148]], np.float32)
    way = cv2.getPerspectiveTransform(sheet, np.asarray(corners, np.float32))
    x, y = PLACES_MM[marker]
    own = np.array([[[x, y], [x + 40, y], [x + 40, y + 40], [x, y + 40]]], np.float64)
    return cv2.perspectiveTransform(own, way)[0]
