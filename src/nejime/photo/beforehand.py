"""What is known before anything is fitted: how well people mark, and where feet are.

Source: how far marks lie from the truth and how far a told focal length can be trusted are our own
choices, after trials on simulated scenes (`workings/measuring_accuracy.py`).
"""

from __future__ import annotations

import numpy as np

from nejime.photo.asked import Asked, View
from nejime.photo.camera import Floats

CLICK_OF_LONG_SIDE = 3.0 / 4032.0  # [own] spread of a mark: 3 px of a picture of 12 megapixels
LEAST_CLICK_PX = 0.5  # [own] no hand and no eye is better
FEET_TIMES = 2.5  # [own] so much further off is a foot between leaves marked than an end
CARD_PX = 0.6  # [own] spread of a marker's corner where it is searched; 0.3 to 0.4 when rendered
SEARCHED_PX = 2048  # [own] the long side of the picture in which markers are searched
FOCAL_SPREAD = 0.05  # [own] of the logarithm; the conventions alone are 4 % apart
UNKNOWN_FOCAL_35MM = 27.0  # [own] where a picture tells none: what a phone has
UNKNOWN_FOCAL_SPREAD = 0.2  # [own]
K1_SPREAD = 0.03  # [own] of the distortion that a phone leaves in its pictures
RIM_SPREAD = 0.003  # [own] a ruler over a bowl is read to a millimetre
HEIGHT_SPREAD_CM = 0.15  # [own] of a rim over the table, where the card tells the table
LENGTH_SPREAD_CM = 0.5  # [own] of a straight length that was measured
PINS_HEIGHT_SPREAD_CM = 0.3  # [own] of a told height of the pins
PINS_RADIUS_CM = 3.5  # [own] of a pin holder whose size is not told
PINS_HEIGHT_CM, UNTOLD_HEIGHT_SPREAD_CM = 2.3, 0.8  # [own] a floor and a pin holder on it
PINS_OF_RIM = 0.7  # [own] the same in a flat dish, at most, of its rim's height
UNTOLD_OF_WIDTH = 0.3  # [own] how far from the middle feet may be where no place is told
MOUTH_UNDER_RIM_CM, MOUTH_SPREAD_CM = 0.5, 1.0  # [own] where the stems of a tall vase are held


def click_px(view: View) -> float:
    """Spread of a mark in a picture."""
    return max(LEAST_CLICK_PX, CLICK_OF_LONG_SIDE * max(view.width_px, view.height_px))


def card_px(view: View) -> float:
    """Spread of a marker's corner in a picture, in its own pixels."""
    return CARD_PX * max(1.0, max(view.width_px, view.height_px) / SEARCHED_PX)


def feet(asked: Asked) -> tuple[Floats, Floats]:
    """Where a foot is beforehand (3,) and how surely (3,), in cm."""
    rim, pins = asked.rim, asked.pins
    tall = rim.height_cm > rim.width_cm
    if pins.height_cm is not None:
        height, unsure = pins.height_cm, PINS_HEIGHT_SPREAD_CM
    elif tall:
        height, unsure = rim.height_cm - MOUTH_UNDER_RIM_CM, MOUTH_SPREAD_CM
    else:
        height = min(PINS_HEIGHT_CM, PINS_OF_RIM * rim.height_cm)
        unsure = UNTOLD_HEIGHT_SPREAD_CM
    across = _place(pins.x_cm, pins.radius_cm, rim.width_cm)
    away = _place(pins.y_cm, pins.radius_cm, rim.depth_cm)
    return np.array([across[0], away[0], height]), np.array([across[1], away[1], unsure])


def _place(told_cm: float | None, radius_cm: float | None, rim_cm: float) -> tuple[float, float]:
    """Middle and spread along one axis: a disc of pins has half its radius as spread."""
    if told_cm is None:
        return 0.0, UNTOLD_OF_WIDTH * rim_cm
    return told_cm, (PINS_RADIUS_CM if radius_cm is None else radius_cm) / 2.0
