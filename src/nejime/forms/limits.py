"""What a vessel's numbers can be: everything impossible, said at once.

Source: the limits are ours, wide enough for any bowl that is carried into a library.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import cast

from nejime.basis.errors import Fault, InputError, refuse
from nejime.basis.sayings import Saying
from nejime.forms.vessel import SHAPES, WARE_DENSITY_G_CM3, Shape, Vessel, Wall, Ware, vessel

LEAST_CM, MOST_CM = 2.0, 120.0  # [own] a cup, and the largest dish that one person carries
LIMITS_CM: Mapping[str, tuple[float, float]] = {  # [own]
    "width": (LEAST_CM, MOST_CM),
    "depth": (LEAST_CM, MOST_CM),
    "height": (1.0, 100.0),
    "corner_radius": (0.0, 60.0),
    "floor_width": (1.0, MOST_CM),
    "foot_width": (1.0, MOST_CM),
    "foot_height": (0.0, 60.0),
    "wall": (0.05, 5.0),
    "body": (LEAST_CM, MOST_CM),
    "stand": (0.0, 60.0),
}
LEAST_INSIDE_CM = 0.5  # [own] less depth than this holds no water
ONLY_FOR = {"corner_radius": "rectangle", "foot_height": "footed", "body": "vase"}
MASS_G = (20.0, 40_000.0)  # [own] a plastic bowl, and more than anybody should lift


def checked_vessel(
    shape: str,
    numbers: Mapping[str, float | None],
    *,
    ware: str = "ceramic",
    wall: Wall = "straight",
    name: str = "",
) -> Vessel:
    """A vessel from its shape and numbers: cm by field, `mass` in g, None where nobody said.

    Raises `InputError` with every fault, each at its field's name.
    """
    faults = [
        *_choice_faults("shape", shape, SHAPES),
        *_choice_faults("ware", ware, tuple(WARE_DENSITY_G_CM3)),
        *vessel_faults(numbers),
        *_shape_faults(shape, numbers),
    ]
    if faults:
        raise InputError(faults)
    given = {key: value for key, value in numbers.items() if key not in ("width", "height")}
    made = vessel(
        cast("Shape", shape),
        numbers["width"] or 0.0,
        numbers["height"] or 0.0,
        ware=cast("Ware", ware),
        wall=wall,
        name=name,
        stand_cm=given.pop("stand", None) or 0.0,
        mass_g=given.pop("mass", None),
        **{f"{key}_cm": value for key, value in given.items()},
    )
    if made.inside_cm < LEAST_INSIDE_CM:
        raise refuse("height", "limits.no-inside", "limits.no-inside-try", height_cm=made.height_cm)
    return made


def not_one_of(field: str, value: str, choices: Sequence[str]) -> Fault:
    """The fault of a word that is not among those that can be chosen."""
    return Fault(
        field,
        Saying("limits.not-one-of", field=field, value=value),
        Saying("limits.not-one-of-try", choices=", ".join(choices)),
    )


def _choice_faults(field: str, value: str, choices: Sequence[str]) -> list[Fault]:
    return [] if value in choices else [not_one_of(field, value, choices)]


def vessel_faults(numbers: Mapping[str, float | None]) -> list[Fault]:
    """Every number of a vessel that is missing or cannot be."""
    faults = [
        Fault(needed, Saying("limits.needed", field=needed), Saying("limits.needed-try"))
        for needed in ("width", "height")
        if numbers.get(needed) is None
    ]
    for name, value in numbers.items():
        if value is None:
            continue
        least, most = MASS_G if name == "mass" else LIMITS_CM[name]
        if not math.isfinite(value) or not least <= value <= most:
            faults.append(_outside(name, value, least, most))
    return faults or _at_odds(numbers)


def _shape_faults(shape: str, numbers: Mapping[str, float | None]) -> list[Fault]:
    """Numbers that do not belong to a shape."""
    faults = [
        Fault(
            key,
            Saying("limits.not-this-shape", key=key, shape=only),
            Saying("limits.not-this-shape-try", key=key),
        )
        for key, only in ONLY_FOR.items()
        if numbers.get(key) is not None and shape != only
    ]
    if shape == "round" and numbers.get("depth") not in (None, numbers.get("width")):
        says, instead = Saying("limits.round-is-round"), Saying("limits.round-is-round-try")
        faults.append(Fault("depth", says, instead))
    return faults


def _outside(name: str, value: float, least: float, most: float) -> Fault:
    unit = "g" if name == "mass" else "cm"
    quantities = {f"value_{unit}": value, f"least_{unit}": least, f"most_{unit}": most}
    return Fault(
        name,
        Saying(f"limits.outside-{unit}", **quantities),
        Saying("limits.measure-again"),
    )


def _at_odds(numbers: Mapping[str, float | None]) -> list[Fault]:
    """Numbers that are possible alone but not together."""
    width, height = numbers.get("width"), numbers.get("height")
    floor, wall = numbers.get("floor_width"), numbers.get("wall")
    corner, foot = numbers.get("corner_radius"), numbers.get("foot_height")
    depth = numbers.get("depth") or width
    faults = []
    widest = max(width or 0.0, numbers.get("body") or 0.0)
    if width is not None and floor is not None and floor > widest:
        faults.append(
            Fault(
                "floor_width",
                Saying("limits.floor-over-width", floor_cm=floor, width_cm=width),
                Saying("limits.floor-over-width-try"),
            )
        )
    if width is not None and depth is not None and corner and 2 * corner > min(width, depth):
        faults.append(
            Fault(
                "corner_radius",
                Saying("limits.corner-too-round", corner_cm=corner),
                Saying("limits.corner-too-round-try", most_cm=min(width, depth) / 2),
            )
        )
    if height is not None and foot is not None and foot > height - 1.0:
        faults.append(
            Fault(
                "foot_height",
                Saying("limits.foot-over-height", foot_cm=foot, height_cm=height),
                Saying("limits.measure-again"),
            )
        )
    if height is not None and wall is not None and wall * 1.2 > height - 0.5:
        faults.append(Fault("wall", Saying("limits.wall-too-thick", wall_cm=wall), None))
    return faults
