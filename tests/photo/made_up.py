"""Cameras and measured pieces put together by hand, for the tests that read them."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from nejime.basis.angles import Point, line
from nejime.forms.piece import piece
from nejime.forms.rules import DEFAULT_RULE, packaged
from nejime.forms.stems import Opens, Piece, Stem
from nejime.forms.vessel import vessel
from nejime.photo.answer import Interval, Line, Measured, MeasuredStem
from nejime.photo.asked import Rim
from nejime.photo.camera import Camera

DISH = Rim("round", 30.0, 30.0, 6.0)


def camera(
    *, back_cm: float = 100.0, high_cm: float = 45.0, bearing_deg: float = 0.0, width: int = 1600
) -> Camera:
    """A camera before the piece that looks at a spot above the vessel; `bearing_deg` is where it
    looks: 0 from the front to the back, 270 from the right to the left."""
    way = math.radians(bearing_deg)
    centre = np.array([-back_cm * math.sin(way), -back_cm * math.cos(way), high_cm])
    ahead = np.array([0.0, 0.0, 20.0]) - centre
    ahead /= np.linalg.norm(ahead)
    right = np.cross(ahead, [0.0, 0.0, 1.0])
    right /= np.linalg.norm(right)
    down = np.cross(ahead, right)
    rows = tuple(tuple(float(x) for x in row) for row in (right, down, ahead))
    at = (float(centre[0]), float(centre[1]), float(centre[2]))
    return Camera(width, width * 3 // 4, 0.75 * width, at, rows)  # type: ignore[arg-type]


def plan(opens: Opens = "right", form: str = "upright", width: float = 30.0) -> Piece:
    """Three main stems in a round dish."""
    return piece(vessel("round", width, 6), packaged()[DEFAULT_RULE], form, opens=opens)


def about(value: float, half: float) -> Interval:
    return Interval(value, value - half, value + half)


def made_stem(
    stem: Stem,
    *,
    lean: float = 0.0,
    turn: float = 0.0,
    share: float = 1.0,
    foot: tuple[float, float] = (0.0, 0.0),
    half: float = 1.0,
    half_cm: float = 0.5,
) -> MeasuredStem:
    """A stem measured `lean` lower, `turn` clockwise and `share` as long as the plan has it."""
    tilt, bearing = stem.stands_deg + lean, (stem.bearing_deg + turn) % 360.0
    long = stem.length_cm * share
    x, y, z = line(tilt, bearing)
    start = Point(stem.start.x_cm + foot[0], stem.start.y_cm + foot[1], stem.start.z_cm)
    end = Point(start.x_cm + long * x, start.y_cm + long * y, start.z_cm + long * z)
    found = Line(about(tilt, half), about(bearing, 2 * half), about(long, half_cm), start, end)
    return MeasuredStem(stem.id, "measured", (None, None), found)


def measured(planned: Piece, changes: Mapping[str, Mapping[str, object]] | None = None) -> Measured:
    """A piece measured as planned, but for what is told of single stems, or of `all`."""
    told = changes or {}
    stems = tuple(
        made_stem(each, **{**told.get("all", {}), **told.get(each.id, {})})  # type: ignore[arg-type]
        for each in planned.stems
    )
    return Measured(DISH, (camera(), camera(bearing_deg=290.0)), stems)


def only_leans(planned: Piece, leans: Mapping[str, float], half: float = 0.8) -> Measured:
    """One picture without lengths: leans in it, by stem id."""
    stems = tuple(
        MeasuredStem(each.id, "lean only", (about(leans[each.id], half),)) for each in planned.stems
    )
    return Measured(DISH, (camera(),), stems)


def unsure(made: Measured, stem_id: str, half: float) -> Measured:
    """The same with wide intervals of one stem's lean and direction."""

    def wide(stem: MeasuredStem) -> MeasuredStem:
        assert stem.line is not None
        found = replace(
            stem.line,
            tilt_deg=about(stem.line.tilt_deg.value, half),
            bearing_deg=about(stem.line.bearing_deg.value, half),
        )
        return replace(stem, line=found)

    return replace(
        made, stems=tuple(wide(each) if each.id == stem_id else each for each in made.stems)
    )
