"""Where the pin holder lies and where on it each main stem stands.

Model: the flat floor leaves the holder's centre some free travel; a place named in words is a
fixed share of that travel. A round floor is an ellipse of travel, so a corner place stays on it.
Source: the places are common practice ("never in the middle" of a wide dish); the shares are ours.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from nejime.basis.angles import Point, heading
from nejime.basis.sayings import Saying
from nejime.forms.holder import FLOOR_GAP_CM, Holder
from nejime.forms.rules import PLACES
from nejime.forms.vessel import Vessel

PLACE_SHARE = 0.75  # [own] how far towards the edge of its travel a holder lies
ONE_PLACE_CM = 1.2  # [own] with less travel than this there is only one place
SMALL_CM = 15.0  # [practice] in a smaller vessel the holder has one place
NARROW_CM = 20.0  # [practice] an oblong narrower than this has no front and back
STEPS = 20  # [own] a holder is moved inwards by a twentieth of its way at a time
OBLONG = 1.5  # [own] longer over shorter side from which a vessel is oblong
FOOT_SHARE = {"first": 0.15, "second": 0.45, "third": 0.45}  # [own] over the holder's half measure

_SIDES = {"left": -1.0, "right": 1.0, "front": -1.0, "back": 1.0}


@dataclass(frozen=True, slots=True)
class Place:
    """Where the holder's centre lies, in words and in the house frame."""

    word: str
    wanted: str
    x_cm: float
    y_cm: float
    remarks: tuple[Saying, ...] = ()


def mirrored_place(word: str) -> str:
    """The place in the form that opens to the other side."""
    swap = {"left": "right", "right": "left"}
    return " ".join(swap.get(part, part) for part in word.split())


def place_by_season(word: str, season: str | None) -> str:
    """The place in a season: in spring and summer at the back, so that more water shows; in autumn
    and winter at the front, so that it is hidden. Source: common practice."""
    if season is None:
        return word
    front, back = ("front", "back") if season in ("autumn", "winter") else ("back", "front")
    return word.replace(back, front)


def travel_cm(held: Holder, vessel: Vessel) -> tuple[float, float]:
    """How far the holder's centre may go from the middle: to the side, and to front and back."""
    half_x = vessel.floor_width_cm / 2 - held.width_cm / 2 - FLOOR_GAP_CM
    half_y = vessel.floor_depth_cm / 2 - held.depth_cm / 2 - FLOOR_GAP_CM
    free_x, free_y = max(0.0, half_x), max(0.0, half_y)
    if max(vessel.width_cm, vessel.depth_cm) < SMALL_CM:
        return 0.0, 0.0
    if _narrow(vessel.depth_cm, vessel.width_cm):
        free_y = 0.0
    if _narrow(vessel.width_cm, vessel.depth_cm):
        free_x = 0.0
    return free_x, free_y


def _narrow(side_cm: float, other_cm: float) -> bool:
    return side_cm < NARROW_CM and other_cm >= OBLONG * side_cm


def place(wanted: str, held: Holder, vessel: Vessel) -> Place:
    """The holder's place for the word that a form asks for, as far as the floor lets it.

    Where the floor leaves no room one way, that part of the word is dropped: an oblong has left
    and right only, a small bowl one place.
    """
    free_x, free_y = travel_cm(held, vessel)
    parts = [
        part
        for part in wanted.split()
        if part in _SIDES and (free_y if part in ("front", "back") else free_x) >= ONE_PLACE_CM
    ]
    if not parts:
        remark = () if wanted == "middle" else (Saying("forms.place.only-one"),)
        return Place("middle", wanted, 0.0, 0.0, remark)
    share = PLACE_SHARE
    if len(parts) == 2 and vessel.round_plan:
        share /= math.sqrt(2)
    x = y = 0.0
    for part in parts:
        if part in ("left", "right"):
            x = _SIDES[part] * share * free_x
        else:
            y = _SIDES[part] * share * free_y
    word = " ".join(parts)
    x, y = _on_the_floor(x, y, held, vessel)
    remarks = () if word == wanted else (Saying(f"forms.place.no-{_lost(wanted, word)}"),)
    return Place(word, wanted, x, y, remarks)


def named_place(x_cm: float, y_cm: float, held: Holder, vessel: Vessel) -> Place:
    """Where somebody put the pin holder: moved back onto the floor, and the nearest word for it."""
    free_x, free_y = travel_cm(held, vessel)
    x, y = max(-free_x, min(x_cm, free_x)), max(-free_y, min(y_cm, free_y))
    x, y = _on_the_floor(x, y, held, vessel)
    word = min(
        (place(each, held, vessel) for each in PLACES),
        key=lambda named: math.dist((named.x_cm, named.y_cm), (x, y)),
    ).word
    return Place(word, word, x, y)


def _on_the_floor(x: float, y: float, held: Holder, vessel: Vessel) -> tuple[float, float]:
    """The place, moved towards the middle as far as a long round floor asks for it.

    In an ellipse a round holder meets the edge beside the axis first.
    """
    if not vessel.round_plan:
        return x, y
    for step in range(STEPS, 0, -1):
        share = step / STEPS
        if _inside_ellipse(share * x, share * y, held, vessel):
            return share * x, share * y
    return 0.0, 0.0


def _inside_ellipse(x: float, y: float, held: Holder, vessel: Vessel) -> bool:
    half_x, half_y = vessel.floor_width_cm / 2, vessel.floor_depth_cm / 2
    return all(
        ((x + edge_x) / half_x) ** 2 + ((y + edge_y) / half_y) ** 2 <= 1.0
        for edge_x, edge_y in _edge(held)
    )


def _edge(held: Holder) -> list[tuple[float, float]]:
    """Points of the holder's edge: its corners, or enough of its circle."""
    if held.rectangular:
        return [(x * held.width_cm / 2, y * held.depth_cm / 2) for x in (-1, 1) for y in (-1, 1)]
    return [
        (held.width_cm / 2 * x, held.width_cm / 2 * y) for x, y in map(heading, range(0, 360, 5))
    ]


def _lost(wanted: str, word: str) -> str:
    lost = next(part for part in wanted.split() if part not in word.split())
    return "depth" if lost in ("front", "back") else "width"


def foot(stem: str, bearing_deg: float, where: Place, held: Holder, floor_cm: float) -> Point:
    """Where a main stem enters the pins: a little towards the side that it leans to.

    The first stands nearest the middle, so that the weight of the longest stem is over the pins.
    """
    across, away = heading(bearing_deg)
    step = FOOT_SHARE[stem] * held.half_along_cm(across, away)
    return Point(
        where.x_cm + step * across,
        where.y_cm + step * away,
        floor_cm + held.foot_height_cm,
    )
