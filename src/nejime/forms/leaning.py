"""A stem as this vessel lets it stand: the rim, the vase and the water taken into account.

Model: each stem is the straight line from its foot to its end. In a shallow vessel the foot is
between the pins and the rule's length is counted from there. In a tall vase it is counted from the
mouth; the stem goes on inside (`forms.tall`).
The rim limits how low a stem can lean: atan(way to the rim / rise of the rim above the foot).
Source: plane geometry; the practice of cutting long for a tall vase in `_below`.
"""

from __future__ import annotations

import math

from nejime.basis.angles import Point, line, mirrored
from nejime.forms.placing import foot
from nejime.forms.rules import LENGTH_TOLERANCE, Label, Range
from nejime.forms.stems import Opens, Piece, Role, Stem
from nejime.forms.tall import at_mouth, in_vase_cm, lowest_in_vase_deg

RIM_CLEAR_CM = 0.4  # [own] half a stem's thickness kept between its line and the rim
TRIM_DEG = 5.0  # [own] the range to trim to in a tall vase covers this much lean either way
UPRIGHT_DEG = 20.0  # [own] a stem that leans no more is cut as an upright one for a tall vase
BOW = 0.03  # [own] how far a main stem bows out, over its straight length


def water_z_cm(bare: Piece) -> float:
    """The water's level above the table."""
    return bare.vessel.base_cm + bare.water_cm


def _bearing(bare: Piece, bearing_deg: float) -> float:
    return bearing_deg if bare.opens == "right" else mirrored(bearing_deg)


def start_of(bare: Piece, stem: str) -> Point:
    """Where the rule's length begins."""
    bearing_deg = _bearing(bare, bare.form.lean(stem).bearing_deg.aim)
    if bare.holder is None:
        return at_mouth(bare.vessel, bearing_deg)
    return foot(stem, bearing_deg, bare.place, bare.holder, bare.vessel.base_cm)


def lowest_tilt_deg(bare: Piece, start: Point, bearing_deg: float) -> float:
    """The largest lean that clears the rim (shallow) or still dips under water (tall vase)."""
    vessel = bare.vessel
    if bare.holder is None:
        return lowest_in_vase_deg(vessel, bare.water_cm, bearing_deg)
    way = vessel.to_rim_cm(start.x_cm, start.y_cm, bearing_deg)
    rise = vessel.height_cm + RIM_CLEAR_CM - start.z_cm
    return math.degrees(math.atan2(way, rise))


def allowed_deg(piece: Piece, stem: Stem) -> tuple[float, float]:
    """The least and the most lean that the form teaches and this vessel lets a stem have."""
    if stem.tilt.aim >= 90.0:
        return stem.tilt.least, max(stem.tilt.most, stem.stands_deg)
    lowest = lowest_tilt_deg(piece, stem.start, stem.bearing_deg)
    most = max(min(stem.tilt.most, lowest), stem.stands_deg)
    return min(stem.tilt.least, stem.stands_deg), most


def main_stem(bare: Piece, stem: str, length_cm: float) -> Stem:
    """One of the three main stems at a length."""
    lean = bare.form.lean(stem)
    return standing_stem(
        bare,
        stem,
        "main",
        length_cm=length_cm,
        tilt=lean.tilt_deg,
        bearing=lean.bearing_deg,
        start=start_of(bare, stem),
        label=bare.rule.label[stem],
    )


def standing_stem(
    bare: Piece,
    stem_id: str,
    role: Role,
    *,
    length_cm: float,
    tilt: Range,
    bearing: Range,
    start: Point,
    label: Label | None = None,
    leader: str | None = None,
    lifted: bool = True,
) -> Stem:
    """A stem of any role, with the rim, the vase and the water taken into account.

    `bearing` is written for the piece that opens to the right; `start` is where it really stands.
    With `lifted` False the stem stands as somebody saw it stand: the rim does not lift it.
    """
    bearing_deg = _bearing(bare, bearing.aim)
    lowest = lowest_tilt_deg(bare, start, bearing_deg)
    hangs = tilt.aim >= 90.0
    stands = min(tilt.aim, lowest) if lifted and not hangs else tilt.aim
    inside_deg = min(stands, lowest)
    bow = length_cm * BOW if role == "main" else 0.0
    below, end, cut, trim = _below(bare, start, length_cm, inside_deg, bearing_deg)
    return Stem(
        id=stem_id,
        role=role,
        label=label,
        length_cm=length_cm,
        tilt_deg=tilt.aim,
        stands_deg=stands,
        bearing_deg=bearing_deg,
        foot=end,
        start=start,
        cut_cm=cut + curve_cm(length_cm, bow),
        below_cm=below,
        bow_cm=bow,
        length=Range(
            length_cm * (1 - LENGTH_TOLERANCE), length_cm, length_cm * (1 + LENGTH_TOLERANCE)
        ),
        tilt=tilt,
        bearing=_turned(bearing, bare.opens),
        water_z_cm=water_z_cm(bare),
        bend_deg=stands - inside_deg if lifted else 0.0,
        trim_cm=trim,
        leader=leader,
    )


def _turned(bearing: Range, opens: Opens) -> Range:
    if opens == "right":
        return bearing
    aim = mirrored(bearing.aim)
    return Range(aim - (bearing.most - bearing.aim), aim, aim + (bearing.aim - bearing.least))


def curve_cm(length_cm: float, bow_cm: float) -> float:
    """Extra length along a shallow bow over its straight line: 8/3 of bow² over length."""
    return 8 / 3 * bow_cm**2 / length_cm if length_cm else 0.0


def _below(
    bare: Piece, start: Point, length_cm: float, tilt_deg: float, bearing_deg: float
) -> tuple[float, Point, float, tuple[float, float] | None]:
    """Part under water or in the vase, the lower end, the length to cut, the range to trim to."""
    x, y, z = line(tilt_deg, bearing_deg)
    if bare.holder is not None:
        under = max(0.0, water_z_cm(bare) - start.z_cm) / max(z, 1e-9)
        return min(under, length_cm), start, length_cm, None
    vessel = bare.vessel
    inside = in_vase_cm(vessel, tilt_deg, bearing_deg)
    end = Point(start.x_cm - inside * x, start.y_cm - inside * y, start.z_cm - inside * z)
    # Cut long, trim until it leans right: the whole height for an upright stem, half for others.
    spare = vessel.height_cm if tilt_deg <= UPRIGHT_DEG else vessel.height_cm / 2
    ends = [
        length_cm + in_vase_cm(vessel, min(max(each, 1.0), 89.0), bearing_deg)
        for each in (tilt_deg - TRIM_DEG, tilt_deg + TRIM_DEG)
    ]
    cut = length_cm + max(spare, inside)
    return inside, end, cut, (min(ends), min(max(ends), cut))
