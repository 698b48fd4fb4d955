"""Two rendered scenes, whose truth comes from the renderer, are measured from marks on them.

Marks are the renderer's pixels plus noise; its camera is not told, only what a picture's file says
of its lens. The scenes: `authorities/photo`.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from nejime.photo.answer import Interval, Line, Measured
from nejime.photo.asked import Asked, Known, Marker, Pins, Rim, StemMarks, View
from nejime.photo.measuring import measure

SCENES = Path(__file__).parents[2] / "authorities" / "photo"
CLICK_PX = 3.0 / 4032.0
DRAWS = range(8)
FOOT_CM = 2.0  # where the renderer's stems begin, above the table


def scene(name: str) -> Any:
    return json.loads((SCENES / f"{name}.json").read_text(encoding="utf-8"))


def turn_deg(told: Any) -> float:
    """How far the first camera stands from straight in front: what its bearings are off by."""
    x, y, _ = told["views"][0]["camera_position_cm"]
    return math.degrees(math.atan2(x, -y))


def asked(
    told: Any, views: int, seed: int, *, lengths: bool, feet: bool = True, card: bool = False
) -> Asked:
    """A request as somebody with an unsteady hand would mark it."""
    chance = np.random.default_rng(seed)
    vessel = told["vessel"]
    x, y, radius = vessel["kenzan"]
    known = tuple(
        (
            stem["name"],
            Known(
                stem["chord_cm"] + chance.normal(0, 0.3) if lengths else None,
                stem["tilt_deg"] + chance.normal(0, 5),
                (stem["azimuth_deg"] + turn_deg(told) + chance.normal(0, 8)) % 360.0,
            ),
        )
        for stem in told["stems"]
    )
    return Asked(
        Rim("round", vessel["rim_diameter"], vessel["rim_diameter"], vessel["height"]),
        tuple(_view(told, each, chance, feet=feet, card=card) for each in told["views"][:views]),
        Pins(x, y, FOOT_CM + chance.normal(0, 0.3), radius),
        known,
    )


def _view(told: Any, view: Any, chance: np.random.Generator, *, feet: bool, card: bool) -> View:
    width, height = view["image_size"]
    click = CLICK_PX * max(width, height)

    def marked(point: Any, times: float = 1.0) -> tuple[float, float]:
        x, y = np.array(point) + chance.normal(0, times * click, 2)
        return float(x), float(y)

    count = len(view["rim_px"])
    start = int(chance.integers(count))
    rim = [view["rim_px"][(start + step * count // 8) % count] for step in range(8)]
    stems = tuple(
        StemMarks(stem["name"], marked(tip), marked(base, 2.0) if feet else None)
        for stem, tip, base in zip(told["stems"], view["tip_px"], view["base_px"], strict=True)
    )
    markers = tuple(
        Marker(int(number), tuple(marked(corner, 0.8 / click) for corner in corners))  # type: ignore[arg-type]
        for number, corners in (view.get("card_px") or {}).items()
    )
    return View(
        width,
        height,
        view["exif_f35"],
        tuple(marked(point) for point in rim),
        stems,
        markers if card else (),
    )


def within(told: Interval, true: float, turn: float = math.inf) -> bool:
    """Whether an interval holds a value, or the same some turns on."""
    true = told.value + math.remainder(true - told.value, turn) if turn < math.inf else true
    return told.low <= true <= told.high


def line(found: Measured, stem: Any) -> Line:
    """A stem's line; of two the one that is meant."""
    measured = found.stem(stem["name"])
    lines = [each for each in (measured.line, measured.other) if each is not None]
    return min(lines, key=lambda each: abs(each.tilt_deg.value - stem["tilt_deg"]))


@pytest.mark.parametrize("card", [False, True])
@pytest.mark.parametrize("feet", [False, True])
def test_two_pictures_measure_every_stem(feet: bool, card: bool) -> None:
    told = scene("c04_round_card_twoviews")
    leans, turns, lengths, held = [], [], [], []
    for seed in DRAWS:
        found = measure(asked(told, 2, seed, lengths=False, feet=feet, card=card))
        for stem in told["stems"]:
            answer = line(found, stem)
            true = (stem["azimuth_deg"] + turn_deg(told)) % 360.0
            leans.append(abs(answer.tilt_deg.value - stem["tilt_deg"]))
            turns.append(abs(math.remainder(answer.bearing_deg.value - true, 360.0)))
            lengths.append(abs(answer.length_cm.value / stem["chord_cm"] - 1.0))
            held += [
                within(answer.tilt_deg, stem["tilt_deg"]),
                within(answer.bearing_deg, true, 360.0),
                within(answer.length_cm, stem["chord_cm"]),
            ]
    loose = 1.0 if feet else 2.0
    assert np.median(leans) <= 1.0 * loose
    assert np.percentile(leans, 90) <= 2.0 * loose
    assert np.median(turns) <= 1.5 * loose
    assert np.percentile(turns, 90) <= 4.0 * loose
    assert np.median(lengths) <= 0.01 * loose
    assert np.percentile(lengths, 90) <= 0.03 * loose
    assert np.mean(held) >= 0.85


@pytest.mark.parametrize("name", ["c01_round_front", "c04_round_card_twoviews"])
def test_one_picture_and_the_lengths_measure_every_stem(name: str) -> None:
    told = scene(name)
    leans, held = [], []
    for seed in DRAWS:
        found = measure(asked(told, 1, seed, lengths=True))
        for stem in told["stems"]:
            answer = line(found, stem)
            leans.append(abs(answer.tilt_deg.value - stem["tilt_deg"]))
            held.append(within(answer.tilt_deg, stem["tilt_deg"]))
    assert np.median(leans) <= 2.0
    assert np.percentile(leans, 90) <= 5.0
    assert np.mean(held) >= 0.85


def test_the_card_tells_the_lens() -> None:
    """Without a word of the picture's file on it; the pictures are only 1600 pixels wide."""
    told = scene("c04_round_card_twoviews")
    for view in told["views"]:
        view["exif_f35"] = None
    true = told["views"][0]["f_px_true"]
    off = [
        camera.focal_px / true - 1.0
        for seed in DRAWS
        for camera in measure(asked(told, 2, seed, lengths=False, card=True)).cameras
    ]
    assert np.median(np.abs(off)) <= 0.02
    assert np.percentile(np.abs(off), 90) <= 0.05
