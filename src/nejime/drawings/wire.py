"""A scene as the browser gets it: vessel, water, pin holder, where every stem is, and its look.

Model: a stem's look (what has grown) is apart from its pose (how it is held), so that moving a stem
moves what is there, and a look is fetched once. A look's key says all that decides it; who has the
key has the look, and it never changes. Where a stem's lean, direction and turn enter a look (leaves
lie to the light, flowers turn to the viewer) they are rounded to `STEP_DEG`.
Frame: the house frame; see `basis.angles`. Looks are stem-local; see `skeleton.growing`.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Mapping, Sequence
from functools import cache, lru_cache
from typing import Any

from nejime.basis import tables
from nejime.basis.angles import Point, line
from nejime.drawings import tints
from nejime.drawings.ink.pose import SHOULDER, UP, held
from nejime.drawings.scene import HolderShape, Outline, Scene, Standing, VesselShape
from nejime.drawings.skeleton import table
from nejime.drawings.skeleton.axes import Axis
from nejime.drawings.skeleton.growing import skeleton
from nejime.drawings.skeleton.organs import Body, Frame, Organ, Part, Thread
from nejime.drawings.skeleton.stem import Placed, Skeleton, Stance
from nejime.drawings.skeleton.surface import Blade
from nejime.drawings.skeleton.vectors import times
from nejime.plants.table import plants

VERSION = 1  # of what is sent
STEP_DEG = 5.0  # [own] leaves and flowers turned so little more or less are the same to the eye
BARE_STEP = 0.02  # [own] of the share that is in the vessel
PINS_CM2 = 6.0  # [own] brass pins on a square centimetre of a pin holder
PLATE_SHARE = 0.42  # [own] of a pin holder's height is its plate
GLAZES = ("celadon", "iron", "ash", "indigo", "rawclay", "white", "glass")

MATERIAL: Mapping[Outline, str] = {  # [own] where nobody has chosen yet: a plant of that outline
    "bare-twig": "pussy-willow",
    "blossom-branch": "plum",
    "leafy-branch": "camellia",
    "needle-branch": "pine",
    "berry-branch": "winterberry",
    "cup": "tulip",
    "daisy": "shasta-daisy",
    "trumpet": "trumpet-daffodil",
    "round": "ranunculus",
    "spike": "stock",
    "spray": "spray-chrysanthemum",
    "broad-leaf": "aspidistra",
    "strap-leaf": "liriope",
    "frond": "leather-fern",
    "grass": "bear-grass",
}

Json = dict[str, Any]


def wire(scene: Scene, *, glaze: str = "celadon", season: str = "") -> Json:
    """What the browser draws, lengths in cm, angles in degrees; without the looks themselves.

    `glaze` is one of `GLAZES`; `season` ("spring", "summer", "autumn", "winter" or nothing) colours
    leaves. Of a stem, `pose.foot` is the lower end of the line of which its length and lean speak;
    `below` is where it ends in a tall vase.
    """
    return {
        "version": VERSION,
        "shoulder": _round(SHOULDER),
        "vessel": vessel_wire(scene.vessel) | {"glaze": glaze, "tall": scene.piece.vessel.tall},
        "water_cm": round(scene.water_z_cm, 2),
        "holder": None if scene.holder is None else holder_wire(scene.holder),
        "stems": [stem_wire(standing, season) for standing in scene.stems],
    }


@lru_cache(maxsize=64)
def _outlines(vessel: VesselShape) -> Json:
    return {
        "outside": [_round((r.z_cm, r.half_x_cm, r.half_y_cm)) for r in vessel.outside],
        "inside": [_round((r.z_cm, r.half_x_cm, r.half_y_cm)) for r in vessel.inside],
        "curved": vessel.curved,
        "corner": vessel.corner_cm,
        "stand": vessel.stand_cm,
    }


def vessel_wire(vessel: VesselShape) -> Json:
    """A vessel's outlines from below upwards, each (height, half width, half depth) in cm.

    `corner` is the radius of the corners seen from above; there is none where it is an oval.
    """
    return dict(_outlines(vessel))


def holder_wire(shape: HolderShape) -> Json:
    """The pin holder: the middle of its foot, its size, and how many pins it has."""
    held_ = shape.holder
    across, away = held_.width_cm, held_.depth_cm
    area = across * away if held_.rectangular else across * away * 0.785
    return {
        "at": _round((shape.x_cm, shape.y_cm, shape.floor_z_cm)),
        "width": across,
        "depth": away,
        "height": held_.height_cm,
        "plate": round(held_.height_cm * PLATE_SHARE, 2),
        "rectangular": held_.rectangular,
        "pins": round(area * PINS_CM2),
    }


def stem_wire(standing: Standing, season: str = "") -> Json:
    """One stem: what it is, how it is held, and the key of its look."""
    stem = standing.stem
    below = stem.foot if stem.foot != stem.start else None
    return {
        "id": stem.id,
        "role": stem.role,
        "plant": plant_of(standing),
        "pose": {
            "foot": _point(stem.start),
            "tilt": round(stem.stands_deg, 2),
            "bearing": round(stem.bearing_deg, 2),
            "roll": round(standing.look.roll_deg, 2),
            "chord": round(stem.length_cm, 2),
            "mirror": standing.chirality < 0,
        },
        "below": None if below is None else _point(below),
        "thickness": round(standing.look.thickness_mm / 10, 2),
        "look": look_key(standing, season),
    }


def plant_of(standing: Standing) -> str:
    """The plant whose look a stem has."""
    return standing.look.plant or MATERIAL[standing.look.form]


# Looks

_KEY = re.compile(
    r"(?P<plant>[a-z-]+)_(?P<length>\d{1,4})_(?P<thick>\d{1,3})_(?P<seed>\d{1,10})"
    r"_(?P<stage>\d{1,2})_(?P<season>[a-z]*)_(?P<tilt>\d{1,2})_(?P<bearing>\d{1,2})"
    r"_(?P<roll>\d{1,2})_(?P<bow>-?\d{1,3})_(?P<bare>\d{1,2})_(?P<side>[rl])"
    r"_(?P<off>[-0-9.]{0,90})_(?P<table>[0-9a-f]+)"
)


@cache
def table_version() -> str:
    """A short text that changes with the tables of looks and colours."""
    text = tables.read_text(table.FILE) + tables.read_text(tints.FILE)
    return hashlib.sha256(text.encode()).hexdigest()[:8]


def look_key(standing: Standing, season: str = "") -> str:
    """All that decides the look of a stem, in a text that may stand in an address."""
    stem, look = standing.stem, standing.look
    bearing = round(stem.bearing_deg / STEP_DEG) % round(360 / STEP_DEG)
    numbers = (
        round(stem.length_cm * 10),
        round(look.thickness_mm * 10),
        look.seed,
        round(look.stage * 10),
        season,
        round(stem.stands_deg / STEP_DEG),
        bearing if stem.stands_deg > STEP_DEG / 2 else 0,
        round(look.roll_deg / STEP_DEG) % round(360 / STEP_DEG),
        round(stem.bow_cm * 5),
        min(49, -int(-standing.bare // BARE_STEP)),
        "l" if standing.chirality < 0 else "r",
        ".".join(str(round(each * 1000)) for each in look.off),
        table_version(),
    )
    return "_".join((plant_of(standing), *map(str, numbers)))


def look(key: str) -> Json:
    """The look that a key speaks of. Raises `KeyError` where there is none, or none any more."""
    told = _KEY.fullmatch(key)
    if told is None or told["table"] != table_version() or told["season"] not in _SEASONS:
        raise KeyError(key)
    if told["plant"] not in _known_plants():
        raise KeyError(key)
    tilt, bearing = int(told["tilt"]) * STEP_DEG, int(told["bearing"]) * STEP_DEG
    pose = held(tilt, bearing, int(told["roll"]) * STEP_DEG, -1.0 if told["side"] == "l" else 1.0)
    bow = times(line(tilt + (90.0 if tilt < 90.0 else -90.0), bearing), int(told["bow"]) / 5)
    stance = Stance(
        pose.own(UP),
        pose.own(SHOULDER),
        pose.own(bow),
        int(told["bare"]) * BARE_STEP,
        _off(told["off"]),
    )
    grown = skeleton(
        told["plant"],
        int(told["length"]) / 10,
        int(told["thick"]) / 10,
        int(told["seed"]),
        stance,
        int(told["stage"]) / 10,
    )
    return look_wire(grown, told["plant"], told["season"], int(told["length"]) / 10)


def _off(text: str) -> tuple[float, ...]:
    """The line of somebody's own branch, from a key. Raises `KeyError`."""
    try:
        return tuple(int(each) / 1000 for each in text.split(".")) if text else ()
    except ValueError:
        raise KeyError(text) from None


_SEASONS = ("", *tints.SEASONS)


@cache
def _known_plants() -> frozenset[str]:
    return frozenset(each.id for each in plants())


def look_wire(
    grown: Skeleton, plant_id: str, season: str = "", length_cm: float | None = None
) -> Json:
    """A stem that has grown, for the browser: rows of numbers, in the order that `plant.js` reads.

    `length_cm`: the straight line from foot to end that it was grown for; the main axis, where
    nobody says. A leaf's axis is its stalk alone, and its blade goes on to the end.
    `axes`: for each [wood, old, thorns, joint, share of its foot, points, radii]. `organs`: by name
    its colours and parts. `placed`: by name, for each place x, y, z, its x, its z, and its scale.
    """
    stem = tints.stem_tints(plant_id, season)
    return {
        "version": VERSION,
        "length": round(_line_cm(grown) if length_cm is None else length_cm, 2),
        "tints": {"wood": stem["wood"], "green": stem["green"]},
        "axes": [axis_row(axis) for axis in grown.axes],
        "organs": {
            name: {
                "tints": dict(tints.organ_tints(plant_id, name, season)),
                "parts": [part_row(part) for part in organ.parts],
            }
            for name, organ in grown.organs.items()
        },
        "placed": {name: _placed(grown.placed, organ) for name, organ in grown.organs.items()},
    }


def _line_cm(grown: Skeleton) -> float:
    return grown.axes[0].points[-1][2] if grown.axes else 0.0


def axis_row(axis: Axis) -> list[Any]:
    """A stem or shoot."""
    return [
        int(axis.woody),
        int(axis.old),
        int(axis.thorns),
        round(axis.joint_cm, 2),
        round(axis.foot_share, 3),
        _flat(axis.points),
        _round(axis.radii_cm),
    ]


def part_row(part: Part) -> list[Any]:
    """A part of an organ: what it is, its tissue, its frame, its scale, and its own numbers."""
    form = part.form
    place = [part.tissue, _frame(part.frame), round(part.scale, 3)]
    if isinstance(form, Blade):
        sizes = (form.length_cm, form.width_cm, form.curl_deg, form.cup, form.wave)
        palm = (form.fingers, form.bay, form.spread_deg, form.low, form.high)
        return ["sheet", *place, part.veins, form.shape, *_round(sizes), *_round(palm)]
    if isinstance(form, Body):
        sizes_ = (form.length_cm, form.width_cm, form.point)
        return ["body", *place, form.mark, *_round(sizes_)]
    assert isinstance(form, Thread)
    return ["thread", *place, *_round((form.thickness_cm, form.knob_cm)), _flat(form.points)]


def _placed(places: Sequence[Placed], organ: Organ) -> list[float]:
    rows = (each for each in places if each.organ == organ.name)
    return [n for each in rows for n in (*_frame(each.frame), round(each.scale, 3))]


def _frame(frame: Frame) -> list[float]:
    return _round((*frame.at, *frame.x, *frame.z))


def _flat(points: Iterable[Sequence[float]]) -> list[float]:
    return [round(each, 3) for point in points for each in point]


def _round(values: Iterable[float]) -> list[float]:
    return [round(each, 3) for each in values]


def _point(point: Point) -> list[float]:
    return [round(point.x_cm, 2), round(point.y_cm, 2), round(point.z_cm, 2)]
