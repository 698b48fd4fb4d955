"""Invented pieces, photographed by OpenCV's camera and marked by an unsteady hand.

Model: vessel, stems and cameras are drawn at random from a seed. `cv2.projectPoints` takes the
picture, with its own distortion and a middle that may be off; marks are its pixels plus noise.
No code of the measuring is used, only the words in which it is asked.
Frame: the house frame; `Truth` is in the frame of the answer (`nejime.photo.asked`).
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

import cv2
import numpy as np
import numpy.typing as npt

from nejime.photo.asked import Asked, Known, Marker, Pins, Pixel, Rim, StemMarks, View

Floats = npt.NDArray[np.float64]
Kind = Literal["dish", "rectangle", "vase"]
DIAGONAL_MM = 43.2666  # of 36 × 24 mm
PHONES_MM = (24, 26, 28, 52)
FULL_PX = 4032.0  # the longer side of 12 million pixels, for which noise is told
CARD_MM = ((12, 12), (158, 12), (158, 96), (12, 96))  # the markers' top left corners on the card
MARKER_MM = 40.0
CARD_NOISE_PX = 0.8  # how exactly a marker's corner is found


@dataclass(frozen=True, slots=True)
class Setting:
    """What is drawn, and what of it is told.

    `focal`: how far the told focal length is from the true one: not at all, by 5 %, or not told
    and 17 % from 26 mm; `one_lens`: by the same in every picture. `base`: marked with twice the
    noise, not marked, or hidden and marked 25 pixels off. `k1`, `off_middle`: the largest
    distortion, and how far the middle is off at most, over the longer side.
    """

    vessels: tuple[Kind, ...] = ("dish",)
    views: int = 2
    noise_px: float = 3.0
    focal: Literal["true", "told", "unknown"] = "told"
    one_lens: bool = True
    base: Literal["marked", "absent", "hidden"] = "marked"
    lengths: bool = False
    plan: bool = False
    pins: bool = True
    card: bool = False
    k1: float = 0.0
    off_middle: float = 0.0
    rim_points: int = 8
    sizes: tuple[tuple[int, int], ...] = ((4032, 3024),)
    leans_deg: tuple[float, float] = (5.0, 75.0)
    bow: float = 0.0


@dataclass(frozen=True, slots=True)
class Truth:
    """A stem as it stands, in the frame of the answer; its lean in each picture."""

    id: str
    tilt_deg: float
    bearing_deg: float
    length_cm: float
    foot_cm: Floats
    end_cm: Floats
    leans_deg: tuple[float, ...]

    @property
    def line(self) -> Floats:
        """The unit vector from foot to end."""
        return (self.end_cm - self.foot_cm) / self.length_cm


@dataclass(frozen=True, slots=True)
class Lens:
    """One picture's camera, in OpenCV's terms."""

    width: int
    height: int
    matrix: Floats
    k1: float
    rotation: Floats
    centre: Floats
    told_mm: float | None

    def pixels(self, points: Floats) -> Floats:
        """Where points in cm (n, 3) are in the picture."""
        turned, _ = cv2.Rodrigues(self.rotation)
        shift = -self.rotation @ self.centre
        bent = np.array([self.k1, 0.0, 0.0, 0.0])
        found, _ = cv2.projectPoints(
            np.asarray(points, float).reshape(-1, 1, 3), turned, shift, self.matrix, bent
        )
        return found.reshape(-1, 2)

    def frames(self, points: Floats) -> bool:
        """Whether all points are well within the picture."""
        if np.any((points - self.centre) @ self.rotation[2] < 5.0):
            return False
        share = self.pixels(points) / (self.width, self.height)
        return bool(np.all((share > 0.04) & (share < 0.96)))


@dataclass(frozen=True, slots=True)
class Scene:
    """What is asked, and what is true."""

    kind: Kind
    asked: Asked
    truths: tuple[Truth, ...]
    lenses: tuple[Lens, ...] = field(repr=False)


def scenes(setting: Setting, count: int, seed: int) -> Iterator[Scene]:
    """So many scenes; equal seeds make equal ones."""
    chance = np.random.default_rng(seed)
    for number in range(count):
        kind = setting.vessels[number % len(setting.vessels)]
        yield scene(setting, kind, chance)


def scene(setting: Setting, kind: Kind, chance: np.random.Generator) -> Scene:
    """One scene."""
    rim = _rim(kind, chance)
    pins_z = (
        rim.height_cm - chance.uniform(0.5, 3.0) if kind == "vase" else chance.uniform(1.8, 2.6)
    )
    room = 0.1 if kind == "vase" else 0.25
    pins = np.array([*chance.uniform(-room, room, 2) * (rim.width_cm, rim.depth_cm), pins_z])
    feet, ends = _stems(setting, pins, chance)
    card = _card(rim, chance) if setting.card else np.zeros((0, 3))
    lenses = _lenses(setting, kind, np.vstack([_around(rim, 24), feet, ends, card]), chance)
    turn = _turn(lenses[0]) if rim.shape == "round" else np.eye(3)
    views = tuple(_view(setting, lens, rim, feet, ends, card, chance) for lens in lenses)
    truths = tuple(
        _truth(f"stem {number}", turn, foot, end, lenses)
        for number, (foot, end) in enumerate(zip(feet, ends, strict=True))
    )
    if rim.shape == "rectangle":
        views = _same_corner(views, chance)
    x, y, z = (turn @ pins + chance.normal(0, 0.3, 3)).tolist()
    told = Pins(x, y, max(z, 0.1), 3.0)
    known = tuple((each.id, _known(setting, each, chance)) for each in truths)
    asked = Asked(rim, views, told if setting.pins else Pins(), known)
    return Scene(kind, asked, truths, lenses)


def _rim(kind: Kind, chance: np.random.Generator) -> Rim:
    if kind == "dish":
        across = chance.uniform(20, 36)
        return Rim("round", across, across, chance.uniform(4, 9))
    if kind == "vase":
        across = chance.uniform(10, 14)
        return Rim("round", across, across, chance.uniform(20, 35))
    return Rim("rectangle", chance.uniform(24, 40), chance.uniform(14, 26), chance.uniform(4, 9))


def _around(rim: Rim, count: int) -> Floats:
    """Points right round the rim."""
    angles = np.arange(count) * 2 * math.pi / count
    return _on_rim(rim, angles) if rim.shape == "round" else _corners(rim)


def _on_rim(rim: Rim, angles: Floats) -> Floats:
    radius = rim.width_cm / 2
    return np.stack(
        [radius * np.cos(angles), radius * np.sin(angles), np.full_like(angles, rim.height_cm)], 1
    )


def _corners(rim: Rim) -> Floats:
    signs = np.array([(-1, -1), (1, -1), (1, 1), (-1, 1)])
    flat = signs * (rim.width_cm / 2, rim.depth_cm / 2)
    return np.column_stack([flat, np.full(4, rim.height_cm)])


def _stems(setting: Setting, pins: Floats, chance: np.random.Generator) -> tuple[Floats, Floats]:
    feet = pins + np.column_stack([chance.uniform(-2, 2, (3, 2)), np.zeros(3)])
    tilt = np.radians(chance.uniform(*setting.leans_deg, 3))
    turn = np.radians(chance.uniform(0, 360, 3))
    line = np.stack([np.sin(tilt) * np.sin(turn), np.sin(tilt) * np.cos(turn), np.cos(tilt)], 1)
    return feet, feet + line * chance.uniform(20, 60, (3, 1))


def _card(rim: Rim, chance: np.random.Generator) -> Floats:
    """The sixteen corners of a card that lies in front on the right, turned a little."""
    angle = chance.uniform(-0.3, 0.3)
    corners = [
        (left + across, top + down)
        for left, top in CARD_MM
        for across, down in ((0, 0), (MARKER_MM, 0), (MARKER_MM, MARKER_MM), (0, MARKER_MM))
    ]
    flat = np.array(corners) / 10.0 * (1.0, -1.0)
    turned = flat @ np.array(
        [[math.cos(angle), math.sin(angle)], [-math.sin(angle), math.cos(angle)]]
    )
    place = np.array([rim.width_cm / 2 + chance.uniform(2, 5), chance.uniform(-12, 2)])
    return np.column_stack([turned + place, np.full(len(flat), 0.03)])


def _lenses(
    setting: Setting, kind: Kind, seen: Floats, chance: np.random.Generator
) -> tuple[Lens, ...]:
    """Where the pictures are taken from: the front, then the side or high up."""
    first = chance.uniform(-25, 25)
    places = [(first, chance.uniform(12, 38))]
    for _ in range(setting.views - 1):
        if chance.random() < 0.7:
            aside = chance.uniform(50, 90) * chance.choice([-1, 1])
            places.append((first + aside, chance.uniform(20, 60)))
        else:
            places.append((first + chance.uniform(-20, 20), chance.uniform(58, 75)))
    told = float(chance.choice(PHONES_MM))
    size = setting.sizes[chance.integers(len(setting.sizes))]
    true = [_true_mm(setting, told, chance) for _ in places]
    if setting.one_lens:
        true = true[:1] * len(places)
    k1 = chance.uniform(-setting.k1, setting.k1)
    off = chance.uniform(-setting.off_middle, setting.off_middle, 2) * max(size)
    said = None if setting.focal == "unknown" else told
    return tuple(
        _lens(place, size, focal, said, k1, off, seen, chance)
        for place, focal in zip(places, true, strict=True)
    )


def _true_mm(setting: Setting, told: float, chance: np.random.Generator) -> float:
    """The true focal length, as its 35 mm equivalent."""
    if setting.focal == "unknown":
        return 26.0 * math.exp(chance.normal(0, 0.17))
    return told * math.exp(chance.normal(0, 0.05)) if setting.focal == "told" else told


def _lens(
    place: tuple[float, float],
    size: tuple[int, int],
    true_mm: float,
    told_mm: float | None,
    k1: float,
    off: Floats,
    seen: Floats,
    chance: np.random.Generator,
) -> Lens:
    """A camera that looks at the piece from a place, from so far that all of it is seen."""
    width, height = size
    focal = true_mm * math.hypot(width, height) / DIAGONAL_MM
    matrix = np.array(
        [[focal, 0, (width - 1) / 2 + off[0]], [0, focal, (height - 1) / 2 + off[1]], [0, 0, 1.0]]
    )
    aside, up = np.radians(place)
    away = np.array([math.sin(aside) * math.cos(up), -math.cos(aside) * math.cos(up), math.sin(up)])
    target = (seen.min(axis=0) + seen.max(axis=0)) / 2 + chance.normal(0, 1.5, 3)
    roll = math.radians(chance.uniform(-3, 3))
    for distance in 35.0 * 1.05 ** np.arange(60):
        rotation = _looking(-away, roll)
        lens = Lens(width, height, matrix, k1, rotation, target + distance * away, told_mm)
        if lens.frames(seen):
            break
    return lens


def _looking(ahead: Floats, roll: float) -> Floats:
    """The rotation of a camera that looks ahead: x right, y down, turned by roll."""
    right = np.cross(ahead, [0.0, 0.0, 1.0])
    right /= np.linalg.norm(right)
    down = np.cross(ahead, right)
    turned = np.cos(roll) * right + np.sin(roll) * down
    return np.stack([turned, np.cross(ahead, turned), ahead])


def _turn(lens: Lens) -> Floats:
    """The turn about the upright that brings the first camera to the front."""
    x, y = lens.centre[:2]
    angle = -math.pi / 2 - math.atan2(y, x)
    cos, sin = math.cos(angle), math.sin(angle)
    return np.array([[cos, -sin, 0], [sin, cos, 0], [0, 0, 1.0]])


def _view(
    setting: Setting,
    lens: Lens,
    rim: Rim,
    feet: Floats,
    ends: Floats,
    card: Floats,
    chance: np.random.Generator,
) -> View:
    noise = setting.noise_px * max(lens.width, lens.height) / FULL_PX
    if rim.shape == "round":
        step = 2 * math.pi / setting.rim_points
        angles = np.arange(setting.rim_points) * step + chance.uniform(0, 7)
        edge = _on_rim(rim, angles + chance.uniform(-0.2, 0.2, setting.rim_points) * step)
    else:
        edge = _corners(rim)
    middles = (feet + ends) / 2 + setting.bow * np.linalg.norm(
        ends - feet, axis=1, keepdims=True
    ) * _across(ends - feet)
    tips = _marked(lens, ends, noise, chance)
    doubt = 25.0 / setting.noise_px if setting.base == "hidden" else 2.0
    bases = _marked(lens, feet, doubt * noise, chance)
    mids = _marked(lens, middles, noise, chance)
    stems = tuple(
        StemMarks(
            f"stem {number}",
            tip,
            None if setting.base == "absent" else bases[number],
            mids[number] if setting.bow else None,
        )
        for number, tip in enumerate(tips)
    )
    corners = _marked(lens, card, CARD_NOISE_PX, chance)
    markers = tuple(
        Marker(at // 4, (corners[at], corners[at + 1], corners[at + 2], corners[at + 3]))
        for at in range(0, len(corners), 4)
    )
    rim_px = tuple(_marked(lens, edge, noise, chance))
    return View(lens.width, lens.height, lens.told_mm, rim_px, stems, markers)


def _across(lines: Floats) -> Floats:
    """A unit vector square to each line, as level as can be."""
    square = np.cross(lines, [0.0, 0.0, 1.0])
    return square / np.maximum(np.linalg.norm(square, axis=1, keepdims=True), 1e-9)


def _marked(lens: Lens, points: Floats, noise: float, chance: np.random.Generator) -> list[Pixel]:
    if not len(points):
        return []
    places = lens.pixels(points) + chance.normal(0, noise, (len(points), 2))
    return [(x, y) for x, y in places.tolist()]


def _same_corner(views: tuple[View, ...], chance: np.random.Generator) -> tuple[View, ...]:
    """Corners that begin anywhere, at the same one in every picture, and go round either way."""
    start = int(chance.integers(4))
    order = [(start + step) % 4 for step in range(4)]
    if chance.random() < 0.5:
        order = [order[0], *reversed(order[1:])]
    return tuple(
        View(
            each.width_px,
            each.height_px,
            each.focal_35mm,
            tuple(each.rim[at] for at in order),
            each.stems,
            each.card,
        )
        for each in views
    )


def _truth(
    stem_id: str, turn: Floats, foot: Floats, end: Floats, lenses: tuple[Lens, ...]
) -> Truth:
    leans = tuple(_lean(lens, foot, end) for lens in lenses)
    foot, end = turn @ foot, turn @ end
    x, y, z = end - foot
    return Truth(
        stem_id,
        math.degrees(math.atan2(math.hypot(x, y), z)),
        math.degrees(math.atan2(x, y)) % 360.0,
        float(np.linalg.norm(end - foot)),
        foot,
        end,
        leans,
    )


def _lean(lens: Lens, foot: Floats, end: Floats) -> float:
    """The lean in the picture from the upright through the foot, positive to the right."""
    start, tip, over = lens.pixels(np.stack([foot, end, foot + np.array([0.0, 0.0, 0.1])]))
    angle = math.atan2(*(tip - start)[::-1]) - math.atan2(*(over - start)[::-1])
    return (math.degrees(angle) + 180.0) % 360.0 - 180.0


def _known(setting: Setting, truth: Truth, chance: np.random.Generator) -> Known:
    length = truth.length_cm + chance.normal(0, 0.5) if setting.lengths else None
    if not setting.plan:
        return Known(length)
    tilt = abs(truth.tilt_deg + chance.normal(0, 5))
    return Known(length, tilt, (truth.bearing_deg + chance.normal(0, 8)) % 360.0)
