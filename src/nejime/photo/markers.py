"""The marker card in a picture: its markers' corners to a fraction of a pixel.

Model: the card's four numbers alone count, each once, the largest of several. Where none is found
the picture is looked through in a mirror: a card found there was printed mirrored, and nothing is
measured by it. Corners are sharpened in linear light: in the picture as it is stored a bright
pixel weighs more than its light, so that white eats into black and corners come out too far
inside a marker. On the two rendered scenes (`authorities/photo`) corners are 0.8 and 0.7 px off
without this (root mean square) and 0.4 and 0.3 px with it; also when the pictures are sharpened
or given more contrast, as telephones do.

Frame: pixels of the picture that is given, the centre of the top-left one at 0, 0.
Source: markers and their finding [bradski2000]; sRGB's curve from memory.
"""

from __future__ import annotations

from dataclasses import dataclass

import cv2
import numpy as np
import numpy.typing as npt

from nejime.photo.asked import Marker
from nejime.photo.camera import Floats
from nejime.photo.card import CELLS, PATTERNS
from nejime.photo.opened import Grey, Opened

SHARPENED = 0.65  # [own] half a window over a cell: it must not reach the cells inside
LEAST_WINDOW_PX, MOST_WINDOW_PX = 2, 8  # [own]
STOP = (
    cv2.TERM_CRITERIA_COUNT | cv2.TERM_CRITERIA_EPS,
    50,
    0.001,
)  # [own] rounds, and the last step in px

Light = npt.NDArray[np.float32]


@dataclass(frozen=True, slots=True)
class CardFound:
    """The card's markers in the order of their numbers; `mirrored`: it is there, but mirrored."""

    markers: tuple[Marker, ...] = ()
    mirrored: bool = False


def card_of(picture: Opened) -> CardFound:
    """The card in a picture, in pixels of the full picture."""
    found = find_card(picture.grey)
    markers = (_marker(each.id, picture.full_pixels(each.corners)) for each in found.markers)
    return CardFound(tuple(markers), found.mirrored)


def find_card(grey: Grey) -> CardFound:
    """The card in a grey picture (rows, columns), in its pixels."""
    seen = _seen(grey)
    if seen:
        light = _linear(grey)
        return CardFound(tuple(_marker(each, _sharp(light, seen[each])) for each in sorted(seen)))
    return CardFound(mirrored=bool(_seen(np.ascontiguousarray(grey[:, ::-1]))))


def _seen(grey: Grey) -> dict[int, Floats]:
    """The card's markers by number: corners (4, 2) as printed, from top left to bottom left."""
    asked = cv2.aruco.DetectorParameters()
    asked.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_SUBPIX
    cells = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    corners, numbers, _ = cv2.aruco.ArucoDetector(cells, asked).detectMarkers(grey)
    found: dict[int, Floats] = {}
    if numbers is None:
        return found
    for told, each in zip(np.ravel(numbers), corners, strict=True):
        number = int(told)
        here = np.asarray(each, float).reshape(4, 2)
        if number in PATTERNS and (number not in found or _size(here) > _size(found[number])):
            found[number] = here
    return found


def _size(corners: Floats) -> float:
    """The length around a marker."""
    return float(np.sum(_sides(corners)))


def _sides(corners: Floats) -> Floats:
    sides: Floats = np.linalg.norm(corners - np.roll(corners, 1, axis=0), axis=-1)
    return sides


def _linear(grey: Grey) -> Light:
    """The light that a grey picture stands for, 0 to 1."""
    part = np.arange(256) / 255.0
    curve = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    light: Light = curve.astype(np.float32)[grey]
    return light


def _sharp(light: Light, corners: Floats) -> Floats:
    """Corners where the light's edges cross."""
    cell = float(_sides(corners).min()) / CELLS
    half = int(np.clip(SHARPENED * cell, LEAST_WINDOW_PX, MOST_WINDOW_PX))
    start = corners.astype(np.float32).reshape(4, 1, 2)
    made = cv2.cornerSubPix(light, start, (half, half), (-1, -1), STOP)
    return np.asarray(made, float).reshape(4, 2)


def _marker(number: int, corners: Floats) -> Marker:
    one, two, three, four = ((float(x), float(y)) for x, y in corners)
    return Marker(number, (one, two, three, four))
