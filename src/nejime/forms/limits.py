"""What a vessel's numbers can be: everything impossible, said at once.

Source: the limits are ours, wide enough for any bowl that is carried into a library.
"""

from __future__ import annotations

import math
from collections.abc import Mapping

from nejime.basis.errors import Fault
from nejime.basis.sayings import Saying

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
MASS_G = (20.0, 40_000.0)  # [own] a plastic bowl, and more than anybody should lift


def vessel_faults(
    numbers: Mapping[str, float | None], at: str = "", shape: str = ""
) -> list[Fault]:
    """Every number of a vessel that cannot be. `numbers`: cm by field, `mass` in g.

    `shape` lets a round vessel with a depth of its own be noticed; `at` comes before each field's
    name in the faults.
    """
    faults = []
    for name, value in numbers.items():
        if value is None:
            continue
        least, most = MASS_G if name == "mass" else LIMITS_CM[name]
        if not math.isfinite(value) or not least <= value <= most:
            faults.append(_outside(f"{at}{name}", name, value, least, most))
    if not faults:
        faults += _at_odds(numbers, at)
    width, depth = numbers.get("width"), numbers.get("depth")
    if shape == "round" and depth is not None and depth != width:
        faults.append(
            Fault(
                f"{at}depth",
                Saying("limits.round-has-no-depth"),
                Saying("limits.round-has-no-depth-try"),
            )
        )
    return faults


def _outside(field: str, name: str, value: float, least: float, most: float) -> Fault:
    unit = "g" if name == "mass" else "cm"
    quantities = {f"value_{unit}": value, f"least_{unit}": least, f"most_{unit}": most}
    return Fault(
        field,
        Saying(f"limits.outside-{unit}", **quantities),
        Saying("limits.measure-again"),
    )


def _at_odds(numbers: Mapping[str, float | None], at: str) -> list[Fault]:
    """Numbers that are possible alone but not together."""
    width, height = numbers.get("width"), numbers.get("height")
    floor, wall = numbers.get("floor_width"), numbers.get("wall")
    corner, foot = numbers.get("corner_radius"), numbers.get("foot_height")
    depth = numbers.get("depth") or width
    faults = []
    if width is not None and floor is not None and floor > width:
        faults.append(
            Fault(
                f"{at}floor_width",
                Saying("limits.floor-over-width", floor_cm=floor, width_cm=width),
                Saying("limits.floor-over-width-try"),
            )
        )
    if width is not None and depth is not None and corner and 2 * corner > min(width, depth):
        faults.append(
            Fault(
                f"{at}corner_radius",
                Saying("limits.corner-too-round", corner_cm=corner),
                Saying("limits.corner-too-round-try", most_cm=min(width, depth) / 2),
            )
        )
    if height is not None and foot is not None and foot > height - 1.0:
        faults.append(
            Fault(
                f"{at}foot_height",
                Saying("limits.foot-over-height", foot_cm=foot, height_cm=height),
                Saying("limits.measure-again"),
            )
        )
    if height is not None and wall is not None and wall * 1.2 > height - 0.5:
        faults.append(Fault(f"{at}wall", Saying("limits.wall-too-thick", wall_cm=wall), None))
    return faults
